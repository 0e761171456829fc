"""Who eats, when they are away, and the hours of work there are."""

from collections.abc import Mapping

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.garden.editing import Change, mark_of
from haulm.desk.table.cautions import care_for_the_young
from haulm.household.portions import portions_of
from haulm.web.changing import NOTHING_REFUSED, Refused, write_down
from haulm.web.forms import Form, with_form
from haulm.web.pages.table_line import certainties, month_names
from haulm.web.show import go, page, shelf_of
from haulm.web.words import gettext as _

MONTHS = 12
HERE = "/table-household"
FIELDS = {"eater": ("name", "age", "portions"), "away": ("from", "to")}


def show(request: Request) -> Response:
    """Show who eats, days away and hours."""
    return _shown(request)


def change(request: Request, form: Form) -> Response:
    """Change, add or take out an eater or days away, or change the hours."""
    part = form.text("part")
    if part not in {"eater", "away", "hours", "certainty"}:
        return go(HERE)
    if part == "certainty":
        held = shelf_of(request).garden.parts["garden"][0]
        changed = Change("garden", form.text("seen"), _surer(held, form.text("certainty")))
    else:
        typed = None if form.text("do") == "remove" else _typed(part, form)
        if part == "hours" and typed:
            typed = _hours_meant(typed, shelf_of(request).garden.parts["hours"])
        changed = Change(part, form.text("seen"), typed)
    refused = write_down(shelf_of(request), changed, form.text("form"), form)
    if refused is not None:
        return _shown(request, refused)
    return go(HERE, _told(part, form), undo=True)


def _surer(held: Mapping[str, object], years: str) -> dict[str, object]:
    """Give the garden's keys with another certainty, or none."""
    rest = {key: value for key, value in held.items() if key != "certainty"}
    return rest | {"certainty": years} if years else rest


def _told(part: str, form: Form) -> str:
    if form.text("do") == "remove":
        return _("Taken out.")
    names = {"eater": form.text("name"), "away": _("Days away"), "hours": _("Hours")}
    names["certainty"] = _("How sure plans are to be")
    return _("%(what)s: written down.") % {"what": names[part]}


def _typed(part: str, form: Form) -> dict[str, object]:
    """Make a part's keys of what was typed."""
    if part == "hours":
        months = [form.text(f"month_{number}") for number in range(MONTHS)]
        every = form.text("every_week")
        typed: dict[str, object] = {"every_week": every} if every else {}
        # A month left empty is refused where others are filled: nothing is taken to be 0.
        return typed | ({"by_month": months} if any(months) else {})
    typed = {name: form.text(name) for name in FIELDS[part] if form.text(name)}
    if part == "away" and form.texts("who"):
        typed["who"] = list(form.texts("who"))
    return typed


def _hours_meant(
    typed: dict[str, object], held: tuple[dict[str, object], ...]
) -> dict[str, object]:
    """Leave out the one of two ways of telling hours that stands there as it stood before."""
    before = _hours_shown(held[0]) if held else {}
    changed = {way: told for way, told in typed.items() if before.get(way) != told}
    return changed if len(typed) > 1 and len(changed) == 1 else typed


def _hours_shown(held: Mapping[str, object]) -> dict[str, object]:
    """Give hours as the form's fields show them."""
    months = held.get("by_month")
    shown: dict[str, object] = {}
    if "every_week" in held:
        shown["every_week"] = str(held["every_week"])
    if isinstance(months, list | tuple):
        shown["by_month"] = [str(hours) for hours in months]
    return shown


def _shown(request: Request, refused: Refused = NOTHING_REFUSED) -> Response:
    garden = shelf_of(request).garden
    parts = garden.parts
    household = garden.opened.garden.household
    sure = parts["garden"][0].get("certainty")
    return page(
        request,
        "table_household.html",
        status=refused.status,
        eaters=_listed(parts["eater"]),
        away=_listed(parts["away"]),
        hours=parts["hours"][0] if parts["hours"] else {},
        certainty=f"{sure:g}" if isinstance(sure, int | float) else "",
        garden_seen=mark_of(parts["garden"][0]),
        certainties=certainties(sure, _("by means: right in about half of years")),
        hours_seen=mark_of(parts["hours"][0]) if parts["hours"] else "",
        cautions=care_for_the_young(household, garden.catalogue),
        counted=[portions_of(eater) for eater in household.eaters],
        whole=sum(portions_of(eater) for eater in household.eaters),
        refused=refused,
        month_names=month_names(),
    )


def _listed(parts: tuple[dict[str, object], ...]) -> list[tuple[str, dict[str, object]]]:
    return [(mark_of(part), part) for part in parts]


routes = [
    Route(HERE, show, methods=["GET"]),
    Route(HERE, with_form(change), methods=["POST"]),
]
