"""Parts and daily records laid out as rows of the notebook's tables, and back."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any

import numpy as np
from sqlalchemy import Date, Table

from haulm.notebook.parts import KEYS, plain
from haulm.notebook.tables import BED_LISTS, PARTS
from haulm.site.records import DailyRecord

Row = dict[str, Any]
NOT_TYPED = frozenset({"position", "bed"})


def part_rows(name: str, parts: Sequence[Mapping[str, Any]]) -> list[Row]:
    """Give the rows of one part, in order; a bed's own lists stand in tables of theirs."""
    table = PARTS[name]
    return [
        {"position": position} | _columns(table, {field: part.get(key) for field, key in keys})
        for keys in [tuple(KEYS[name].items())]
        for position, part in enumerate(parts)
    ]


def bed_rows(key: str, beds: Sequence[Mapping[str, Any]]) -> list[Row]:
    """Give the rows of one list that beds have, in order."""
    return [
        {"bed": bed_position, "position": position} | dict(entry)
        for bed_position, bed in enumerate(beds)
        for position, entry in enumerate(bed.get(key, ()))
    ]


def _columns(table: Table, values: Row) -> Row:
    """Keep the values that have a column; a day written as a text becomes a day."""
    return {
        column.name: date.fromisoformat(value)
        if isinstance(value := values[column.name], str) and isinstance(column.type, Date)
        else value
        for column in table.columns
        if column.name in values
    }


def typed_part(name: str, row: Mapping[str, Any]) -> Row:
    """Give a part as typed of its row."""
    keys = KEYS[name]
    return plain({keys[field]: value for field, value in row.items() if field in keys})


def typed_beds(
    rows: Sequence[Mapping[str, Any]], lists: Mapping[str, Sequence[Mapping[str, Any]]]
) -> tuple[Row, ...]:
    """Give the beds as typed, each with its own lists."""
    beds = {row["position"]: typed_part("bed", row) for row in rows}
    for key in BED_LISTS:
        for row in lists[key]:
            entry = {name: value for name, value in row.items() if name not in NOT_TYPED}
            beds[row["bed"]].setdefault(key, []).append(plain(entry))
    return tuple(beds.values())


def day_rows(record: DailyRecord) -> list[Row]:
    """Lay a record out day by day; what nobody read is null."""
    columns = {"tmin_c": record.tmin_c, "tmax_c": record.tmax_c, "rain_mm": record.rain_mm}
    read = {
        name: [None if np.isnan(value) else float(value) for value in values]
        for name, values in columns.items()
    }
    return [
        {"day": record.first_day + timedelta(days=number)}
        | {name: values[number] for name, values in read.items()}
        for number in range(len(record.tmin_c))
    ]
