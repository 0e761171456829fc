"""A first table: what a household may sensibly ask of so much ground in such a climate."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import inf

from haulm.catalogue.records import Catalogue
from haulm.desk.first.first_figures import FirstLine, first_figures
from haulm.desk.first.first_seasons import (
    YEAR_LOOKED_AT,
    FoodSeason,
    longest_season,
    weeks_long,
)
from haulm.household.records import Wanted
from haulm.measure.weeks import DAYS_A_WEEK, WEEKS_A_YEAR

SHARE_STEP = 0.01
"""Shares to grow are told in hundredths."""


@dataclass(frozen=True, slots=True)
class FirstAsk:
    """A line as asked for: its season in weeks of the year, and the share of it to grow [1].

    ``ground_weeks`` is what the whole of it would take of the ground in a year [m² weeks], and
    ``ground_m2`` the ground it would stand on, closed to its family afterwards [m²].
    """

    line: FirstLine
    season: tuple[int, int]
    share: float
    family: str
    ground_m2: float
    ground_weeks: float

    def part(self) -> dict[str, object]:
        """Write it as a line of a garden's table."""
        part: dict[str, object] = {
            "eat": list(self.line.foods) if len(self.line.foods) > 1 else self.line.foods[0],
            "portions": self.line.portions,
            "wanted": self.line.wanted.value,
            "priority": self.line.priority,
        }
        if self.line.name not in self.line.foods:
            part["name"] = self.line.name
        if weeks_long(self.season) < WEEKS_A_YEAR:
            first, last = self.season
            part["from"] = f"{_monday(first):%m-%d}"
            part["to"] = f"{_monday(last) + timedelta(days=DAYS_A_WEEK - 1):%m-%d}"
        if self.share < 1.0:
            part["grow_share"] = f"{100 * self.share:.0f} %"
        return part


@dataclass(frozen=True, slots=True)
class FirstTable:
    """The lines asked for, those that do not grow here, and those the ground is too small for."""

    asked: tuple[FirstAsk, ...]
    not_here: tuple[str, ...]
    no_ground: tuple[str, ...]


def first_table(
    seasons: Mapping[str, FoodSeason], catalogue: Catalogue, portions: float, ground_m2: float
) -> FirstTable:
    """Ask for so much that a first plan can bring most of it.

    Each line is asked for in the weeks in which it can be eaten here, fresh or out of a store.
    Ground is given out in the file's order, no line taking more than a part of it and no family
    more than its rotation leaves open; what is left over goes to the same lines in the same order.
    A line that would be given less than a patch, or of which only a small share could be put by,
    is left out.

    Parameters
    ----------
    seasons
        What can be grown here.
    catalogue
        For usual portions.
    portions
        Adult portions at the table.
    ground_m2
        How much ground there is [m²].
    """
    figures = first_figures()
    possible = [
        ask
        for line in figures.lines
        if (ask := _whole(line, seasons, catalogue, portions)) is not None
    ]
    here = {ask.line for ask in possible}
    given = _ground_given(possible, catalogue, ground_m2)
    return FirstTable(
        asked=tuple(
            replace(ask, share=share) for ask in possible if (share := given.get(ask.line, 0.0)) > 0
        ),
        not_here=tuple(line.name for line in figures.lines if line not in here),
        no_ground=tuple(ask.line.name for ask in possible if ask.line not in given),
    )


def _ground_given(
    possible: Sequence[FirstAsk], catalogue: Catalogue, ground_m2: float
) -> dict[FirstLine, float]:
    """Give ground to the lines in turn: the share of each that is grown [1]."""
    figures = first_figures()
    left = ground_m2 * WEEKS_A_YEAR * figures["ground.share_of_weeks"]
    always_m2 = figures["ground.always_m2"]
    of_rotation_m2 = ground_m2 * figures["ground.share_of_rotation"]
    open_m2 = {
        family.id: max(always_m2, of_rotation_m2 / (1.0 + family.rotation_gap_years.value))
        for family in catalogue.families.values()
    }
    shares: dict[FirstLine, float] = {}
    most = max(ground_m2 * figures["ground.most_for_one_line"], always_m2)
    for cap_m2 in (most, inf):
        for ask in possible:
            before = shares.get(ask.line, 0.0)
            more = min(
                1.0 - before,
                left / ask.ground_weeks,
                cap_m2 / ask.ground_m2 - before,
                max(0.0, open_m2[ask.family]) / ask.ground_m2,
            )
            share = _stepped(before + more)
            if share > before and share >= _least_share(ask):
                shares[ask.line] = share
                left -= (share - before) * ask.ground_weeks
                open_m2[ask.family] -= (share - before) * ask.ground_m2
    return shares


def _least_share(ask: FirstAsk) -> float:
    """Give the share of a line under which it is left out [1]."""
    figures = first_figures()
    patch = min(1.0, figures["ground.least_m2"] / ask.ground_m2)
    fresh = ask.line.wanted is Wanted.FRESH
    return _stepped(patch if fresh else max(patch, figures["ground.least_share_kept"]))


def _whole(
    line: FirstLine, seasons: Mapping[str, FoodSeason], catalogue: Catalogue, portions: float
) -> FirstAsk | None:
    """Ask for the whole of a line; None where it cannot be had for long enough."""
    known = [seasons[food] for food in line.foods if food in seasons]
    figures = first_figures()
    season = longest_season(_weeks(known, line.wanted), figures["ground.longest_gap_weeks"])
    if season is None or weeks_long(season) < figures["ground.shortest_season_weeks"]:
        return None
    kg = (
        line.portions
        * catalogue.foods[line.foods[0]].portion_kg.value
        * portions
        * weeks_long(season)
    )
    least = min(known, key=lambda one: one.ground_weeks_kg)
    return FirstAsk(
        line, season, 1.0, least.family, kg * least.ground_m2_kg, kg * least.ground_weeks_kg
    )


def _weeks(known: Sequence[FoodSeason], wanted: Wanted) -> set[int]:
    """Gather the weeks of the year in which any of some foods can be eaten as wanted."""
    weeks: set[int] = set()
    for season in known:
        if wanted is not Wanted.KEPT:
            weeks |= season.fresh
        if wanted is not Wanted.FRESH:
            weeks |= season.kept
    return weeks


def _stepped(share: float) -> float:
    """Round a share down to hundredths."""
    return min(1.0, int(share / SHARE_STEP + 1e-9) * SHARE_STEP)


def _monday(week: int) -> date:
    return YEAR_LOOKED_AT.monday(WEEKS_A_YEAR + week)
