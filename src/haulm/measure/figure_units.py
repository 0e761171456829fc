"""Figures of the catalogue as a grower types them, each read in the unit that the figure has."""

import re
from collections.abc import Mapping

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.units import Value, parse_quantity

SHARE = "1"
"""The unit of a share and of a plain count."""

_QUANTITIES: Mapping[str, str] = {
    "m": "length",
    "°C": "temperature",
    "kg": "mass",
    "weeks": "weeks",
    "years": "years",
    "d": "days",
    "h": "day length",
    "°C d": "degree-days",
    "kg/m²": "yield",
}
"""The quantity of each unit for which other units may be written."""

_NUMBER = re.compile(r"([-+]?(?:\d+(?:[.,]\d+)?|[.,]\d+))\s*(.*)")


def parse_figure(value: Value, unit: str, where: str) -> float:
    """Read a figure in its own unit, as in ``15 cm`` for one in metres.

    Parameters
    ----------
    value
        What was typed. A plain number is in the figure's unit; a text names its unit, but for a
        share or a count, which may be a bare number or, as in ``80 %``, hundredths.
    unit
        The figure's unit, as the catalogue writes it.
    where
        The place in the user's data, for the finding.

    Raises
    ------
    FaultsFoundError
        With one finding: no number, no unit, or a unit that does not fit.
    """
    if unit in _QUANTITIES:
        return parse_quantity(value, _QUANTITIES[unit], where)
    if not isinstance(value, str):
        return float(value)
    read = _NUMBER.fullmatch(value.strip().replace("−", "-"))
    if read is None:
        raise _fault(where, f"“{value}” is no number.", unit)
    number, written = float(read[1].replace(",", ".")), _plain(read[2])
    if unit == SHARE and written in {"", "%"}:
        return number / 100 if written else number
    if written != _plain(unit):
        said = f"“{read[2].strip()}” is not its unit." if written else "it has no unit."
        raise _fault(where, f"“{value}”: {said}", unit)
    return number


def _plain(unit: str) -> str:
    """Bring a unit to the form in which units are compared."""
    return unit.casefold().replace(" ", "").replace("²", "2").replace("³", "3").replace("^", "")


def _fault(where: str, what: str, unit: str) -> FaultsFoundError:
    """Make the one fault, with an example in the remedy."""
    example = "0.8 or 80 %" if unit == SHARE else f"12 {unit}"
    return FaultsFoundError([Finding(where, what, f"Write it as in {example}.")])
