"""A glut: what of a food is more than the table eats and the stores take, and where it may go."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

NOTHING_KG = 0.05
"""Under this a glut is a rounding."""
NEAR_WEEKS = 3
"""What is lifted at once may come so many weeks before or after its week."""


@dataclass(frozen=True, slots=True)
class OtherWay:
    """A form in which a food keeps in a store there is.

    Attributes
    ----------
    form, store
        How, and in which store, by its name.
    room_kg
        So much of it finds room there in that week by the plan [kg]; None where it is not limited,
        or no plan says.
    keeps_weeks
        How long nine tenths of it stay sound [weeks].
    """

    form: str
    store: str
    room_kg: float | None
    keeps_weeks: float


@dataclass(frozen=True, slots=True)
class PlantedOn:
    """What a food is worth as planting stock.

    Attributes
    ----------
    unit, units_a_kg
        What it gives, and how many a kilogram [1/kg].
    not_after
        Troubles after which none of it is planted, in words.
    barred
        Those the diary says were seen on its crop, each with its day.
    """

    unit: str
    units_a_kg: float
    not_after: tuple[str, ...]
    barred: tuple[tuple[str, date], ...]


@dataclass(frozen=True, slots=True)
class OtherUses:
    """What may be done with more of a food than is eaten, beside giving it away.

    Attributes
    ----------
    food
        What it is.
    stands
        Whether what is not picked may stand until it is wanted.
    keeps
        The forms in which it keeps in the stores there are.
    planted
        What it is worth as planting stock; None where it is none.
    otherwise
        How else it is kept, in words, by what is known of sprouted food; empty where nobody told.
    cautions
        What to take care of in putting it by, and whom to ask.
    """

    food: str
    stands: bool
    keeps: tuple[OtherWay, ...]
    planted: PlantedOn | None
    otherwise: str
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Glut:
    """A food of which a week brings more than the table eats and the stores take.

    Attributes
    ----------
    food
        What it is.
    picked_kg
        What the diary says was picked in the week [kg]; None where the plan alone speaks.
    over_kg
        What is more than is eaten, put by or given [kg].
    uses
        What may be done with it.
    """

    food: str
    picked_kg: float | None
    over_kg: float
    uses: OtherUses


@dataclass(frozen=True, slots=True)
class TakenByPlan:
    """What a plan takes of a food: what is picked less what is left over, by week [kg]."""

    by_week: Mapping[int, float]
    again: bool

    def near(self, week: int, had_kg: float) -> float | None:
        """Give what is taken of a picking in a week [kg]; None where the plan has none near it.

        What is picked again and again is taken week by week, before its first week as in that. What
        is lifted at once is taken whenever it comes within some weeks of its week, less ``had_kg``
        that came in the weeks before.
        """
        weeks = range(week - NEAR_WEEKS, week + NEAR_WEEKS + 1)
        there = [one for one in weeks if self.by_week.get(one, 0.0) > 0]
        if not there:
            return None
        if self.again:
            return self.by_week[min(there, key=lambda one: (abs(one - week), one))]
        return max(0.0, sum(self.by_week[one] for one in there) - had_kg)
