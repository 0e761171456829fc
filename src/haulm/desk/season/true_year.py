"""The year as it truly came, gathered from the diary: what stood, what it gave, how food kept."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import median

from haulm.desk.planning.plans import Made
from haulm.desk.planning.question import ask, on_offer
from haulm.desk.season.review import Reviewed
from haulm.desk.season.true_ready import ReadyBy, ready_in
from haulm.measure.weeks import DAYS_A_WEEK, monday_of
from haulm.plan.records import Planting
from haulm.plan.state import Became
from haulm.planner.counted import of_means
from haulm.planner.question import PlanQuestion
from haulm.planner.true_year import FoodCame, KindCame, Stood, TrueYear
from haulm.season.records import STARTS, key_of
from haulm.season.review_causes import Fared, fared, planned_kg
from haulm.season.review_records import Season, WeekCame

ENDED = frozenset({Became.FAILED, Became.NOT_SOWN, Became.CLEARED})


@dataclass(frozen=True, slots=True)
class Assumed:
    """How a kind's yield of a food is known in the true year.

    By how many plantings that were weighed, and how many of which nobody wrote, which are taken as
    the plan had them. ``share`` is what the kind's plantings gave against the plan [1]; None where
    none was weighed.
    """

    kind: str
    food: str
    weighed: int
    unwritten: int
    share: float | None


@dataclass(frozen=True, slots=True)
class TrueQuestion:
    """The plan's own question, how the year truly came, and what was assumed of it.

    ``ready_by`` says by sowing, or patch that stood, and food what its ready days are taken from.
    """

    question: PlanQuestion
    year: TrueYear
    assumed: tuple[Assumed, ...]
    ready_by: Mapping[tuple[str, str], ReadyBy]


def true_question(reviewed: Reviewed, made: Made) -> TrueQuestion:
    """Put the question of the plan that counts, and gather how the year truly came.

    What was weighed counts as weighed. What nobody wrote of is taken as the plan had it; other
    sowings of a kind give what its plantings gave against the plan, those that were lost left out:
    a loss is taken as one planting's own. What was ready when is taken from the weather record
    where it holds the year, else from the diary. Hours, room and all later weeks are as planned.

    Parameters
    ----------
    reviewed
        The review.
    made
        The plan that counts, with the garden it was made from.
    """
    plan, garden, catalogue = reviewed.plan, made.begun_from, made.catalogue
    planned = made.planned | {
        (p.kind, p.method, monday_of(p.sow_on)) for p in reviewed.in_force if not p.standing
    }
    seed = plan.solver.seed
    offer = on_offer(garden, catalogue, plan.made_on, seed, planned)
    question = of_means(ask(garden, catalogue, plan.made_on, seed, offer=offer).question)
    gathered = _Gathered(reviewed)
    ready = ready_in(question, gathered.year(), made, seed)
    return TrueQuestion(question, ready.year, gathered.assumed(), ready.by)


class _Gathered:
    """What the diary says of every patch that stood."""

    def __init__(self, reviewed: Reviewed) -> None:
        self._season: Season = reviewed.season
        self._span = reviewed.review.span
        self._lines = reviewed.review.lines
        self._picked: dict[tuple[str, str], dict[int, float]] = defaultdict(dict)
        for one in reviewed.review.picked:
            week, weeks = self._span.horizon.week_of(one.day), self._picked[one.key, one.food]
            weeks[week] = weeks.get(week, 0.0) + one.kg
        self._written = {one.food for one in reviewed.review.picked}
        told = {one.key: one for one in fared(self._season)}
        self._patches = [
            (p, told.get(key_of(p), Fared(p, key_of(p), (), None, None, late=False)))
            for p in reviewed.in_force
        ]
        self._kinds = tuple(self._by_kind())

    def year(self) -> TrueYear:
        """Give the year."""
        return TrueYear(
            first_week=self._span.first_week,
            until_week=self._span.until_week,
            stood=tuple(self._stood(planting, one) for planting, one in self._patches),
            kinds=tuple(kind for kind, _ in self._kinds),
            paces=self._paces(),
            eaten_kg={
                (line.line, week.week): week.eaten_kg
                for line in self._lines
                for week in line.weeks
                if week.came is WeekCame.FED
            },
        )

    def assumed(self) -> tuple[Assumed, ...]:
        """Say how each kind's yield is known."""
        weighed = {(kind.kind, kind.food): (kind, count) for kind, count in self._kinds}
        unwritten: dict[tuple[str, str], int] = defaultdict(int)
        for planting, one in self._patches:
            for food in self._foods(planting):
                if self._gave(planting, one, food) is None:
                    unwritten[planting.kind, food] += 1
        names = dict.fromkeys((*weighed, *unwritten))
        return tuple(
            Assumed(
                kind,
                food,
                weighed[kind, food][1] if (kind, food) in weighed else 0,
                unwritten.get((kind, food), 0),
                weighed[kind, food][0].share if (kind, food) in weighed else None,
            )
            for kind, food in names
        )

    def _stood(self, planting: Planting, one: Fared) -> Stood:
        foods = []
        for food in sorted({expects.food for expects in planting.expects}):
            gave = self._gave(planting, one, food)
            if gave is not None:
                foods.append(FoodCame(food, gave))
        gone = one.gone is not None and one.gone.what in ENDED
        area = one.area_m2 if one.area_m2 is not None else planting.area_m2
        return Stood(
            sowing=planting.sowing,
            bed=planting.bed,
            area_m2=planting.area_m2 if planting.standing else area,
            planned_m2=planting.area_m2,
            late_weeks=_late_weeks(planting, one),
            until_week=self._span.horizon.week_of(one.gone.on) + 1 if gone and one.gone else None,
            foods=tuple(foods),
            lost=one.gone is not None and one.gone.what is Became.FAILED,
        )

    def _foods(self, planting: Planting) -> Iterator[str]:
        """Give the foods that a planting was to be picked of in the span."""
        yield from sorted({pick.food for pick in planting.picks if self._span.has(pick.week)})

    def _gave(
        self, planting: Planting, one: Fared, food: str
    ) -> tuple[tuple[int, float], ...] | None:
        """Give what a planting gave of a food week by week [kg]; None where nobody wrote it."""
        picked = self._picked.get((one.key, food), {})
        planned = planned_kg(planting, food, self._season)
        after = {
            pick.week: pick.kg
            for pick in planting.picks
            if pick.food == food and pick.week >= self._span.until_week
        }
        if one.gone is not None and one.gone.what in ENDED:
            return tuple(sorted(picked.items()))
        if picked:
            share = sum(picked.values()) / planned if planned > 0 else 1.0
            later = {week: kg * share for week, kg in after.items()}
            return tuple(sorted((picked | later).items()))
        if planned > 0 and one.entries and food in self._written:
            return tuple(sorted(after.items()))
        return None

    def _by_kind(self) -> Iterator[tuple[KindCame, int]]:
        """Give what each kind's weighed plantings gave of each food against the plan."""
        groups: dict[tuple[str, str], list[tuple[float, float, int]]] = defaultdict(list)
        for planting, one in self._patches:
            if one.gone is not None or planting.area_m2 <= 0:
                continue
            area = planting.area_m2 if planting.standing else one.area_m2 or planting.area_m2
            for food in self._foods(planting):
                picked = self._picked.get((one.key, food), {})
                planned = planned_kg(planting, food, self._season) * area / planting.area_m2
                if picked and planned > 0:
                    weeks = [p.week for p in planting.picks if p.food == food]
                    later = min(picked) - min(weeks) - _late_weeks(planting, one)
                    groups[planting.kind, food].append((sum(picked.values()), planned, later))
        for (kind, food), found in groups.items():
            share = sum(kg for kg, _, _ in found) / sum(kg for _, kg, _ in found)
            later = round(median(weeks for _, _, weeks in found))
            yield KindCame(kind, food, share, later), len(found)

    def _paces(self) -> Mapping[tuple[str, str, str], float]:
        """Give the pace at which counted lots aged, by food, form and store."""
        paces: dict[tuple[str, str, str], list[float]] = defaultdict(list)
        for lot in self._season.closing.lots:
            if any(self._span.holds(count.day) for count in lot.counts):
                food, _, form, store = lot.key
                paces[food, form, store].append(lot.pace)
        return {place: sum(found) / len(found) for place, found in paces.items()}


def _late_weeks(planting: Planting, one: Fared) -> int:
    """Give by how many weeks a planting was begun late, or early where below nought."""
    started: Sequence[int] = [
        (monday_of(entry.day) - monday_of(planting.sow_on)).days // DAYS_A_WEEK
        for entry in one.entries
        if entry.kind in STARTS
    ]
    return started[0] if started and not planting.standing else 0
