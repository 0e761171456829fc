"""Tables of the catalogue's files read into records: every fault is collected, none is passed over.

The records themselves say which fields a table may have and of what type; this module only follows
them. A figure's unit is implied by its field (`UNITS`), so no file repeats it.
"""

from collections.abc import Iterable, Mapping
from dataclasses import MISSING, fields, is_dataclass
from enum import StrEnum
from types import UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from haulm.catalogue.caution_records import Caution
from haulm.catalogue.figure_reading import read_figure
from haulm.catalogue.lasting import Care, GreenManure, Perennial, StandYear
from haulm.catalogue.placed import merged
from haulm.catalogue.records import (
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
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.near import near_names

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
    "kcb_initial": "1",
    "kcb_middle": "1",
    "kcb_end": "1",
    "height_m": "m",
    "stage_initial": "1",
    "stage_growth": "1",
    "stage_middle": "1",
    "stage_late": "1",
    "yield_response": "1",
    "units_per_kg": "1/kg",
    "module_weeks": "weeks",
    "span_weeks": "weeks",
    "picking_weeks": "weeks",
    "rest_weeks": "weeks",
    "after_days": "d",
    "later_days": "d",
    "pick_until_days": "d",
    "resting_frost_c": "°C",
    "share": "1",
    "stand_years": "years",
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
    "seed_life_years": "years",
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
NAMED_BY: Mapping[type, str] = {
    Phase: "id",
    Method: "id",
    Giving: "food",
    Keeping: "form",
    StandYear: "year",
    Care: "id",
}

_SHELVED = (Crop, Food, Kind, Family, Disease, Caution, Source)
_WITHIN = (
    *(Stand, Method, Warmth, SowingSeason, Phase, Giving, Keeping, Labour, Water),
    *(Perennial, StandYear, Care, GreenManure),
)
_HINTS: Mapping[type, Mapping[str, Any]] = {
    record: get_type_hints(record) for record in (*_SHELVED, *_WITHIN)
}


def read_record(record: type[R], table: Table, where: str) -> R:
    """Read one table into a record.

    Parameters
    ----------
    record
        The record's class, one of `haulm.catalogue.records`.
    table
        The table as parsed, the record's own id put in by the caller.
    where
        The file and the table's name in it, for the findings.

    Raises
    ------
    FaultsFoundError
        With every fault in the table and in the tables within it.
    """
    if not isinstance(table, Mapping):
        raise _fault(where, "a table is needed here.", "Write it as a table of fields.")
    known = {field.name: field for field in fields(record)}  # type: ignore[arg-type]
    faults = [
        Finding(f"{where}, {name}", "no such field.", _meant(name, known))
        for name in table
        if name not in known
    ]
    values: dict[str, Any] = {}
    for name, field in known.items():
        hint = _HINTS[record][name]
        if name in table:
            try:
                unit = _unit(record, name, table)
                values[name] = _value(hint, table[name], f"{where}, {name}", unit)
            except FaultsFoundError as error:
                faults.extend(error.findings)
        elif type(None) in get_args(hint):
            values[name] = None
        elif field.default is MISSING and field.default_factory is MISSING:
            faults.append(Finding(f"{where}, {name}", "is missing.", "Add it."))
    if faults:
        raise FaultsFoundError(faults)
    return record(**values)


def with_names(table: Any, names: Mapping[str, str]) -> Any:  # noqa: ANN401 -- a TOML value may be anything
    """Put into a table the names that its place in the file gives it; leave alone what is none.

    Raises
    ------
    FaultsFoundError
        When the table names itself otherwise.
    """
    if not isinstance(table, Mapping):
        return table
    for field, name in names.items():
        if table.get(field, name) != name:
            raise _fault(name, f"its {field} says “{table[field]}”.", f"Take its {field} out.")
    return merged(table, names)


def _unit(record: type, name: str, table: Table) -> str:
    """Give the unit a figure's field implies."""
    if record is Phase and name == "amount":
        rule = table.get("rule")
        return PHASE_UNITS[PhaseRule(rule)] if rule in tuple(PhaseRule) else ""
    return UNITS.get(name, "")


def _value(hint: Any, value: Any, where: str, unit: str) -> Any:  # noqa: ANN401 -- a TOML value may be anything
    """Read one field's value by its type."""
    kinds = get_args(hint) if get_origin(hint) in {Union, UnionType} else (hint,)
    if Figure in kinds:
        return read_figure(value, where, unit, kinds)
    hint = next(part for part in kinds if part is not type(None))
    if get_origin(hint) is tuple:
        return _entries(get_args(hint)[0], value, where)
    if isinstance(hint, type) and is_dataclass(hint):
        return read_record(hint, value, where)
    return _plain(hint, value, where)


def _entries(item: Any, value: Any, where: str) -> tuple[Any, ...]:  # noqa: ANN401 -- a TOML value may be anything
    """Read a field of several entries: named tables, or a plain list."""
    if item not in NAMED_BY:
        if not isinstance(value, list):
            raise _fault(where, "a list is needed here.", "Put it in square brackets.")
        return tuple(_plain(item, entry, where) for entry in value)
    if not isinstance(value, Mapping):
        raise _fault(where, "named tables are needed here.", "Name each of them.")
    read: list[Any] = []
    faults: list[Finding] = []
    for name, entry in value.items():
        try:
            named = with_names(entry, {NAMED_BY[item]: name})
            read.append(read_record(item, named, f"{where}, {name}"))
        except FaultsFoundError as error:
            faults.extend(error.findings)
    if faults:
        raise FaultsFoundError(faults)
    return tuple(read)


def _plain(hint: Any, value: Any, where: str) -> Any:  # noqa: ANN401 -- a TOML value may be anything
    """Read a word, a number or a yes or no."""
    if isinstance(hint, type) and issubclass(hint, StrEnum):
        if value in tuple(hint):
            return hint(value)
        raise _fault(where, f"“{value}” is none of those known.", f"Use {' or '.join(hint)}.")
    if isinstance(value, hint) and (hint is bool or not isinstance(value, bool)):
        return value
    raise _fault(where, f"“{value}” is no {hint.__name__}.", "Correct it.")


def _meant(name: str, known: Iterable[str]) -> str:
    """Say which field was likely meant."""
    near = near_names(name, known)
    return f"Did you mean {' or '.join(near)}?" if near else "Take it out."


def _fault(where: str, what: str, remedy: str) -> FaultsFoundError:
    """Make one fault, ready to be raised."""
    return FaultsFoundError([Finding(where, what, remedy)])
