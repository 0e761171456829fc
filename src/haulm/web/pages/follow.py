"""What follows: what a bed could take when it comes free."""

from datetime import date
from urllib.parse import quote

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.at_hand import SEED, AtHand
from haulm.desk.dates.follow_on import Follower, FollowOns, follow
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.web.pages.succession import way_words
from haulm.web.show import page, shelf_of
from haulm.web.words import gettext as _

HERE = "/follow"
TOLD_FIRST = 15
"""So many are told before the list is opened."""


def show(request: Request) -> Response:
    """Show what a bed could take when it comes free."""
    garden = shelf_of(request).garden
    bed = request.path_params["bed"]
    beds = {one.id: one for one in garden.opened.garden.beds}
    if bed not in beds:
        raise HTTPException(404)
    typed = request.query_params.get("free", "").strip()
    found: FollowOns | None = None
    faults: tuple[Finding, ...] = ()
    try:
        found = _found(garden, bed, _day(typed))
    except FaultsFoundError as error:
        faults = error.findings
    return page(
        request,
        "follow.html",
        status=422 if faults else 200,
        bed=beds[bed],
        found=found,
        typed=found.freed.on.isoformat() if found else typed,
        fault=faults[0] if faults else None,
        first=found.followers[:TOLD_FIRST] if found else (),
        rest=found.followers[TOLD_FIRST:] if found else (),
        ways=way_words,
        frost=frost_words,
        address=lambda free: f"{HERE}/{quote(bed)}?free={free.isoformat()}",
    )


def frost_words(one: Follower) -> date | None:
    """Give from when on frost would end it, where that is before its ground is free again."""
    frost = one.start.frost_from
    return frost if frost is not None and frost <= one.free_again else None


def _found(garden: AtHand, bed: str, free: date | None) -> FollowOns:
    """Find what could follow, worked out once for the bed and the day."""
    opened, day = garden.opened, garden.day
    made = garden.unlaid
    plan = made.plan if made else None
    return garden.once(
        f"follow {bed}", (day, free), lambda: follow(opened, plan, bed, day, free, SEED)
    )


def _day(typed: str) -> date | None:
    try:
        return date.fromisoformat(typed) if typed else None
    except ValueError as error:
        what = _("%(typed)s is no day.") % {"typed": typed}
        raise FaultsFoundError([Finding("free", what, _("Write it as in 2027-06-01."))]) from error


routes = [Route(f"{HERE}/{{bed}}", show)]
