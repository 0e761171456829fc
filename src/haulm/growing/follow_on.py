"""What follows: a kind's earliest starts on ground that comes free in a week, and their odds."""

from dataclasses import dataclass
from datetime import date

import numpy as np

from haulm.catalogue.records import Kind
from haulm.growing.days import NEVER, day_in_share_of_runs
from haulm.growing.records import Sowing
from haulm.growing.rules import growing_rules
from haulm.growing.sowings import SowingChoice, sowings
from haulm.growing.timing import course, main_giving
from haulm.growing.weather import GrowingWeather
from haulm.measure.weeks import Horizon


@dataclass(frozen=True, slots=True)
class FollowOn:
    """One kind started on ground that comes free.

    Attributes
    ----------
    sowing
        The sowing, as a plan would choose it; raised in modules it is sown before the ground is
        free.
    waits_weeks
        Weeks that the ground lies empty before it is sown or set there.
    ready_by
        The day by which its main food is ready in 8 years of 10.
    frost_from
        The day from which on a frost that kills it has come in 2 years of 10 or more; None for what
        no frost kills, or none within the weather looked at.
    """

    sowing: Sowing
    waits_weeks: int
    ready_by: date
    frost_from: date | None

    @property
    def in_trays(self) -> bool:
        """Whether it is raised in trays first."""
        return self.sowing.sow_on < self.sowing.set_on


def follow_ons(
    kind: Kind,
    family: str,
    weather: GrowingWeather,
    horizon: Horizon,
    free_week: int,
    *,
    under_cover: bool,
) -> tuple[FollowOn, ...]:
    """Find for each method of a kind its earliest start once ground is free.

    Nothing waits longer than ``follow_on_wait_weeks`` (``data/rules.toml``); nothing is sown in a
    tray before the horizon begins. Empty for what stays for years or is only dug in.

    Parameters
    ----------
    kind, family
        The kind and the id of its crop's family.
    weather, horizon
        The runs of weather, and the weeks planned.
    free_week
        The week of the horizon from which on the ground is free.
    under_cover
        Whether the ground lies under a tunnel or glass.
    """
    wait = round(growing_rules().follow_on_wait_weeks.value)
    weeks = tuple(range(free_week, free_week + wait + 1))
    choice = SowingChoice(covers=(under_cover,), ground_free_weeks=weeks)
    earliest: dict[str, Sowing] = {}
    for sowing in sowings(kind, family, weather, horizon, choice):
        if sowing.ground_from_week in weeks:
            before = earliest.get(sowing.method)
            if before is None or sowing.set_on < before.set_on:
                earliest[sowing.method] = sowing
    return tuple(
        _follow_on(kind, sowing, free_week, weather)
        for sowing in earliest.values()
        if any(given.food == main_giving(kind).food for given in sowing.foods)
    )


def _follow_on(kind: Kind, sowing: Sowing, free_week: int, weather: GrowingWeather) -> FollowOn:
    """Tell when one start is ready, and when frost comes."""
    method = next(method for method in kind.methods if method.id == sowing.method)
    begins = np.array([weather.column_of(sowing.set_on)], dtype=np.int64)
    fared = course(kind, method, begins, weather, under_cover=sowing.under_cover)
    sure = growing_rules().certainty_ready.value
    ready = day_in_share_of_runs(fared.phase_ends[main_giving(kind).after], sure)
    frost = day_in_share_of_runs(fared.frost, 1 - sure)
    return FollowOn(
        sowing=sowing,
        waits_weeks=sowing.ground_from_week - free_week,
        ready_by=weather.day_of(int(ready[0])),
        frost_from=None if frost[0] == NEVER else weather.day_of(int(frost[0])),
    )
