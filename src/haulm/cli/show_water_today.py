"""Show on a terminal what the beds want of water today."""

from haulm.cli import show
from haulm.cli.show import line, table
from haulm.cli.show_water import lost_text
from haulm.desk.beds.water_today_records import BedToday, Haste, PatchToday, WaterToday
from haulm.desk.beds.water_words import (
    cans_text,
    dry_words,
    head_words,
    lacks_text,
    rain_words,
    rule_text,
    tank_words,
    thirsty_text,
    waits_text,
)
from haulm.desk.beds.watering import litres_text
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.units import Units, show_area, show_rain, show_volume

WANTS = ("bed", "crop", ">cans", ">to fill", ">lacks", ">may lack", "loses in 2 weeks", "stage")


def today(found: WaterToday, units: Units, bed: str | None) -> None:
    """Print who wants water today and how much, what can wait, and what that rests on."""
    beds = found.beds if bed is None else (_bed(found, bed),)
    line(head_words(found))
    for words in dry_words(found.dry):
        line(words)
    if any(one.cans for one in beds):
        line("")
        _wants([one for one in beds if one.cans], found, units)
    waiting = [one for b in beds for one in b.patches if one.haste is not Haste.NOW]
    if waiting:
        line("")
        _waits(waiting, found, units)
    if found.tanks is not None and bed is None:
        line("")
        for words in tank_words(found.tanks, units):
            line(words)
    line("")
    for words in rain_words(found, units):
        line(words)
    show.findings(found.not_counted)
    line("haulm water --year tells the beds and tanks through the year.")


def _bed(found: WaterToday, wanted: str) -> BedToday:
    for one in found.beds:
        if wanted.casefold() in {one.id.casefold(), one.name.casefold()}:
            return one
    ids = ", ".join(one.id for one in found.beds) or "none"
    what = f"nothing stands today in a bed called {wanted}."
    raise FaultsFoundError([Finding("--bed", what, f"Something stands in: {ids}.")])


def _wants(beds: list[BedToday], found: WaterToday, units: Units) -> None:
    limited = any(one.shared_cans is not None for b in beds for one in b.patches)
    here = (">of those there are",) if limited else ()
    table(
        (*WANTS[:3], *here, *WANTS[3:]),
        (
            (
                bed.name,
                one.name,
                str(one.cans),
                *(("–" if one.shared_cans is None else str(one.shared_cans),) if limited else ()),
                litres_text(one.fill_l, units),
                lacks_text(one.lacks_mm, units),
                show_rain(one.easy_mm, units),
                lost_text(one),
                one.stage,
            )
            for bed in beds
            for one in bed.patches
            if one.cans
        ),
        title=f"Water today, in cans of {show_volume(found.can_l, units)}, what loses most first",
    )
    for bed in beds:
        minutes = ""
        if found.flow_l_min and bed.way != "can":
            minutes = f", {bed.give_l / found.flow_l_min:.0f} min by {bed.way}"
        rule = rule_text(bed)
        line(
            f"{bed.name}, {show_area(bed.area_m2, units)}: {cans_text(bed.cans)}{minutes}"
            f"{'; ' + rule if rule else ''}."
        )


def _waits(waiting: list[PatchToday], found: WaterToday, units: Units) -> None:
    names = {one.id: one.name for one in found.beds}
    table(
        ("bed", "crop", "until", "thirsty", ">lacks", "loses in 2 weeks"),
        (
            (
                names[one.bed],
                one.name,
                waits_text(one, found.day),
                thirsty_text(one),
                lacks_text(one.lacks_mm, units),
                lost_text(one),
            )
            for one in waiting
        ),
        title="Can wait",
    )
