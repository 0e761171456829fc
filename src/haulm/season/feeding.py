"""What a plan's picking feeds: every kilogram traced from its planting to the week it is eaten."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from haulm.catalogue.records import Picking
from haulm.plan.records import Helping, Lot, Plan, Planting

NOTHING_KG = 1e-6


@dataclass(frozen=True, slots=True)
class Fed:
    """Food of one week's picking that is eaten for one line of the table in one week [kg].

    ``kept`` says whether it comes out of store.
    """

    line: str
    food: str
    picked: int
    eaten: int
    kg: float
    kept: bool


@dataclass(frozen=True, slots=True)
class TableWorth:
    """What a kilogram of each food is at table.

    Attributes
    ----------
    portion_kg
        A grown-up's usual portion of each food, as lifted [kg].
    kcal_kg
        Energy of each food, as lifted [kcal/kg]; a food without is not known.
    foods_of
        The foods that may serve each line of the table.
    weight
        By line, what a kilogram of it counts by its priority, the middle one 1 [1].
    """

    portion_kg: Mapping[str, float]
    kcal_kg: Mapping[str, float]
    foods_of: Mapping[str, tuple[str, ...]]
    weight: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Lost:
    """What the table lacks.

    Attributes
    ----------
    kg, weighed_kg, portions
        In all [kg]; the same with each line counted by its priority, as plans weigh a shortage
        [kg]; and in a grown-up's usual portions.
    kcal
        Its energy [kcal]; None where that of some of it is not known.
    lines
        (line of the table, kg, share of all that the plan means the line to have), the most first.
    """

    kg: float = 0.0
    weighed_kg: float = 0.0
    portions: float = 0.0
    kcal: float | None = 0.0
    lines: tuple[tuple[str, float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Feeding:
    """What a plan feeds, ready to be asked.

    Attributes
    ----------
    plan
        The plan.
    worth
        What a kilogram of each food is at table, and which foods serve which line.
    fed
        By planting, what of it is eaten, when and for whom.
    lot_fed
        The same by lot.
    picks
        By planting and food, what is picked in each week, whether it is eaten or not [kg].
    glut
        By food and week: what is picked and neither eaten nor put by [kg].
    picked
        By food and week: all that is picked [kg].
    had
        By line, all that the plan means it to have [kg].
    held_m2
        By bed, the ground held in each week [m²].
    how
        How each food of a kind is picked.
    """

    plan: Plan
    worth: TableWorth
    fed: Mapping[str, tuple[Fed, ...]]
    lot_fed: Mapping[str, tuple[Fed, ...]]
    picks: Mapping[tuple[str, str], Mapping[int, float]]
    glut: Mapping[tuple[str, int], float]
    picked: Mapping[tuple[str, int], float]
    had: Mapping[str, float]
    held_m2: Mapping[str, tuple[float, ...]]
    how: Mapping[tuple[str, str], Picking]

    def spare_kg(self, line: str, week: int, planting: str) -> float:
        """Give what of a line's foods is left over in a week without one planting [kg]."""
        spare = 0.0
        for food in self.worth.foods_of.get(line, ()):
            over = self.glut.get((food, week), 0.0)
            if over > NOTHING_KG:
                own = self.picks.get((planting, food), {}).get(week, 0.0)
                spare += over * (1 - own / self.picked[food, week])
        return spare

    def lost(self, lacking: Iterable[Fed], planting: str = "") -> Lost:
        """Add up what the table lacks, less what else of the same line is left over that week.

        Parameters
        ----------
        lacking
            What is not there to be eaten; ``kg`` of each is what lacks.
        planting
            Whose it is: its own surplus does not stand in for it.
        """
        by_week: dict[tuple[str, int], list[Fed]] = defaultdict(list)
        for one in lacking:
            if one.kg > NOTHING_KG:
                by_week[one.line, one.eaten].append(one)
        lines: dict[str, float] = defaultdict(float)
        portions, kcal = 0.0, 0.0
        known = True
        for (line, week), some in by_week.items():
            whole = sum(one.kg for one in some)
            share = max(0.0, whole - self.spare_kg(line, week, planting)) / whole
            for one in some:
                kg = one.kg * share
                lines[line] += kg
                portions += kg / self.worth.portion_kg[one.food]
                known = known and one.food in self.worth.kcal_kg
                kcal += kg * self.worth.kcal_kg.get(one.food, 0.0)
        told = sorted(lines.items(), key=lambda pair: (-pair[1], pair[0]))
        return Lost(
            sum(lines.values()),
            sum(kg * self.worth.weight[line] for line, kg in lines.items()),
            portions,
            kcal if known else None,
            tuple((line, kg, kg / self.had[line]) for line, kg in told if kg > NOTHING_KG),
        )


def feeding_of(
    plan: Plan,
    worth: TableWorth,
    how: Mapping[tuple[str, str], Picking],
) -> Feeding:
    """Trace what every planting of a plan feeds.

    What several plantings gave to one week's picking of a food is shared out by what each gave,
    first of the kind that a lot was put by from, then of all kinds for what is eaten fresh.

    Parameters
    ----------
    plan
        The plan.
    worth
        What a kilogram of each food is at table, and which foods serve which line.
    how
        How each (kind, food) is picked.
    """
    picked: dict[tuple[str, int], float] = defaultdict(float)
    by_kind: dict[tuple[str, str, int], list[tuple[str, float]]] = defaultdict(list)
    picks: dict[tuple[str, str], dict[int, float]] = defaultdict(dict)
    for planting in plan.plantings:
        for pick in planting.picks:
            picked[pick.food, pick.week] += pick.kg
            by_kind[planting.kind, pick.food, pick.week].append((planting.id, pick.kg))
            weeks = picks[planting.id, pick.food]
            weeks[pick.week] = weeks.get(pick.week, 0.0) + pick.kg
    lots = {lot.id: lot for lot in plan.lots}
    put_by = _put_by(plan.lots)
    fresh = _fresh_shares(by_kind, put_by)
    eaten: dict[tuple[str, int], float] = defaultdict(float)
    fed: dict[str, list[Fed]] = defaultdict(list)
    lot_fed: dict[str, list[Fed]] = defaultdict(list)
    for helping in plan.helpings:
        lot = lots.get(helping.lot or "")
        if lot is None:
            eaten[helping.food, helping.week] += helping.kg
        else:
            lot_fed[lot.id].append(_fed(helping, lot.put_by_week, 1.0))
        for planting_id, share in _givers(helping, lot, by_kind, fresh):
            week = lot.put_by_week if lot else helping.week
            fed[planting_id].append(_fed(helping, week, share))
    stored = _stored(plan.lots)
    glut = {
        key: max(0.0, kg - eaten.get(key, 0.0) - stored.get(key, 0.0)) for key, kg in picked.items()
    }
    had: dict[str, float] = defaultdict(float)
    for helping in plan.helpings:
        had[helping.line] += helping.kg
    return Feeding(
        plan,
        worth,
        {key: tuple(some) for key, some in fed.items()},
        {key: tuple(some) for key, some in lot_fed.items()},
        picks,
        glut,
        picked,
        had,
        _held(plan),
        how,
    )


def _fed(helping: Helping, picked: int, share: float) -> Fed:
    kept = helping.lot is not None
    return Fed(helping.line, helping.food, picked, helping.week, helping.kg * share, kept)


def _put_by(lots: Iterable[Lot]) -> Mapping[tuple[str, str, int], float]:
    """Add up what was put by of each kind's food in each week [kg]."""
    kg: dict[tuple[str, str, int], float] = defaultdict(float)
    for lot in lots:
        if not lot.in_hand:
            kg[lot.kind, lot.food, lot.put_by_week] += lot.kg_in
    return kg


def _stored(lots: Iterable[Lot]) -> Mapping[tuple[str, int], float]:
    """Add up what was put by of each food in each week [kg]."""
    kg: dict[tuple[str, int], float] = defaultdict(float)
    for lot in lots:
        if not lot.in_hand:
            kg[lot.food, lot.put_by_week] += lot.kg_in
    return kg


def _fresh_shares(
    by_kind: Mapping[tuple[str, str, int], list[tuple[str, float]]],
    put_by: Mapping[tuple[str, str, int], float],
) -> Mapping[tuple[str, int], list[tuple[str, float]]]:
    """Share out what is eaten fresh of a food in a week over the plantings it was picked from."""
    left: dict[tuple[str, int], list[tuple[str, float]]] = defaultdict(list)
    for (kind, food, week), some in by_kind.items():
        whole = sum(kg for _, kg in some)
        if whole > NOTHING_KG:
            share = max(0.0, 1 - put_by.get((kind, food, week), 0.0) / whole)
            left[food, week] += [(planting, kg * share) for planting, kg in some]
    return {key: _as_shares(some) for key, some in left.items()}


def _as_shares(some: list[tuple[str, float]]) -> list[tuple[str, float]]:
    whole = sum(kg for _, kg in some)
    return [(one, kg / whole) for one, kg in some] if whole > NOTHING_KG else []


def _givers(
    helping: Helping,
    lot: Lot | None,
    by_kind: Mapping[tuple[str, str, int], list[tuple[str, float]]],
    fresh: Mapping[tuple[str, int], list[tuple[str, float]]],
) -> Iterator[tuple[str, float]]:
    """Give the plantings a helping comes from, each with its share."""
    if lot is None:
        yield from fresh.get((helping.food, helping.week), ())
    elif not lot.in_hand:
        yield from _as_shares(by_kind.get((lot.kind, lot.food, lot.put_by_week), []))


def _held(plan: Plan) -> Mapping[str, tuple[float, ...]]:
    """Add up the ground that is held in each bed, week by week [m²]."""
    weeks = plan.horizon.weeks
    held = {bed.id: [0.0] * weeks for bed in plan.beds}
    for planting in plan.plantings:
        for week in _weeks_in_ground(planting, weeks):
            held[planting.bed][week] += planting.area_m2
    return {bed: tuple(some) for bed, some in held.items()}


def _weeks_in_ground(planting: Planting, weeks: int) -> range:
    return range(max(0, planting.from_week), min(weeks, planting.until_week))
