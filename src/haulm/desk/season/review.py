"""The review at the desk: which plan counts, what the diary says of it, what many seasons say."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date, timedelta
from pathlib import Path

from haulm.catalogue.known import known
from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.planning.question import display_names
from haulm.desk.season.larder_told import larder_of, lots_told
from haulm.measure.day_words import long_day
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade
from haulm.measure.units import Units
from haulm.notebook.diary import read_diary
from haulm.notebook.file import open_notebook
from haulm.plan.records import Plan, Planting
from haulm.season.ledger import keep_on, ledger_of_books, opened_with
from haulm.season.notes import notes_of
from haulm.season.records import Entry, key_of
from haulm.season.review import review
from haulm.season.review_records import (
    LineAsked,
    PlantingReview,
    Review,
    ReviewSpan,
    Season,
)
from haulm.season.review_rules import review_rules

THURSDAY = timedelta(days=3)


@dataclass(frozen=True, slots=True)
class ReviewWish:
    """What is to be looked back on: a year, or any days; None for what the day makes likely."""

    year: int | None = None
    first: date | None = None
    last: date | None = None


@dataclass(frozen=True, slots=True)
class PlanKept:
    """A plan of the notebook: its number, and the plan."""

    number: int
    plan: Plan


@dataclass(frozen=True, slots=True)
class Reviewed:
    """A review with all that shows it.

    Attributes
    ----------
    path
        The notebook.
    review, season, plan
        The review, what it looked at, and the plan that counts: the one kept when the span began.
    number, replans
        Its number in the notebook, and the days on which it was made anew since.
    day, whole
        The day that counted as today, and whether the span was over by then.
    names, units
        Display names by id, and how quantities are written.
    in_force
        Every planting of the season by the plan that was in force when it was to be begun.
    year, southern, invented
        The year that was looked back on, None for any days; whether years run from July there; and
        whether the garden is an invented one.
    """

    path: Path
    review: Review
    season: Season
    plan: Plan
    number: int
    replans: tuple[date, ...]
    day: date
    whole: bool
    names: Mapping[str, str]
    units: Units
    in_force: tuple[Planting, ...]
    year: int | None = None
    southern: bool = False
    invented: bool = False


def review_of(path: Path, day: date, wish: ReviewWish | None = None) -> Reviewed:
    """Look back on a year, or on some days, of a notebook.

    A year is looked back on by the plan that its winter made, from that plan's first week until the
    next winter's begins. Where no winter made one, and of any days, the plan that counts is the
    newest kept by the first day. Where there was none yet, it is the last one kept within the span
    before anything was begun: before the diary's first entry and the first sowing of the first such
    plan. The span begins with it.

    Raises
    ------
    FaultsFoundError
        When no plan was kept that reaches into the span, or the garden has faults.
    """
    opened = open_garden(path)
    with open_notebook(path) as notebook:
        kept = [PlanKept(one.number, notebook.plan(one.number)) for one in notebook.plans()]
        entries = read_diary(notebook).entries
    southern = opened.garden.place.southern
    wish = _dated(wish or ReviewWish(), kept, day, southern=southern)
    first, last = _days(wish, kept, day, southern=southern)
    over = last if wish.year is None else year_days(wish.year, southern=southern)[1]
    counts = _counts(kept, first, last, entries)
    later = [one for one in kept if one.number > counts.number and one.plan.made_on <= last]
    span = _span(counts.plan, first, min(last, day))
    season = _season(opened, counts.plan, span, entries, [one.plan for one in later])
    return Reviewed(
        path=path,
        review=review(season),
        season=season,
        plan=counts.plan,
        number=counts.number,
        replans=tuple(one.plan.made_on for one in later),
        day=day,
        whole=over <= day,
        names=display_names(opened.garden, opened.catalogue),
        units=opened.garden.units,
        in_force=_in_force(counts.plan, [one.plan for one in later]),
        year=wish.year,
        southern=southern,
        invented=opened.garden.invented,
    )


def year_days(year: int, *, southern: bool) -> tuple[date, date]:
    """Give a garden's year: the calendar's, and from July to June south of the equator.

    A southern year is named by the calendar year it begins in.
    """
    month = 7 if southern else 1
    return date(year, month, 1), date(year + 1, month, 1) - timedelta(days=1)


def _dated(wish: ReviewWish, kept: Sequence[PlanKept], day: date, *, southern: bool) -> ReviewWish:
    """Settle which year is looked back on, where neither a year nor any days are asked for."""
    if wish.first is not None or wish.last is not None:
        return ReviewWish(None, wish.first, wish.last)
    if wish.year is not None:
        return wish
    then = day - timedelta(days=review_rules().look_back_days.value)
    year = then.year - (southern and then.month < 7)  # noqa: PLR2004 - July
    begun = min((one.plan.horizon.first_day for one in kept), default=day)
    if year_days(year, southern=southern)[1] < begun <= day:
        year += 1
    return ReviewWish(year)


def _days(
    wish: ReviewWish, kept: Sequence[PlanKept], day: date, *, southern: bool
) -> tuple[date, date]:
    if wish.year is None:
        first = wish.first or (kept[0].plan.horizon.first_day if kept else day)
        last = wish.last or day
        if last < first:
            what = f"{last} is before {first}."
            raise FaultsFoundError([Finding("the days", what, "Give the earlier day first.")])
        return first, last
    return _year_planned(wish.year, kept, day, southern=southern)


def _year_planned(
    year: int, kept: Sequence[PlanKept], day: date, *, southern: bool
) -> tuple[date, date]:
    """Give a year from the plan that its winter made until the next winter's.

    While nobody has planned the next year it goes on, as long as that winter does.
    """
    first, last = year_days(year, southern=southern)
    began, next_began = (_winters(kept, one) for one in (first, last + timedelta(days=1)))
    if next_began is not None and next_began.plan.made_on <= day:
        last = next_began.plan.horizon.first_day - timedelta(days=1)
    elif last < day <= last + timedelta(days=review_rules().winter_plan_days.value):
        last = day
    return began.plan.horizon.first_day if began else first, last


def _winters(kept: Sequence[PlanKept], first: date) -> PlanKept | None:
    """Give the last plan made in the winter in which a year begins; None where there was none."""
    until = first + timedelta(days=review_rules().winter_plan_days.value)
    return next((one for one in reversed(kept) if first <= one.plan.made_on < until), None)


def _counts(
    kept: Sequence[PlanKept], first: date, last: date, entries: Sequence[Entry]
) -> PlanKept:
    """Choose the plan that counts."""
    reaching = [one for one in kept if first <= one.plan.horizon.last_day]
    before = [one for one in reaching if one.plan.horizon.first_day <= first]
    within = [one for one in kept if first < one.plan.made_on <= last]
    if not before and not within:
        what = f"no plan was kept that holds {first} to {last}."
        raise FaultsFoundError([Finding("the review", what, "Ask for a year that was planned.")])
    return before[-1] if before else _begun_with(within, entries)


def _begun_with(kept: Sequence[PlanKept], entries: Sequence[Entry]) -> PlanKept:
    """Give the last of a span's plans that was kept before anything was begun, or the first."""
    written = [entry.day for entry in entries if entry.day >= kept[0].plan.made_on]
    sown = [one.sow_on for one in kept[0].plan.plantings if not one.standing]
    begun = min((*written, *sown), default=kept[0].plan.made_on)
    return [one for one in kept if one is kept[0] or one.plan.made_on < begun][-1]


def _span(plan: Plan, first: date, last: date) -> ReviewSpan:
    """Give the weeks of a plan whose Thursday lies between two days, so that years share none."""
    week_of, monday = plan.horizon.week_of, plan.horizon.monday
    start, until = week_of(first), week_of(last) + 1
    start += monday(start) + THURSDAY < first
    until -= monday(until - 1) + THURSDAY > last
    start, until = max(0, start), min(plan.horizon.weeks, until)
    if until <= start:
        what = f"the plan of {long_day(plan.made_on)} begins after {last}."
        raise FaultsFoundError([Finding("the review", what, "Look back when a week is over.")])
    return ReviewSpan(plan.horizon, start, until)


def _season(
    opened: Opened, plan: Plan, span: ReviewSpan, entries: Sequence[Entry], later: Sequence[Plan]
) -> Season:
    """Gather all that a review looks at."""
    larder = larder_of(opened)
    last = span.last_day
    written = tuple(entry for entry in entries if entry.day <= last)
    earlier = [entry for entry in written if entry.day < span.first_day]
    here = [entry for entry in written if entry.day >= span.first_day]
    # The books go on from where they stood before the span, so that ten years are read but once.
    lots = lots_told(opened, larder, span.first_day - timedelta(days=1))
    opening = keep_on(opened_with(lots, larder), earlier, larder)
    closing = keep_on(opening, here, larder)
    pieces = {food.id: known(food.piece_kg) for food in opened.catalogue.foods.values()}
    in_force = {key_of(planting) for planting in _in_force(plan, later)}
    return Season(
        plan=plan,
        span=span,
        entries=written,
        opening=ledger_of_books(opening),
        closing=ledger_of_books(closing),
        lines=tuple(
            LineAsked(line.id, line.foods, line.wanted, line.priority)
            for line in opened.garden.household.table
        ),
        piece_kg={food: kg for food, kg in pieces.items() if kg is not None},
        later={key_of(planting): planting for one in later for planting in one.plantings},
        replaced=frozenset({key_of(planting) for planting in plan.plantings} - in_force),
        notes=(*opened.garden.noted, *notes_of(written, plan)),
    )


def _in_force(plan: Plan, later: Sequence[Plan]) -> tuple[Planting, ...]:
    """Give every planting by the plan that was in force in the week it was to be begun."""
    plans = [plan, *later]
    found = [planting for planting in plan.plantings if planting.standing]
    for number, one in enumerate(plans):
        until = plans[number + 1].horizon.first_day if number + 1 < len(plans) else None
        found += [
            planting
            for planting in one.plantings
            if not planting.standing and (until is None or planting.sow_on < until)
        ]
    return tuple(found)


def told_of(reviewed: Reviewed) -> tuple[Finding, ...]:
    """Tell which plan counts and what the diary does not cover, then what could not be counted."""
    found, span = reviewed.review, reviewed.review.span
    replans = ", ".join(map(long_day, reviewed.replans))
    since = f"; it was made anew on {replans}, which does not change what it had promised"
    notes = [
        Finding(
            "the plan that counts",
            f"the plan of {long_day(reviewed.plan.made_on)} (number {reviewed.number}), for"
            f" {long_day(span.first_day)} to {long_day(span.last_day)}{since if replans else ''}.",
            remedy=f"To look back by the plan of {long_day(reviewed.replans[0])}, ask from that"
            f" day: haulm review --from {reviewed.replans[0]}."
            if replans
            else "",
            grade=Grade.NOTE,
        ),
        Finding(
            "the diary",
            f"it tells of plantings that were to give {found.covered_share:.0%} of what was"
            " planned; what nobody wrote of is not known, and is not taken as nothing.",
            grade=Grade.NOTE,
        ),
    ]
    return (*notes, *found.told)


def as_data(reviewed: Reviewed) -> Mapping[str, object]:
    """Give a review as plain data; what nobody wrote is null."""
    found = reviewed.review
    return {
        "plan": {"made_on": reviewed.plan.made_on, "number": reviewed.number},
        "replans": reviewed.replans,
        "from": found.span.first_day,
        "to": found.span.last_day,
        "whole": reviewed.whole,
        "planned_kg": found.planned_kg,
        "picked_kg": found.picked_kg,
        "covered_share": found.covered_share,
        "foods": found.foods,
        "beds": found.beds,
        "plantings": [_planting_data(one) for one in found.plantings],
        "lines": [
            asdict(one) | {"promised_kg": one.promised_kg, "eaten_kg": one.eaten_kg}
            for one in found.lines
        ],
        "parted": found.parted,
        "hours": {"planned": found.asked_h, "told": found.told_h},
        "water_l": found.water_l,
        "findings": told_of(reviewed),
    }


def _planting_data(one: PlantingReview) -> Mapping[str, object]:
    planting = one.planting
    return {
        "planting": planting.id,
        "kind": planting.kind,
        "bed": planting.bed,
        "sow_on": planting.sow_on,
        "started_on": one.started_on,
        "ready": planting.ready,
        "first_picked_on": one.first_picked_on,
        "area_m2": {"planned": planting.area_m2, "written": one.area_m2},
        "planned_kg": one.planned_kg,
        "picked_kg": one.picked_kg,
        "shared": one.shared,
        "written": one.written,
        "ended": one.ended,
    }
