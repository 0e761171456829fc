"""Show on a terminal what a garden's beds want of water."""

from haulm.cli.show import line, table
from haulm.cli.show_plan import day
from haulm.desk.beds.water_today_records import PatchToday
from haulm.desk.beds.watering import (
    BedWater,
    GardenWater,
    PatchThirst,
    TankWater,
    bed_named,
    litres_text,
    plain_rule,
)
from haulm.measure.units import Units, show_area, show_rain, show_volume
from haulm.site.spread import Spread

ODDS = (">1 year in 10 less", ">5 in 10", ">9 in 10")


def water(found: GardenWater, units: Units, bed: str | None) -> None:
    """Print what every bed wants, the order of need and the tanks; or one bed, week by week."""
    for words in found.rests_on:
        line(words)
    line("")
    if bed is not None:
        _one_bed(bed_named(found, bed), units)
        return
    table(
        ("bed", ">ground", *ODDS),
        (
            (one.name, show_area(one.area_m2, units), *_litres(one.year_l, units))
            for one in found.beds
        ),
        title=f"Water each bed wants in the year from {day(found.day)}",
    )
    line("")
    _order(found.order, found, units)
    line("")
    _tanks(found.tanks, units)
    line("haulm water --bed ID shows a bed week by week.")


def _litres(spread: Spread, units: Units) -> tuple[str, ...]:
    """Write an amount of water in few, middle and many years."""
    return tuple(litres_text(amount, units) for amount in (spread.low, spread.middle, spread.high))


def _one_bed(bed: BedWater, units: Units) -> None:
    """Print one bed week by week."""
    table(
        ("week from", *ODDS),
        ((day(week.monday), *_litres(week.litres, units)) for week in bed.weeks),
        title=f"{bed.name}, {show_area(bed.area_m2, units)}: water wanted week by week",
    )
    if bed.stood_in:
        line(f"Usual figures stand in for {'; '.join(bed.stood_in)}.")


def _order(order: tuple[PatchThirst, ...], found: GardenWater, units: Units) -> None:
    """Print the crops in the ground, those that lose most by going without first."""
    if not order:
        line(f"Nothing is in the ground on {day(found.day)}.")
        return
    names = {bed.id: bed.name for bed in found.beds}
    table(
        ("crop", "bed", ">lacks", ">may lack", ">to fill", ">thirsty in", ">yield lost in 2 weeks"),
        (
            (
                one.name,
                names[one.bed],
                show_rain(one.lacks_mm, units),
                show_rain(one.easy_mm, units),
                litres_text(one.fill_l, units),
                _days(one.days.middle),
                lost_text(one),
            )
            for one in order
        ),
        title=f"In order of need on {day(found.day)}, should none be given for two weeks",
    )
    if not all(one.response_known for one in order):
        line("(?) What thirst costs this crop is not known; it is taken as its share of water.")
    line(plain_rule())


def _days(days: float) -> str:
    """Write how soon a crop is thirsty."""
    if days >= 14:  # noqa: PLR2004
        return "over 14 days"
    return "today" if days < 1 else f"{days:.0f} day{'' if round(days) == 1 else 's'}"


def lost_text(one: PatchThirst | PatchToday) -> str:
    """Write what is lost in a middle year, up to a bad one; (?) where the response is not known."""
    mark = "" if one.response_known else " (?)"
    return f"{one.lost.middle:.0%}, up to {one.lost.high:.0%}{mark}"


def _tanks(tanks: TankWater | None, units: Units) -> None:
    """Print what the rain tanks do through a year."""
    if tanks is None:
        line("No rain tanks are told: [[tank]] in garden.toml tells a roof and its tank.")
        return
    line(
        f"Tanks of {show_volume(tanks.holds_l, units)} under {show_area(tanks.roof_m2, units)} of "
        f"roof, full today, meet all need of a year in {round(10 * tanks.met)} years in 10."
    )
    if tanks.given_share is not None:
        given = tanks.given_share
        line(
            f"They give {given.middle:.0%} of it in a middle year ({given.low:.0%} to "
            f"{given.high:.0%} in 8 years of 10) and are dry on {tanks.dry_days.middle:.0f} days "
            f"on which water is wanted ({tanks.dry_days.low:.0f} to {tanks.dry_days.high:.0f})."
        )
    line(f"{litres_text(tanks.spilt_l.middle, units)} run over in a middle year.")
    if tanks.would_do_l is None:
        line("No tank would do in 8 years of 10: the roofs bring less than the beds want.")
    else:
        line(f"Tanks of {litres_text(tanks.would_do_l, units)} would do in 8 years of 10.")
