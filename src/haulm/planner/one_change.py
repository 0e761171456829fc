"""One thing changed about a year as it truly stood, all else held: which change would pay most.

The patches that stood keep their beds and sizes; what is eaten and put by is free. One programme is
laid for all changes, and each is solved on from the one before. What a change can bring at most is
known beforehand from the prices of the held year: for any areas x, cost ≥ cost held + Σ d · (x − x
held), with d the reduced costs (weak duality). So changes are tried in the order of what they could
bring, and those that could not bring as much as what was found are never solved.
"""

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from haulm.growing.records import Sowing
from haulm.plan.pins import Pin, PinRule
from haulm.planner.arrays import Flags, Floats
from haulm.planner.change_records import Change, Tried, Wish
from haulm.planner.held import lay_held
from haulm.planner.program import AreaProgram
from haulm.planner.question import PlanQuestion, Standing
from haulm.planner.rules.rotation import years_missing
from haulm.planner.stopping import Manner
from haulm.planner.tables import tabulate
from haulm.planner.true_year import Stood, TrueYear, as_it_came, stood_sowings

KEPT_RULES = frozenset({PinRule.FORBID, PinRule.ONLY_IN})
"""Pins that say where nothing may be sown hold in hindsight too."""
SIZED_RULES = frozenset({PinRule.AT_MOST, PinRule.APART})
TOUCHES_M2 = 1e-6
FIRST_SHARE = 0.6
"""So much of a budget goes into one change of each sort before others of a sort are looked at."""


@dataclass(frozen=True, slots=True)
class _Candidate:
    """A change not yet solved: what it could bring at most, and what it seems to bring [kg]."""

    out: int | None
    into: int | None
    most_kg: float
    likely_kg: float
    group: tuple[str, str]


def one_change(
    question: PlanQuestion,
    year: TrueYear,
    wish: Wish,
    told: Callable[[float], None] = lambda _: None,
) -> Tried:
    """Find the single changes that would have paid most.

    Parameters
    ----------
    question, year
        The plan's own question, and how the year truly came.
    wish
        How many are wanted, what is worth telling, and how many may be solved.
    told
        Told of the share done.
    """
    held = _Held(question, year)
    candidates = sorted(held.candidates(wish.least_kg), key=lambda one: -one.likely_kg)
    firsts = list({one.group: one for one in reversed(candidates)}.values())
    firsts.sort(key=lambda one: -one.likely_kg)
    first = {(one.out, one.into) for one in firsts}
    others = [one for one in candidates if (one.out, one.into) not in first]
    search = _Search(held, wish, told)
    search.run(firsts, round(FIRST_SHARE * wish.budget))
    search.run(others, wish.budget)
    left = search.passed_by(candidates)
    return Tried(
        _chosen(search.best, wish.most, wish.least_kg), len(candidates), search.solved, not left
    )


class _Search:
    """Changes tried one after another: the best of each group so far."""

    def __init__(self, held: "_Held", wish: Wish, told: Callable[[float], None]) -> None:
        self._held, self._wish, self._told = held, wish, told
        self._seen: set[tuple[int | None, int | None]] = set()
        self.best: dict[tuple[str, str], Change] = {}
        self.solved = 0

    def run(self, candidates: Sequence[_Candidate], budget: int) -> None:
        """Try changes in their order, as long as the budget lasts."""
        for one in candidates:
            if self.solved >= budget:
                return
            if self._hopeless(one):
                continue
            found = self._held.tried(one)
            self._seen.add((one.out, one.into))
            self.solved += 1
            self._told(self.solved / self._wish.budget)
            if found.gain_kg > self.best.get(one.group, _NOTHING).gain_kg:
                self.best[one.group] = found

    def passed_by(self, candidates: Sequence[_Candidate]) -> bool:
        """Say whether a change was not solved that might have been among the best."""
        return any(
            (one.out, one.into) not in self._seen and not self._hopeless(one) for one in candidates
        )

    def _hopeless(self, one: _Candidate) -> bool:
        """Say whether a change cannot better what was found."""
        floor = _floor(self.best, self._wish.most, self._wish.least_kg)
        mine = self.best.get(one.group, _NOTHING).gain_kg
        return one.most_kg <= max(floor, mine)


_NOTHING = Change("", "", "", 0.0, 0.0)


def _floor(best: Mapping[tuple[str, str], Change], most: int, least_kg: float) -> float:
    """Give what a change has to bring to be among the best."""
    chosen = _chosen(best, most, least_kg)
    return chosen[-1].gain_kg if len(chosen) == most else least_kg


def _chosen(
    best: Mapping[tuple[str, str], Change], most: int, least_kg: float
) -> tuple[Change, ...]:
    """Choose the best of each sort: no kind comes in twice, and no patch is left out twice."""
    chosen: list[Change] = []
    kinds: set[str] = set()
    gone: set[str] = set()
    for (_, kind), one in sorted(best.items(), key=lambda pair: -pair[1].gain_kg):
        if one.gain_kg <= least_kg or kind in kinds or (one.out and one.out in gone):
            continue
        chosen.append(one)
        kinds |= {kind} if kind else set()
        gone |= {one.out} if one.out else set()
    return tuple(chosen[:most])


class _Held:
    """The year as it stood, as one programme in which a patch may go and another may come."""

    def __init__(self, question: PlanQuestion, year: TrueYear) -> None:
        came = as_it_came(question, year)
        stood = stood_sowings(question, year)
        pins = tuple(pin for pin in question.pins if pin.rule in KEPT_RULES)
        offered = [s for s in came.sowings if _may_come(s, came, year, question.pins)]
        mine = tuple(sowing for sowing, _ in stood.values())
        self._year = year
        self._question = replace(came, sowings=(*offered, *mine), pins=pins)
        self.tables = tabulate(self._question)
        self._stood = self._places(stood)
        fixed = [one for id_, one in stood.items() if id_ not in self._stood]
        if fixed:
            # Nobody could have eaten of these, or their bed was closed to them: they stand fixed.
            self._question = _fixing(self._question, fixed)
            self.tables = tabulate(self._question)
            self._stood = self._places({id_: stood[id_] for id_ in self._stood})
        self._own = {place: id_ for id_, place in self._stood.items()}
        self._from = {place: stood[id_][1].sowing for place, id_ in self._own.items()}
        self._lost = {one.id for one in year.stood if one.lost}
        self._used: Flags = np.zeros(len(self.tables.ground.pair_sowing), dtype=np.bool_)
        self._area: Floats = np.zeros(len(self._used))
        for place, id_ in self._own.items():
            self._used[place], self._area[place] = True, stood[id_][1].area_m2
        self._model, self._columns = lay_held(self.tables, self._used)
        self._cost = self._model.cost[self._columns.area]
        self._program = AreaProgram(self._model, self._columns.area, Manner(self._question.seed))
        self._base = self._program.solve(*self._bounds(self._used, {}))
        self._reduced = self._base.reduced_cost[self._columns.area]
        self._short_cost = self._short_by_food()
        self._free = self._free_m2()

    def _places(self, stood: Mapping[str, tuple[Sowing, Stood]]) -> dict[str, int]:
        """Find the pair of every patch that stood."""
        ground = self.tables.ground
        at = {
            (ground.sowings[s].id, ground.beds[b].id): place
            for place, (s, b) in enumerate(zip(ground.pair_sowing, ground.pair_bed, strict=True))
        }
        return {id_: at[id_, one.bed] for id_, (_, one) in stood.items() if (id_, one.bed) in at}

    def candidates(self, least_kg: float) -> Iterator[_Candidate]:
        """Give every change that could bring more than is worth telling.

        A patch that was lost is left alone: that was luck, and no choice.
        """
        comes = [p for p in range(len(self._used)) if self._sowing(p).id not in self._stood]
        by_bed: dict[int, list[int]] = defaultdict(list)
        for place in comes:
            by_bed[int(self.tables.ground.pair_bed[place])].append(place)
            yield from self._candidate(None, place, least_kg)
        for place, id_ in self._own.items():
            if id_ in self._lost or not self._in_year(place):
                continue
            yield from self._candidate(place, None, least_kg)
            yield from self._candidate(place, place, least_kg)
            for other in by_bed[int(self.tables.ground.pair_bed[place])]:
                # The very sowing that stood there would only be given another's luck.
                if self._meet(place, other) and self._sowing(other).id != self._from[place]:
                    yield from self._candidate(place, other, least_kg)

    def _candidate(
        self, out: int | None, into: int | None, least_kg: float
    ) -> Iterator[_Candidate]:
        price = self._question.prices.sowing
        most = likely = 0.0
        kind, group = "", "more"
        if out is not None:
            group = self._own[out]
            most = likely = float(self._reduced[out] * self._area[out]) + price
        if into is not None:
            room = min(self._room(into, out), float(self.tables.ground.most_m2[into]))
            if room < self.tables.ground.least_m2[into] - TOUCHES_M2:
                return
            brings = -min(0.0, float(self._reduced[into])) * room
            kind = self._sowing(into).kind
            most += brings - price
            likely += min(brings, self._wanting(into)) - price
        if most > least_kg:
            yield _Candidate(out, into, most, likely, (group, kind))

    def _wanting(self, place: int) -> float:
        """Give what the lines that a sowing's foods serve are short of, as priced [weighted kg]."""
        return sum(self._short_cost.get(food.food, 0.0) for food in self._sowing(place).foods)

    def _short_by_food(self) -> dict[str, float]:
        """Give by food what the lines it serves are short of, as priced [weighted kg]."""
        short = self._columns.short
        cost = (self._model.cost[short] * self._base.values[short]).sum(axis=1)
        by_line = np.bincount(
            self.tables.food.want_line, weights=cost, minlength=len(self._question.appetites)
        )
        found: dict[str, float] = defaultdict(float)
        for line, appetite in enumerate(self._question.appetites):
            for food in appetite.foods:
                found[food] += float(by_line[line])
        return found

    def tried(self, one: _Candidate) -> Change:
        """Solve one change."""
        used = self._used.copy()
        sizes: dict[int, tuple[float, float]] = {}
        moved = 0
        if one.out is not None:
            used[one.out] = False
            moved -= 1
        if one.into is not None:
            used[one.into] = True
            room = self._room(one.into, one.out)
            sizes[one.into] = (min(float(self.tables.ground.least_m2[one.into]), room), room)
            moved += 1
        found = self._program.solve(*self._bounds(used, sizes))
        gain = self._base.objective - found.objective - self._question.prices.sowing * moved
        out = self._own[one.out] if one.out is not None else ""
        if one.into is None:
            return Change(out, "", "", 0.0, gain)
        area = float(found.values[self._columns.area[one.into]])
        bed = self.tables.ground.beds[int(self.tables.ground.pair_bed[one.into])].id
        return Change(out, self._sowing(one.into).id, bed, area, gain)

    def _bounds(
        self, used: Flags, sizes: Mapping[int, tuple[float, float]]
    ) -> tuple[Floats, Floats, Floats]:
        """Give costs and bounds of all areas: what stood is held, but for what is changed."""
        held = np.where(used, self._area, 0.0)
        lower, upper = held.copy(), held.copy()
        for place, (least, most) in sizes.items():
            lower[place], upper[place] = least, most
        ground, prices = self.tables.ground, self._question.prices
        more_years = years_missing(self.tables, used) - ground.missing
        return self._cost + prices.rotation_m2 * more_years, lower, upper

    def _free_m2(self) -> Floats:
        """(beds, weeks) ground that nothing held [m²]."""
        ground, weeks = self.tables.ground, self.tables.weeks
        free = np.repeat([[bed.area_m2] for bed in ground.beds], weeks, axis=1).astype(np.float64)
        for place in np.nonzero(self._used)[0]:
            sowing = self._sowing(int(place))
            free[ground.pair_bed[place], _weeks(sowing, weeks)] -= self._area[place]
        for s in range(ground.chosen_count, len(ground.sowings)):
            free[int(ground.fixed_bed[s]), _weeks(ground.sowings[s], weeks)] -= ground.fixed_m2[s]
        return free

    def _room(self, place: int, out: int | None) -> float:
        """Give the ground there would be for a sowing in a bed in all of its weeks [m²]."""
        ground, weeks = self.tables.ground, self.tables.weeks
        mine = _weeks(self._sowing(place), weeks)
        bed = int(ground.pair_bed[place])
        room = self._free[bed, mine]
        if out is not None:
            theirs = _weeks(self._sowing(out), weeks)
            inside = np.isin(np.arange(mine.start, mine.stop), np.arange(theirs.start, theirs.stop))
            room = room + self._area[out] * inside
        return max(0.0, float(room.min(initial=ground.beds[bed].area_m2)))

    def _meet(self, one: int, other: int) -> bool:
        """Say whether two pairs would hold ground in one week."""
        a, b = self._sowing(one), self._sowing(other)
        return a.ground_from_week < b.ground_until_week and b.ground_from_week < a.ground_until_week

    def _kind(self, place: int) -> str:
        return self._sowing(place).kind

    def _sowing(self, place: int) -> Sowing:
        """Give the sowing of a pair."""
        ground = self.tables.ground
        sowing: Sowing = ground.sowings[int(ground.pair_sowing[place])]
        return sowing

    def _in_year(self, place: int) -> bool:
        """Say whether a patch was begun in the year that is known."""
        sown = self._question.horizon.week_of(self._sowing(place).sow_on)
        return self._year.first_week <= sown < self._year.until_week


def spared_kg(question: PlanQuestion, one: Stood) -> float:
    """Give what a patch is priced at for being one more sowing, on its ground [weighted kg].

    Whoever leaves it out is spared that, beside its work.
    """
    return question.prices.sowing + question.prices.area_m2 * one.area_m2


def _weeks(sowing: Sowing, weeks: int) -> slice:
    return slice(max(0, sowing.ground_from_week), min(weeks, sowing.ground_until_week))


def _may_come(
    sowing: Sowing, question: PlanQuestion, year: TrueYear, pins: tuple[Pin, ...]
) -> bool:
    """Say whether a sowing is asked about: begun in the year, and not measured by hand."""
    week = question.horizon.week_of(sowing.sow_on)
    sized = any(
        {pin.what, pin.apart_from} & {sowing.kind, sowing.crop, sowing.family}
        for pin in pins
        if pin.rule in SIZED_RULES
    )
    return year.first_week <= week < year.until_week and not sized


def _fixing(question: PlanQuestion, fixed: list[tuple[Sowing, Stood]]) -> PlanQuestion:
    """Let some patches stand for good."""
    ids = {sowing.id for sowing, _ in fixed}
    return replace(
        question,
        sowings=tuple(sowing for sowing in question.sowings if sowing.id not in ids),
        standing=(
            *question.standing,
            *(Standing(sowing, one.bed, one.area_m2) for sowing, one in fixed),
        ),
    )
