"""Numbers in the units that a text prints, turned into the unit they are kept in.

Conversion factors come from pint's registry (exact international yard and pound definitions).
"""

import re
from collections.abc import Mapping

import pint

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.unit_words import DOUBTFUL
from haulm.measure.units import registry

_UNIT = re.compile(r"(?:1|[A-Za-z°%]+[²³]?)(?: ?[ /·*] ?[A-Za-z°%]+[²³]?)*")

#: Units that the registry writes otherwise.
_SPELT = {"1": "", "°C d": "delta_degree_Celsius * day", "°F d": "delta_degree_Fahrenheit * day"}

#: What the catalogue turns most, as what is taken off a number and what the rest is multiplied by:
#: the registry, slow to make, is then not needed. A month is a twelfth of 365.25 days.
USUAL: Mapping[tuple[str, str], tuple[float, float]] = {
    ("°F", "°C"): (32.0, 5 / 9),
    ("months", "weeks"): (0.0, 365.25 / 12 / 7),
    ("d", "weeks"): (0.0, 1 / 7),
}


def in_unit(number: float, printed: str, kept: str, where: str) -> float:
    """Turn a number into the unit it is kept in, to twelve figures.

    Parameters
    ----------
    number
        As printed.
    printed
        The unit it is printed in: ``°F``, ``in``, ``lb/ft²``, ``%``, ``months``, ``°F d``.
    kept
        The unit wanted, as the catalogue writes it: ``°C``, ``m``, ``kg/m²``, ``1``, ``weeks``.
    where
        The place in the data, for the finding.

    Raises
    ------
    FaultsFoundError
        When the printed unit is not known, may mean two sizes, or measures something else.
    """
    if (printed, kept) in USUAL:
        taken_off, times = USUAL[printed, kept]
        return float(f"{(number - taken_off) * times:.12g}")
    plain = " ".join(printed.casefold().replace(".", "").split())
    if plain in DOUBTFUL:
        raise _fault(where, f"the unit “{printed}” may mean two sizes.", DOUBTFUL[plain])
    remedy = f"Give it in {_named(kept)}, or in a unit of that kind."
    if not _UNIT.fullmatch(printed):
        raise _fault(where, f"“{printed}” is no unit.", remedy)
    try:
        found = registry().Quantity(number, _SPELT.get(printed, printed))
        size = float(found.to(_SPELT.get(kept, kept)).magnitude)
    except pint.DimensionalityError:
        what = f"the unit “{printed}” does not measure what is kept in {_named(kept)}."
        raise _fault(where, what, remedy) from None
    except pint.PintError:
        raise _fault(where, f"the unit “{printed}” is not known.", remedy) from None
    return float(f"{size:.12g}")


def _named(kept: str) -> str:
    return "shares of 1" if kept == "1" else kept


def _fault(where: str, what: str, remedy: str) -> FaultsFoundError:
    return FaultsFoundError([Finding(where, what, remedy)])
