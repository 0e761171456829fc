"""Fleece shared out over the beds that a night threatens, where it saves most."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class FleeceWanted:
    """What fleece over what stands in a bed takes [m²], and what it saves on average [kg]."""

    bed: str
    area_m2: float
    saves_kg: float


@dataclass(frozen=True, slots=True)
class FleeceLaid:
    """What fleece a bed wants, and what part of the fleece there is goes to it [m²]."""

    bed: str
    wanted_m2: float
    laid_m2: float

    @property
    def whole(self) -> bool:
        """Whether all that it wants is covered."""
        return self.laid_m2 >= self.wanted_m2


def lay_fleece(wanted: Iterable[FleeceWanted], there_m2: float) -> tuple[FleeceLaid, ...]:
    """Lay the fleece there is bed by bed, first where a square metre of it saves most.

    Of a bed for which it is too little a part is covered. Where two save as much, that which was
    named first comes first. No other way of laying it saves more on average, for each bed's loss
    is taken as even over its ground. By area alone: pieces are taken to be laid as they fit.

    Parameters
    ----------
    wanted
        What each bed wants.
    there_m2
        The fleece there is [m²].
    """
    left, laid = there_m2, []
    for one in sorted(wanted, key=lambda bed: -bed.saves_kg / bed.area_m2):
        here = min(left, one.area_m2)
        laid.append(FleeceLaid(one.bed, one.area_m2, here))
        left -= here
    return tuple(laid)
