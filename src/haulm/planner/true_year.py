"""The year as it truly came, put as a question: what stood, what it gave, how food kept.

Everything of the plan's own question stays but for what is known to have been otherwise: yields,
weeks, ground, keeping, appetite. Where the year came just as planned it is the same question.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from haulm.catalogue.records import Picking, Role
from haulm.growing.records import Sowing, SowingFood
from haulm.household.records import Appetite
from haulm.larder.records import KeepRule
from haulm.planner.question import PlanQuestion, Standing

TOUCHES_M2 = 1e-6
NEXT_TO_NOTHING_KG_M2 = 1e-6
"""What gave nothing is taken to have given this, so that its ground can still be asked about."""


@dataclass(frozen=True, slots=True)
class FoodCame:
    """What a patch gave of a food: how much in all, week by week [kg]."""

    food: str
    by_week: tuple[tuple[int, float], ...]

    @property
    def kg(self) -> float:
        """What it gave in all [kg]."""
        return sum(kg for _, kg in self.by_week)


@dataclass(frozen=True, slots=True)
class Stood:
    """A patch as it truly stood.

    Attributes
    ----------
    sowing, bed
        The sowing it came from, and its bed.
    area_m2
        Its ground [m²].
    planned_m2
        The ground it was to have [m²].
    late_weeks
        By how many weeks it was begun late [weeks].
    until_week
        The week in which its ground was free, where that was sooner than planned; None for as
        planned, also where it was begun late.
    foods
        What it gave; a food that is not in it gave what the question says.
    lost
        Whether a trouble, or nothing coming up, ended it: that was luck, and no choice.
    """

    sowing: str
    bed: str
    area_m2: float
    planned_m2: float
    late_weeks: int = 0
    until_week: int | None = None
    foods: tuple[FoodCame, ...] = ()
    lost: bool = False

    @property
    def id(self) -> str:
        """The id of its sowing as it truly was: the bed belongs to it."""
        return f"{self.sowing}:{self.bed}"


@dataclass(frozen=True, slots=True)
class KindCame:
    """How a kind's food came beside the plan: share of the yield [1], weeks later."""

    kind: str
    food: str
    share: float
    later_weeks: int = 0


@dataclass(frozen=True, slots=True)
class TrueYear:
    """A year as it truly came.

    Attributes
    ----------
    first_week, until_week
        The weeks of the plan's horizon it is known for; all later ones are as planned.
    stood
        What truly stood of what the plan had chosen.
    kinds
        How other sowings of a kind are taken to have come.
    paces
        How fast food aged in store against the usual, by (food, form, store) [1].
    eaten_kg
        What was eaten by line and week [kg]: nobody wanted less.
    grown
        By the id of a sowing, or of a patch that stood, what the weather of the record made of its
        foods: when they were ready, and the weeks in which they could be taken.
    """

    first_week: int
    until_week: int
    stood: tuple[Stood, ...]
    kinds: tuple[KindCame, ...] = ()
    paces: Mapping[tuple[str, str, str], float] = field(default_factory=dict)
    eaten_kg: Mapping[tuple[str, int], float] = field(default_factory=dict)
    grown: Mapping[str, Mapping[str, SowingFood]] = field(default_factory=dict)


def as_it_came(question: PlanQuestion, year: TrueYear) -> PlanQuestion:
    """Put a plan's question as the year truly came: yields, weeks, keeping, appetite.

    What stood already at its beginning has what it truly gave; the sowings to choose from have what
    their kind gave. Nothing is held yet: see :func:`as_stood`.
    """
    came = {(one.kind, one.food): one for one in year.kinds}
    stood = {(one.sowing, one.bed): one for one in year.stood}

    def of_kind(sowing: Sowing) -> Sowing:
        grown = year.grown.get(sowing.id, {})
        foods = tuple(
            _of_kind(f, came.get((sowing.kind, f.food)), grown.get(f.food), year)
            for f in sowing.foods
        )
        return replace(sowing, foods=foods, ground_until_week=_until(sowing, foods, grown))

    def standing(one: Standing) -> Standing:
        mine = stood.get((one.sowing.id, one.bed))
        if mine is None:
            return one
        foods = _all_gave(one.sowing, mine, 0, year)
        return replace(one, sowing=replace(one.sowing, foods=foods))

    return replace(
        question,
        sowings=tuple(of_kind(sowing) for sowing in question.sowings),
        standing=tuple(standing(one) for one in question.standing),
        appetites=tuple(_eaten(one, year.eaten_kg) for one in question.appetites),
        keep_rules=tuple(_at_pace(rule, year.paces) for rule in question.keep_rules),
        before=(),
    )


def stood_sowings(question: PlanQuestion, year: TrueYear) -> Mapping[str, tuple[Sowing, Stood]]:
    """Give what truly stood as sowings of their own, by their ids, what stood before left out.

    A patch whose sowing the question does not offer is left out.
    """
    offered = {sowing.id: sowing for sowing in question.sowings}
    area_m2 = {bed.id: bed.area_m2 for bed in question.beds}
    found: dict[str, tuple[Sowing, Stood]] = {}
    for bed, room in area_m2.items():
        mine = [one for one in year.stood if one.bed == bed and one.sowing in offered]
        begun = {one.id: (_as_begun(offered[one.sowing], one, year), one) for one in mine}
        if _fullest_m2(question, bed, begun) > room + TOUCHES_M2:
            # More was written than the bed holds: then each has the ground it was to have.
            mine = [replace(one, area_m2=min(one.area_m2, one.planned_m2)) for one in mine]
            begun = {one.id: (_as_begun(offered[one.sowing], one, year), one) for one in mine}
        found |= begun
    return found


def _fullest_m2(
    question: PlanQuestion, bed: str, begun: Mapping[str, tuple[Sowing, Stood]]
) -> float:
    """Give the most ground that is held in a bed in any week [m²]."""
    held = [(one.sowing, one.area_m2) for one in question.standing if one.bed == bed]
    held += [(sowing, one.area_m2) for sowing, one in begun.values()]
    return max(
        (
            sum(m2 for s, m2 in held if s.ground_from_week <= week < s.ground_until_week)
            for week in {max(sowing.ground_from_week, 0) for sowing, _ in held}
        ),
        default=0.0,
    )


def as_stood(
    question: PlanQuestion, year: TrueYear, without: frozenset[str] = frozenset()
) -> PlanQuestion:
    """Put the year's question with all that truly stood held, and nothing else to be planted.

    Parameters
    ----------
    question
        The plan's own question.
    year
        How it truly came.
    without
        Patches left out, by their ids: their ground lies free.
    """
    came = as_it_came(question, year)
    held = tuple(
        Standing(sowing, one.bed, one.area_m2)
        for id_, (sowing, one) in stood_sowings(question, year).items()
        if id_ not in without
    )
    return replace(came, sowings=(), standing=(*came.standing, *held), pins=())


def _as_begun(sowing: Sowing, one: Stood, year: TrueYear) -> Sowing:
    """Give a sowing as it was truly begun, on its own ground.

    Its ground is free when it was to be, or when it was cleared: what follows was planted there.
    """
    late = one.late_weeks
    until = sowing.ground_until_week if one.until_week is None else one.until_week
    until = max(min(until, sowing.ground_until_week), sowing.ground_from_week + 1)
    start = min(sowing.ground_from_week + max(late, 0), until - 1)
    return replace(
        sowing,
        id=one.id,
        ground_from_week=start,
        ground_until_week=until,
        tray_weeks=(sowing.tray_weeks[0] + late, sowing.tray_weeks[1] + late),
        work_min_m2=tuple((week + late, minutes) for week, minutes in sowing.work_min_m2),
        foods=_all_gave(sowing, one, late, year),
    )


def _all_gave(sowing: Sowing, one: Stood, late: int, year: TrueYear) -> tuple[SowingFood, ...]:
    """Give what a patch truly gave of all its foods.

    Where one may be taken instead of another, the ground that each took is not known from their
    weights alone: then all of them gave the same share of what the question says, that by which
    the weights come to the ground there was.
    """
    gave, grown = {food.food: food for food in one.foods}, year.grown.get(one.id, {})
    dated = [(food, _dated(food, grown.get(food.food), late, year)) for food in sowing.foods]
    rivals = [food for food in sowing.foods if food.role is not Role.BY_PRODUCT]
    if len(rivals) < 2 or not gave or one.area_m2 <= 0:  # noqa: PLR2004 - one has no rival
        return tuple(_gave(then, gave.get(then.food), one.area_m2) for _, then in dated)
    ground_m2 = sum(
        gave[food.food].kg / food.yield_kg_m2
        for food in rivals
        if food.food in gave and food.yield_kg_m2 > 0
    )
    share = ground_m2 / one.area_m2
    return tuple(
        _yielding(then, max(share * food.yield_kg_m2, NEXT_TO_NOTHING_KG_M2))
        for food, then in dated
    )


def _gave(food: SowingFood, came: FoodCame | None, area_m2: float) -> SowingFood:
    """Give what a patch truly gave of a food; what its dates say where nobody wrote it."""
    if came is None:
        return food
    whole = came.kg
    if whole <= 0 or area_m2 <= 0:
        return _yielding(food, NEXT_TO_NOTHING_KG_M2)
    weeks = sorted(came.by_week)
    if food.picking is Picking.STAND:
        # What stands until it is wanted can be taken in any week from the first to the last.
        last = max(weeks[-1][0], max((w for w, _ in food.week_shares), default=0))
        shares = tuple((week, 1.0) for week in range(weeks[0][0], last + 1))
    else:
        shares = tuple((week, kg / whole) for week, kg in weeks)
    moved = replace(food, first_week=weeks[0][0], week_shares=shares)
    return _yielding(moved, whole / area_m2)


def _of_kind(
    food: SowingFood, came: KindCame | None, grown: SowingFood | None, year: TrueYear
) -> SowingFood:
    """Give a food of another sowing as the weather and its kind came, within the year.

    Its weeks are those of the record, else so much later as its kind's plantings were; its yield is
    what those gave against the plan.
    """
    if not year.first_week <= food.first_week < year.until_week:
        came = None
    then = _dated(food, grown, came.later_weeks if came else 0, year)
    if came is None:
        return then
    return _yielding(then, max(came.share * food.yield_kg_m2, NEXT_TO_NOTHING_KG_M2))


def _dated(food: SowingFood, grown: SowingFood | None, late: int, year: TrueYear) -> SowingFood:
    """Give a food its true weeks: as the weather of the record had them, else so much later.

    Of the weeks after the year only those stay that it had in the plan.
    """
    if grown is None or not is_dated(food, grown, year):
        return _moved(food, late)
    planned = {week for week, _ in food.week_shares}
    shares = [(w, share) for w, share in grown.week_shares if w < year.until_week or w in planned]
    return replace(grown, week_shares=tuple(shares)) if shares else _moved(food, late)


def is_dated(food: SowingFood, grown: SowingFood, year: TrueYear) -> bool:
    """Say whether a food's dates by the record count: it was ready, or was to be, in the year."""
    first = grown.first_week
    return year.first_week <= first and min(first, food.first_week) < year.until_week


def _until(sowing: Sowing, foods: tuple[SowingFood, ...], grown: Mapping[str, SowingFood]) -> int:
    """Let a sowing hold its ground until the last of what the record dates is taken."""
    weeks = [week for food in foods if food.food in grown for week, _ in food.week_shares]
    return max([sowing.ground_until_week, *(week + 1 for week in weeks)])


def _moved(food: SowingFood, weeks: int) -> SowingFood:
    if not weeks:
        return food
    return replace(
        food,
        first_week=food.first_week + weeks,
        week_shares=tuple((week + weeks, share) for week, share in food.week_shares),
    )


def _yielding(food: SowingFood, kg_m2: float) -> SowingFood:
    if kg_m2 == food.yield_kg_m2:
        return food
    times = kg_m2 / food.yield_kg_m2 if food.yield_kg_m2 > 0 else 0.0
    return replace(
        food,
        yield_kg_m2=kg_m2,
        yield_low_kg_m2=food.yield_low_kg_m2 * times,
        yield_high_kg_m2=food.yield_high_kg_m2 * times,
    )


def _eaten(appetite: Appetite, eaten_kg: Mapping[tuple[str, int], float]) -> Appetite:
    """Let a line want at least what was truly eaten of it."""
    kg = tuple(max(kg, eaten_kg.get((appetite.line, w), 0.0)) for w, kg in enumerate(appetite.kg))
    return replace(appetite, kg=kg, certainty=None)


def _at_pace(rule: KeepRule, paces: Mapping[tuple[str, str, str], float]) -> KeepRule:
    """Let a food keep as it truly did: at a pace of r, what is w weeks old is as old as r·w."""
    pace = paces.get((rule.food, rule.form.value, rule.place), 1.0)
    if pace == 1.0:
        return rule
    old = np.arange(len(rule.sound), dtype=np.float64)
    ages = np.arange(int(old[-1] / pace) + 1, dtype=np.float64)
    sound = tuple(float(share) for share in np.interp(ages * pace, old, np.asarray(rule.sound)))
    return replace(rule, sound=sound)
