"""Today's water in sentences, for a terminal and for paper."""

from collections.abc import Iterator
from datetime import date

from haulm.desk.beds.bed_water import From
from haulm.desk.beds.water_today_records import (
    BedToday,
    DrySpell,
    Haste,
    PatchToday,
    TanksToday,
    WaterToday,
)
from haulm.desk.beds.watering import litres_text
from haulm.ground.records import Watered
from haulm.measure.day_words import day_text
from haulm.measure.units import Units, show_rain
from haulm.site.spread import Spread
from haulm.water.figures import water_figures
from haulm.water.needs import FORTNIGHT
from haulm.water.rules import Allowed

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MOST_KEPT = 8
"""So many crops are named to keep the tanks for."""
FROM_WORDS = {
    From.DRAWN: "not known, likely",
    From.RECORD: "the record",
    From.GAUGE: "the gauge",
    From.TOLD: "as told",
}


def weekday(day: date) -> str:
    """Write a day with its weekday: Friday 16 Jul."""
    return f"{WEEKDAYS[day.weekday()]} {day_text(day)}"


def head_words(found: WaterToday) -> str:
    """Say in a sentence what is wanted today and when something is wanted again."""
    if not found.order:
        return "Nothing is in the ground."
    wants = [bed for bed in found.beds if bed.cans]
    if not wants:
        return f"Nothing wants water today. {quiet_words(found)}"
    beds = "1 bed wants" if len(wants) == 1 else f"{len(wants)} beds want"
    return f"{beds} water today: {cans_text(found.cans_wanted)}. {quiet_words(found)}"


def quiet_words(found: WaterToday) -> str:
    """Say until when nothing more is wanted."""
    if found.quiet_until is None:
        return "After that nothing within two weeks, in 9 years of 10."
    if (found.quiet_until - found.day).days <= 1:
        return "Look again tomorrow."
    return f"After that nothing until {weekday(found.quiet_until)}."


def cans_text(cans: int) -> str:
    """Write a number of cans."""
    return f"{cans} can{'' if cans == 1 else 's'}"


def rain_words(found: WaterToday, units: Units) -> Iterator[str]:
    """Say where rain and waterings are known from, and what is not known."""
    if found.gauge_read_on is not None:
        yield f"Rain by your gauge, read last on {day_text(found.gauge_read_on)}."
    if found.known_until >= found.day:
        yield "The weather up to this morning is known."
    elif not any(one.rain_from for one in found.past):
        yield (
            "Nobody tells what fell: what stands here is likely, not known, and has a spread. It "
            f"is from {found.drawn_from}."
        )
    else:
        yield (
            f"Not every day's weather is known since {day_text(found.known_until)}; where it is "
            f"not, {found.drawn_from} stand in, and figures have a spread."
        )
    if found.given_since is None:
        yield "The diary tells nothing of water: beds are taken as watered whenever it was due."
    else:
        yield (
            f"Given was only what the diary tells since {day_text(found.given_since)}; before that "
            "beds are taken as watered whenever it was due."
        )
    for told in found.ahead:
        yield (
            f"Told for {weekday(told.day)}: {show_rain(told.rain_mm, units)} of rain, "
            f"odds {told.odds:.0%}."
        )


def dry_words(dry: DrySpell) -> Iterator[str]:
    """Say the plain rule's warning, or that nobody knows when it rained."""
    if dry.days is None or dry.last_rain is None:
        if dry.kept:
            return
        yield ("When it last rained well is not known. Tell the diary (rained), or keep a gauge.")
        return
    by = "by your word" if dry.by is From.TOLD else f"by {FROM_WORDS[dry.by or From.RECORD]}"
    for limit, beds in dry.over:
        yield (
            f"{dry.days} days without rain, {by}, since {day_text(dry.last_rain)}: after {limit} "
            f"the plain rule waters {', '.join(beds)}."
        )


def lacks_text(lacks: Spread, units: Units) -> str:
    """Write what ground lacks: one figure where it is known, else of 8 years in 10."""
    if lacks.high - lacks.low < water_figures().alike_mm.value:
        return show_rain(lacks.middle, units)
    return f"{show_rain(lacks.low, units)} to {show_rain(lacks.high, units)}"


def thirsty_text(one: PatchToday) -> str:
    """Write when a crop is thirsty, as a day and its spread."""
    low, high = round(one.days.low), round(one.days.high)
    if one.days.low >= FORTNIGHT:
        return f"not within {FORTNIGHT} days"
    if high < 1:
        return "today"
    until = f"over {FORTNIGHT}" if one.days.high >= FORTNIGHT else f"{high}"
    return f"in {low} day{'' if low == 1 else 's'}" if low == high else f"in {low} to {until} days"


def waits_text(one: PatchToday, day: date) -> str:
    """Say until when a crop can safely wait."""
    if one.haste is Haste.NOW:
        return "water now"
    if one.safe_until is None:
        return "safe for two weeks"
    if one.safe_until <= day:
        # Thirsty today in 1 year of 10 at least: the soil itself knows better.
        return "feel the soil"
    return f"safe until {weekday(one.safe_until)}"


def rule_text(bed: BedToday) -> str:
    """Say what the rules allow of a bed's way of watering today; empty where nobody limits it."""
    if not bed.allowed.rules:
        return ""
    rules = ", ".join(bed.allowed.rules)
    if bed.allowed.may:
        return f"{bed.way} {hours_text(bed.allowed)} ({rules})"
    again = f", again on {weekday(bed.next_allowed)}" if bed.next_allowed else ""
    only = "by can only" if bed.way is not Watered.CAN else "no watering"
    return f"{only}: no {bed.way} today{again} ({rules})"


def hours_text(allowed: Allowed) -> str:
    """Write the hours at which watering is allowed."""
    hours = [f"{first:%H:%M} to {last:%H:%M}" for first, last in allowed.hours]
    return " and ".join(hours) if hours else "at any hour"


def tank_words(tanks: TanksToday, units: Units) -> Iterator[str]:
    """Say what lies in the tanks, how long it lasts, and what to keep it for."""
    for tank in tanks.tanks:
        lies = litres_text(tank.lies_l.middle, units)
        if tank.read_on is None:
            yield f"{tank.name}: nobody read it, taken as full, {lies}."
        else:
            spread = ""
            if tank.lies_l.high - tank.lies_l.low > tank.holds_l / 100:
                low, high = (litres_text(one, units) for one in (tank.lies_l.low, tank.lies_l.high))
                spread = f" ({low} to {high})"
            yield f"{tank.name}: about {lies}{spread}, read on {day_text(tank.read_on)}."
    yield f"Watered from the tanks alone, they give all that is wanted for {days_text(tanks)}."
    kept = [one for one in tanks.save if one.cans]
    more = f"; and {len(kept) - MOST_KEPT} more" if len(kept) > MOST_KEPT else ""
    if tanks.save:
        what = "; ".join(f"{one.name}, {cans_text(one.cans)}" for one in kept[:MOST_KEPT])
        yield f"They will not do for two weeks. Keep them for: {what}{more}."


def days_text(tanks: TanksToday) -> str:
    """Write how long the tanks last."""
    low, middle, high = (round(one) for one in (tanks.days.low, tanks.days.middle, tanks.days.high))
    if low >= tanks.most:
        return f"{tanks.most} days and more"
    top = f"{high}" if high < tanks.most else f"over {tanks.most}"
    return f"{middle} days ({low} to {top} in 8 years of 10)"
