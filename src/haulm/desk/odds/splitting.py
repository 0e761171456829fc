"""What it is worth to grow a crop of the kept plan in several beds, sowings or kinds."""

from dataclasses import dataclass
from pathlib import Path

from haulm.desk.odds.living import dealt_in, setting_in
from haulm.desk.planning.plans import UNLAID, Made, kept_plan
from haulm.forecast.coming import comings
from haulm.forecast.splitting import CropSplits, split_crop
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.near import near_names

SPLIT_SEASONS = 10_000
"""Seasons in which ways to grow a crop are weighed: enough to tell one year in a hundred."""


@dataclass(frozen=True, slots=True)
class Splits:
    """A plan, and what splitting is worth to some of its crops."""

    made: Made
    crops: tuple[CropSplits, ...]


def splits_of(path: Path, crop: str | None, seasons: int = SPLIT_SEASONS, seed: int = 1) -> Splits:
    """Weigh the splitting of one crop of a notebook's plan, or of all that share a bed's diseases.

    Raises
    ------
    FaultsFoundError
        When there is no plan, or it does not grow the crop.
    """
    made = kept_plan(path, UNLAID)
    if crop is None:
        return Splits(made, splits_for(made, seasons, seed))
    grown = sorted({planting.crop for planting in made.plan.plantings})
    named = {id_.casefold(): id_ for id_ in grown}
    if crop.casefold() not in named:
        near = near_names(crop, grown)
        remedy = f"Did you mean {' or '.join(near)}?" if near else f"It grows: {', '.join(grown)}."
        raise FaultsFoundError([Finding("crop", f"the plan grows no {crop}.", remedy)])
    return Splits(made, splits_for(made, seasons, seed, (named[crop.casefold()],)))


def splits_for(
    made: Made, seasons: int, seed: int, crops: tuple[str, ...] | None = None
) -> tuple[CropSplits, ...]:
    """Weigh the splitting of a plan's crops; by default of all that share a bed's diseases.

    Those that lose most often in one bed come first.
    """
    setting = setting_in(made.garden, made.catalogue, made.plan, seed)
    dealt = dealt_in(setting, made.plan, comings(made.plan, setting.kinds, setting.weather))
    wanted = crops or tuple(sorted({coming.crop for coming in dealt.comings}))
    told = [
        splits
        for crop in wanted
        if (splits := split_crop(dealt, crop, seasons, seed)) is not None
        and (crops is not None or splits.diseases)
    ]
    return tuple(sorted(told, key=lambda one: -one.splits[1].lost))
