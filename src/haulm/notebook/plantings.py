"""Every planting of every plan kept, by its lasting name: found without reading the plans anew."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Any

from pydantic import TypeAdapter
from sqlalchemy import Connection, delete, insert, select

from haulm.notebook.learning_tables import PLANTINGS
from haulm.notebook.tables import PLANS
from haulm.plan.records import Planting
from haulm.season.records import planting_key


@dataclass(frozen=True, slots=True)
class PlannedOnce:
    """A planting as plans had it.

    Attributes
    ----------
    newest
        As the newest plan has it that has it at all.
    planned
        As the newest plan has it that planned it anew; None where it stood in all of them.
    """

    newest: Planting
    planned: Planting | None

    @property
    def as_planned(self) -> Planting:
        """The planting as it was planned; as it stood, where no plan here planned it."""
        return self.planned or self.newest


def plantings_kept(connection: Connection) -> Mapping[str, PlannedOnce]:
    """Give every planting of every plan kept, by its lasting name."""
    rows = connection.execute(select(PLANTINGS).order_by(PLANTINGS.c.key, PLANTINGS.c.plan)).all()
    read = _several().validate_json(f"[{','.join(row.planting for row in rows)}]")
    found: dict[str, PlannedOnce] = {}
    for row, planting in zip(rows, read, strict=True):
        before = found.get(row.key)
        planned = planting if not row.standing else before.planned if before else None
        found[row.key] = PlannedOnce(planting, planned)
    return found


def list_plantings(connection: Connection, number: int) -> None:
    """List the plantings of a plan that was kept, in the place of older plans' words on them."""
    text = connection.execute(select(PLANS.c.plan).where(PLANS.c.number == number)).scalar_one()
    rows = list(_rows(number, json.loads(text)))
    for row in rows:
        same = (PLANTINGS.c.key == row["key"]) & (PLANTINGS.c.standing == row["standing"])
        connection.execute(delete(PLANTINGS).where(same))
    if rows:
        connection.execute(insert(PLANTINGS), rows)


def list_all_plantings(connection: Connection) -> None:
    """List the plantings of every plan that is kept anew; a plan that cannot be read has none."""
    connection.execute(delete(PLANTINGS))
    kept = select(PLANS.c.number).where(PLANS.c.kept).order_by(PLANS.c.number)
    for number in connection.execute(kept).scalars().all():
        try:
            list_plantings(connection, number)
        except (ValueError, KeyError, TypeError):
            continue


def _rows(number: int, plan: Mapping[str, Any]) -> Iterator[dict[str, object]]:
    """Give a plan's plantings, each once: the last of those that go by one name."""
    named = {}
    for planting in plan["plantings"]:
        sown = date.fromisoformat(planting["sow_on"])
        key = planting_key(planting["kind"], planting["method"], sown, planting["bed"])
        named[key, bool(planting.get("standing", False))] = planting
    for (key, standing), planting in named.items():
        text = json.dumps(planting, ensure_ascii=False)
        yield {"key": key, "standing": standing, "plan": number, "planting": text}


@cache
def _several() -> TypeAdapter[list[Planting]]:
    """Make the adapter on first use: it takes a moment."""
    return TypeAdapter(list[Planting])
