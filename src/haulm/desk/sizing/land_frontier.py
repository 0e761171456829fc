"""The frontier of land: piece by piece of ground planned, from little to enough."""

from collections.abc import Callable, Sequence

from haulm.desk.sizing.land_ground import AMPLE_M2, ImaginedGround
from haulm.desk.sizing.land_steps import LandStep, fullest_m2, ground_that_holds, share_fed, step_of
from haulm.plan.records import Plan

ENOUGH = 0.99
"""Ground is enough when it feeds this share of what any amount of ground would [1]."""

PARTS = (0.08, 0.17, 0.33, 0.5, 0.67, 0.83)
"""The smaller steps, as parts of the ground that is enough."""

HALVINGS = 4
"""How often the span in which enough ground lies is halved."""

COMES_IN = 0.5
"""A line comes in on the first ground that gives it this share of what the most ground does [1]."""

NOTHING = 1e-6
WHOLE_M2 = 8.0
"""Ground from this size on is asked about in whole square metres, less in tenths [m²]."""


class Frontier:
    """Plans of one table on more and more ground; each size is planned once.

    Parameters
    ----------
    ground
        The table, place and stores.
    tell
        Told that another piece of ground has been planned.
    """

    def __init__(self, ground: ImaginedGround, tell: Callable[[], None]) -> None:
        self._ground = ground
        self._tell = tell
        self._plans: dict[tuple[float, bool], Plan] = {}
        self._most = self._plan(AMPLE_M2)
        self.most_kg = self._fed(self._most)

    def enough_m2(self, *, resting: bool = True) -> float:
        """Find the least open ground that is enough, to a sixteenth of a first guess [m²].

        The first guess is ground on which the plan of ample ground has room; it is enough for sure.
        Of less ground each is planned, and found to be enough or not.
        """
        most = self._most if resting else self._plan(AMPLE_M2, resting=False)
        held = ground_that_holds(most, self._shares) if resting else fullest_m2(most)
        # Rounded up, so that the plan still has its room.
        high, low = rounded(held) + (1.0 if held >= WHOLE_M2 else 0.1), 0.0
        wanted = ENOUGH * self.most_kg
        for number in range(HALVINGS):
            # More often than not, enough is not far below.
            middle = rounded(high - (high - low) / (4 if number == 0 else 2))
            if not low < middle < high:
                break
            if self._fed(self._plan(middle, resting=resting)) >= wanted:
                high = middle
            else:
                low = middle
        return high

    def steps(self, enough_m2: float, own_m2: float | None) -> tuple[LandStep, ...]:
        """Plan the smaller steps, and give the whole frontier, the least ground first.

        A plan of less ground can be made on more: where the search found a worse one there, the
        better one holds.
        """
        sizes = {rounded(part * enough_m2) for part in PARTS} | {enough_m2}
        sizes |= set() if own_m2 is None else {own_m2}
        for size in sizes:
            self._plan(size)
        best: Plan | None = None
        found = []
        for size in sorted(size for size in sizes if size > 0):
            plan = self._plan(size)
            if best is None or plan.solver.objective <= best.solver.objective:
                best = plan
            found.append(step_of(self._ground, size, best))
        return tuple(found)

    @property
    def _shares(self) -> dict[str, float]:
        return dict(self._ground.question(AMPLE_M2).most_of_family)

    def _plan(self, open_m2: float, *, resting: bool = True) -> Plan:
        key = open_m2, resting
        if key not in self._plans:
            self._plans[key] = self._ground.plan(open_m2, resting=resting)
            self._tell()
        return self._plans[key]

    def _fed(self, plan: Plan) -> float:
        return share_fed(plan, southern=self._ground.opened.garden.place.southern)


def rounded(area_m2: float) -> float:
    """Round ground to what a grower would name: whole square metres, tenths of little [m²]."""
    return float(round(area_m2)) if area_m2 >= WHOLE_M2 else round(area_m2, 1)


def comes_in(steps: Sequence[LandStep]) -> tuple[tuple[str, ...], ...]:
    """Name the lines that come in at each step: those that get half of what the last step gives.

    A line that is given nothing at all comes in nowhere.
    """
    most = {one.line: one.share for one in steps[-1].lines}
    there: set[str] = set()
    found = []
    for step in steps:
        come = [
            one
            for one in step.lines
            if one.line not in there
            and most[one.line] > NOTHING
            and one.share >= COMES_IN * most[one.line]
        ]
        there |= {one.line for one in come}
        found.append(tuple(one.name for one in come))
    return tuple(found)
