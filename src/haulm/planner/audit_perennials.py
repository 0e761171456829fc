"""The audit of what stays for years: its ground in every week, and its food by age."""

from collections.abc import Iterator
from datetime import date, timedelta

from haulm.growing.records import PickingYear
from haulm.measure.findings import Finding
from haulm.plan.records import Planting
from haulm.planner.audit_books import KG, Books, add_up
from haulm.planner.question import LastingStand, Standing

SHARE = 1e-6
MIDSUMMER_DAYS = 183


def check_lasting_ground(books: Books) -> Iterator[Finding]:
    """Stands that stay for years hold their ground in every week of the plan."""
    for stand in _lasting(books):
        for planting in _plantings(books, stand):
            held = range(planting.from_week, planting.until_week)
            if any(week not in held for week in range(books.plan.horizon.weeks)):
                what = "it stays for years, and the plan gives its ground away."
                yield books.wrong(f"planting {planting.id}", what)


def check_lasting_food(books: Books) -> Iterator[Finding]:
    """Stands that stay for years give, in each week, no more than their age lets them."""
    for stand in _lasting(books):
        if stand.lasting is None:
            continue
        for picked in stand.sowing.picking_years:
            yield from _year_at_fault(books, stand, stand.lasting, picked)
        for planting in _plantings(books, stand):
            yield from _picks_at_fault(books, planting, stand.lasting, stand)


def _year_at_fault(
    books: Books, stand: Standing, lasting: LastingStand, picked: PickingYear
) -> Iterator[Finding]:
    """Find a year told of another age than the planting day gives, or with too large a share."""
    where = f"{books.name(stand.sowing.kind)} on {books.name(stand.bed)}, {picked.year}"
    age = _age(lasting, picked.year)
    if age != picked.age:
        yield books.wrong(where, f"it is in its year {age}, and told as in its year {picked.age}.")
    most = _share(lasting, age)
    if picked.share > most + SHARE:
        what = f"it is to give {picked.share:.3f} of a full yield, and at its age gives {most:.3f}."
        yield books.wrong(where, what)


def _picks_at_fault(
    books: Books, planting: Planting, lasting: LastingStand, stand: Standing
) -> Iterator[Finding]:
    """Find weeks in which more is picked than the stand's age, area and season allow."""
    full = dict(lasting.full_kg_m2)
    for (food, week), kg in add_up(((p.food, p.week), p.kg) for p in planting.picks).items():
        most = planting.area_m2 * sum(
            full.get(food, 0.0)
            * _share(lasting, _age(lasting, year.year))
            / (year.until_week - year.first_week)
            for year in stand.sowing.picking_years
            if year.food == food and year.first_week <= week < year.until_week
        )
        if kg > most + KG:
            what = f"{kg:.3f} kg of {books.name(food)} in {books.week(week)}, of {most:.3f}."
            yield books.wrong(f"planting {planting.id}", what)


def _lasting(books: Books) -> list[Standing]:
    return [stand for stand in books.question.standing if stand.lasting is not None]


def _plantings(books: Books, stand: Standing) -> list[Planting]:
    return [
        planting
        for planting in books.plan.plantings
        if planting.standing and (planting.sowing, planting.bed) == (stand.sowing.id, stand.bed)
    ]


def _age(lasting: LastingStand, year: int) -> int:
    """Count the midsummers the stand has seen by that of a year: its growing seasons."""
    seen = 0
    while _midsummer(year - seen, southern=lasting.southern) > lasting.planted_on:
        seen += 1
    return seen


def _midsummer(year: int, *, southern: bool) -> date:
    return date(year, 7 if southern else 1, 1) + timedelta(days=MIDSUMMER_DAYS)


def _share(lasting: LastingStand, age: int) -> float:
    """Give the share of the full yield at an age; 0 before the first picking."""
    return max(
        ((year, share) for year, share in lasting.year_shares if year <= age), default=(0, 0.0)
    )[1]
