"""Who eats, when they are away, and the hours of work there are."""

from collections.abc import Mapping
from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.editing import Change, change_garden, faults_elsewhere, faults_of, index_of, mark_of
from haulm.household.portions import portions_of
from haulm.measure.errors import ChangedElsewhereError, FaultsFoundError
from haulm.measure.findings import Finding
from haulm.web.forms import Form, with_form
from haulm.web.pages.table_line import month_names
from haulm.web.pages.table_rows import now
from haulm.web.show import go, page, shelf_of
from haulm.web.words import gettext as _

MONTHS = 12
HERE = "/table-household"
FIELDS = {"eater": ("name", "age", "portions"), "away": ("from", "to")}


@dataclass(frozen=True, slots=True)
class Refused:
    """What was typed and not taken: the form, its fields, and what is wrong, by field."""

    form: str
    typed: Mapping[str, str]
    who: tuple[str, ...]
    faults: Mapping[str, Finding]
    others: tuple[Finding, ...] = ()


def show(request: Request) -> Response:
    """Show who eats, days away and hours."""
    return _shown(request)


def change(request: Request, form: Form) -> Response:
    """Change, add or take out an eater or days away, or change the hours."""
    garden = shelf_of(request).garden
    part = form.text("part")
    if part not in {"eater", "away", "hours"}:
        return go(HERE)
    typed = None if form.text("do") == "remove" else _typed(part, form)
    changed = Change(part, form.text("seen"), typed)
    where = form.text("form")
    try:
        change_garden(garden.path, [changed], now())
    except ChangedElsewhereError as error:
        others: tuple[Finding, ...] = (Finding(_("Changed elsewhere"), f"{error}"),)
        return _shown(request, Refused(where, form.as_dict(), form.texts("who"), {}, others), 409)
    except FaultsFoundError as error:
        index = index_of(garden.parts, changed)
        found = dict(faults_of(error, part, index))
        others = faults_elsewhere(error, part, index)
        refused = Refused(where, form.as_dict(), form.texts("who"), found, others)
        return _shown(request, refused, 422)
    return go(HERE, _told(part, form), undo=True)


def _told(part: str, form: Form) -> str:
    if form.text("do") == "remove":
        return _("Taken out.")
    names = {"eater": form.text("name"), "away": _("Days away"), "hours": _("Hours")}
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


def _shown(request: Request, refused: Refused | None = None, status: int = 200) -> Response:
    garden = shelf_of(request).garden
    parts = garden.parts
    household = garden.opened.garden.household
    return page(
        request,
        "table_household.html",
        status=status,
        eaters=_listed(parts["eater"]),
        away=_listed(parts["away"]),
        hours=parts["hours"][0] if parts["hours"] else {},
        hours_seen=mark_of(parts["hours"][0]) if parts["hours"] else "",
        counted=[portions_of(eater) for eater in household.eaters],
        whole=sum(portions_of(eater) for eater in household.eaters),
        refused=refused or Refused("", {}, (), {}),
        month_names=month_names(),
    )


def _listed(parts: tuple[dict[str, object], ...]) -> list[tuple[str, dict[str, object]]]:
    return [(mark_of(part), part) for part in parts]


routes = [
    Route(HERE, show, methods=["GET"]),
    Route(HERE, with_form(change), methods=["POST"]),
]
