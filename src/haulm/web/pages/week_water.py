"""What the beds want of water today, who can wait, the rain tanks; and what other weeks want."""

from math import ceil

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.at_hand import AtHand
from haulm.desk.beds.bed_water import From
from haulm.desk.beds.water_diary import water_on
from haulm.desk.beds.water_today_records import BedToday, Haste, PatchToday, Stage, WaterToday
from haulm.desk.beds.watering import (
    GardenWater,
    PatchThirst,
    garden_water,
    litres_text,
    to_two_figures,
)
from haulm.desk.season.week_jobs import monday_named
from haulm.desk.showing.water_card import given_today, water_card_pdf
from haulm.measure.findings import Finding
from haulm.measure.weeks import monday_of, week_label
from haulm.water.figures import water_figures
from haulm.water.needs import FORTNIGHT
from haulm.web.paper import paper_of
from haulm.web.reader import Reader
from haulm.web.show import page, reader_of, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import ngettext, noted

HERE = "/week/water"
MOST_CANS = 10_000
FROM_WORDS = {
    From.DRAWN: noted("not known: drawn"),
    From.RECORD: noted("the record"),
    From.GAUGE: noted("the gauge"),
    From.TOLD: noted("as told"),
}
STAGES = {
    Stage.YOUNG: noted("young"),
    Stage.GROWING: noted("growing"),
    Stage.FULL: noted("in full leaf"),
    Stage.RIPENING: noted("ripening"),
}


def show(request: Request) -> Response:
    """Show today's water, or that of the week asked for."""
    garden = shelf_of(request).garden
    of = request.query_params.get("of")
    monday = monday_of(garden.day) if of is None else monday_named(of)
    if monday is None:
        raise HTTPException(404)
    if monday != monday_of(garden.day) or request.query_params.get("year") == "yes":
        return _year(request, garden, of or week_label(monday))
    cans = _cans_asked(request)
    found = garden.of_diary("water today", water_on, garden.day, cans)
    reader = reader_of(request)
    today = found if isinstance(found, WaterToday) else None
    return page(
        request,
        "week_water.html",
        garden=garden,
        label=week_label(monday),
        water=today,
        refused=found if _are_findings(found) else (),
        litres=lambda amount: litres_text(amount, reader.units),
        cans=cans_told,
        cans_asked="" if cans is None else cans,
        given=given_today,
        shown=lambda bed: sum(map(given_today, bed.patches)),
        lacks=lambda one: lacks(one, reader),
        waits=lambda one: waits(one, today, reader),
        thirsty=thirsty,
        rule=lambda bed: rule(bed, reader),
        minutes=lambda bed: _minutes(bed, today),
        from_words=FROM_WORDS,
        stages=STAGES,
        waiting=[one for one in today.order if one.haste is not Haste.NOW] if today else [],
        names={bed.id: bed.name for bed in garden.opened.garden.beds},
        gauge_days=round(water_figures().gauge_days.value),
    )


def print_card(request: Request) -> Response:
    """Give today's water card as a PDF."""
    garden = shelf_of(request).garden
    found = garden.of_diary("water today", water_on, garden.day, _cans_asked(request))
    made = garden.unlaid
    if not isinstance(found, WaterToday) or made is None:
        raise HTTPException(404)
    pdf = water_card_pdf(found, made, paper_of(request))
    name = f"water-{garden.day.isoformat()}.pdf"
    head = {"Content-Disposition": f'inline; filename="{name}"'}
    return Response(pdf, media_type="application/pdf", headers=head)


def _cans_asked(request: Request) -> int | None:
    """Read how many cans there are today; None where nothing was asked, or no number."""
    text = request.query_params.get("cans", "").strip()
    return min(int(text), MOST_CANS) if text.isascii() and text.isdigit() else None


def _year(request: Request, garden: AtHand, label: str) -> Response:
    """Show what another week is likely to want, and the tanks through the year."""
    found = garden.of_plan("water", garden_water, garden.day)
    units = reader_of(request).units
    monday = monday_named(label)
    return page(
        request,
        "week_water_year.html",
        plain_days=round(water_figures().dry_days_loamy.value),
        garden=garden,
        monday=monday,
        label=label,
        water=found if isinstance(found, GardenWater) else None,
        refused=found if _are_findings(found) else (),
        litres=lambda amount: litres_text(amount, units),
        cans=lambda amount: cans(amount, garden.opened.garden.watering.can_l),
        can_l=garden.opened.garden.watering.can_l,
        thirsty=thirsty,
    )


def cans(litres: float, can_l: float) -> str:
    """Write litres in watering cans, rounded up from the litres that are shown."""
    return cans_told(max(1, ceil(to_two_figures(litres) / can_l)))


def cans_told(number: int) -> str:
    """Write a number of cans."""
    return ngettext("%(num)s can", "%(num)s cans", number) % {"num": number}


def lacks(one: PatchToday, reader: Reader) -> str:
    """Write what a crop's ground lacks: one figure where it is known, else of 8 years in 10."""
    low, high = one.lacks_mm.low, one.lacks_mm.high
    if high - low < water_figures().alike_mm.value:
        return reader.rain(one.lacks_mm.middle)
    return _("%(low)s to %(high)s") % {"low": reader.rain(low), "high": reader.rain(high)}


def thirsty(one: PatchToday | PatchThirst) -> str:
    """Write when a crop is thirsty, with its spread."""
    low, high = round(one.days.low), round(one.days.high)
    if one.days.low >= FORTNIGHT:
        return _("not within two weeks")
    if high < 1:
        return _("today")
    if low == high:
        return ngettext("in %(num)s day", "in %(num)s days", low) % {"num": low}
    if one.days.high >= FORTNIGHT:
        return _("in %(low)s days, or not within two weeks") % {"low": low}
    return _("in %(low)s to %(high)s days") % {"low": low, "high": high}


def waits(one: PatchToday, found: WaterToday | None, reader: Reader) -> str:
    """Write until when a crop can safely wait."""
    if found is None or one.safe_until is None:
        return _("safe for two weeks")
    if one.safe_until <= found.day:
        return _("feel the soil")
    return _("safe until %(day)s") % {"day": reader.short_day(one.safe_until)}


def rule(bed: BedToday, reader: Reader) -> str:
    """Write what the rules allow of a bed's way of watering; empty where nobody limits it."""
    allowed = bed.allowed
    if not allowed.rules:
        return ""
    hours = [f"{first:%H:%M}–{last:%H:%M}" for first, last in allowed.hours]
    rules = ", ".join(allowed.rules)
    if allowed.may:
        when = _(" and ").join(hours) or _("at any hour")
        return _("%(rules)s: allowed today %(when)s") % {"rules": rules, "when": when}
    if bed.next_allowed is None:
        return _("%(rules)s: by can only") % {"rules": rules}
    return _("%(rules)s: by can only today; allowed again on %(day)s") % {
        "rules": rules,
        "day": reader.short_day(bed.next_allowed),
    }


def _minutes(bed: BedToday, found: WaterToday | None) -> str:
    """Write how long the hose or the drip lines run; empty where the flow is not known."""
    if found is None or found.flow_l_min is None or bed.way == "can":
        return ""
    return _("%(num)s min") % {"num": max(1, round(bed.give_l / found.flow_l_min))}


def _are_findings(found: object) -> bool:
    """Whether what came back says why there is no answer."""
    return isinstance(found, tuple) and all(isinstance(one, Finding) for one in found)


routes = [Route(HERE, show), Route(f"{HERE}/card.pdf", print_card)]
