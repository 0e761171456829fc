"""With what the garden is watered: the can, the hose, rain tanks, and the rules on watering."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.garden.editing import Change, mark_of
from haulm.ground.records import Watered
from haulm.water.rules import Weekday
from haulm.web.changing import NOTHING_REFUSED, Refused, write_down
from haulm.web.forms import Form, with_form
from haulm.web.show import go, page, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import noted

HERE = "/week/watering"
FIELDS = {
    "watering": ("can", "flow", "cans_a_day"),
    "tank": ("name", "roof", "holds", "caught"),
    "water_rule": ("name", "from", "to", "dates"),
}
LISTS = ("ways", "weekdays", "exempt")
WAYS = {
    Watered.CAN: noted("Can"),
    Watered.HOSE: noted("Hose"),
    Watered.DRIP: noted("Drip lines"),
}
DAYS = {
    Weekday.MONDAY: noted("Monday"),
    Weekday.TUESDAY: noted("Tuesday"),
    Weekday.WEDNESDAY: noted("Wednesday"),
    Weekday.THURSDAY: noted("Thursday"),
    Weekday.FRIDAY: noted("Friday"),
    Weekday.SATURDAY: noted("Saturday"),
    Weekday.SUNDAY: noted("Sunday"),
}
DATES = {"": noted("Any"), "odd": noted("Odd days"), "even": noted("Even days")}


def show(request: Request) -> Response:
    """Show with what the garden is watered, and the rules."""
    return _shown(request)


def change(request: Request, form: Form) -> Response:
    """Change, add or take out a tank or a rule, or change the can and the hose."""
    part = form.text("part")
    if part not in FIELDS:
        return go(HERE)
    typed = None if form.text("do") == "remove" else _typed(part, form)
    changed = Change(part, form.text("seen"), typed)
    refused = write_down(shelf_of(request), changed, form.text("form"), form)
    if refused is not None:
        return _shown(request, refused)
    return go(HERE, _("Written down.") if typed is not None else _("Taken out."), undo=True)


def _typed(part: str, form: Form) -> dict[str, object]:
    """Make a part's keys of what was typed."""
    typed: dict[str, object] = {name: form.text(name) for name in FIELDS[part] if form.text(name)}
    if part == "water_rule":
        typed |= {name: list(form.texts(name)) for name in LISTS if form.texts(name)}
        hours = [one.strip() for one in form.text("hours").split(",") if one.strip()]
        typed |= {"hours": hours} if hours else {}
        typed |= {"every_year": True} if form.text("every_year") else {}
    return typed


def _shown(request: Request, refused: Refused = NOTHING_REFUSED) -> Response:
    garden = shelf_of(request).garden
    parts = garden.parts
    told = parts["watering"][0] if parts["watering"] else {}
    return page(
        request,
        "watering.html",
        status=refused.status,
        watering=told,
        watering_seen=mark_of(told) if told else "",
        tanks=[(mark_of(one), one) for one in parts["tank"]],
        rules=[(mark_of(one), one) for one in parts["water_rule"]],
        can_l=garden.opened.garden.watering.can_l,
        beds=[(bed.id, bed.name) for bed in garden.opened.garden.beds],
        ways=WAYS,
        weekdays=DAYS,
        dates=DATES,
        refused=refused,
        one_or_more=_several,
        options_of=lambda words: [(str(key), _(name)) for key, name in words.items()],
    )


def _several(value: object) -> list[str]:
    """Give one text or several as a list."""
    if isinstance(value, list | tuple):
        return [str(one) for one in value]
    return [str(value)] if value else []


routes = [
    Route(HERE, show, methods=["GET"]),
    Route(HERE, with_form(change), methods=["POST"]),
]
