"""Tables of the catalogue's files read into records: every fault is collected, none is passed over.

The records themselves say which fields a table may have and of what type; this module only follows
them. A figure's unit is implied by its field (`UNITS`), so no file repeats it.
"""

from collections.abc import Mapping
from dataclasses import MISSING, fields, is_dataclass
from enum import StrEnum
from types import UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from haulm.catalogue.near import near_names
from haulm.catalogue.records import (
    Basis,
    Caution,
    Crop,
    Disease,
    Family,
    Figure,
    Food,
    Giving,
    Keeping,
    Kind,
    Labour,
    Method,
    Phase,
    PhaseRule,
    Source,
    SowingSeason,
    Stand,
    Warmth,
    Water,
)
from haulm.measure.findings import Finding

Table = Mapping[str, Any]

R = TypeVar("R")

#: The unit each figure's field implies. A phase's amount takes its unit from the phase's rule.
UNITS: Mapping[str, str] = {
    "spacing_in_row_m": "m",
    "spacing_between_rows_m": "m",
    "spacing_offset_m": "m",
    "depth_m": "m",
    "compost_m": "m",
    "rooting_m": "m",
    "base_c": "°C",
    "upper_c": "°C",
    "germination_min_c": "°C",
    "germination_best_c": "°C",
    "killing_frost_c": "°C",
    "soil_at_most_c": "°C",
    "earliest_day_length_h": "h",
    "latest_day_length_h": "h",
    "bolt_day_length_h": "h",
    "units_per_station": "1",
    "germination": "1",
    "survival": "1",
    "parts_per_unit": "1",
    "kitchen_share": "1",
    "depletion_fraction": "1",
    "kc_initial": "1",
    "kc_middle": "1",
    "kc_end": "1",
    "units_per_kg": "1/kg",
    "module_weeks": "weeks",
    "span_weeks": "weeks",
    "cure_weeks": "weeks",
    "sound_90_weeks": "weeks",
    "sound_50_weeks": "weeks",
    "yield_kg_m2": "kg/m²",
    "space_l_kg": "litres/kg",
    "work_min_kg": "minutes/kg",
    "pick_min_kg": "minutes/kg",
    "start_min_m2": "minutes/m²",
    "tend_min_m2_week": "minutes/m²/week",
    "portion_kg": "kg",
    "piece_kg": "kg",
    "rotation_gap_years": "years",
    "common_years": "years",
    "published_years": "years",
}

#: The unit of a phase's amount, by what ends the phase.
PHASE_UNITS: Mapping[PhaseRule, str] = {
    PhaseRule.DAYS: "d",
    PhaseRule.DEGREE_DAYS: "°C d",
    PhaseRule.DAY_LENGTH: "h",
    PhaseRule.CHILL_DAYS: "d",
}

#: Records kept in a table of tables, and the field that the inner table's name fills.
NAMED_BY: Mapping[type, str] = {Phase: "id", Method: "id", Giving: "food", Keeping: "form"}

_SHELVED = (Crop, Food, Kind, Family, Disease, Caution, Source)
_WITHIN = (Stand, Method, Warmth, SowingSeason, Phase, Giving, Keeping, Labour, Water)
_HINTS: Mapping[type, Mapping[str, Any]] = {
    record: get_type_hints(record) for record in (*_SHELVED, *_WITHIN)
}

_FIGURE_FIELDS = ("value", "low", "high", "basis", "source", "note")


class _UnreadableError(Exception):
    """A value could not be read; its finding is already collected."""


def read_record(record: type[R], table: Table, where: str, findings: list[Finding]) -> R | None:
    """Read one table into a record.

    Parameters
    ----------
    record
        The record's class, one of `haulm.catalogue.records`.
    table
        The table as parsed, the record's own id put in by the caller.
    where
        The file and the table's name in it, for the findings.
    findings
        Faults are added here.

    Returns
    -------
    The record, or None when anything in the table was at fault.
    """
    try:
        return _record(record, table, where, findings)
    except _UnreadableError:
        return None


def _record(record: type[R], table: Table, where: str, findings: list[Finding]) -> R:
    if not isinstance(table, Mapping):
        raise _fault(findings, where, "a table is needed here.", "Write it as a table of fields.")
    known = {field.name: field for field in fields(record)}  # type: ignore[arg-type]
    sound = True
    for name in table:
        if name not in known:
            near = near_names(name, known)
            meant = f"Did you mean {', '.join(near)}?" if near else "Take it out."
            _fault(findings, f"{where}, {name}", "no such field.", meant)
            sound = False
    values: dict[str, Any] = {}
    for name, field in known.items():
        if name in table:
            unit = _unit(record, name, table)
            try:
                values[name] = _value(
                    _HINTS[record][name], table[name], f"{where}, {name}", unit, findings
                )
            except _UnreadableError:
                sound = False
        elif _may_be_none(_HINTS[record][name]):
            values[name] = None
        elif field.default is MISSING and field.default_factory is MISSING:
            _fault(findings, f"{where}, {name}", "is missing.", "Add it.")
            sound = False
    if not sound:
        raise _UnreadableError
    return record(**values)


def _may_be_none(hint: Any) -> bool:  # noqa: ANN401 -- a type hint may be anything
    return type(None) in get_args(hint)


def _unit(record: type, name: str, table: Table) -> str:
    if record is Phase and name == "amount":
        rule = table.get("rule")
        return PHASE_UNITS[PhaseRule(rule)] if rule in set(PhaseRule) else "?"
    return UNITS.get(name, "")


def _value(hint: Any, value: Any, where: str, unit: str, findings: list[Finding]) -> Any:  # noqa: ANN401 -- a TOML value may be anything
    if get_origin(hint) in {Union, UnionType}:
        hint = next(part for part in get_args(hint) if part is not type(None))
    if hint is Figure:
        return _figure(value, where, unit, findings)
    if get_origin(hint) is tuple:
        return _entries(get_args(hint)[0], value, where, findings)
    if isinstance(hint, type) and is_dataclass(hint):
        return _record(hint, value, where, findings)
    return _plain(hint, value, where, findings)


def _entries(item: Any, value: Any, where: str, findings: list[Finding]) -> tuple[Any, ...]:  # noqa: ANN401 -- a TOML value may be anything
    if item in NAMED_BY:
        if not isinstance(value, Mapping):
            raise _fault(findings, where, "named tables are needed here.", "Name each of them.")
        read = [
            read_record(item, {**entry, NAMED_BY[item]: name}, f"{where}, {name}", findings)
            for name, entry in value.items()
        ]
        if any(entry is None for entry in read):
            raise _UnreadableError
        return tuple(read)
    if not isinstance(value, list):
        raise _fault(findings, where, "a list is needed here.", "Put it in square brackets.")
    return tuple(_plain(item, entry, where, findings) for entry in value)


def _plain(hint: Any, value: Any, where: str, findings: list[Finding]) -> Any:  # noqa: ANN401 -- a TOML value may be anything
    if isinstance(hint, type) and issubclass(hint, StrEnum):
        if value in set(hint):
            return hint(value)
        known = ", ".join(hint)
        raise _fault(findings, where, f"“{value}” is none of those known.", f"Use one of: {known}.")
    if isinstance(value, hint) and (hint is bool or not isinstance(value, bool)):
        return value
    raise _fault(findings, where, f"“{value}” is no {hint.__name__}.", "Correct it.")


def _figure(table: Any, where: str, unit: str, findings: list[Finding]) -> Figure:  # noqa: ANN401 -- a TOML value may be anything
    if not isinstance(table, Mapping) or "value" not in table:
        raise _fault(findings, where, "a figure is needed here.", "Write { value = …, basis = … }.")
    wrong = [
        f"“{name}” is no field of a figure" for name in table if name not in _FIGURE_FIELDS
    ] + [
        f"{name} is no number"
        for name in ("value", "low", "high")
        if name in table and not _is_number(table[name])
    ]
    if table.get("basis") not in set(Basis):
        wrong.append(f"the basis must be one of {', '.join(Basis)}")
    elif (table["basis"] == Basis.PUBLISHED) != ("source" in table):
        wrong.append("a source is named exactly when the basis is published")
    if ("low" in table) != ("high" in table):
        wrong.append("low and high come together or not at all")
    if not wrong and not table.get("low", table["value"]) <= table["value"] <= table.get(
        "high", table["value"]
    ):
        wrong.append("low, value and high are out of order")
    if wrong:
        raise _fault(findings, where, f"{'; '.join(wrong)}.", "Correct the figure.")
    return Figure(
        value=float(table["value"]),
        unit=unit,
        basis=Basis(table["basis"]),
        source=table.get("source"),
        low=float(table["low"]) if "low" in table else None,
        high=float(table["high"]) if "high" in table else None,
        note=table.get("note", ""),
    )


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _fault(findings: list[Finding], where: str, what: str, remedy: str) -> _UnreadableError:
    findings.append(Finding(where, what, remedy))
    return _UnreadableError()
