"""Days on which something new goes into a bed: each has a sheet of its own."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from haulm.plan.records import Planting
from haulm.sheets.wording import day_text, from_trays

# What is planted within three weeks is carried out with the same sheet in hand.
SAME_SHEET_DAYS = 21
MOST_NEW = 2


@dataclass(frozen=True, slots=True)
class Moment:
    """What goes into a bed with one sheet in hand, and what stands there beside it.

    ``fresh`` are the plantings to be made, at most two; ``older`` those that hold ground on the
    last of their days.
    """

    fresh: tuple[Planting, ...]
    older: tuple[Planting, ...]

    @property
    def last_day(self) -> date:
        """The day on which the last of them takes its ground."""
        return max(planting.in_ground_from for planting in self.fresh)


def moments_of(plantings: Sequence[Planting]) -> tuple[Moment, ...]:
    """Group a bed's plantings by the days on which they take its ground.

    Plantings that already stand are never new. Two share a sheet if they go in within three weeks
    of one another and nothing that stands on the first day is cleared before the second.
    """
    ordered = sorted(plantings, key=lambda planting: (planting.in_ground_from, planting.id))
    groups: list[list[Planting]] = []
    for planting in ordered:
        if planting.standing:
            continue
        if groups and _share_a_sheet(groups[-1], planting, ordered):
            groups[-1].append(planting)
        else:
            groups.append([planting])
    return tuple(_moment(group, ordered) for group in groups)


def _share_a_sheet(group: list[Planting], later: Planting, everything: list[Planting]) -> bool:
    first_day, day = group[0].in_ground_from, later.in_ground_from
    if len(group) == MOST_NEW or (day - first_day).days > SAME_SHEET_DAYS:
        return False
    there = (planting for planting in everything if planting.in_ground_from <= first_day)
    return all(planting.clear_by <= first_day or planting.clear_by > day for planting in there)


def _moment(group: list[Planting], everything: list[Planting]) -> Moment:
    day = max(planting.in_ground_from for planting in group)
    older = (
        planting
        for planting in everything
        if planting not in group and planting.in_ground_from <= day < planting.clear_by
    )
    return Moment(tuple(group), tuple(older))


def doing(planting: Planting) -> str:
    """Say what is done on the day a planting takes its ground: sow, plant or set out."""
    if from_trays(planting):
        return "set out"
    return "sow" if planting.stock_unit == "seed" else "plant"


def doings_text(fresh: Sequence[Planting]) -> str:
    """Say what is done when, as in set out 24 May and 7 June 2027."""
    parts: list[str] = []
    for number, planting in enumerate(fresh):
        day = planting.in_ground_from
        same_verb = number > 0 and doing(planting) == doing(fresh[number - 1])
        if same_verb and day == fresh[number - 1].in_ground_from:
            continue
        parts.append(day_text(day) if same_verb else f"{doing(planting)} {day_text(day)}")
    return f"{' and '.join(parts)} {fresh[-1].in_ground_from.year}"
