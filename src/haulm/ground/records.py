"""The ground's records: beds, their outlines, what grew there and what was found there."""

from dataclasses import dataclass
from enum import StrEnum


class Cover(StrEnum):
    """What stands over a bed."""

    OPEN = "open"
    TUNNEL = "tunnel"
    GLASS = "glass"


class Sun(StrEnum):
    """How much sun a bed gets in summer: six hours or more, three to six, under three."""

    FULL = "full"
    PART = "part"
    SHADE = "shade"


class Spot(StrEnum):
    """What makes a bed's nights other than the garden's."""

    FROST_HOLLOW = "frost hollow"
    WARM_WALL = "warm wall"
    FLEECE = "fleece"


class Watered(StrEnum):
    """How a bed is watered: a can or a hose wets all of its ground, drip lines some of it."""

    CAN = "can"
    HOSE = "hose"
    DRIP = "drip"


class Shape(StrEnum):
    """How an outline was described."""

    RECTANGLE = "rectangle"
    CIRCLE = "circle"
    CORNERS = "corners"


@dataclass(frozen=True, slots=True)
class Outline:
    """A bed's edge.

    Attributes
    ----------
    shape
        How it was described.
    corners_m
        Corners in order, anticlockwise, x east along the base and y north of it, with the outline's
        lowest x and y at 0 [m]. For a circle: the corners of the drawn polygon, on the circle.
    area_m2
        Its true area (π r² for a circle) [m²].
    diameter_m
        The circle's diameter [m]; None for other shapes.
    """

    shape: Shape
    corners_m: tuple[tuple[float, float], ...]
    area_m2: float
    diameter_m: float | None = None


@dataclass(frozen=True, slots=True)
class PastCrop:
    """A crop that grew on a bed in a past season, by the calendar year it was lifted in."""

    crop: str
    year: int


@dataclass(frozen=True, slots=True)
class DiseaseFound:
    """A soil-borne disease found on a bed, and the calendar year it was last seen."""

    disease: str
    year: int


@dataclass(frozen=True, slots=True)
class Bed:
    """One bed, by its id and name.

    ``soil`` is its soil's class where it is not the place's; ``mulch_share`` the share of its
    ground under organic mulch [1]; ``watered`` how it is watered; ``ph`` what its soil was tested
    at, the place's test counting where it has none of its own; None where there is neither.
    """

    id: str
    name: str
    outline: Outline
    cover: Cover = Cover.OPEN
    sun: Sun = Sun.FULL
    past: tuple[PastCrop, ...] = ()
    found: tuple[DiseaseFound, ...] = ()
    spot: tuple[Spot, ...] = ()
    soil: str | None = None
    mulch_share: float = 0.0
    watered: Watered = Watered.CAN
    ph: float | None = None


@dataclass(frozen=True, slots=True)
class Closure:
    """What is kept off a bed until a year, with the common advice and the published survival.

    A family; or, where ``crop`` is named, that crop of it alone. ``until_year`` is the first
    calendar year in which it may grow there again; it follows the longer of the two.
    """

    bed: str
    family: str
    disease: str
    found_year: int
    until_year: int
    common_until_year: int
    published_until_year: int
    crop: str | None = None

    def keeps_off(self, bed: str, family: str, crop: str) -> bool:
        """Say whether it is this bed that is closed, and to this crop or all of its family."""
        return (self.bed, self.family) == (bed, family) and self.crop in {None, crop}
