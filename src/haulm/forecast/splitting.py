"""The value of splitting: one crop's harvest in one bed or several, from the same luck."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from haulm.catalogue.records import Picking
from haulm.forecast.luck import Dealt, draw_luck
from haulm.forecast.records import Coming, Floats
from haulm.forecast.rules import forecast_rules

MOST_PARTS = 3
"""A crop is split over so many beds, or sowings, at most."""

POOR = 0.1
"""A poor year is one that only this share of years falls short of [1]."""


class Way(StrEnum):
    """How a crop is grown."""

    PLANNED = "as planned"
    BEDS = "in so many beds"
    SOWINGS = "in so many sowings in one bed"
    KIND = "all of one kind"


@dataclass(frozen=True, slots=True)
class Split:
    """What a crop's harvest is, grown in one way.

    Attributes
    ----------
    way, parts, kind
        How: in how many beds or sowings; or all of which kind.
    poor_kg, middle_kg
        What is lifted in a poor year, one in ten, and in a middle one [kg].
    lost
        Share of years in which less than half of the mean is lifted [1].
    """

    way: Way
    parts: int
    kind: str
    poor_kg: float
    middle_kg: float
    lost: float


@dataclass(frozen=True, slots=True)
class CropSplits:
    """A crop of a plan in the year in which most of one of its foods comes, in several ways.

    ``beds``, ``sowings`` and ``kinds`` say how many the plan gives it; ``diseases`` names what it
    shares with others in its bed.
    """

    crop: str
    food: str
    year: int
    kg: float
    beds: int
    sowings: int
    kinds: int
    diseases: tuple[str, ...]
    splits: tuple[Split, ...]


def split_crop(dealt: Dealt, crop: str, seasons: int, seed: int) -> CropSplits | None:
    """Weigh what it is worth to grow a crop in several beds, sowings or kinds.

    The whole of it is grown each way, on the same ground in all and to the same mean: only luck
    falls otherwise. Every way is lived through the same seasons.

    Parameters
    ----------
    dealt
        The plan's comings and the diseases.
    crop
        Which crop.
    seasons, seed
        How many seasons, and the seed of their luck.

    Returns
    -------
    None where nothing of the crop comes within the plan.
    """
    mine = _most_of(dealt.comings, crop)
    if not mine:
        return None
    kg = sum(coming.kg for coming in mine)
    splits = []
    for way, parts, kind, grown in _ways(mine):
        lifted = _harvest(replace(dealt, comings=grown), seasons, seed)
        # Kinds and sowings that meet other frosts have other means: each is set against its own.
        lifted = lifted * (kg / lifted.mean())
        splits.append(
            Split(
                way,
                parts,
                kind,
                float(np.quantile(lifted, POOR)),
                float(np.median(lifted)),
                float(np.mean(lifted < forecast_rules().lost_share.value * kg)),
            )
        )
    soil = {d.name for d in dealt.diseases for one in mine if d.strikes(one) and d.in_soil}
    return CropSplits(
        crop=crop,
        food=mine[0].food,
        year=mine[0].year,
        kg=kg,
        beds=len({coming.bed for coming in mine}),
        sowings=len({coming.planting for coming in mine}),
        kinds=len({coming.kind for coming in mine}),
        diseases=tuple(sorted(soil)),
        splits=tuple(splits),
    )


def _most_of(comings: Sequence[Coming], crop: str) -> tuple[Coming, ...]:
    """Give the comings of the food and year of which a crop gives most, the largest first."""
    together: dict[tuple[str, int], list[Coming]] = {}
    for coming in comings:
        if coming.crop == crop and coming.kg > 0 and coming.year >= 0:
            together.setdefault((coming.food, coming.year), []).append(coming)
    if not together:
        return ()
    most = max(together.values(), key=lambda of: sum(coming.kg for coming in of))
    return tuple(sorted(most, key=lambda coming: -coming.kg))


def _ways(mine: Sequence[Coming]) -> Iterator[tuple[Way, int, str, tuple[Coming, ...]]]:
    """Give each way to grow the whole of it."""
    yield Way.PLANNED, len({coming.bed for coming in mine}), "", tuple(mine)
    whole = replace(mine[0], kg=sum(coming.kg for coming in mine))
    for beds in range(1, MOST_PARTS + 1):
        yield Way.BEDS, beds, "", _parts(whole, beds, in_beds=True)
    for sowings in range(2, MOST_PARTS + 1):
        yield Way.SOWINGS, sowings, "", _parts(whole, sowings, in_beds=False)
    kinds = list(dict.fromkeys(coming.kind for coming in mine))
    for kind in kinds if len(kinds) > 1 else ():
        yield Way.KIND, 1, kind, tuple(coming for coming in mine if coming.kind == kind)


def _parts(whole: Coming, parts: int, *, in_beds: bool) -> tuple[Coming, ...]:
    """Cut one planting into equal parts, in a bed each or all in its own."""
    return tuple(
        replace(
            whole,
            kg=whole.kg / parts,
            planting=f"{whole.planting}, part {part + 1}" if part else whole.planting,
            bed=f"{whole.bed}, bed {part + 1}" if part and in_beds else whole.bed,
        )
        for part in range(parts)
    )


def _harvest(dealt: Dealt, seasons: int, seed: int) -> Floats:
    """Give what is lifted in each season, shape (seasons,) [kg]."""
    luck = draw_luck(replace(dealt, lines=(), stores=()), seasons, seed)
    lifted = np.zeros(seasons)
    for one in dealt.comings:
        left = (one.whole * np.broadcast_to(one.watered, one.whole.shape))[luck.run]
        occasion = luck.blighted.get((one.planting, one.food))
        if occasion is not None and one.blight is not None and one.picking is Picking.SPREAD:
            left = left * one.blight.left[occasion, luck.run]
        lifted += one.kg * luck.yields[one.planting, one.food] * left
    return lifted
