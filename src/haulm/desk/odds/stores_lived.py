"""Live the kept plan through many seasons, and keep what lies in store in each for the larder."""

from collections import defaultdict
from dataclasses import dataclass

import numpy as np

from haulm.desk.odds.living import odds_in, setting_in
from haulm.desk.planning.plans import Made
from haulm.forecast.records import PlanOdds, Trial
from haulm.sheets.store_odds import Seasons, StoreOdds

SEASONS = 1000
"""Seasons that a plan is lived through for its larder: enough to tell 8 years in 10 from 7."""


@dataclass(frozen=True, slots=True, eq=False)
class Lived:
    """What many seasons say of a plan, and of its stores season by season."""

    odds: PlanOdds
    stores: StoreOdds


def lived(made: Made, seasons: int, seed: int) -> Lived:
    """Live a plan through many seasons of its garden's place, stores and all."""
    setting = setting_in(made.garden, made.catalogue, made.plan, seed)
    held: dict[str, list[Seasons]] = defaultdict(list)

    def heed(trial: Trial) -> None:
        for food, kg in trial.in_store.items():
            if kg.any():
                held[food].append(kg.astype(np.float32))

    odds = odds_in(setting, made.plan, seasons, seed, heed)
    in_store = {food: np.concatenate(blocks) for food, blocks in held.items()}
    return Lived(odds, StoreOdds(in_store, odds.run_out))
