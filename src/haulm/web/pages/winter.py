"""Winter: what has to stand when days fall under ten hours, to feed the table until spring."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.at_hand import SEED
from haulm.desk.dates.winter import winter
from haulm.measure.errors import FaultsFoundError
from haulm.web.show import page, shelf_of

HERE = "/winter"
YEARS = (5, 8, 9)
USUAL_YEARS = 8


def show(request: Request) -> Response:
    """Show the dark weeks and what has to stand in them."""
    garden = shelf_of(request).garden
    asked = request.query_params.get("years", "")
    years = int(asked) if asked in {str(year) for year in YEARS} else USUAL_YEARS
    opened, day, made = garden.opened, garden.day, garden.unlaid
    plan = made.plan if made else None
    try:
        found = garden.once(
            f"winter {years}", day, lambda: winter(opened, plan, day, years / 10, SEED)
        )
    except FaultsFoundError as error:
        return page(
            request, "winter.html", status=422, found=None, faults=error.findings, years=years
        )
    return page(request, "winter.html", found=found, faults=(), years=years, choices=YEARS)


routes = [Route(HERE, show)]
