"""A cellar as it truly is, to the gram: what rots there unseen, and books beside haulm's own.

It knows nothing of haulm but the curve by which food usually keeps; each lot ages at a pace drawn
here. Every gram that went in is sound, rotten, taken out, thrown out at a count, or gone to mice.
"""

from bisect import bisect_right
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date


@dataclass
class Picked:
    """What was picked of a food, and where it went, in whole grams."""

    picked_g: int = 0
    eaten_g: int = 0
    put_by_g: int = 0
    given_g: int = 0
    thrown_g: int = 0

    @property
    def balances(self) -> bool:
        """Whether every gram picked went somewhere."""
        gone = self.eaten_g + self.put_by_g + self.given_g + self.thrown_g
        return self.picked_g == gone


@dataclass
class TrueLot:
    """One lot as it truly is; all weights in whole grams.

    ``out_g`` is what was written as taken, by the diary's word for it; ``mice_g`` what nobody
    wrote.
    """

    id: str
    food: str
    store: str
    put_by: date
    in_g: int
    usual: Sequence[float]
    pace: float
    sound_g: int = 0
    rotten_g: int = 0
    lost_g: int = 0
    mice_g: int = 0
    out_g: Counter[str] = field(default_factory=Counter)
    as_of: date = date.min

    def __post_init__(self) -> None:
        """Begin with everything sound."""
        self.sound_g, self.as_of = self.in_g, self.put_by

    def age_to(self, day: date) -> None:
        """Let what rots until a day rot."""
        before, now = self._share(self.as_of), self._share(day)
        left = int(self.sound_g * now / before) if before > 0 else 0
        self.rotten_g += self.sound_g - left
        self.sound_g, self.as_of = left, day

    def take(self, how: str, most_g: int) -> int:
        """Take sound food out, as much as there is; give how much that was."""
        grams = min(most_g, self.sound_g)
        self.sound_g -= grams
        self.out_g[how] += grams
        return grams

    def steal(self, grams: int) -> None:
        """Let mice take sound food that nobody writes down."""
        self.mice_g += min(grams, self.sound_g)
        self.sound_g -= min(grams, self.sound_g)

    def look_through(self) -> tuple[int, int]:
        """Count sound and rotten, and throw the rotten out."""
        found = self.sound_g, self.rotten_g
        self.lost_g += self.rotten_g
        self.rotten_g = 0
        return found

    @property
    def balances(self) -> bool:
        """Whether every gram that went in is accounted for."""
        there = self.sound_g + self.rotten_g
        return self.in_g == there + self.lost_g + self.mice_g + self.out_g.total()

    def _share(self, day: date) -> float:
        """Give the sound share at a day, straight between whole weeks of the usual curve."""
        weeks = max(0.0, (day - self.put_by).days / 7 * self.pace)
        known = range(len(self.usual))
        after = bisect_right(known, weeks)
        if after >= len(self.usual):
            return self.usual[-1] if weeks == len(self.usual) - 1 else 0.0
        low, high = self.usual[after - 1], self.usual[after]
        return low + (high - low) * (weeks - (after - 1))
