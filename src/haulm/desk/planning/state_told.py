"""What is told when a plan is carried on: what was taken as done, and what speaks of nothing."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from haulm.catalogue.records import Catalogue
from haulm.desk.planning.note_words import note_words
from haulm.desk.planning.question import display_names
from haulm.desk.planning.state_marks import mark
from haulm.measure.day_words import long_day
from haulm.measure.findings import Finding, Grade
from haulm.measure.units import show_mass
from haulm.measure.weeks import monday_of
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan
from haulm.plan.state import Noted, PlanState


@dataclass(frozen=True, slots=True)
class Carried:
    """A plan carried on.

    Attributes
    ----------
    garden, catalogue
        What was told, and what is known.
    plan, state
        The plan, and what it has come to.
    now
        The garden as it is by both.
    books_kept
        Whether the larder's books say all that lies in store.
    """

    garden: Garden
    catalogue: Catalogue
    plan: Plan
    state: PlanState
    now: Garden
    books_kept: bool


def told_of(carried: Carried, day: date) -> tuple[Finding, ...]:
    """Tell what was taken as done, what is missing in store, and notes that speak of nothing."""
    found = []
    if carried.plan.horizon.first_day < monday_of(day):
        found.append(_taken_as_done(carried, day))
        found += _missing_in_store(carried)
    return (*found, *_of_nothing(carried, day))


def _taken_as_done(carried: Carried, day: date) -> Finding:
    """Tell in one finding what was taken as done."""
    garden, state, units = carried.garden, carried.state, carried.garden.units
    lots = [lot for lot in carried.now.lots if carried.books_kept or lot not in carried.garden.lots]
    kg = show_mass(sum(lot.kg for lot in lots), units)
    grown = sum(stand.assumed for stand in carried.now.standing)
    counted = sum(note.on <= day for note in garden.noted)
    by = " by the larder's books" if carried.books_kept else ""
    return Finding(
        "what was done",
        f"the plan of {long_day(carried.plan.made_on)} is taken as done until"
        f" {long_day(monday_of(day))}, but for what was noted ({counted}):"
        f" {_count(grown, 'planting')} stand or are in trays by it,"
        f" {_count(len(state.cleared), 'planting')} had their time,"
        f" {show_mass(state.eaten_kg, units)} were eaten, and {kg} lie in"
        f" {_count(len(lots), 'lot')}{by}.",
        "Note what went otherwise, and count the stores; then plan again.",
        Grade.NOTE,
    )


def _missing_in_store(carried: Carried) -> Iterator[Finding]:
    """Tell what should lie in store by the plan, and of which the books have nothing."""
    if not carried.books_kept:
        return
    there = {(lot.food, lot.form.value, lot.place) for lot in carried.now.lots}
    kg: dict[tuple[str, str, str], float] = defaultdict(float)
    for lot in carried.state.lots:
        if (lot.food, lot.form, lot.place) not in there:
            kg[lot.food, lot.form, lot.place] += lot.kg
    if not kg:
        return
    stores = {store.id: store.name for store in carried.garden.stores}
    units = carried.garden.units
    each = (
        f"{carried.catalogue.foods[food].name}, {form}, {show_mass(amount, units)} in"
        f" {stores.get(place, place)}"
        for (food, form, place), amount in sorted(kg.items())
    )
    yield Finding(
        "in store",
        f"by the plan this should lie there, but the larder's books have none: {'; '.join(each)}."
        " None of it is counted on.",
        "What is there all the same, count it in the diary; then plan again.",
        Grade.WARNING,
    )


def _of_nothing(carried: Carried, day: date) -> Iterator[Finding]:
    """Tell the notes that speak of nothing."""
    garden, plan, state = carried.garden, carried.plan, carried.state
    names = display_names(garden, carried.catalogue)
    for number, note in enumerate(garden.noted):
        about = any((stand.kind, stand.bed) == (note.kind, note.bed) for stand in garden.standing)
        if note.on <= day and number not in state.matched and not about and _is_news(note, plan):
            yield Finding(
                f"note, {note_words(note, names)}",
                "it speaks of nothing that the plan had growing or in store on that day.",
                "Look at the day, and of what it is, or take it back.",
                Grade.WARNING,
            )


def _is_news(note: Noted, plan: Plan) -> bool:
    """Say whether a plan did not know of a note yet: what it knew of may be gone since."""
    return plan.begun is None or mark(note) not in plan.begun.told


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
