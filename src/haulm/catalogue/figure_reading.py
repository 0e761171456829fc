"""Figures read from tables of the catalogue's files, or all that is wrong with them.

A figure stands as ``{ value = …, basis = … }``. Where its field allows it, one that nobody has is
``{ absent = "why" }``, and a killing frost that no kind ever met is ``{ hardy = "who saw" }``.
"""

from collections.abc import Iterator, Mapping
from math import isfinite
from typing import Any

from haulm.catalogue.placed import Placed
from haulm.catalogue.records import Absent, Basis, Figure, Hardy
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.printed_units import in_unit

Table = Mapping[str, Any]
AnyFigure = Figure | Absent | Hardy

#: Keys that alone make a table a figure, or say why there is none.
FIGURE_KEYS = ("value", "absent", "hardy")

#: What a figure of the catalogue's files may rest on: a household's own stand in its garden.
_BASES = tuple(basis for basis in Basis if basis is not Basis.OWN)
_NUMBERS = ("low", "value", "high")
_WORDS = ("source", "note", "check", "unit")
_FIELDS = ("value", "low", "high", "unit", "basis", "source", "note", "check", "others")
_FIELDS_OF_OTHERS = ("value", "low", "high", "unit", "basis", "source", "note")


def is_figure(table: object) -> bool:
    """Tell whether a table is a figure, or stands in place of one: it is then taken whole."""
    return isinstance(table, Mapping) and any(key in table for key in FIGURE_KEYS)


def read_figure(
    table: Any,  # noqa: ANN401 -- a TOML value may be anything
    where: str,
    unit: str,
    kinds: tuple[type, ...] = (Figure,),
) -> AnyFigure:
    """Read one figure.

    Parameters
    ----------
    table
        The table as parsed.
    where
        Its place, for the findings.
    unit
        The unit its field implies; a table that names another is turned into it.
    kinds
        What may stand in the field: a `Figure`, and where allowed an `Absent` or a `Hardy`.

    Raises
    ------
    FaultsFoundError
        With all that is wrong with it.
    """
    for key, kind in (("absent", Absent), ("hardy", Hardy)):
        if isinstance(table, Mapping) and key in table:
            why = _why_none(table, key, where, allowed=kind in kinds)
            return Absent(why, unit) if kind is Absent else Hardy(why)
    if not isinstance(table, Mapping) or "value" not in table:
        raise _fault(where, "a figure is needed here.", "Write { value = …, basis = … }.")
    wrong = [*_wrong_with(table, _FIELDS), *_wrong_with_others(table)]
    if wrong:
        raise _fault(where, f"{'; '.join(wrong)}.", "Correct the figure.")
    others = tuple(_made(other, where, unit) for other in table.get("others", ()))
    return _made(table, where, unit, others)


def _made(table: Table, where: str, unit: str, others: tuple[Figure, ...] = ()) -> Figure:
    """Make a figure of a table in which nothing is wrong."""
    printed = table.get("unit", unit)
    numbers = {
        name: float(table[name])
        if printed == unit
        else in_unit(float(table[name]), printed, unit, where)
        for name in _NUMBERS
        if name in table
    }
    return Figure(
        value=numbers["value"],
        unit=unit,
        basis=Basis(table["basis"]),
        source=table.get("source"),
        low=numbers.get("low"),
        high=numbers.get("high"),
        note=table.get("note", ""),
        check=table.get("check", ""),
        others=others,
        printed="" if printed == unit else _as_printed(table, printed),
        borrowed_from=table.whose if isinstance(table, Placed) else "",
    )


def _as_printed(table: Table, unit: str) -> str:
    """Write a figure as its source prints it, a spread before its unit."""
    text = f"{table['value']:g} {unit}"
    return f"{text}, {table['low']:g} to {table['high']:g}" if "low" in table else text


def _why_none(table: Table, key: str, where: str, *, allowed: bool) -> str:
    """Give why there is no figure."""
    if not allowed:
        what = f"this figure cannot be {key}: what is reckoned here needs it."
        raise _fault(where, what, "Give a figure; a judged one is better than none.")
    why = table[key]
    if len(table) > 1 or not isinstance(why, str) or not why.strip():
        what = f"{key} stands alone, with the reason in words."
        raise _fault(where, what, f'Write {{ {key} = "why, in a sentence" }}.')
    return why


def _wrong_with(table: Table, fields: tuple[str, ...]) -> Iterator[str]:
    """Say each thing wrong with a figure or with one of its others."""
    yield from (f"“{name}” is no field of a figure" for name in table if name not in fields)
    numbers = [table[name] for name in _NUMBERS if name in table]
    if not all(_is_number(number) for number in numbers):
        yield "value, low and high must be numbers"
    elif numbers != sorted(numbers):
        yield "low, value and high are out of order"
    if not all(isinstance(table.get(name, ""), str) for name in _WORDS):
        yield "source, note, check and unit must be words"
    if ("low" in table) != ("high" in table):
        yield "low and high come together or not at all"
    if table.get("basis") not in _BASES:
        yield f"the basis must be {' or '.join(_BASES)}"
    elif (table["basis"] == Basis.PUBLISHED) != ("source" in table):
        yield "a source is named exactly when the basis is published"


def _wrong_with_others(table: Table) -> Iterator[str]:
    """Say each thing wrong with what other sources are said to give."""
    if "others" not in table:
        return
    others = table["others"]
    if not isinstance(others, list) or not others:
        yield "others is a list of figures"
        return
    for number, other in enumerate(others, start=1):
        if not isinstance(other, Mapping) or "value" not in other:
            yield f"number {number} of the others is no figure"
            continue
        for wrong in _wrong_with(other, _FIELDS_OF_OTHERS):
            yield f"number {number} of the others: {wrong}"
        if not other.get("note"):
            yield f"number {number} of the others has no note on where it holds"
    if not table.get("note"):
        yield "where others are kept beside it, the note must argue the choice"


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and isfinite(value)


def _fault(where: str, what: str, remedy: str) -> FaultsFoundError:
    return FaultsFoundError([Finding(where, what, remedy)])
