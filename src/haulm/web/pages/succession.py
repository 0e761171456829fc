"""Successive sowings of a kind: when to sow it again so that it is picked evenly."""

from collections.abc import Mapping
from datetime import date, timedelta
from urllib.parse import quote

from babel.dates import format_date
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.catalogue.records import Kind
from haulm.desk.at_hand import SEED, AtHand
from haulm.desk.dates.successions import (
    Successions,
    Wished,
    closing_up,
    kind_named,
    meets,
    successions,
)
from haulm.growing.succession import Succession
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.web.show import page, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import language

HERE = "/succession"
WIDTH, HEAD, ROW = 800, 20, 16
"""The drawing's width, the height of its months and of a sowing [px]."""


def show(request: Request) -> Response:
    """Show when to sow a kind again and again, for the days asked or those of the table."""
    garden = shelf_of(request).garden
    typed = {
        name: request.query_params.get(name, "").strip() for name in ("from", "until", "every")
    }
    kind = _kind(garden, request.path_params["kind"])
    found: Successions | None = None
    faults: tuple[Finding, ...] = ()
    try:
        found = _found(garden, kind, typed)
    except FaultsFoundError as error:
        faults = error.findings
    if found is not None:
        wish = found.wish
        typed = {
            "from": wish.first_day.isoformat(),
            "until": wish.last_day.isoformat(),
            "every": str(wish.interval_days),
        }
    return page(
        request,
        "succession.html",
        status=422 if faults else 200,
        kind=kind,
        crop=garden.catalogue.crops[kind.crop],
        found=found,
        typed=typed,
        faults={finding.where: finding for finding in faults},
        day=garden.day,
        closing_up=closing_up,
        meets=meets,
        methods=way_words,
        drawn=drawn,
    )


def way_words(method: str, *, under_cover: bool) -> str:
    """Name a way of starting: direct, or raised in modules; in the open or under cover."""
    words = {
        "direct": _("Sown direct"),
        "modules": _("Raised in modules"),
    }.get(method, _("Set as %(method)s") % {"method": method})
    return _("%(way)s, under cover") % {"way": words} if under_cover else words


def address(kind: str) -> str:
    """Give the address of a kind's successive sowings."""
    return f"{HERE}/{quote(kind)}"


def drawn(way: Succession) -> str:
    """Draw sowings beneath each other on one axis of months: sown, set out, ready, picked."""
    first = way.sowings[0].sow_on.replace(day=1)
    last = max(max(one.picked_until, one.ready.late) for one in way.sowings)
    scale = WIDTH / ((last - first).days + 1)

    def x(day: date) -> str:
        return f"{(day - first).days * scale:.1f}"

    height = HEAD + ROW * len(way.sowings)
    parts = []
    for month in _months(first, last):
        name = format_date(month, "LLL", locale=language())
        parts.append(f'<path class="month" d="M{x(month)} 4V{height}"></path>')
        parts.append(f'<text x="{x(month)}" dx="4" y="14">{name}</text>')
    for number, one in enumerate(way.sowings):
        y = HEAD + ROW * number + ROW / 2
        ready, until = x(one.ready.middle), x(one.picked_until)
        parts += [
            f'<path class="grows" d="M{x(one.sow_on)} {y}H{ready}"></path>',
            f'<path class="sown" d="M{x(one.sow_on)} {y - 6}v12"></path>',
            f'<path class="picked" d="M{ready} {y - 5}H{until}v10H{ready}z"></path>',
            f'<path class="odds" d="M{x(one.ready.early)} {y}H{x(one.ready.late)}"></path>',
        ]
        if one.set_on != one.sow_on:
            parts.append(f'<circle class="set" cx="{x(one.set_on)}" cy="{y}" r="3.5"></circle>')
    label = _("Each sowing from left to right: sown, set out, ready and picked")
    return (
        f'<svg class="sowings" viewBox="0 0 {WIDTH} {height}" role="img" aria-label="{label}">'
        f"{''.join(parts)}</svg>"
    )


def _months(first: date, last: date) -> list[date]:
    """List the first day of every month from one day to another."""
    months = [first]
    while months[-1] <= last:
        after = months[-1] + timedelta(days=31)
        months.append(after.replace(day=1))
    return months[:-1]


def _kind(garden: AtHand, name: str) -> Kind:
    try:
        return kind_named(garden.catalogue, name)
    except FaultsFoundError as error:
        raise HTTPException(404) from error


def _found(garden: AtHand, kind: Kind, typed: Mapping[str, str]) -> Successions:
    """Find the successions, worked out once for what was asked."""
    wished = Wished(_day(typed, "from"), _day(typed, "until"), _days(typed, "every"))
    opened, day = garden.opened, garden.day
    return garden.once(
        f"succession {kind.id}",
        (day, wished),
        lambda: successions(opened, kind, wished, day, SEED),
    )


def _day(typed: Mapping[str, str], name: str) -> date | None:
    try:
        return date.fromisoformat(typed[name]) if typed[name] else None
    except ValueError as error:
        what = _("%(typed)s is no day.") % {"typed": typed[name]}
        remedy = _("Write it as in 2027-06-01.")
        raise FaultsFoundError([Finding(name, what, remedy)]) from error


def _days(typed: Mapping[str, str], name: str) -> int | None:
    try:
        return int(typed[name]) if typed[name] else None
    except ValueError as error:
        what = _("%(typed)s is no number of days.") % {"typed": typed[name]}
        raise FaultsFoundError([Finding(name, what, _("Give a whole number."))]) from error


routes = [Route(f"{HERE}/{{kind:path}}", show)]
