"""The forecast's records: how a planting's foods come in every run of weather, and the odds."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from haulm.catalogue.records import Picking
from haulm.measure.weeks import WEEKS_A_YEAR

Floats = NDArray[np.float64]
Weeks = NDArray[np.int64]
"""Weeks of the horizon, run by run; far beyond any horizon where something never comes."""


@dataclass(frozen=True, slots=True, eq=False)
class Blight:
    """When late blight ends a planting's growth, by the occasion on which it comes.

    The weather of a run gives it one occasion after another, the last of them being that it never
    comes. ``week`` is the week from which on nothing more is picked, shape (occasions, runs), far
    beyond any horizon where the weather gave no such occasion; ``left`` is the share of the yield
    that is there then [1].
    """

    week: Weeks
    left: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Coming:
    """How one food of one planting comes, in every run of weather.

    Attributes
    ----------
    planting, crop, kind, food, picking
        What it is and how it is taken.
    kg
        What it gives in the mean of years when nothing cuts it short [kg].
    spread
        Standard deviation of the logarithm of its yield [1].
    span_weeks
        Weeks over which it can be taken, uncut [weeks].
    first_week, until_week
        The weeks in which it can be taken, from (counted) to until (not counted), shape (runs,).
    whole
        Share of ``kg`` that frost left of what is lifted once, shape (runs,); 1 for the rest.
    bed, family, under_cover
        Where it stands and what it is kin to, for the diseases that it shares.
    watered
        Share of ``kg`` that drought left, shape (runs,) or (1,); 1 where it is watered as usual.
    blight
        When late blight ends it where it comes; None where it is no host or there is no rain.
    """

    planting: str
    crop: str
    kind: str
    food: str
    picking: Picking
    kg: float
    spread: float
    span_weeks: int
    first_week: Weeks
    until_week: Weeks
    whole: Floats
    bed: str = ""
    family: str = ""
    under_cover: bool = False
    watered: Floats = field(default_factory=lambda: np.ones(1))
    blight: Blight | None = None

    @property
    def year(self) -> int:
        """The plan's year in which it comes, in the middle of the runs."""
        return int(np.median(self.first_week)) // WEEKS_A_YEAR


@dataclass(frozen=True, slots=True, eq=False)
class Luck:
    """What chance deals to each season.

    Attributes
    ----------
    run
        Which run of weather it has, shape (seasons,).
    yields
        By planting and food: yield against the mean, shape (seasons,) [1].
    ageing
        By store: how fast food ages in it against the usual, shape (seasons,) [1].
    wants
        By line: what it wants against what was told, shape (seasons, weeks) [1].
    blighted
        By planting and food: on which occasion late blight comes, shape (seasons,); what has no
        entry is no host.
    """

    run: NDArray[np.int64]
    yields: Mapping[tuple[str, str], Floats]
    ageing: Mapping[str, Floats]
    wants: Mapping[str, Floats]
    blighted: Mapping[tuple[str, str], NDArray[np.int64]] = field(default_factory=dict)

    @property
    def seasons(self) -> int:
        """How many seasons are drawn."""
        return int(self.run.size)


@dataclass(frozen=True, slots=True, eq=False)
class Trial:
    """A plan lived through many seasons; every array is (seasons, weeks) [kg].

    Attributes
    ----------
    wanted, fresh, stored
        By line of the table: what was wanted, and eaten fresh and from store.
    in_store
        By food: what lies in store, still sound, at the end of each week.
    lifted, glut
        By food: what was lifted or picked, and what nobody could take.
    """

    wanted: Mapping[str, Floats]
    fresh: Mapping[str, Floats]
    stored: Mapping[str, Floats]
    in_store: Mapping[str, Floats]
    lifted: Mapping[str, Floats]
    glut: Mapping[str, Floats]

    def short(self, line: str) -> Floats:
        """Give what a line stayed short of, shape (seasons, weeks) [kg]."""
        return self.wanted[line] - self.fresh[line] - self.stored[line]


@dataclass(frozen=True, slots=True)
class Promise:
    """How sure a plan's promise to one line of the table is, in one of its years.

    Attributes
    ----------
    line, year
        Whose promise, and in which year of the plan: 0 or 1.
    promised_kg, wanted_kg
        What the plan means to serve, and what the table wants [kg].
    eaten_kg
        What is eaten in 1, 5 and 9 seasons of 10, at most [kg].
    held
        Share of seasons in which at least the held share of what was promised is eaten [1].
    error
        Its standard error: how far the share may be off for the number of seasons [1].
    """

    line: str
    year: int
    promised_kg: float
    wanted_kg: float
    eaten_kg: tuple[float, float, float]
    held: float
    error: float


@dataclass(frozen=True, slots=True)
class RunOut:
    """When a food in store has run out, after the week of a year in which most of it lies there.

    ``fullest`` is that week in the mean of seasons; ``weeks`` are those by which it has run out in
    1, 5 and 9 seasons of 10, None where it has not by the end of the plan.
    """

    food: str
    fullest: int
    weeks: tuple[int | None, int | None, int | None]


@dataclass(frozen=True, slots=True)
class Together:
    """Two lines that fail together: the correlation of what they stay short of in a year [1]."""

    one: str
    other: str
    correlation: float


@dataclass(frozen=True, slots=True, eq=False)
class PlanOdds:
    """What many seasons say of a plan.

    Attributes
    ----------
    seasons, origin
        How many seasons, and what weather they rest on, in words.
    promises
        By line and year.
    in_store_kg
        By food: what lies in store in 1, 5 and 9 seasons of 10, shape (3, weeks) [kg].
    short_kg
        By line: what is short, likewise.
    run_out
        For each food that lies in store, and each year.
    together
        Pairs of lines that fail together, the closest first.
    eaten_kg
        All that is eaten over the plan in 1, 5 and 9 seasons of 10, at most [kg].
    """

    seasons: int
    origin: str
    promises: tuple[Promise, ...]
    in_store_kg: dict[str, Floats]
    short_kg: dict[str, Floats]
    run_out: tuple[RunOut, ...]
    together: tuple[Together, ...]
    eaten_kg: tuple[float, float, float]
