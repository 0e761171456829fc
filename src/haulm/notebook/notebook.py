"""What an open notebook does: it takes in a garden and plans, and gives them back."""

from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import numpy as np
from sqlalchemy import Connection, Table, delete, func, insert, select

from haulm.measure.findings import Finding
from haulm.notebook.checked import garden_from
from haulm.notebook.document import GardenDocument
from haulm.notebook.faults import Gathered, refusal
from haulm.notebook.garden import Garden
from haulm.notebook.names import KnownNames
from haulm.notebook.plan_text import plan_from_text, plan_to_text
from haulm.notebook.tables import BED_LISTS, DAYS, PARTS, PLANS, RECORD, SINGLE_PARTS
from haulm.plan.records import Plan
from haulm.site.records import DailyRecord

Row = dict[str, Any]


@dataclass(frozen=True, slots=True)
class PlanEntry:
    """A plan kept in the notebook: its number, and what is needed to make it again."""

    number: int
    made_on: date
    question_hash: str
    seed: int
    effort: str
    version: str


@dataclass(frozen=True, slots=True)
class Notebook:
    """An open notebook; all that is done through it belongs to one transaction.

    Attributes
    ----------
    connection
        The connection, its transaction begun.
    path
        The notebook's file, for findings.
    """

    connection: Connection
    path: Path

    def write_garden(self, document: GardenDocument, record: DailyRecord | None) -> None:
        """Put a garden in the place of the one before; plans are kept."""
        for table in (DAYS, RECORD, *BED_LISTS.values(), *PARTS.values()):
            self.connection.execute(delete(table))
        for part, table in PARTS.items():
            self._insert(table, _part_rows(part, document))
        for key, table in BED_LISTS.items():
            self._insert(table, _bed_rows(key, document))
        if record is not None:
            self._insert(RECORD, [{"position": 0, "origin": record.origin}])
            self._insert(DAYS, _day_rows(record))

    def document(self) -> GardenDocument:
        """Give the garden as it was typed.

        Raises
        ------
        FaultsFoundError
            When no garden was ever written.
        """
        raw: dict[str, Any] = {
            part: [_typed(row) for row in self._rows(table)] for part, table in PARTS.items()
        }
        if not raw["garden"]:
            raise refusal(self.path, "it holds no garden.", "Import a garden.toml into it.")
        for key, table in BED_LISTS.items():
            for row in self._rows(table):
                bed = raw["bed"][row.pop("bed")]
                bed.setdefault(key, []).append(_typed(row))
        for part in SINGLE_PARTS:
            raw[part] = raw[part][0] if raw[part] else None
        return GardenDocument.model_validate(raw)

    def record(self) -> DailyRecord | None:
        """Give the daily record; None where the garden has normals."""
        origin = self.connection.execute(select(RECORD.c.origin)).scalar()
        if origin is None:
            return None
        days = self.connection.execute(select(DAYS).order_by(DAYS.c.day)).all()
        values = np.array([tuple(day)[1:] for day in days], dtype=np.float64).T
        return DailyRecord(origin, days[0].day, *values)

    def garden(self, known: KnownNames | None) -> tuple[Garden, tuple[Finding, ...]]:
        """Give the garden, checked against the names known, with warnings and notes.

        Raises
        ------
        FaultsFoundError
            With every fault at once.
        """
        gathered = Gathered(self.path.name, known)
        garden = garden_from(self.document(), self.record(), gathered)
        return garden, tuple(gathered.findings)

    def write_plan(self, plan: Plan, question_hash: str, version: str) -> int:
        """Keep a plan with the hash of its inputs and haulm's version; give its number."""
        latest = self.connection.execute(select(func.max(PLANS.c.number))).scalar() or 0
        row = {
            "number": latest + 1,
            "made_on": plan.made_on,
            "question_hash": question_hash,
            "seed": plan.solver.seed,
            "effort": plan.solver.effort,
            "version": version,
            "plan": plan_to_text(plan),
        }
        self._insert(PLANS, [row])
        return latest + 1

    def plan(self, number: int | None = None) -> Plan:
        """Give a plan by its number, or the newest.

        Raises
        ------
        FaultsFoundError
            When there is no such plan.
        """
        wanted = select(PLANS.c.plan).order_by(PLANS.c.number.desc()).limit(1)
        if number is not None:
            wanted = wanted.where(PLANS.c.number == number)
        found = self.connection.execute(wanted).scalar()
        if found is None:
            which = "no plan yet" if number is None else f"no plan {number}"
            raise refusal(self.path, f"there is {which} in it.", "Make one with haulm plan.")
        return plan_from_text(found)

    def plans(self) -> tuple[PlanEntry, ...]:
        """List the plans kept, oldest first."""
        columns = [column for column in PLANS.c if column is not PLANS.c.plan]
        rows = self.connection.execute(select(*columns).order_by(PLANS.c.number))
        return tuple(PlanEntry(*row) for row in rows)

    def _insert(self, table: Table, rows: list[Row]) -> None:
        """Insert rows, if there are any."""
        if rows:
            self.connection.execute(insert(table), rows)

    def _rows(self, table: Table) -> list[Row]:
        """Give a table's rows in order."""
        keys = list(table.primary_key.columns)
        rows = self.connection.execute(select(table).order_by(*keys)).mappings()
        return [dict(row) for row in rows]


def _part_rows(part: str, document: GardenDocument) -> list[Row]:
    """Give the rows of one part, in order; a bed's own lists stand in tables of theirs."""
    held = getattr(document, part)
    parts = held if isinstance(held, tuple) else [held] if held is not None else []
    exclude = set(BED_LISTS) if part == "bed" else None
    return [
        {"position": position} | one.model_dump(exclude=exclude)
        for position, one in enumerate(parts)
    ]


def _bed_rows(key: str, document: GardenDocument) -> list[Row]:
    """Give the rows of one list that beds have, in order."""
    return [
        {"bed": bed_position, "position": position} | entry.model_dump()
        for bed_position, bed in enumerate(document.bed)
        for position, entry in enumerate(getattr(bed, key))
    ]


def _typed(row: Row) -> Row:
    """Keep what was typed of a row."""
    return {key: value for key, value in row.items() if key != "position" and value is not None}


def _day_rows(record: DailyRecord) -> list[Row]:
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
