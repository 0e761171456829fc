"""What the larder's books are kept by: how food keeps, names, weights."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from haulm.measure.units import Units
from haulm.season.ledger_records import Keeps, LotKey


@dataclass(frozen=True, slots=True)
class Larder:
    """What the books are kept by.

    Attributes
    ----------
    keeps
        How each food keeps, by food, kind, form and store; of an unknown kind, under None.
    names
        Display names by id.
    pace_spread
        How much lots of one kind differ in how fast they age: standard deviation of the log [1].
    stock_a_kg
        Units of planting stock that a kilogram of a food gives, by kind [1/kg].
    units
        In which weights are told.
    """

    keeps: Mapping[LotKey, Keeps]
    names: Mapping[str, str]
    pace_spread: float
    stock_a_kg: Mapping[str, float] = field(default_factory=dict)
    units: Units = "metric"

    def keeping(self, key: LotKey) -> Keeps | None:
        """Find how a food keeps; of an unknown kind, as the worst keeper of that food there."""
        if key in self.keeps:
            return self.keeps[key]
        return self.worst(key) if key[1] is None else None

    def keeping_or_worst(self, key: LotKey) -> Keeps | None:
        """Find how a food keeps; of any kind not in the larder, as its worst keeper there."""
        return self.keeps.get(key) or self.worst(key)

    def worst(self, key: LotKey) -> Keeps | None:
        """Give the shortest keeping of a food in a form and store; None where there is none."""
        food, _, form, store = key
        same = [
            keeps for (f, _k, m, s), keeps in self.keeps.items() if (f, m, s) == (food, form, store)
        ]
        return min(same, key=lambda keeps: sum(keeps.sound)) if same else None
