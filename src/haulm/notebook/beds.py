"""Beds from garden.toml: outlines, cover, sun, what grew there, what was found there."""

from collections.abc import Sequence

from haulm.ground.outlines import circle, polygon, rectangle
from haulm.ground.records import (
    Bed,
    Cover,
    DiseaseFound,
    Outline,
    PastCrop,
    Spot,
    Sun,
    Watered,
)
from haulm.measure.units import parse_length_m
from haulm.notebook.document import BedPart
from haulm.notebook.faults import Gathered, Place

ONE_SHAPE = "Give width and length, or diameter, or corners."


LOWEST_PH, HIGHEST_PH = 3, 10
"""No garden soil is more acid, and none more alkaline."""


def beds_from(
    parts: Sequence[BedPart], gathered: Gathered, place_ph: float | None = None
) -> tuple[Bed, ...]:
    """Make the beds; what is faulty is noted and left out. No beds at all is a warning.

    ``place_ph`` counts for beds without a soil test of their own.
    """
    if not parts and "bed" not in gathered.numbers:
        gathered.warn(
            ("bed",),
            "there are no beds, so nothing can be planted.",
            "Add each bed there is.",
        )
    gathered.once_each("bed", [part.id for part in parts])
    beds = []
    for number, part in enumerate(parts):
        outline = _outline(part, number, gathered)
        past, found = _past(part, number, gathered), _found(part, number, gathered)
        if outline is not None:
            beds.append(
                Bed(
                    id=part.id,
                    name=part.name or part.id,
                    outline=outline,
                    cover=part.cover or Cover.OPEN,
                    sun=part.sun or Sun.FULL,
                    past=past,
                    found=found,
                    spot=_spot(part, number, gathered),
                    soil=part.soil,
                    mulch_share=gathered.share(("bed", number, "mulch"), part.mulch or 0),
                    watered=part.watered or Watered.CAN,
                    ph=ph_from(("bed", number, "ph"), part.ph, gathered) or place_ph,
                )
            )
    return tuple(beds)


def ph_from(place: Place, typed: float | None, gathered: Gathered) -> float | None:
    """Read what soil was tested at; what no soil is, is a fault."""
    if typed is None:
        return None
    if not LOWEST_PH <= typed <= HIGHEST_PH:
        gathered.fault(place, f"no garden soil has a pH of {typed:g}.", "Write it as in 6.3.")
        return None
    return float(typed)


def _outline(part: BedPart, number: int, gathered: Gathered) -> Outline | None:
    """Make the outline from the one shape that was given; anything else is a fault."""
    place = ("bed", number)
    sides = {"width": part.width, "length": part.length}
    given = [name for name, size in sides.items() if size is not None]
    shapes = [bool(given), part.diameter is not None, bool(part.corners)]
    if sum(shapes) != 1:
        amount = "no shape" if not any(shapes) else "more than one shape"
        gathered.fault(place, f"the bed has {amount}.", ONE_SHAPE)
        return None
    if part.corners:
        return _cornered(part, number, gathered)
    if part.diameter is not None:
        where = gathered.where((*place, "diameter"))
        typed = part.diameter
        return gathered.take(
            (*place, "diameter"), lambda: circle(parse_length_m(typed, where), where)
        )
    if part.width is None or part.length is None:
        gathered.fault(place, f"the bed has a {given[0]} only.", ONE_SHAPE)
        return None
    width = gathered.length((*place, "width"), part.width)
    length = gathered.length((*place, "length"), part.length)
    if width is None or length is None:
        return None
    return gathered.take(place, lambda: rectangle(width, length, gathered.where(place)))


def _cornered(part: BedPart, number: int, gathered: Gathered) -> Outline | None:
    """Make the outline of a list of corners."""
    corners = []
    for at, (east, north) in enumerate(part.corners):
        corner = ("bed", number, "corners", at)
        x, y = gathered.length(corner, east), gathered.length(corner, north)
        if x is not None and y is not None:
            corners.append((x, y))
    if len(corners) < len(part.corners):
        return None
    place = ("bed", number, "corners")
    return gathered.take(place, lambda: polygon(corners, gathered.where(place)))


def _spot(part: BedPart, number: int, gathered: Gathered) -> tuple[Spot, ...]:
    """Give what makes its nights other; fleece over what is covered already warms nothing more."""
    if Spot.FLEECE in part.spot and part.cover not in {None, Cover.OPEN}:
        gathered.fault(
            ("bed", number, "spot"),
            f"the bed lies under {part.cover} already, so fleece is not counted besides.",
            "Take out fleece, or say that the bed lies open.",
        )
    return tuple(dict.fromkeys(part.spot))


def _past(part: BedPart, number: int, gathered: Gathered) -> tuple[PastCrop, ...]:
    """Give what grew there, by the catalogue's ids."""
    return tuple(
        PastCrop(gathered.crop(("bed", number, "past", at, "crop"), grew.crop), grew.year)
        for at, grew in enumerate(part.past)
    )


def _found(part: BedPart, number: int, gathered: Gathered) -> tuple[DiseaseFound, ...]:
    """Give what was found there, by the catalogue's ids."""
    return tuple(
        DiseaseFound(
            gathered.disease(("bed", number, "found", at, "disease"), seen.disease),
            seen.year,
        )
        for at, seen in enumerate(part.found)
    )
