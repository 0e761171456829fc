"""One line of the table, opened: what may be changed of it, and the whole sum behind it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from babel.dates import get_month_names
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.catalogue.cautions import cautions_for
from haulm.catalogue.near import find_food
from haulm.desk.at_hand import AtHand
from haulm.desk.garden.editing import Change, change_garden, faults_by_place, mark_of
from haulm.desk.showing.table_drawings import year_axis, year_of
from haulm.desk.table.cautions import ages_at_table
from haulm.desk.table.measures_of_food import plural, told_week
from haulm.desk.table.table_sums import TableRow, TableYear
from haulm.measure.errors import ChangedElsewhereError, FaultsFoundError
from haulm.measure.findings import Finding
from haulm.web.forms import Form, with_form
from haulm.web.pages.table_rows import (
    at_once,
    plan_at_hand,
    set_week,
    unknown_food,
    year_at_hand,
)
from haulm.web.show import go, page, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import language

TEXTS = ("name", "amount", "portions", "grow_share", "wanted", "priority", "certainty")
DAYS = ("first_day", "first_month", "last_day", "last_month")
ENDS = (("from", "first"), ("to", "last"))
CERTAINTIES = (5, 6, 7, 8, 9, 9.5)
"""What may be chosen of certainty [years in 10]."""
USUAL = {"wanted": "either", "priority": "3"}
"""What is left out of a line because it holds anyway."""


@dataclass(frozen=True, slots=True)
class Refused:
    """What was typed and not taken: every field, the foods, and what is wrong, by field."""

    typed: Mapping[str, str]
    foods: tuple[str, ...]
    faults: Mapping[str, Finding]
    others: tuple[Finding, ...] = ()
    elsewhere: str = ""


def show(request: Request) -> Response:
    """Open a line."""
    return _shown(request, _row(request))


def change(request: Request, form: Form) -> Response:
    """Change a line's week, change all of it, or take it out."""
    row = _row(request)
    what = form.text("do")
    if what == "week":
        return set_week(request, row, form)
    if what == "remove":
        return _taken_out(request, row, form)
    return _saved(request, row, form)


def _row(request: Request) -> TableRow:
    return _found(year_at_hand(shelf_of(request).garden), request.path_params["line"])


def _found(year: TableYear, line: str) -> TableRow:
    found = next((row for row in year.rows if row.line.id == line), None)
    if found is None:
        raise HTTPException(404)
    return found


def _taken_out(request: Request, row: TableRow, form: Form) -> Response:
    shelf = shelf_of(request)
    change_garden(shelf.garden.path, [Change("table", form.text("seen"), None)], shelf.now())
    words = _("%(line)s is taken off the table.") % {"line": row.line.name}
    return go("/table", words, undo=True)


def _saved(request: Request, row: TableRow, form: Form) -> Response:
    garden = shelf_of(request).garden
    foods = form.texts("eat")
    typed = {name: form.text(name) for name in (*TEXTS, *DAYS)}
    unknown = {
        f"eat.{number}": unknown_food(word, garden)
        for number, word in enumerate(foods)
        if find_food(garden.catalogue, word) is None
    }
    faults = dict(unknown) if foods else {"eat.0": unknown_food("", garden)}
    part = _part_of(typed, foods, garden, faults)
    if faults:
        return _shown(request, row, Refused(typed, foods, faults), 422)
    changed = Change("table", form.text("seen"), part)
    try:
        change_garden(garden.path, [changed], shelf_of(request).now())
    except ChangedElsewhereError as error:
        refused = Refused(typed, foods, {}, elsewhere=f"{error}")
        return _shown(request, row, refused, 409)
    except FaultsFoundError as error:
        here, others = faults_by_place(error, garden.parts, changed)
        return _shown(request, row, Refused(typed, foods, here, others), 422)
    words = _("%(line)s: changed.") % {"line": typed["name"] or " or ".join(foods)}
    return go("/table", words, undo=True)


def _part_of(
    typed: Mapping[str, str], foods: Sequence[str], garden: AtHand, faults: dict[str, Finding]
) -> dict[str, object]:
    """Make a line's keys of what was typed; what is wrong with the amount is noted."""
    part: dict[str, object] = {"eat": list(foods) if len(foods) > 1 else "".join(foods)}
    for key in TEXTS:
        if typed[key] and typed[key] != USUAL.get(key):
            part[key] = typed[key]
    for key, end in ENDS:
        day, month = typed[f"{end}_day"], typed[f"{end}_month"]
        if day or month:
            part[key] = f"{month or '00'}-{day or '00'}"
    food = find_food(garden.catalogue, foods[0]) if foods else None
    if typed["amount"] and food is not None:
        try:
            units = garden.opened.garden.units
            part["amount"] = told_week(typed["amount"], food, food.name, units)
        except FaultsFoundError as error:
            faults["amount"] = error.findings[0]
    return part


def _stored(part: Mapping[str, object]) -> tuple[dict[str, str], tuple[str, ...]]:
    """Give a stored line as its fields show it."""
    eat = part["eat"]
    foods = tuple(map(str, eat)) if isinstance(eat, list | tuple) else (str(eat),)
    typed = {key: _text(key, part.get(key)) for key in TEXTS}
    for key, end in ENDS:
        month, _dash, day = str(part.get(key, "")).partition("-")
        typed |= {f"{end}_month": month, f"{end}_day": day}
    return typed, foods


def _text(key: str, value: object) -> str:
    if value is None:
        return USUAL.get(key, "")
    if isinstance(value, int | float) and key == "amount":
        return f"{value:g} kg"
    return f"{value:g}" if isinstance(value, float) else str(value)


def _shown(
    request: Request, row: TableRow, refused: Refused | None = None, status: int = 200
) -> Response:
    garden = shelf_of(request).garden
    _mark, year, parts = at_once(garden)
    row = _found(year, row.line.id)
    part = parts[row.number]
    typed, foods = _stored(part)
    if refused is not None:
        typed, foods = dict(typed) | dict(refused.typed), refused.foods
    plan = plan_at_hand(garden)
    return page(
        request,
        "table_line.html",
        status=status,
        row=row,
        seen=mark_of(part),
        was=_stored(part),
        typed=typed,
        eaten=foods,
        faults=refused.faults if refused else {},
        others=refused.others if refused else (),
        elsewhere=refused.elsewhere if refused else "",
        sums=[one for one in garden.needs.sums if one.line == row.line.id],
        names=garden.needs.names,
        findings=[f for f in garden.needs.findings if f.where == f"table, {row.line.name}"],
        cautions=cautions_for(
            garden.catalogue, row.line.foods, ages=ages_at_table(garden.opened.garden.household)
        ),
        shortages=[one for one in plan.shortages if one.line == row.line.id] if plan else [],
        horizon=plan.horizon if plan else None,
        axis=year_axis(year),
        picture=year_of(row, year),
        foods=garden.catalogue.foods.values(),
        month_names=month_names(),
        certainties=certainties(part.get("certainty"), _("as the garden")),
        plural=plural,
    )


def certainties(held: object, none: str) -> list[tuple[str, str]]:
    """Give the certainties that may be chosen, what is held among them, and what none is called."""
    years = sorted({*CERTAINTIES, *([held] if isinstance(held, int | float) else [])})
    shown = [(f"{year:g}", _("%(years)s years in 10") % {"years": f"{year:g}"}) for year in years]
    return [("", none), *shown]


def month_names() -> tuple[str, ...]:
    """Name the twelve months in the language of this request."""
    names = get_month_names("wide", locale=language())
    return tuple(names[number] for number in range(1, 13))


routes = [
    Route("/table/{line:path}", show, methods=["GET"]),
    Route("/table/{line:path}", with_form(change), methods=["POST"]),
]
