"""What an open notebook does: it takes in a garden and plans, and gives them back."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import Any

import numpy as np
from sqlalchemy import Connection, Table, delete, func, insert, select, update

from haulm.measure.findings import Finding
from haulm.notebook.checked import check_record, garden_from
from haulm.notebook.document import GardenDocument
from haulm.notebook.draft import document_from
from haulm.notebook.faults import Gathered, refusal
from haulm.notebook.garden import Garden
from haulm.notebook.names import KnownNames
from haulm.notebook.parts import MODELS, Parts, parts_from, raw_from
from haulm.notebook.plan_text import plan_from_text, plan_to_text
from haulm.notebook.plantings import list_plantings
from haulm.notebook.rows import bed_rows, day_rows, part_rows, typed_beds, typed_part
from haulm.notebook.tables import BED_LISTS, DAYS, DIARY, PARTS, PLANS, RECORD
from haulm.plan.records import Plan
from haulm.season.records import EntryKind
from haulm.site.records import DailyRecord

ENDS = (EntryKind.TROUBLE.value, EntryKind.EMERGED.value, EntryKind.CLEARED.value)
"""Kinds of entry that may tell of a planting that is no more."""

_MAKE_ONE = "Make one with haulm plan."


@dataclass(frozen=True, slots=True)
class PlanEntry:
    """A plan in the notebook: its number, and what is needed to make it again."""

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
        self.write_parts(parts_from(document))
        self.write_record(record)

    def write_parts(self, parts: Parts, before: Parts | None = None) -> None:
        """Put parts in the place of those before; tables of parts that are the same are left.

        ``before`` saves reading them where they are at hand.
        """
        before = self.parts() if before is None else before
        for name, table in PARTS.items():
            if parts.get(name, ()) == before[name]:
                continue
            self.connection.execute(delete(table))
            self._insert(table, part_rows(name, parts.get(name, ())))
            for key, listed in BED_LISTS.items() if name == "bed" else ():
                self.connection.execute(delete(listed))
                self._insert(listed, bed_rows(key, parts.get(name, ())))

    def write_record(self, record: DailyRecord | None) -> None:
        """Put a daily record in the place of the one before, or take it out."""
        for table in (DAYS, RECORD):
            self.connection.execute(delete(table))
        if record is not None:
            self._insert(RECORD, [{"position": 0, "origin": record.origin}])
            self._insert(DAYS, day_rows(record))

    def parts(self) -> Parts:
        """Give the garden part by part, as typed; nothing is checked."""
        parts = {
            name: tuple(typed_part(name, row) for row in self._rows(PARTS[name]))
            for name in MODELS
            if name != "bed"
        }
        lists = {key: self._rows(table) for key, table in BED_LISTS.items()}
        beds = typed_beds(self._rows(PARTS["bed"]), lists)
        return {name: beds if name == "bed" else parts[name] for name in MODELS}

    def document(self) -> GardenDocument:
        """Give the garden as it was typed.

        Raises
        ------
        FaultsFoundError
            When no garden was ever written, or it cannot be read as one.
        """
        gathered = Gathered(self.path.name)
        document = self._document(gathered)
        gathered.stop_at_faults()
        return document

    def _document(self, gathered: Gathered) -> GardenDocument:
        """Give the garden as it was typed; what does not fit is noted."""
        parts = self.parts()
        if not parts["garden"]:
            raise refusal(self.path, "it holds no garden.", "Import a garden.toml into it.")
        return document_from(raw_from(parts), gathered)

    def record(self) -> DailyRecord | None:
        """Give the daily record; None where the garden has none."""
        origin = self.record_origin()
        if origin is None:
            return None
        days = self.connection.execute(select(DAYS).order_by(DAYS.c.day)).all()
        values = np.array([tuple(day)[1:] for day in days], dtype=np.float64).T
        return DailyRecord(origin, days[0].day, *values)

    def record_origin(self) -> str | None:
        """Say where the daily record came from; None where the garden has none."""
        return self.connection.execute(select(RECORD.c.origin)).scalar()

    def mark(self) -> str:
        """Mark what the garden, its daily record and its plans say.

        Of the diary only those kinds of entry are in it that may tell of a planting that is no
        more, since a plan has to be made again then.
        """
        sums = [func.total(DAYS.c[name]) for name in ("tmin_c", "tmax_c", "rain_mm")]
        record = self.connection.execute(select(func.count(), *sums).select_from(DAYS)).one()
        plans = self.connection.execute(select(PLANS.c.number, PLANS.c.kept)).all()
        ended = select(func.count()).where(DIARY.c.kind.in_(ENDS))
        said = (
            self.parts(),
            self.record_origin(),
            tuple(record),
            [tuple(one) for one in plans],
            self.connection.execute(ended).scalar_one(),
        )
        return sha256(repr(said).encode()).hexdigest()[:24]

    def garden(self, known: KnownNames | None) -> tuple[Garden, tuple[Finding, ...]]:
        """Give the garden, checked against the names known, with warnings and notes.

        Raises
        ------
        FaultsFoundError
            With every fault at once.
        """
        gathered = Gathered(self.path.name, known)
        document, record = self._document(gathered), self.record()
        check_record(document, gathered, there=record is not None)
        garden = garden_from(document, record, gathered)
        return garden, tuple(gathered.findings)

    def write_plan(self, plan: Plan, question_hash: str, version: str, *, kept: bool = True) -> int:
        """Add a plan with the hash of its inputs and haulm's version; give its number.

        It is kept, or else proposed; proposals made before it are dropped.
        """
        self.drop_proposals()
        row = {
            "made_on": plan.made_on,
            "question_hash": question_hash,
            "seed": plan.solver.seed,
            "effort": plan.solver.effort,
            "version": version,
            "plan": plan_to_text(plan),
            "kept": kept,
        }
        self.connection.execute(insert(PLANS).values(row))
        number = int(self.connection.execute(select(func.max(PLANS.c.number))).scalar_one())
        if kept:
            list_plantings(self.connection, number)
        return number

    def plan(self, number: int | None = None) -> Plan:
        """Give a plan by its number, kept or proposed, or the newest that is kept.

        Raises
        ------
        FaultsFoundError
            When there is no such plan.
        """
        wanted = select(PLANS.c.plan).order_by(PLANS.c.number.desc()).limit(1)
        which = PLANS.c.kept if number is None else PLANS.c.number == number
        found = self.connection.execute(wanted.where(which)).scalar()
        if found is None:
            words = "no plan yet" if number is None else f"no plan {number}"
            raise refusal(self.path, f"there is {words} in it.", _MAKE_ONE)
        return plan_from_text(found)

    def plans(self) -> tuple[PlanEntry, ...]:
        """List the plans kept, oldest first."""
        return self._entries(kept=True)

    def newest_plan(self) -> Plan | None:
        """Give the newest plan kept; None where none is."""
        return self.plan() if self._entries(kept=True) else None

    @property
    def has_proposal(self) -> bool:
        """Whether a plan is proposed and neither kept nor dropped."""
        return bool(self._entries(kept=False))

    def proposal(self) -> tuple[PlanEntry, Plan] | None:
        """Give the plan that is proposed and neither kept nor dropped; None where there is none."""
        entries = self._entries(kept=False)
        return (entries[-1], self.plan(entries[-1].number)) if entries else None

    def keep(self, number: int) -> None:
        """Keep a plan that was proposed."""
        self.connection.execute(update(PLANS).where(PLANS.c.number == number).values(kept=True))
        list_plantings(self.connection, number)

    def drop_proposals(self) -> None:
        """Take out every plan that is not kept."""
        self.connection.execute(delete(PLANS).where(~PLANS.c.kept))

    def _entries(self, *, kept: bool) -> tuple[PlanEntry, ...]:
        """List the plans that are kept, or those that are not, oldest first."""
        columns = [PLANS.c[name] for name in PlanEntry.__dataclass_fields__]
        chosen = select(*columns).where(PLANS.c.kept == kept).order_by(PLANS.c.number)
        return tuple(PlanEntry(*row) for row in self.connection.execute(chosen))

    def _insert(self, table: Table, rows: Sequence[Mapping[str, Any]]) -> None:
        """Insert rows, if there are any."""
        if rows:
            self.connection.execute(insert(table), list(rows))

    def _rows(self, table: Table) -> list[dict[str, Any]]:
        """Give a table's rows in order."""
        keys = list(table.primary_key.columns)
        found = self.connection.execute(select(table).order_by(*keys))
        names = tuple(found.keys())
        return [dict(zip(names, row, strict=True)) for row in found.all()]
