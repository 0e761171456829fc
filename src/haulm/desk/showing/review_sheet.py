"""What the printed review says, gathered from a review, its odds, its regrets and its lessons."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from haulm.desk.season.lesson_records import Lessons
from haulm.desk.season.lesson_words import amount, state
from haulm.desk.season.regret_words import (
    assumed_sentence,
    paid_sentence,
    ready_sentence,
    regret_sentence,
    tried_sentence,
    whole_sentence,
)
from haulm.desk.season.regrets import Regrets
from haulm.desk.season.review import told_of
from haulm.desk.season.review_odds import Tenths, verdict
from haulm.desk.season.review_page import LookedBack
from haulm.desk.season.review_words import cause_sentence, largest_causes, verdict_sentence
from haulm.measure.sentences import capital
from haulm.measure.units import show_mass, show_volume
from haulm.season.review_records import BedReview, FoodReview, LineReview, WeekCame
from haulm.sheets.columns import Section, Told
from haulm.sheets.review_sheet import CameRow, CameTable, ReviewSheet

UNWRITTEN = "·"
MINUTES_AN_HOUR = 60
FOOD_HEADS = ("planned", "picked", "put by", "eaten", "given", "rotted")
BED_HEADS = ("planned", "picked", "water", "work", "written of")


@dataclass(frozen=True, slots=True)
class ReviewToPrint:
    """What a printed review is gathered from.

    Attributes
    ----------
    looked
        The review and what many seasons say of its weeks.
    lessons
        What the diary teaches by now.
    regrets
        The regret ledger of the same year; None where it was not asked for.
    """

    looked: LookedBack
    lessons: Lessons
    regrets: Regrets | None = None


def review_sheet_of(given: ReviewToPrint) -> ReviewSheet:
    """Gather the printed review; sections without a line are left out."""
    reviewed = given.looked.reviewed
    span = reviewed.review.span
    sections = (
        Section(title, tuple(lines(given)), least, gives_way, more, turns=lines is _regrets)
        for title, lines, least, gives_way, more in SECTIONS
    )
    return ReviewSheet(
        garden=reviewed.plan.garden,
        invented=reviewed.invented,
        first_day=span.first_day,
        last_day=span.last_day,
        whole=reviewed.whole,
        verdict=verdict_sentence(verdict(reviewed.review, given.looked.odds)),
        tables=(_foods(given.looked), _beds(given.looked)),
        sections=tuple(section for section in sections if section.lines),
    )


def _foods(looked: LookedBack) -> CameTable:
    mass = partial(show_mass, units=looked.reviewed.units)
    names, odds = looked.reviewed.names, looked.odds.foods_kg

    def row(one: FoodReview) -> CameRow:
        came = (one.picked_kg, one.put_by_kg, one.eaten_kg, one.given_kg, one.rotted_kg)
        cells = (mass(one.planned_kg), *(UNWRITTEN if kg is None else mass(kg) for kg in came))
        between = _between(odds.get(one.food))
        name = capital(names.get(one.food, one.food))
        return CameRow(name, cells, one.planned_kg, one.picked_kg, between)

    return CameTable("Food by food", FOOD_HEADS, tuple(map(row, looked.reviewed.review.foods)))


def _beds(looked: LookedBack) -> CameTable:
    units, names = looked.reviewed.units, looked.reviewed.names
    mass, litres = partial(show_mass, units=units), partial(show_volume, units=units)

    def row(one: BedReview) -> CameRow:
        cells = (
            mass(one.planned_kg),
            UNWRITTEN if one.picked_kg is None else mass(one.picked_kg),
            UNWRITTEN if one.water_l is None else litres(one.water_l),
            UNWRITTEN if one.minutes is None else f"{one.minutes / MINUTES_AN_HOUR:.1f} h",
            f"{one.written_of} of {one.plantings}",
        )
        between = _between(looked.odds.beds_kg.get(one.bed))
        name = names.get(one.bed, one.bed)
        return CameRow(name, cells, one.planned_kg, one.picked_kg, between)

    return CameTable("Bed by bed", BED_HEADS, tuple(map(row, looked.reviewed.review.beds)))


def _between(kg: Tenths | None) -> tuple[float, float] | None:
    return None if kg is None else (kg[0], kg[2])


def _luck(given: ReviewToPrint) -> Iterator[Told]:
    """Say of which foods more came, or less, than 9 seasons in 10 bring."""
    looked = given.looked
    names, units = looked.reviewed.names, looked.reviewed.units
    written = [one for one in looked.reviewed.review.foods if one.picked_kg is not None]
    lucky = [(one, found) for one in written if (found := _beyond(one, looked))]
    for one, (what, way, kg) in lucky:
        name, came = capital(names.get(one.food, one.food)), show_mass(one.picked_kg or 0.0, units)
        words = f"{came}, {what}: 9 seasons in 10 give {way} {show_mass(kg, units)}."
        yield Told(f"{name}:", words)
    if not written:
        yield Told("", "Nothing was written of what was picked, so nobody knows.")
    elif not lucky:
        yield Told("", "No food came better or poorer than 9 seasons in 10.")


def _beyond(one: FoodReview, looked: LookedBack) -> tuple[str, str, float] | None:
    """Say whether a food was lucky or unlucky, and what 9 seasons in 10 give; None for neither.

    A plan may count on less than is there to pick: so what came has to lie as far from what was
    planned, too, as a season in ten does from the middle one.
    """
    tenths = looked.odds.foods_kg.get(one.food)
    if tenths is None or tenths[1] <= 0 or one.picked_kg is None or one.planned_kg <= 0:
        return None
    low, middle, high = tenths
    asked = one.planned_kg / middle
    if one.picked_kg > max(high, asked * high):
        return "lucky", "under", high
    if one.picked_kg < min(low, asked * low):
        return "unlucky", "over", low
    return None


def _causes(given: ReviewToPrint) -> Iterator[Told]:
    """Say why what was picked parts from the plan, the largest first."""
    reviewed = given.looked.reviewed
    for one in largest_causes(reviewed.review.parted, len(reviewed.review.parted)):
        name, _, words = cause_sentence(one, reviewed).partition(": ")
        yield Told(f"{capital(name)}:", f"{words}.")


def _without(given: ReviewToPrint) -> Iterator[Told]:
    """Say of each line that went without more weeks than by the plan, or of which nobody wrote."""
    reviewed = given.looked.reviewed

    def more(line: LineReview) -> int:
        return line.count(WeekCame.WITHOUT) - line.planned_without

    told = [one for one in reviewed.review.lines if more(one) > 0 or not one.known]
    for line in sorted(told, key=more, reverse=True):
        truly, unknown = line.count(WeekCame.WITHOUT), line.count(WeekCame.NOT_KNOWN)
        name = capital(reviewed.names.get(line.line, line.line))
        not_known = f"; of {_weeks(unknown)} nobody wrote" if unknown else ""
        words = f"{_weeks(truly)} without, {line.planned_without} by the plan{not_known}."
        yield Told(f"{name}:", words)
    if not told:
        yield Told("", "No line of the table went without in more weeks than by the plan.")


def _weeks(number: int) -> str:
    return "1 week" if number == 1 else f"{number} weeks"


def _work(given: ReviewToPrint) -> Iterator[Told]:
    """Say what hours and water the year took."""
    reviewed = given.looked.reviewed
    told_h, water_l = reviewed.review.told_h, reviewed.review.water_l
    told = "none written" if told_h is None else f"{told_h:.0f} h written"
    yield Told("Hours:", f"{reviewed.review.asked_h:.0f} h by the plan, {told}.")
    water = "not written" if water_l is None else show_volume(water_l, reviewed.units)
    yield Told("Water given:", f"{water}.")


def _regrets(given: ReviewToPrint) -> Iterator[Told]:
    """Tell the regret ledger, where it was asked for."""
    ledger = given.regrets
    if ledger is None:
        yield Told("", "Not asked for this time.")
        return
    for number, one in enumerate(ledger.regrets, start=1):
        after = [paid_sentence(one), assumed_sentence(one, ledger.question)]
        basis = capital("; ".join(words for words in after if words))
        yield Told(f"{number}.", f"{capital(regret_sentence(one, ledger))}. {basis}.")
    if not ledger.regrets:
        yield Told("", "Nothing: no single change would have fed the table noticeably better.")
    rest = (whole_sentence(ledger), ready_sentence(ledger), tried_sentence(ledger.tried))
    yield from (Told("", f"{words}.") for words in rest if words)


def _figures(given: ReviewToPrint) -> Iterator[Told]:
    """Tell the figures that the diary moves, the usual one beside ours, those few tell left out."""
    units = given.looked.reviewed.units
    moved = [one for one in given.lessons.moved if not one.few or one.now is not None]
    for one in moved:
        low, high = amount(one, one.low, units), amount(one, one.high, units)
        records = "1 record" if one.records == 1 else f"{one.records} records"
        words = (
            f"usual {amount(one, one.usual, units)}, yours {amount(one, one.value, units)}"
            f" ({low} to {high}), {records}"
        )
        planned = state(one, units)
        yield Told(f"{capital(one.name)}:", f"{words}{f'; {planned}' if planned else ''}.")
    few = len(given.lessons.moved) - len(moved)
    if few:
        yield Told("", f"Too few records to tell as yet: {few} figures more.")
    elif not moved:
        yield Told("", "Nothing yet: a planting teaches once it was weighed, and is cleared.")


def _basis(given: ReviewToPrint) -> Iterator[Told]:
    """Say which plan counts, what the diary covers, and what could not be counted."""
    for one in told_of(given.looked.reviewed):
        yield Told(f"{capital(one.where)}:", capital(one.what))


HERE, TAUGHT = "haulm review", "haulm learn"
SECTIONS = (
    ("Lucky and unlucky", _luck, 6, 4, HERE),
    ("Why it parted from the plan", _causes, 6, 1, HERE),
    ("Weeks without", _without, 4, 3, HERE),
    ("Hours and water", _work, 2, 9, ""),
    ("The regret ledger", _regrets, 3, 5, HERE),
    ("What moves next year's figures", _figures, 6, 2, TAUGHT),
    ("How it was reckoned", _basis, 2, 6, HERE),
)
"""Title, lines, the least that stay, the order in which sections give way, where the rest is."""
