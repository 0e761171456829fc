"""How a kind stays for years, or feeds its ground: perennials and green manures."""

from dataclasses import dataclass

from haulm.catalogue.figures import Basis, Figure


@dataclass(frozen=True, slots=True)
class StandYear:
    """One year of a perennial's stand, and what it gives.

    Attributes
    ----------
    year
        Which year, in figures: the first growing season after planting is year ``1``.
    share
        Share of the full yield [1].
    picking_weeks
        Weeks of picking that year [weeks]; None for as many as in full bearing.
    """

    year: str
    share: Figure
    picking_weeks: Figure | None = None

    @property
    def number(self) -> int:
        """The year as a number."""
        return int(self.year)


@dataclass(frozen=True, slots=True)
class Care:
    """A job that a perennial wants once a year.

    ``id`` is ``mulch`` or ``cut down``; ``after_days`` counts from midwinter, 1 January north and
    1 July south of the equator [d].
    """

    id: str
    after_days: Figure


@dataclass(frozen=True, slots=True)
class Perennial:
    """How a kind holds its ground for years.

    The phases of a perennial kind are counted anew each year from midwinter, 1 January north and
    1 July south of the equator.

    Attributes
    ----------
    years
        What each year of the stand gives, by year; nothing before the first that is listed, and
        from the last on what the last gives.
    stand_years
        Years a stand is worth its ground [years].
    pick_until_days
        Days after midwinter by which picking ends for the plant's sake [d]; None where it does
        not.
    resting_frost_c
        Air minimum that ends a year's picking, from midsummer on, the plant living on [°C]; None
        where none does.
    care
        What is done for it once a year.
    """

    years: tuple[StandYear, ...]
    stand_years: Figure
    pick_until_days: Figure | None = None
    resting_frost_c: Figure | None = None
    care: tuple[Care, ...] = ()


@dataclass(frozen=True, slots=True)
class GreenManure:
    """What a kind does that gives no food, but holds and feeds its ground.

    Attributes
    ----------
    dig_in_after
        The id of the phase at whose end it is worth digging in.
    rest_weeks
        Weeks between digging in and what is sown or set next [weeks].
    fixes_nitrogen
        Whether its roots bring nitrogen out of the air.
    gives
        What it gives back, in words.
    basis, source
        What those words rest on; a source exactly when they are *published*.
    """

    dig_in_after: str
    rest_weeks: Figure
    fixes_nitrogen: bool
    gives: str
    basis: Basis
    source: str | None = None
