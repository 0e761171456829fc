"""What was settled by hand, from garden.toml: pins, held to what each rule needs and may have."""

from collections.abc import Sequence

from haulm.measure.units import parse_area_m2
from haulm.notebook.document import GardenDocument
from haulm.notebook.faults import Gathered, Place
from haulm.notebook.holdings import check_method
from haulm.notebook.settled_parts import PinPart
from haulm.plan.pins import MEASURED, Pin, PinRule
from haulm.plan.records import Allotment

NO_AREA = {
    PinRule.FORBID: "a planting that is forbidden has no area.",
    PinRule.ONLY_IN: "what is planted only in some beds has no area.",
    PinRule.APART: "what is kept apart has no area.",
}


def pins_from(document: GardenDocument, gathered: Gathered) -> tuple[Pin, ...]:
    """Make the pins; each names one kind, crop or family, and what its rule needs."""
    beds = [bed.id for bed in document.bed]
    return tuple(_pin(part, number, beds, gathered) for number, part in enumerate(document.pin))


def _pin(part: PinPart, number: int, beds: Sequence[str], gathered: Gathered) -> Pin:
    """Make one pin."""
    place = ("pin", number)
    kind = part.kind and gathered.kind((*place, "kind"), part.kind)
    crop = part.crop and gathered.crop((*place, "crop"), part.crop)
    family = part.family and gathered.family((*place, "family"), part.family)
    named = [what for what in (part.kind, part.crop, part.family) if what]
    if len(named) != 1:
        what = "nothing is named." if not named else f"{' and '.join(named)} are all named."
        gathered.fault(place, what, "Name one kind, one crop or one family.")
    _check_place(part, place, beds, gathered)
    if part.method is not None:
        if kind is None:
            what = "a method belongs to a kind, and none is named."
            gathered.fault((*place, "method"), what, "Name the kind, or leave the method out.")
        else:
            typed = (part.kind or "", part.method)
            check_method((*place, "method"), typed, gathered.methods(kind), gathered)
    if part.week is not None and part.year is not None:
        gathered.fault((*place, "year"), "both week and year are given.", "Keep one of the two.")
    other = part.apart_from and gathered.plant((*place, "apart_from"), part.apart_from)
    _check_apart(part, other, (kind or crop or family), place, gathered)
    return Pin(
        part.rule,
        kind,
        part.bed,
        part.method,
        part.week,
        _area_m2(part, place, gathered),
        crop=crop,
        family=family,
        year=part.year,
        beds=part.beds or (),
        apart_from=other,
    )


def _check_place(part: PinPart, place: Place, beds: Sequence[str], gathered: Gathered) -> None:
    """Note beds that are not there, or that a rule has no use for, or lacks."""
    for key, named in (("bed", (part.bed,) if part.bed else ()), ("beds", part.beds or ())):
        for bed in named:
            gathered.one_of_ours((*place, key), bed, beds, "bed")
    if part.rule is PinRule.ONLY_IN:
        if part.bed is not None:
            gathered.fault((*place, "bed"), "only in names beds.", "Write beds in its place.")
        elif not part.beds:
            gathered.fault(place, "it does not say in which beds alone.", "Name them under beds.")
    elif part.beds:
        what = f"beds belong to only in, and this is {part.rule.value}."
        gathered.fault((*place, "beds"), what, "Name one bed under bed, or write only in.")


def _check_apart(
    part: PinPart, other: str | None, named: str | None, place: Place, gathered: Gathered
) -> None:
    """Note what is kept apart from nothing, or from itself, or named by another rule."""
    if part.rule is not PinRule.APART:
        if other is not None:
            what = f"apart_from belongs to apart, and this is {part.rule.value}."
            gathered.fault((*place, "apart_from"), what, "Leave it out, or write apart.")
    elif other is None:
        what = "it does not say from what it is kept apart."
        gathered.fault(place, what, "Name the other kind, crop or family under apart_from.")
    elif other == named:
        what = f"{other} cannot be kept apart from itself."
        gathered.fault((*place, "apart_from"), what, "Name another kind, crop or family.")


def _area_m2(part: PinPart, place: Place, gathered: Gathered) -> float | None:
    """Read the area where a rule has one [m²]; note where it lacks, or must not be."""
    if part.area is not None and part.rule in NO_AREA:
        remedy = "Leave the area out, or keep the planting."
        gathered.fault((*place, "area"), NO_AREA[part.rule], remedy)
    if part.area is None and part.rule in MEASURED:
        what = f"{part.rule.value} how much is not said."
        gathered.fault(place, what, 'Give an area, as in area = "4 m2".')
    return gathered.above_nothing((*place, "area"), part.area, parse_area_m2)


def allotments_from(document: GardenDocument, gathered: Gathered) -> tuple[Allotment, ...]:
    """Make the allotments; a family is allotted ground once in each bed and year."""
    ids = [bed.id for bed in document.bed]
    allotments: list[Allotment] = []
    for number, part in enumerate(document.allotment):
        place = ("allotment", number)
        gathered.one_of_ours((*place, "bed"), part.bed, ids, "bed")
        family = gathered.family((*place, "family"), part.family)
        area_m2 = gathered.above_nothing((*place, "area"), part.area, parse_area_m2)
        there = [(one.bed, one.year, one.family) for one in allotments]
        if (part.bed, part.year, family) in there:
            what = f"{part.family} is allotted ground on {part.bed} in {part.year} twice."
            gathered.fault(place, what, "Add the two up.")
        allotments.append(Allotment(part.bed, part.year, family, area_m2 or 0.0))
    return tuple(allotments)
