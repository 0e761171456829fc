"""What the Year page says: plan, plantings, pins and offers, in words and figures to read."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import timedelta
from typing import Any

from haulm.desk.garden.editing import mark_of
from haulm.desk.planning.pinning import Against, BedOffer, PinPart
from haulm.desk.planning.plans import Made
from haulm.desk.showing.year_drawings import main_expects, main_ready
from haulm.growing.records import Sowing
from haulm.measure.sentences import capital, listed
from haulm.plan.pins import ASKING, Pin, PinRule
from haulm.plan.records import Bound, Plan, Planting
from haulm.plan.state import Became
from haulm.sheets.bundle import SheetBundle
from haulm.web.reader import Reader
from haulm.web.words import gettext as _

PREFIX = "/year/"
"""What stands before a planting's id in the address of its page."""
MINUTE_S = 60.0
WHOLE_S = 10.0


def headline(plan: Plan, reader: Reader) -> tuple[str, str]:
    """Say of which day a plan is, that it holds, and how good it is known to be."""
    solver = plan.solver
    if solver.seconds >= 2 * MINUTE_S:
        time = _("%(minutes)s minutes") % {"minutes": reader.number(solver.seconds / MINUTE_S)}
    else:
        decimals = 0 if solver.seconds >= WHOLE_S else 1
        time = _("%(seconds)s s") % {"seconds": reader.number(solver.seconds, decimals)}
    first = _(
        "Plan of %(day)s: audit passed; within %(gap)s of the best there can be; made in %(time)s."
    ) % {"day": reader.day(plan.made_on), "gap": reader.share(solver.gap, 1), "time": time}
    second = _("Leaving out the appetite that no plan could meet: within %(gap)s.") % {
        "gap": reader.share(solver.net_gap, 1)
    }
    return f"{first} {made_for(plan, reader)}".strip(), second


def made_for(plan: Plan, reader: Reader) -> str:
    """Say for which certainty a plan was made; nothing of one of means."""
    if plan.certainty is None:
        return ""
    asked = sorted({share for _line, share in plan.certainty.lines})
    years = [years_of(share, reader) for share in asked]
    if len(plan.certainty.lines) < len({row.line for row in plan.table}):
        return _("Some of its lines are to hold %(years)s years in 10.") % {"years": listed(years)}
    return _("What it promises is to hold %(years)s years in 10.") % {"years": listed(years)}


def years_of(certainty: float, reader: Reader) -> str:
    """Write a certainty as years of ten."""
    years = round(10 * certainty, 1)
    return reader.number(years, 0 if years == round(years) else 1)


def key_words(mark: str) -> str:
    """Say what a mark of the strips stands for."""
    words = {
        "growing": _("growing"),
        "ready": _("ready to pick"),
        "dig": _("to dig in"),
        "closed": _("closed to a family"),
        "sown": _("sown or planted in place"),
        "set out": _("set out from trays"),
        "stands": _("stands already"),
        "cover": _("under cover"),
        "weather": _("left to the weather: top, 1 year in 10 this early; foot, 1 in 10 this late"),
    }
    return words[mark]


def planting_rows(bundle: SheetBundle, reader: Reader) -> list[dict[str, Any]]:
    """Give every planting as a row of texts, by bed and then by date."""
    return [
        {
            "id": planting.id,
            "bed": bed.id,
            "bed_name": bed.name,
            "name": bundle.full_name(planting),
            "area": reader.area(planting.area_m2),
            "plants": reader.number(planting.plants),
            "start": reader.day(planting.sow_on),
            "ground": reader.day(planting.in_ground_from),
            "ready": _ready(planting, reader),
            "free": _("stays") if bundle.stays(planting) else reader.day(planting.clear_by),
            "gives": _gives(planting, reader),
        }
        for bed in bundle.beds
        for planting in bundle.plantings_in(bed.id)
    ]


def _ready(planting: Planting, reader: Reader) -> str:
    ready = main_ready(planting)
    if ready is None:
        return ""
    days = {"early": reader.day(ready.early), "late": reader.day(ready.late)}
    return _("%(early)s to %(late)s") % days


def _gives(planting: Planting, reader: Reader) -> str:
    chief = main_expects(planting)
    if chief is None:
        return ""
    return _("%(kg)s (%(low)s to %(high)s)") % {
        "kg": reader.mass(chief.kg),
        "low": reader.mass(chief.low_kg),
        "high": reader.mass(chief.high_kg),
    }


def about_planting(bundle: SheetBundle, planting: Planting, reader: Reader) -> dict[str, Any]:
    """Give what is said of an opened planting beside its dates."""
    return {
        "planting": planting,
        "name": bundle.full_name(planting),
        "bed": bundle.bed(planting.bed).name,
        "area": reader.area(planting.area_m2),
        "plants": reader.number(planting.plants),
        "expects": list(_expected(bundle, planting, reader)),
        "sum": [reader.said(line) for line in planting.sum],
        "serves": list(_served(bundle, planting, reader)),
        "bounds": [_bound(bound, reader) for bound in planting.bounds],
    }


def _expected(bundle: SheetBundle, planting: Planting, reader: Reader) -> Iterator[str]:
    for expects in planting.expects:
        yield _("%(kg)s of %(food)s; 8 years in 10 between %(low)s and %(high)s") % {
            "kg": reader.mass(expects.kg),
            "food": _food(bundle, expects.food),
            "low": reader.mass(expects.low_kg),
            "high": reader.mass(expects.high_kg),
        }


def _served(bundle: SheetBundle, planting: Planting, reader: Reader) -> Iterator[str]:
    horizon = bundle.plan.horizon
    for serves in planting.serves:
        yield _("%(kg)s of %(food)s for %(line)s, %(first)s to %(last)s") % {
            "kg": reader.mass(serves.kg),
            "food": _food(bundle, serves.food),
            "line": bundle.lines.get(serves.line, serves.line),
            "first": reader.day(horizon.monday(serves.first_week)),
            "last": reader.day(horizon.monday(serves.last_week) + timedelta(days=6)),
        }


def _food(bundle: SheetBundle, food: str) -> str:
    entry = bundle.catalogue.foods.get(food)
    return entry.name if entry else food


def _bound(bound: Bound, reader: Reader) -> tuple[str, str]:
    """Give what bound a planting, and what one more of it would bring where that was priced."""
    sentence = said(bound.sentence, reader)
    words = {"h": _("One more hour then would feed %(kg)s."), "cell": _("One more cell: %(kg)s.")}
    if bound.worth_kg is None or bound.unit not in words:
        return sentence, ""
    return sentence, words[bound.unit] % {"kg": reader.mass(bound.worth_kg)}


def said(sentence: str, reader: Reader) -> str:
    """Write a sentence of the plan as a sentence by itself."""
    return f"{capital(reader.said(sentence))}."


def pin_rows(
    pins: Sequence[Pin], parts: Sequence[PinPart], made: Made, reader: Reader
) -> list[Mapping[str, str]]:
    """Give everything settled by hand as rows of texts, with the mark to let it go by."""
    return [
        {
            "mark": mark_of(part),
            "rule": _rule(pin, made),
            "kind": capital(made.names.get(pin.what, pin.what)),
            "bed": _bed(pin, made),
            "week": _week(pin, reader),
            "method": pin.method or _("in any way"),
            "area": _area(pin, reader),
        }
        for pin, part in zip(pins, parts, strict=True)
    ]


def _rule(pin: Pin, made: Made) -> str:
    """Say what a pin does, in a word or few."""
    other = pin.apart_from or ""
    return {
        PinRule.KEEP: _("kept"),
        PinRule.AT_LEAST: _("at least"),
        PinRule.AT_MOST: _("at most"),
        PinRule.FORBID: _("not planted"),
        PinRule.ONLY_IN: _("there alone"),
        PinRule.APART: _("never in one bed with %(other)s at one time")
        % {"other": made.names.get(other, other)},
    }[pin.rule]


def _bed(pin: Pin, made: Made) -> str:
    if pin.beds:
        return listed([made.names.get(bed, bed) for bed in pin.beds])
    return _("in any bed") if pin.bed is None else made.names.get(pin.bed, pin.bed)


def _week(pin: Pin, reader: Reader) -> str:
    if pin.year is not None:
        return _("in %(year)s") % {"year": pin.year}
    return _("in any week") if pin.sow_on is None else reader.day(pin.sow_on)


def _area(pin: Pin, reader: Reader) -> str:
    if pin.rule not in {*ASKING, PinRule.AT_MOST}:
        return ""
    return _("as the plan sees fit") if pin.area_m2 is None else reader.area(pin.area_m2)


def became_words() -> list[tuple[str, str]]:
    """List what may become of a planting: the word of a note, and how it is listed."""
    words = {
        Became.FAILED: _("It failed"),
        Became.NOT_SOWN: _("It was not sown or set"),
        Became.LATE: _("It is late, by so many days"),
        Became.GIVES: _("It gives more or less than hoped"),
        Became.CLEARED: _("It was cleared early"),
        Became.EATEN_UP: _("It was eaten up"),
    }
    return [(word.value, said) for word, said in words.items()]


def week_offered(sowing: Sowing, reader: Reader) -> tuple[str, str]:
    """Give a week on offer: its day, and how it is listed."""
    week = reader.day(sowing.sow_on)
    chief = max(sowing.foods, key=lambda food: food.yield_kg_m2, default=None)
    if chief is None:
        return sowing.sow_on.isoformat(), week
    words = _("%(week)s, ready %(early)s to %(late)s") % {
        "week": week,
        "early": reader.day(chief.ready.early),
        "late": reader.day(chief.ready.late),
    }
    return sowing.sow_on.isoformat(), words


def bed_offered(offer: BedOffer, planting: Planting, reader: Reader) -> tuple[str, str]:
    """Give a bed on offer: its id, and how it is listed."""
    words = {"bed": offer.bed.name, "area": reader.area(offer.bed.area_m2)}
    if offer.area_m2 < planting.area_m2:
        return offer.bed.id, _("%(bed)s, all its %(area)s") % words
    return offer.bed.id, _("%(bed)s, of %(area)s") % words


def bed_against(offer: BedOffer, kept_off: str, reader: Reader) -> str:
    """Say why a bed can't take a planting; ``kept_off`` is what a closed bed is closed to."""
    words = {
        Against.COVER: _("%(bed)s lies in the open, and in that week this is grown under cover."),
        Against.CLOSED: _("%(bed)s is closed to %(kept_off)s until %(year)s."),
        Against.DARK: _("%(bed)s gets less sun than it needs."),
        Against.SMALL: _("%(bed)s holds %(area)s, less than the smallest patch worth having."),
        Against.THERE: _("%(bed)s has some of it from that week already."),
    }
    if offer.bed.under_cover:
        words[Against.COVER] = _(
            "%(bed)s lies under cover, and in that week this is grown in the open."
        )
    return (
        ""
        if offer.against is None
        else words[offer.against]
        % {
            "bed": offer.bed.name,
            "kept_off": kept_off,
            "year": offer.until_year,
            "area": reader.area(offer.bed.area_m2),
        }
    )
