"""Land: how much ground, work and money the table takes, and what less ground would feed."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.odds.certainty import LEAST_CERTAIN, MOST_CERTAIN
from haulm.desk.showing.land_drawings import called, drawn_land
from haulm.desk.sizing.land import USUAL_CERTAINTY, Land, LandWish, wish_from
from haulm.desk.sizing.land_at_hand import land_at_hand
from haulm.desk.sizing.land_told import headline, remarks
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.web.show import page, shelf_of

YEARS = tuple(years for years in (5, 6, 7, 8, 9) if LEAST_CERTAIN <= years / 10 <= MOST_CERTAIN)
"""The certainties to choose from, in years of 10."""

USUAL_YEARS = round(10 * USUAL_CERTAINTY)


def show(request: Request) -> Response:
    """Show the land for the table; while it is worked out, say so and look again."""
    typed = {name: request.query_params.get(name, "").strip() for name in ("years", "cover")}
    findings: tuple[Finding, ...] = ()
    found: Land | None = None
    try:
        wish = _wish(typed)
        answer = land_at_hand(shelf_of(request).garden, wish)
        if isinstance(answer, Land):
            found = answer
        elif answer is not None:
            findings = answer
    except FaultsFoundError as error:
        findings = error.findings
    waits = found is None and not findings
    return page(
        request,
        "land.html",
        status=422 if findings else 200,
        typed=typed,
        years=YEARS,
        chosen=typed["years"] or str(USUAL_YEARS),
        land=found,
        waits=waits,
        findings=findings,
        chart=drawn_land(found) if found else None,
        headline=headline(found) if found else "",
        remarks=tuple(remarks(found)) if found else (),
        called=called,
    )


def _wish(typed: dict[str, str]) -> LandWish:
    """Read what was asked.

    Raises
    ------
    FaultsFoundError
        When a number or an area cannot be read.
    """
    try:
        years = float(typed["years"] or USUAL_YEARS)
    except ValueError:
        what = f"“{typed['years']}” is no number of years."
        raise FaultsFoundError([Finding("years", what, "Choose from 5 to 9.")]) from None
    return wish_from(years, typed["cover"])


routes = [Route("/land", show, methods=["GET"])]
