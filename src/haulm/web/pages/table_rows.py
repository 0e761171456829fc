"""Table: what is eaten, line by line, and what a year of it would take."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.catalogue.near import find_food
from haulm.catalogue.records import Food
from haulm.desk.at_hand import AtHand
from haulm.desk.garden.editing import Change, change_garden, faults_of, index_of, mark_of
from haulm.desk.showing.table_drawings import (
    column_units,
    shown_area,
    shown_weight,
    year_axis,
    year_of,
)
from haulm.desk.table.cautions import care_for_the_young
from haulm.desk.table.measures_of_food import read_week_kg, stepped, told_as, week_text
from haulm.desk.table.table_sums import TableRow, TableYear, newest_plan, table_year
from haulm.household.records import TableLine
from haulm.measure.errors import ChangedElsewhereError, FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.near import near_names
from haulm.measure.units import Units
from haulm.plan.records import Plan
from haulm.web.forms import Form, with_form
from haulm.web.pages.table_nourished import nourishing
from haulm.web.reader import Reader
from haulm.web.show import fragment, go, page, reader_of, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import language

SAME_KG = 1e-6
TEN = 10.0
LEAP_YEAR = 2000


@dataclass(frozen=True, slots=True)
class Typed:
    """What was typed that could not be taken: at which line, what, and what is wrong with it."""

    line: str
    text: str
    fault: Finding


@dataclass(frozen=True, slots=True)
class Added:
    """A line that was to be added: what was typed, and what is wrong, by field."""

    typed: dict[str, str]
    faults: dict[str, Finding]


@dataclass(frozen=True, slots=True)
class Figures:
    """Writes the figures of the table's columns as this reader likes them."""

    reader: Reader
    units: Units

    def kg(self, kg: float) -> str:
        """Write a weight in the unit of the column; under ten with one decimal."""
        shown = shown_weight(kg, self.units)
        return self.reader.number(shown, 0 if round(shown, 1) >= TEN or shown == 0 else 1)

    def area(self, area_m2: float) -> str:
        """Write a piece of ground in the unit of the column."""
        return self.reader.number(shown_area(area_m2, self.units), 1)

    def helpings(self, helpings: float) -> str:
        """Write a number of helpings, as it is typed."""
        text = self.reader.number(helpings, 1)
        return text[:-2] if text.endswith(("0",)) and text[-2] in ".," else text

    def season(self, line: TableLine) -> str:
        """Write the part of the year in which a line is wanted."""
        if line.first is None or line.last is None:
            return _("all year")
        first, last = (date(LEAP_YEAR, day.month, day.day) for day in (line.first, line.last))
        return f"{self.reader.short_day(first)} – {self.reader.short_day(last)}"

    def count(self, count: float) -> str:
        """Write a whole number; a few with a decimal."""
        return self.helpings(count) if count < TEN else self.reader.number(count)


def show(request: Request) -> Response:
    """Show every line of the table with its year."""
    return _shown(request)


def add(request: Request, form: Form) -> Response:
    """Add a line: a food of the catalogue, and how much of it is eaten in a week."""
    garden = shelf_of(request).garden
    typed = {"food": form.text("food"), "week": form.text("week")}
    food = find_food(garden.catalogue, typed["food"])
    faults: dict[str, Finding] = {}
    if food is None:
        faults["food"] = unknown_food(typed["food"], garden)
        return _shown(request, added=Added(typed, faults), status=422)
    try:
        kg = read_week_kg(typed["week"], food, food.name)
        change = Change("table", "", {"eat": food.id, "amount": week_text(kg, units_of(garden))})
        change_garden(garden.path, [change], shelf_of(request).now())
    except FaultsFoundError as error:
        found = faults_of(error, "table", len(garden.parts["table"]))
        faults["food" if found else "week"] = next(iter(found.values()), error.findings[0])
        return _shown(request, added=Added(typed, faults), status=422)
    return go("/table", _("%(food)s is on the table.") % {"food": food.name}, undo=True)


def set_week(request: Request, row: TableRow, form: Form) -> Response:
    """Change how much of a line is eaten in a week: what was typed, or a step up or down."""
    garden = shelf_of(request).garden
    line, food = row.line, garden.catalogue.foods[row.line.foods[0]]
    text = form.text("week")
    try:
        kg = _wanted_kg(row, text, form.text("step"), food, reader_of(request))
    except FaultsFoundError as error:
        typed = Typed(line.id, text, error.findings[0])
        return _shown(request, typed=typed, status=422)
    if abs(kg - row.measure.kg) < SAME_KG:
        return go("/table")
    seen = form.text("seen")
    # The part is found by what was looked at, never by its number: lines move up when one goes.
    part = next((one for one in garden.parts["table"] if mark_of(one) == seen), {})
    told = told_as(line, kg, food, garden.opened.garden.household, units_of(garden))
    change = Change("table", seen, part | told)
    try:
        change_garden(garden.path, [change], shelf_of(request).now())
    except ChangedElsewhereError:
        what = _("it was changed in another window meanwhile, so “%(typed)s” was not written.")
        remedy = _("Type it again if it still holds.")
        fault = Finding(line.name, what % {"typed": text}, remedy)
        return _shown(request, typed=Typed(line.id, "", fault), status=409)
    except FaultsFoundError as error:
        found = faults_of(error, "table", index_of(garden.parts, change))
        typed = Typed(line.id, text, next(iter(found.values()), error.findings[0]))
        return _shown(request, typed=typed, status=422)
    return go("/table")


def _wanted_kg(row: TableRow, text: str, step: str, food: Food, reader: Reader) -> float:
    """Give the kilograms a week that are asked for."""
    shown = Figures(reader, reader.units).helpings(row.measure.helpings)
    kg = row.measure.kg if text == shown else read_week_kg(text, food, row.line.name)
    if step not in {"1", "-1"}:
        return kg
    return stepped(kg / food.portion_kg.value, int(step)) * food.portion_kg.value


def unknown_food(word: str, garden: AtHand) -> Finding:
    """Say that the catalogue has no food of a name, and which names are near."""
    if not word:
        return Finding(_("food"), _("no food is named."), _("Write its name, as in leek."))
    near = near_names(word, [food.name for food in garden.catalogue.foods.values()])
    near_crops = near_names(word, [crop.name for crop in garden.catalogue.crops.values()])
    foods = [
        food.name
        for food in garden.catalogue.foods.values()
        if garden.catalogue.crops[food.crop].name in near_crops
    ]
    names = list(dict.fromkeys([*near, *foods]))[:4]
    what = _("haulm knows no food “%(word)s”.") % {"word": word}
    if not names:
        return Finding(_("food"), what, _("Choose one from the list of crops."))
    remedy = _("Is one of these meant: %(names)s?") % {"names": ", ".join(names)}
    return Finding(_("food"), what, remedy)


def year_at_hand(garden: AtHand) -> TableYear:
    """Give the table's year, reckoned once for what the notebook holds."""
    return at_once(garden)[1]


def at_once(garden: AtHand) -> tuple[str, TableYear, tuple[dict[str, object], ...]]:
    """Give the table's year and its parts of one and the same moment, with the notebook's mark.

    Another window may write between two looks at the notebook; then both are looked at again.
    """
    while True:
        mark = garden.mark
        asked, needs, opened = garden.asked, garden.needs, garden.opened
        plan, parts = plan_at_hand(garden), garden.parts["table"]
        year = garden.once(
            "table year",
            (mark, garden.day),
            lambda: table_year(opened.garden, opened.catalogue, asked, needs, plan),  # noqa: B023
        )
        if garden.mark == mark:
            return mark, year, parts


def plan_at_hand(garden: AtHand) -> Plan | None:
    """Give the plan that is kept, without its beds laid out: that takes long."""
    return garden.once("newest plan", (), lambda: newest_plan(garden.path))


def units_of(garden: AtHand) -> Units:
    """Give the units of the garden that is open."""
    return garden.opened.garden.units


def _shown(
    request: Request, *, typed: Typed | None = None, added: Added | None = None, status: int = 200
) -> Response:
    garden = shelf_of(request).garden
    mark, year, parts = at_once(garden)
    seen = {row.line.id: mark_of(parts[row.number]) for row in year.rows}
    if typed is None:
        key = (mark, garden.day, reader_of(request), language())
        rows = garden.once("table rows", key, lambda: _rows(request, year, seen, None))
    else:
        rows = _rows(request, year, seen, typed)
    return page(
        request,
        "table.html",
        status=status,
        year=year,
        rows=rows,
        added=added or Added({}, {}),
        foods=garden.catalogue.foods.values(),
        household=garden.opened.garden.household,
        **nourishing(garden, plan_at_hand(garden)),
        young_cautions=care_for_the_young(garden.opened.garden.household, garden.catalogue),
        ground_m2=sum(bed.outline.area_m2 for bed in garden.opened.garden.beds),
    )


def _rows(request: Request, year: TableYear, seen: Mapping[str, str], typed: Typed | None) -> str:
    """Render every row; what could not be taken stands in its field with the reason."""
    reader = reader_of(request)
    return fragment(
        request,
        "table_rows.html",
        year=year,
        axis=year_axis(year),
        pictures={row.line.id: year_of(row, year) for row in year.rows},
        marks_of=seen,
        figures=Figures(reader, reader.units),
        columns=column_units(reader.units),
        typed=typed,
    )


routes = [
    Route("/table", show, methods=["GET"]),
    Route("/table", with_form(add), methods=["POST"]),
]
