"""The water card of a day, put on paper."""

from haulm.desk.beds.water_today_records import BedToday, Haste, PatchToday, WaterToday
from haulm.desk.beds.water_words import (
    cans_text,
    dry_words,
    head_words,
    rain_words,
    rule_text,
    tank_words,
    waits_text,
)
from haulm.desk.planning.plans import Made
from haulm.measure.units import show_volume
from haulm.sheets.bundle import Paper
from haulm.sheets.paper import to_pdf
from haulm.sheets.water_card import CardBed, CardPatch, WaterCard, draw_water_card


def water_card_pdf(found: WaterToday, made: Made, paper: Paper) -> bytes:
    """Draw the water card of a day, one page, as a PDF."""
    return to_pdf((draw_water_card(card_of(found, made), paper),))


def card_of(found: WaterToday, made: Made) -> WaterCard:
    """Give what the card says, in the garden's units."""
    garden = made.garden
    beds = [bed for bed in found.beds if any(map(given_today, bed.patches))]
    order = {bed.id: number for number, bed in enumerate(garden.beds)}
    beds.sort(key=lambda bed: order[bed.id])
    waiting = [one for one in found.order if one.haste is not Haste.NOW]
    without = [one for one in found.order if one.cans and not given_today(one)]
    names = {bed.id: bed.name for bed in found.beds}
    notes = [*rain_words(found, garden.units), *dry_words(found.dry)]
    if found.tanks is not None:
        notes += tank_words(found.tanks, garden.units)
    return WaterCard(
        garden=made.plan.garden,
        invented=garden.invented,
        day=found.day,
        head=head_words(found),
        can=show_volume(found.can_l, garden.units),
        beds=tuple(_bed(bed, found) for bed in beds),
        without=tuple(f"{names[one.bed]}: {one.name}, {cans_text(one.cans)}" for one in without),
        waits=tuple(
            f"{names[one.bed]}: {one.name}, {waits_text(one, found.day)}" for one in waiting
        ),
        notes=tuple(notes),
    )


def _bed(bed: BedToday, found: WaterToday) -> CardBed:
    minutes = ""
    if found.flow_l_min and bed.way != "can":
        minutes = f"or {bed.give_l / found.flow_l_min:.0f} min by {bed.way}"
    return CardBed(
        bed.name,
        cans_text(sum(map(given_today, bed.patches))),
        minutes,
        rule_text(bed),
        tuple(_patch(one) for one in bed.patches if given_today(one)),
    )


def given_today(one: PatchToday) -> int:
    """Give the cans a crop gets today: what it should, or its share where there are too few."""
    return one.cans if one.shared_cans is None else one.shared_cans


def _patch(one: PatchToday) -> CardPatch:
    shared = None if one.shared_cans is None else cans_text(one.shared_cans)
    return CardPatch(one.name, cans_text(one.cans), shared)
