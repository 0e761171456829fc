"""What the handover says of a garden, gathered from its plan, its diary and its books."""

from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from haulm.catalogue.caution_records import Deed
from haulm.catalogue.cautions import cautions_for, told
from haulm.catalogue.records import Picking
from haulm.desk.beds.ground import kept_off
from haulm.desk.beds.watering import GardenWater, garden_water, litres_text
from haulm.desk.planning.plans import Made, Means, kept_plan, leave_unlaid
from haulm.desk.planning.question import on_offer
from haulm.desk.season.ledger import LedgerToday, ledger_of
from haulm.desk.showing.own_words import own_figure_text
from haulm.desk.showing.sheets import bundle_of
from haulm.measure.day_words import day_text, month_name, span_text
from haulm.measure.errors import FaultsFoundError
from haulm.measure.units import show_mass, show_volume
from haulm.measure.weeks import DAYS_A_WEEK, monday_of
from haulm.plan.records import Planting
from haulm.season.records import Purpose
from haulm.sheets.acts import JobKind
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.columns import Section, Told
from haulm.sheets.handover import BedShape, Handover
from haulm.sheets.shopping_sums import stock_lines
from haulm.sheets.week_jobs import Job, jobs_between
from haulm.sheets.wording import figure, food_name

MONTH_WEEKS = 5
MONTHS = 12
NOTHING_THERE = "by the books nothing sound in it"
"""Said of a store: what is past keeping may lie there all the same."""
LEAST_KG = 0.05
LEAST_HOURS = 0.25
"""Less than a quarter of an hour's work in a week is not told."""
_FOLLOWS = frozenset({JobKind.PUT_BY, JobKind.CLEAR})
_CAREFUL = (Deed.EAT, Deed.LIFT)


@dataclass(frozen=True, slots=True)
class HandedOver:
    """What a handover is gathered from.

    Attributes
    ----------
    made, bundle
        The kept plan, and what its sheets show.
    books
        The larder's books on the day.
    water
        What the beds want; None where it could not be reckoned.
    file
        The notebook's name.
    """

    made: Made
    bundle: SheetBundle
    books: LedgerToday
    water: GardenWater | None
    file: str

    @property
    def day(self) -> date:
        """The day it is printed."""
        return self.bundle.printed_on


def handed_over(path: Path, day: date) -> HandedOver:
    """Gather from a notebook what its handover is made of, as of a day.

    Raises
    ------
    FaultsFoundError
        When the path is no notebook, or there is no plan in it.
    """
    made = kept_plan(path, Means(leave_unlaid, on_offer))
    try:
        water = garden_water(made, day)
    except FaultsFoundError:
        water = None
    return HandedOver(made, bundle_of(made, day), ledger_of(path, day), water, path.name)


def handover_of(given: HandedOver) -> Handover:
    """Gather the handover; sections without a line are left out."""
    bundle = given.bundle
    sections = (
        Section(title, tuple(lines(given)), least, gives_way, more, turns=lines is _year)
        for title, lines, least, gives_way, more in SECTIONS
    )
    return Handover(
        garden=bundle.garden_words,
        invented=bundle.invented,
        day=given.day,
        shapes=tuple(BedShape(bed.name, bed.outline.corners_m) for bed in bundle.beds),
        sections=tuple(section for section in sections if section.lines),
    )


def _beds(given: HandedOver) -> Iterator[Told]:
    """Say of every bed what stands there and until when, what comes next, and its water."""
    bundle, day = given.bundle, given.day
    water = {bed.id: bed for bed in given.water.beds} if given.water else {}
    for number, bed in enumerate(bundle.beds, start=1):
        plantings = bundle.plantings_in(bed.id)
        now = [p for p in plantings if p.in_ground_from <= day < p.clear_by]
        said = [_stands(bundle, planting) for planting in now] or ["nothing stands there now"]
        coming = [p for p in plantings if p.in_ground_from > day]
        if coming:
            first = coming[0]
            said.append(f"next {_name(bundle, first)}, {day_text(first.in_ground_from)}")
        if bed.id in water and water[bed.id].weeks:
            most = max(water[bed.id].weeks, key=lambda week: week.litres.middle)
            litres = litres_text(most.litres.middle, given.made.garden.units)
            if litres != "none":
                said.append(f"water up to {litres} a week, in {month_name(most.monday.month)}")
        yield Told(f"{number} {bed.name}:", "; ".join(said) + ".")


def _stands(bundle: SheetBundle, planting: Planting) -> str:
    if bundle.stays(planting):
        return f"{_name(bundle, planting)}, stays for years"
    return f"{_name(bundle, planting)} until {day_text(planting.clear_by, year=True)}"


def _name(bundle: SheetBundle, planting: Planting) -> str:
    return bundle.full_name(planting).lower()


def _closed(given: HandedOver) -> Iterator[Told]:
    """Say what is kept off which bed until when, and what to do about it."""
    catalogue = given.bundle.catalogue
    for closure in given.bundle.closures:
        disease = catalogue.diseases[closure.disease]
        off = kept_off(closure, catalogue)
        yield Told(
            f"{given.bundle.bed(closure.bed).name}:",
            f"no {off} until {closure.until_year} ({disease.name} found {closure.found_year}). "
            f"{disease.advice}",
        )


def _month(given: HandedOver) -> Iterator[Told]:
    """Say the jobs of the coming weeks, week by week, with the hours they ask."""
    bundle, horizon = given.bundle, given.bundle.plan.horizon
    hours = {week.week: week.asked_h for week in bundle.plan.hours}
    for number in range(MONTH_WEEKS):
        monday = monday_of(given.day) + timedelta(weeks=number)
        sunday = monday + timedelta(days=DAYS_A_WEEK - 1)
        jobs = [job for job in jobs_between(bundle, monday, sunday) if job.first_day >= monday]
        asked = hours.get(horizon.week_of(monday), 0.0)
        time = f" About {figure(round(2 * asked) / 2)} h." if asked >= LEAST_HOURS else ""
        words = _jobs_in_words(jobs, with_place=True) or "nothing but weeding and looking round"
        yield Told(f"{span_text(monday, sunday, year=False)}:", f"{words}.{time}")


def _year(given: HandedOver) -> Iterator[Told]:
    """Say each month's jobs in a line, a year round."""
    first = given.day.replace(day=1)
    for _ in range(MONTHS):
        after = (first + timedelta(days=32)).replace(day=1)
        jobs = jobs_between(given.bundle, max(first, given.day), after - timedelta(days=1))
        begun = [job for job in jobs if job.first_day >= first]
        words = _jobs_in_words(begun, with_place=False)
        if words:
            yield Told(f"{month_name(first.month)}:", f"{words}.")
        first = after


def _jobs_in_words(jobs: list[Job], *, with_place: bool) -> str:
    """Say jobs verb by verb: *sow in trays leek, onion; set out kale (Bell)*.

    Without their places they are told by crop, and what follows from lifting is not told again.
    """
    by_verb: dict[JobKind, dict[str, dict[str, None]]] = defaultdict(dict)
    for job in jobs:
        if job.kind is JobKind.TEND or (job.kind in _FOLLOWS and not with_place):
            continue
        thing = _thing(job)
        of = thing if with_place else thing.split(",")[0]
        by_verb[job.kind].setdefault(of, {})[job.place] = None
    return "; ".join(
        f"{kind.value} "
        + ", ".join(
            f"{thing} ({', '.join(places)})" if with_place and thing not in places else thing
            for thing, places in by_verb[kind].items()
        )
        for kind in JobKind
        if kind in by_verb
    )


def _thing(job: Job) -> str:
    """Say what a job is done to: its words without the verb, and for trays without the trays."""
    thing = job.what.removeprefix(job.kind.verb).strip()
    if job.kind is JobKind.SOW_TRAYS:
        thing = job.what.removeprefix(JobKind.SOW.verb).removesuffix("in trays").strip(" ,")
    return thing or job.place


def _water(given: HandedOver) -> Iterator[Told]:
    """Say where water comes from, and how much all beds want at most."""
    garden, water = given.made.garden, given.water
    units = garden.units
    for tank in garden.tanks:
        holds = show_volume(tank.holds_l, units)
        yield Told(f"{tank.name}:", f"a rain tank of {holds}.")
    if not garden.tanks:
        yield Told("No rain tank", "is told of: all water comes from elsewhere.")
    if water is not None and water.beds and water.beds[0].weeks:
        mondays = [week.monday for week in water.beds[0].weeks]
        by_week = {
            monday: sum(litres.middle for _, litres in water.week(monday)) for monday in mondays
        }
        most = max(by_week, key=by_week.__getitem__)
        litres = litres_text(by_week[most], units)
        yield Told(
            "All beds:", f"in a middle year most in the week from {day_text(most)}: {litres}."
        )
    if water is not None and water.tanks is not None:
        dry = round(water.tanks.dry_days.middle)
        yield Told("Tanks alone:", f"dry on {dry} days on which water is wanted, in a middle year.")


def _freely(given: HandedOver) -> Iterator[Told]:
    """Say what may be picked as it is wanted in the coming weeks, and where."""
    bundle = given.bundle
    first = bundle.plan.horizon.week_of(given.day)
    places: dict[str, dict[str, None]] = defaultdict(dict)
    last: dict[str, int] = {}
    for planting in bundle.plan.plantings:
        how = {giving.food: giving.picking for giving in bundle.kind_of(planting).givings}
        for pick in planting.picks:
            near = first <= pick.week < first + MONTH_WEEKS
            if near and how.get(pick.food, Picking.SPREAD) is not Picking.ONCE:
                places[pick.food][bundle.bed(planting.bed).name] = None
                last[pick.food] = max(last.get(pick.food, 0), pick.week)
    for food, beds in sorted(places.items()):
        until = bundle.plan.horizon.monday(last[food]) + timedelta(days=DAYS_A_WEEK - 1)
        words = f"{', '.join(beds)}; until {day_text(until)} at least."
        yield Told(f"{food_name(bundle.catalogue, food)}:", words)


def _eat(given: HandedOver) -> Iterator[Told]:
    """Say what lies in store to be eaten, and where."""
    units, names = given.made.garden.units, given.books.names
    together: dict[tuple[str, str, str], float] = defaultdict(float)
    for lot in given.books.ledger.lots:
        kg = given.books.sound_kg[lot.id]
        if lot.purpose is Purpose.EAT and kg > LEAST_KG:
            food, _, form, store = lot.key
            together[food, form, store] += kg
    for (food, form, store), kg in together.items():
        where = f"{form}, {names.get(store, store)}"
        yield Told(f"{names.get(food, food)}:", f"about {show_mass(kg, units)} sound, {where}.")


def _kept_back(given: HandedOver) -> Iterator[Told]:
    """Say what is not to be eaten, and what of the harvest to keep back."""
    units, names = given.made.garden.units, given.books.names
    for lot in given.books.ledger.lots:
        kg = given.books.sound_kg[lot.id]
        if lot.purpose is not Purpose.EAT and kg > LEAST_KG:
            food, _, form, store = lot.key
            for_what = "to plant" if lot.purpose is Purpose.PLANT else "to give"
            words = f"{show_mass(kg, units)}, {form}, {names.get(store, store)}: {for_what}."
            yield Told(f"{names.get(food, food)}:", words)
    for line in stock_lines(given.bundle):
        if line.kept_back >= 1 and line.first_on >= given.day:
            name = given.bundle.kind_words(line.kind).lower()
            number = f"{figure(round(line.kept_back))} {line.unit}s"
            yield Told(f"{name}:", f"of the harvest keep {number} for {line.year}.")


def _lie(given: HandedOver) -> Iterator[Told]:
    """Say where things lie: every store, with its room and what is in it."""
    units, names = given.made.garden.units, given.books.names
    held: dict[str, dict[str, None]] = defaultdict(dict)
    for lot in given.books.ledger.lots:
        if given.books.sound_kg[lot.id] > LEAST_KG:
            held[lot.key[3]][names.get(lot.food, lot.food)] = None
    for store in given.made.garden.stores:
        room = f", {show_volume(store.capacity_l, units)}" if store.capacity_l else ""
        there = f"in it {', '.join(held[store.id])}" if store.id in held else NOTHING_THERE
        yield Told(f"{store.name}:", f"{store.kind.value}{room}; {there}.")


def _stay(given: HandedOver) -> Iterator[Told]:
    """Name what stays in the ground for years."""
    bundle = given.bundle
    for planting in bundle.plan.plantings:
        if bundle.stays(planting):
            since = f"since {planting.in_ground_from.year}"
            bed = bundle.bed(planting.bed).name
            yield Told(f"{_name(bundle, planting)}:", f"in {bed}, {since}; do not dig there.")


def _learnt(given: HandedOver) -> Iterator[Told]:
    """Give the figures that are this garden's own."""
    for own in given.made.garden.own.figures:
        names, units = given.books.names, given.made.garden.units
        note = f" ({own.note})" if own.note else ""
        yield Told(f"{names.get(own.of, own.of)}:", f"{own_figure_text(own, names, units)}{note}.")


def _care(given: HandedOver) -> Iterator[Told]:
    """Say where food of this garden can hurt, and whom to ask."""
    bundle = given.bundle
    there = {one.food for planting in bundle.plan.plantings for one in planting.expects}
    there |= {lot.food for lot in given.books.ledger.lots}
    for caution in cautions_for(bundle.catalogue, sorted(there), _CAREFUL, bundle.ages):
        yield Told("", told(caution))


def _file(given: HandedOver) -> Iterator[Told]:
    """Say what the file is, and how to open it."""
    yield Told("One file", f"holds it all, {given.file}: beds, plan, diary and larder.")
    yield Told("Open it:", f"in haulm's folder type “make serve”, or “haulm serve {given.file}”.")
    yield Told("Copy it:", f"“haulm backup {given.file}”; keep a copy on another disk.")


Lines = Callable[[HandedOver], Iterator[Told]]
SECTIONS: tuple[tuple[str, Lines, int, int, str], ...] = (
    ("The beds", _beds, 40, 12, "the bed sheets"),
    ("Closed beds: visit them last", _closed, 6, 11, "haulm check"),
    ("The next five weeks", _month, 3, 9, "This week"),
    ("Pick as you like", _freely, 4, 5, "This week"),
    ("Water", _water, 3, 8, "haulm water"),
    ("Keep back: not to be eaten", _kept_back, 4, 10, "haulm ledger"),
    ("In store, to be eaten", _eat, 4, 4, "haulm ledger"),
    ("Where things lie", _lie, 4, 7, "Larder"),
    ("What stays for years", _stay, 3, 6, "Ground"),
    ("The year round", _year, 6, 2, "the calendar"),
    ("Take care", _care, 2, 3, "the pages of crops"),
    ("What this garden has taught", _learnt, 2, 1, "haulm crops"),
    ("This file", _file, 3, 13, ""),
)
"""Of each section: title, lines, how many stay, when it gives way (1 first), where the rest is."""
