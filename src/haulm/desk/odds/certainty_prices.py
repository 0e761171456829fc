"""The price of certainty: what plans of means, and for several certainties, take and promise."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

import numpy as np

from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.odds.certainty import (
    FRESH,
    FRESH_SEASONS,
    LEAST_CERTAIN,
    MOST_CERTAIN,
    plan_surely,
    trials_for,
)
from haulm.desk.odds.living import odds_in
from haulm.desk.planning.plans import asked_now
from haulm.desk.table.money import Money, money_of
from haulm.forecast.records import PlanOdds
from haulm.forecast.rules import forecast_rules
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan
from haulm.planner.counted import sure_lines
from haulm.planner.make import make_plan
from haulm.planner.question import Effort, PlanQuestion, Progress, Watcher

OFFERED = (None, 0.5, 0.8, 0.9)
"""The certainties that are set side by side [1]; None is a plan of means."""

GAP_SHARE, GAP_WEEKS = 0.3, 3
"""A line has a gap where this share of it is missing for so many weeks on end."""


@dataclass(frozen=True, slots=True)
class LineGap:
    """Weeks on end in which a line lacks much: the first, the last, and what is short [kg]."""

    line: str
    first_week: int
    last_week: int
    short_kg: float


@dataclass(frozen=True, slots=True)
class Priced:
    """What a certainty costs.

    Attributes
    ----------
    certainty
        Share of years in which promises are to hold [1]; None for a plan of means.
    plan, odds
        The plan made for it, and its odds in seasons that it never saw.
    ground_share
        Share of the beds' square metres and weeks that it uses [1].
    work_h
        Hours of work in all [h].
    plantings
        How many plantings are made.
    money
        What its planting stock costs and its food is worth, and what has no price.
    promised_kg, short_kg
        By line of the table: what is promised, and what it falls short of what is wanted [kg].
    gap_weeks
        How many line-weeks of the table are short.
    poor_gaps
        The gaps of a poor year: in one season of ten, or more, so much is missing.
    """

    certainty: float | None
    plan: Plan
    odds: PlanOdds
    ground_share: float
    work_h: float
    plantings: int
    money: Money
    promised_kg: Mapping[str, float]
    short_kg: Mapping[str, float]
    gap_weeks: int
    poor_gaps: tuple[LineGap, ...]


def price_of_certainty(
    path: Path,
    day: date,
    certainties: Sequence[float | None],
    effort: Effort,
    seed: int,
    watch: Watcher | None = None,
) -> tuple[Opened, tuple[Priced, ...]]:
    """Plan a garden for several certainties, and tell what each costs; nothing is kept.

    A line of the table that has a certainty of its own keeps it throughout.

    Parameters
    ----------
    path
        The notebook, or garden.toml.
    day, effort, seed, watch
        As for any plan.
    certainties
        Shares of years in which promises are to hold [1]; None for a plan of means.

    Raises
    ------
    FaultsFoundError
        When the garden's data has faults, or a certainty is out of bounds.
    """
    opened = open_garden(path)
    return opened, tuple(priced(opened, day, certainties, effort, seed, watch))


def priced(
    opened: Opened,
    day: date,
    certainties: Sequence[float | None],
    effort: Effort,
    seed: int,
    watch: Watcher | None = None,
) -> Iterator[Priced]:
    """Plan an open garden for several certainties, each told as soon as it is made.

    Raises
    ------
    FaultsFoundError
        When the garden's data has faults, or a certainty is out of bounds.
    """
    told = [certainty for certainty in certainties if certainty is not None]
    wrong = [share for share in told if not LEAST_CERTAIN <= share <= MOST_CERTAIN]
    if wrong:
        what = f"{10 * wrong[0]:g} years in 10 cannot be planned for."
        remedy = f"Ask for {10 * LEAST_CERTAIN:g} to {10 * MOST_CERTAIN:g}."
        raise FaultsFoundError([Finding("certainty", what, remedy)])
    for number, certainty in enumerate(certainties):
        asked = replace(opened, garden=with_certainty(opened.garden, certainty))
        part = watch and _part_of(watch, number, len(certainties))
        yield price_of(asked, day, effort, seed, part)


def with_certainty(garden: Garden, certainty: float | None) -> Garden:
    """Give a garden as it would be with another certainty."""
    return replace(garden, household=replace(garden.household, certainty=certainty))


def price_of(
    opened: Opened, day: date, effort: Effort, seed: int, watch: Watcher | None = None
) -> Priced:
    """Plan a garden for the certainty it asks for, and tell what that costs.

    Raises
    ------
    FaultsFoundError, AuditFailedError, InterruptedPlanError
        As any plan.
    """
    question = asked_now(opened, day, seed).question
    plan, odds = _made(question, opened, effort, watch)
    promised: dict[str, float] = defaultdict(float)
    short: dict[str, float] = defaultdict(float)
    for row in plan.table:
        promised[row.line] += row.fresh_kg + row.stored_kg
        short[row.line] += row.short_kg
    used = sum(
        p.area_m2 * (min(p.until_week, plan.horizon.weeks) - max(p.from_week, 0))
        for p in plan.plantings
    )
    there = sum(bed.area_m2 for bed in plan.beds) * plan.horizon.weeks
    least_kg = forecast_rules().empty_kg.value
    return Priced(
        certainty=opened.garden.household.certainty,
        plan=plan,
        odds=odds,
        ground_share=used / there if there else 0.0,
        work_h=sum(hours.asked_h for hours in plan.hours),
        plantings=len(plan.plantings),
        money=money_of(plan, opened.garden, opened.catalogue),
        promised_kg=dict(promised),
        short_kg=dict(short),
        gap_weeks=sum(row.short_kg > least_kg for row in plan.table),
        poor_gaps=poor_gaps(plan, odds),
    )


def _made(
    question: PlanQuestion, opened: Opened, effort: Effort, watch: Watcher | None
) -> tuple[Plan, PlanOdds]:
    """Make the plan that is asked for, and live it through seasons it never saw."""
    tried = trials_for(question, opened)
    if sure_lines(question):
        sure = plan_surely(question, tried, effort, watch)
        return sure.plan, sure.odds
    plan = make_plan(question, effort, watch)
    return plan, odds_in(tried.fresh, plan, FRESH_SEASONS, question.seed + FRESH)


def poor_gaps(plan: Plan, odds: PlanOdds) -> tuple[LineGap, ...]:
    """Find, line by line, the weeks on end that lack much in one season of ten or more."""
    wanted: dict[str, dict[int, float]] = defaultdict(dict)
    for row in plan.table:
        wanted[row.line][row.week] = row.wanted_kg
    found = []
    for line, weeks in wanted.items():
        short = odds.short_kg[line][-1] if line in odds.short_kg else np.zeros(plan.horizon.weeks)
        lacks = [w for w, kg in sorted(weeks.items()) if 0 < kg * GAP_SHARE <= short[w]]
        found += [
            LineGap(line, run[0], run[-1], float(short[run[0] : run[-1] + 1].sum()))
            for run in _runs(lacks)
            if len(run) >= GAP_WEEKS
        ]
    return tuple(found)


def _runs(weeks: Sequence[int]) -> list[list[int]]:
    """Split weeks in order into stretches without a break."""
    runs: list[list[int]] = []
    for week in weeks:
        if runs and week == runs[-1][-1] + 1:
            runs[-1].append(week)
        else:
            runs.append([week])
    return runs


@dataclass(frozen=True, slots=True)
class GapChanges:
    """Which gaps of a poor year vanish, and which appear, from one plan to another."""

    vanish: tuple[LineGap, ...]
    appear: tuple[LineGap, ...]


def gap_changes(before: Priced, after: Priced) -> GapChanges:
    """Say which gaps vanish and which appear; what only grows or shrinks does neither."""
    return GapChanges(
        _without(before.poor_gaps, after.poor_gaps), _without(after.poor_gaps, before.poor_gaps)
    )


def _without(some: Sequence[LineGap], others: Sequence[LineGap]) -> tuple[LineGap, ...]:
    """Give the gaps that no other of their line touches, the largest first."""
    left = [
        gap
        for gap in some
        if not any(
            gap.line == other.line
            and gap.first_week <= other.last_week
            and other.first_week <= gap.last_week
            for other in others
        )
    ]
    return tuple(sorted(left, key=lambda gap: (-gap.short_kg, gap.line, gap.first_week)))


def _part_of(watch: Watcher, number: int, count: int) -> Watcher:
    """Tell one plan's progress as part of all that are made."""

    def told(progress: Progress) -> None:
        watch(replace(progress, done=(number + progress.done) / count))

    return told


def as_data(prices: Sequence[Priced]) -> list[dict[str, object]]:
    """Give the prices as plain data, the plans left out."""
    return [
        {
            "certainty": price.certainty,
            "ground_share": price.ground_share,
            "work_h": price.work_h,
            "plantings": price.plantings,
            "spent": dict(price.money.spent),
            "worth": dict(price.money.worth),
            "without_a_price": price.money.unpriced,
            "gap_weeks": price.gap_weeks,
            "promised_kg": dict(price.promised_kg),
            "short_kg": dict(price.short_kg),
            "poor_gaps": price.poor_gaps,
            "promises": price.odds.promises,
            "counted": price.plan.certainty,
        }
        for price in prices
    ]
