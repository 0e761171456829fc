"""Days on which something new goes into a bed: each has a sheet of its own."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from haulm.measure.day_words import day_text, span_text
from haulm.plan.records import Planting
from haulm.sheets.wording import from_trays

# What is planted within four weeks is carried out with the same sheet in hand.
SAME_SHEET_DAYS = 28
MOST_NEW = 4
# The head of a sheet has room for so many days by name.
MOST_NAMED = 2


@dataclass(frozen=True, slots=True)
class Moment:
    """What goes into a bed with one sheet in hand, and what stands there beside it.

    ``fresh`` are the plantings to be made, at most four; ``older`` those that hold ground on
    the last of their days.
    """

    fresh: tuple[Planting, ...]
    older: tuple[Planting, ...]

    @property
    def last_day(self) -> date:
        """The day on which the last of them takes its ground."""
        return max(planting.in_ground_from for planting in self.fresh)


def moments_of(
    plantings: Sequence[Planting], cost: Callable[[Moment], float] | None = None
) -> tuple[Moment, ...]:
    """Group a bed's plantings by the days on which they take its ground.

    Plantings that already stand are never new. Up to four share a sheet if they go in within four
    weeks of one another and nothing that stands on the first day is cleared before the last.

    Parameters
    ----------
    plantings
        All plantings of the bed.
    cost
        What a sheet takes, in pages; one more planting joins a sheet if that saves some. None:
        every sheet is a page.
    """
    ordered = sorted(plantings, key=lambda planting: (planting.in_ground_from, planting.id))
    groups: list[Moment] = []
    for planting in ordered:
        if planting.standing and not planting.in_trays:
            continue
        alone = _moment([planting], ordered)
        if groups and _share_a_sheet(groups[-1].fresh, planting, ordered):
            shared = _moment([*groups[-1].fresh, planting], ordered)
            if cost is None or cost(shared) < cost(groups[-1]) + cost(alone):
                groups[-1] = shared
                continue
        groups.append(alone)
    return tuple(groups)


def _share_a_sheet(
    group: Sequence[Planting], later: Planting, everything: Sequence[Planting]
) -> bool:
    first_day, day = group[0].in_ground_from, later.in_ground_from
    if len(group) == MOST_NEW or (day - first_day).days > SAME_SHEET_DAYS:
        return False
    there = (planting for planting in everything if planting.in_ground_from <= day)
    return all(planting.clear_by <= first_day or planting.clear_by > day for planting in there)


def _moment(group: Sequence[Planting], everything: Sequence[Planting]) -> Moment:
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
    """Say what is done when, as in set out 24 May and 7 June 2027; of more days, from when on."""
    parts: list[str] = []
    for number, planting in enumerate(fresh):
        day = planting.in_ground_from
        same_verb = number > 0 and doing(planting) == doing(fresh[number - 1])
        if same_verb and day == fresh[number - 1].in_ground_from:
            continue
        parts.append(day_text(day) if same_verb else f"{doing(planting)} {day_text(day)}")
    first, last = fresh[0].in_ground_from, fresh[-1].in_ground_from
    if len(parts) <= MOST_NAMED:
        return f"{' and '.join(parts)} {last.year}"
    verbs = list(dict.fromkeys(doing(planting) for planting in fresh))
    return f"{', '.join(verbs)} {span_text(first, last)}"
