"""What the beds want of water in a week, who is thirsty first, and the rain tanks."""

from math import ceil

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.beds.watering import (
    FORTNIGHT,
    GardenWater,
    garden_water,
    litres_text,
    to_two_figures,
)
from haulm.desk.season.week_jobs import monday_named
from haulm.measure.findings import Finding
from haulm.measure.weeks import monday_of, week_label
from haulm.water.figures import water_figures
from haulm.web.show import page, reader_of, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import ngettext

TOLD_FIRST = 8
"""So many crops are told of before the list is opened."""


def show(request: Request) -> Response:
    """Show a week's water: the week asked for, else that of today."""
    garden = shelf_of(request).garden
    of = request.query_params.get("of")
    monday = monday_of(garden.day) if of is None else monday_named(of)
    if monday is None:
        raise HTTPException(404)
    found = garden.of_plan("water", garden_water, garden.day)
    units = reader_of(request).units
    return page(
        request,
        "week_water.html",
        garden=garden,
        monday=monday,
        label=week_label(monday),
        water=found if isinstance(found, GardenWater) else None,
        refused=found if _are_findings(found) else (),
        litres=lambda amount: litres_text(amount, units),
        cans=cans,
        days=days,
        told_first=TOLD_FIRST,
        can_l=water_figures().can_l.value,
    )


def cans(litres: float) -> str:
    """Write litres in watering cans, rounded up from the litres that are shown."""
    number = max(1, ceil(to_two_figures(litres) / water_figures().can_l.value))
    return ngettext("%(num)s can", "%(num)s cans", number) % {"num": number}


def days(number: float) -> str:
    """Write how soon a crop is thirsty."""
    if number >= FORTNIGHT:
        return _("not within two weeks")
    if number < 1:
        return _("today")
    whole = round(number)
    return ngettext("in %(num)s day", "in %(num)s days", whole) % {"num": whole}


def _are_findings(found: object) -> bool:
    """Whether what came back says why there is no answer."""
    return isinstance(found, tuple) and all(isinstance(one, Finding) for one in found)


routes = [Route("/week/water", show)]
