"""Show a review on a terminal: the table, foods, beds, dates, causes."""

from collections.abc import Sequence
from functools import partial

from haulm.cli.show import line, table
from haulm.desk.season.review import Reviewed
from haulm.desk.season.review_odds import ReviewOdds, Tenths, verdict
from haulm.desk.season.review_words import (
    NOT_WRITTEN,
    cause_sentence,
    largest_causes,
    told_or,
    verdict_sentence,
)
from haulm.measure.sentences import capital
from haulm.measure.units import show_mass, show_volume
from haulm.season.review_records import LineReview, PlantingReview, WeekCame

MOST_CAUSES = 10


def review(found: Reviewed, odds: ReviewOdds) -> None:
    """Print what a plan had meant and what came, by line, food, bed and date, and why it parted."""
    span = found.review.span
    line(f"{span.first_day} to {span.last_day}{'' if found.whole else ', as far as it has come'}")
    line(verdict_sentence(verdict(found.review, odds)))
    _lines(found)
    _foods(found, odds)
    _beds(found, odds)
    _dates(found)
    _causes(found)
    hours = told_or(lambda h: f"{h:.0f} h", found.review.told_h)
    litres = partial(show_volume, units=found.units)
    line(f"\nHours: {found.review.asked_h:.0f} h planned; {hours} told.")
    line(f"Water given: {told_or(litres, found.review.water_l)}.")


def _lines(found: Reviewed) -> None:
    mass = partial(show_mass, units=found.units)

    def row(one: LineReview) -> Sequence[str]:
        return (
            found.names.get(one.line, one.line),
            mass(one.wanted_kg),
            mass(one.promised_kg),
            told_or(mass, one.eaten_kg),
            f"{one.planned_without}",
            f"{one.count(WeekCame.WITHOUT)}",
            f"{one.count(WeekCame.NOT_KNOWN) or ''}",
        )

    heads = (
        "line of the table",
        ">wanted",
        ">promised",
        ">eaten",
        ">weeks without, planned",
        ">truly",
        ">not written",
    )
    table(heads, map(row, found.review.lines), "\nThe table")


def _foods(found: Reviewed, odds: ReviewOdds) -> None:
    mass = partial(show_mass, units=found.units)
    heads = (
        "food",
        ">planned",
        ">8 in 10",
        ">picked",
        ">put by, planned",
        ">put by",
        ">eaten",
        ">given",
        ">thrown",
        ">rotted",
    )
    rows = (
        (
            found.names.get(one.food, one.food),
            mass(one.planned_kg),
            _range(odds.foods_kg.get(one.food), found),
            told_or(mass, one.picked_kg),
            mass(one.planned_put_by_kg),
            *(
                told_or(mass, kg)
                for kg in (
                    one.put_by_kg,
                    one.eaten_kg,
                    one.given_kg,
                    one.thrown_kg,
                    one.rotted_kg,
                )
            ),
        )
        for one in found.review.foods
    )
    table(heads, rows, "\nFood by food")


def _beds(found: Reviewed, odds: ReviewOdds) -> None:
    mass, litres = partial(show_mass, units=found.units), partial(show_volume, units=found.units)
    rows = (
        (
            found.names.get(one.bed, one.bed),
            mass(one.planned_kg),
            _range(odds.beds_kg.get(one.bed), found),
            told_or(mass, one.picked_kg),
            told_or(litres, one.water_l),
            told_or(lambda m: f"{m / 60:.1f} h", one.minutes),
            f"{one.written_of} of {one.plantings}",
        )
        for one in found.review.beds
    )
    heads = ("bed", ">planned", ">8 in 10", ">picked", ">water", ">work", ">plantings written of")
    table(heads, rows, "\nBed by bed")


def _dates(found: Reviewed) -> None:
    def row(one: PlantingReview) -> Sequence[str]:
        ready = min((each for each in one.planting.ready), key=lambda r: r.middle, default=None)
        begun = "stood already" if one.planting.standing else one.planting.sow_on.isoformat()
        started = "" if one.planting.standing else str(one.started_on or NOT_WRITTEN)
        return (
            one.planting.id,
            found.names.get(one.planting.bed, one.planting.bed),
            begun,
            started,
            f"{ready.early} to {ready.late}" if ready else "",
            str(one.first_picked_on or (NOT_WRITTEN if one.planned_kg else "still to come")),
            one.ended,
        )

    heads = ("planting", "bed", "to begin", "begun", "to be ready, 8 in 10", "first picked", "end")
    table(heads, map(row, found.review.plantings), "\nDates")


def _causes(found: Reviewed) -> None:
    causes = largest_causes(found.review.parted, MOST_CAUSES)
    line("\nWhy it parted from the plan, the largest first")
    for one in causes:
        line(f"  {capital(cause_sentence(one, found))}.")
    if not causes:
        line("  It did not: what was picked is what was planned.")


def _range(kg: Tenths | None, found: Reviewed) -> str:
    if kg is None:
        return ""
    return f"{show_mass(kg[0], found.units)} to {show_mass(kg[2], found.units)}"
