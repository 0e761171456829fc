"""The state of a garden on a day: what a plan had done by then, and what was noted otherwise.

How it was told (notes, a diary) stands apart from what is so (what grows where, with how much still
hoped for; what lies in store): a plan made again needs only the second.

What was due before the Monday of the day counts as done as planned, unless a note says otherwise.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from haulm.measure.weeks import DAYS_A_WEEK, monday_of
from haulm.plan.records import Lot, Plan, Planting

LEAST_KG = 0.005
"""A lot of less is not worth telling [kg]."""


class Became(StrEnum):
    """What may become of a planting other than planned."""

    FAILED = "failed"
    NOT_SOWN = "not sown"
    LATE = "late"
    GIVES = "gives"
    CLEARED = "cleared"
    EATEN_UP = "eaten up"


GONE = frozenset({Became.FAILED, Became.NOT_SOWN, Became.CLEARED, Became.EATEN_UP})
"""After these nothing of a planting stands, and its ground is free."""


@dataclass(frozen=True, slots=True)
class Noted:
    """What a grower has seen: of a planting, or of a food in store.

    Attributes
    ----------
    what, on
        What became of it, and the day it was seen.
    kind, bed
        Of which planting; None for a food in store.
    sown
        Any day of the week in which it was to be sown or set; None for all of the kind that grew
        in the bed on that day.
    days
        Late: by how many days [days].
    share
        Gives: the share of what was hoped for, from that day on [1].
    food, place
        Eaten up: a food, in one store or (None) in all.
    """

    what: Became
    on: date
    kind: str | None = None
    bed: str | None = None
    sown: date | None = None
    days: int | None = None
    share: float | None = None
    food: str | None = None
    place: str | None = None


@dataclass(frozen=True, slots=True)
class Growing:
    """A planting that was started and still holds its ground, or its trays.

    ``taken`` is what was taken of each food since it was planted [kg]; ``hoped`` the share of a
    full yield it is expected to give [1]; ``late_days`` how far it is behind [days].
    """

    planting: Planting
    taken: tuple[tuple[str, float], ...]
    hoped: float
    late_days: int


@dataclass(frozen=True, slots=True)
class LotLeft:
    """What is still sound of a lot on the day [kg]."""

    food: str
    kind: str
    form: str
    place: str
    kg: float
    put_by: date


@dataclass(frozen=True, slots=True)
class PlanState:
    """What a plan has come to on a day.

    Attributes
    ----------
    growing, cleared
        Plantings that hold ground or trays, and those that have had their time.
    gone
        Plantings that are no more, each with the note that says so.
    lots
        What lies in store.
    past
        (bed, crop, year) of what left its bed since the plan was made.
    stock_used
        Planting stock started since the plan was made, by kind [units].
    eaten_kg
        What was eaten of the garden since the plan was made [kg].
    matched
        The notes that speak of something in the plan, by their place counted from 0.
    """

    growing: tuple[Growing, ...]
    cleared: tuple[Planting, ...]
    gone: tuple[tuple[Planting, Noted], ...]
    lots: tuple[LotLeft, ...]
    past: tuple[tuple[str, str, int], ...]
    stock_used: Mapping[str, float]
    eaten_kg: float
    matched: frozenset[int]


@dataclass(frozen=True, slots=True)
class _Course:
    """How a planting fared up to a day: its notes summed up."""

    planting: Planting
    gone: Noted | None
    gives: Noted | None
    late_days: int

    @property
    def hoped(self) -> float:
        """The share of a full yield it is expected to give [1]."""
        told = None if self.gives is None else self.gives.share
        return self.planting.hoped if told is None else told

    @property
    def behind_weeks(self) -> int:
        """By how many weeks it is later than the plan knew [weeks]."""
        return -(-(self.late_days - self.planting.late_days) // DAYS_A_WEEK)

    def begun(self, monday: date) -> bool:
        """Say whether it was started by a Monday."""
        late = timedelta(days=self.late_days - self.planting.late_days)
        return self.planting.standing or self.planting.sow_on + late < monday

    def holds(self, monday: date) -> bool:
        """Say whether it still holds its ground from a Monday on."""
        late = timedelta(days=self.late_days - self.planting.late_days)
        return self.gone is None and self.planting.clear_by + late > monday

    def came_true(self, monday: date, until: date) -> float:
        """Give the share of what was to be picked in a week, before a day, that was picked [1]."""
        if self.gone is not None and (
            self.gone.what is Became.NOT_SOWN or monday >= monday_of(self.gone.on)
        ):
            return 0.0
        if monday >= until - timedelta(weeks=max(0, self.behind_weeks)):
            return 0.0
        if self.gives is not None and monday >= monday_of(self.gives.on):
            return self.hoped / self.planting.hoped if self.planting.hoped > 0 else 0.0
        return 1.0


def state_on(plan: Plan, day: date, notes: Sequence[Noted] = ()) -> PlanState:
    """Give what a plan has come to on a day.

    Parameters
    ----------
    plan
        The plan that holds.
    day
        The day; all that was due before its Monday counts as done.
    notes
        What was noted; what was seen after the day does not count.
    """
    monday = monday_of(day)
    matched: set[int] = set()
    courses = [_course(planting, day, notes, matched) for planting in plan.plantings]
    begun = [course for course in courses if course.begun(monday)]
    gone = [(c.planting, c.gone) for c in courses if c.gone is not None]
    growing = tuple(
        Growing(c.planting, _taken(c, plan, monday), c.hoped, c.late_days)
        for c in begun
        if c.holds(monday)
    )
    over = [c for c in begun if not c.holds(monday) and _was_there(c)]
    used: dict[str, float] = defaultdict(float)
    for course in begun:
        if not course.planting.standing and _was_there(course):
            used[course.planting.kind] += course.planting.stock
    week = plan.horizon.week_of(monday)
    return PlanState(
        growing=growing,
        cleared=tuple(c.planting for c in over if c.gone is None),
        gone=tuple(gone),
        lots=_lots(plan, courses, (monday, day), notes, matched),
        past=tuple(
            (c.planting.bed, c.planting.crop, (c.gone.on if c.gone else c.planting.clear_by).year)
            for c in over
            if c.planting.in_ground_from < monday
        ),
        stock_used=dict(used),
        eaten_kg=sum(helping.kg for helping in plan.helpings if helping.week < week),
        matched=frozenset(matched),
    )


def speaks_of(note: Noted, planting: Planting) -> bool:
    """Say whether a note is about a planting."""
    if (note.kind, note.bed) != (planting.kind, planting.bed):
        return False
    if note.sown is not None:
        return monday_of(note.sown) in {monday_of(planting.sow_on), monday_of(planting.set_on)}
    return planting.sow_on <= note.on < planting.clear_by


def _course(planting: Planting, day: date, notes: Sequence[Noted], matched: set[int]) -> _Course:
    """Sum up the notes on a planting: the first that ends it, the last of each other sort."""
    mine = sorted(
        (
            (note.on, n)
            for n, note in enumerate(notes)
            if note.on <= day and speaks_of(note, planting)
        )
    )
    matched.update(n for _, n in mine)
    said = [notes[n] for _, n in mine]
    gives = [note for note in said if note.what is Became.GIVES]
    late = [note for note in said if note.what is Became.LATE]
    return _Course(
        planting,
        next((note for note in said if note.what in GONE), None),
        gives[-1] if gives else None,
        (late[-1].days or 0) if late else planting.late_days,
    )


def _was_there(course: _Course) -> bool:
    return course.gone is None or course.gone.what is not Became.NOT_SOWN


def _taken(course: _Course, plan: Plan, monday: date) -> tuple[tuple[str, float], ...]:
    """Add up what was taken of each food of a planting by a Monday [kg]."""
    taken: dict[str, float] = defaultdict(float, course.planting.taken)
    for pick in course.planting.picks:
        begins = plan.horizon.monday(pick.week)
        if begins < monday:
            taken[pick.food] += pick.kg * course.came_true(begins, monday)
    return tuple(sorted((food, kg) for food, kg in taken.items() if kg > 0))


def _lots(
    plan: Plan,
    courses: Sequence[_Course],
    when: tuple[date, date],
    notes: Sequence[Noted],
    matched: set[int],
) -> tuple[LotLeft, ...]:
    """Give what is left of every lot put by before a Monday, lots of one sort and week together."""
    monday, day = when
    left: dict[tuple[str, str, str, str, date], float] = defaultdict(float)
    for lot in plan.lots:
        put_by = plan.horizon.monday(lot.put_by_week) - timedelta(weeks=lot.age_weeks)
        if put_by >= monday:
            continue
        ended = [
            n
            for n, note in enumerate(notes)
            if note.food == lot.food
            and note.place in {None, lot.place}
            and put_by <= note.on <= day
        ]
        matched.update(ended)
        kg = 0.0 if ended else _left_kg(plan, lot, _came_true(plan, lot, courses, monday), monday)
        left[lot.food, lot.kind, lot.form, lot.place, put_by] += kg
    return tuple(
        LotLeft(food, kind, form, place, kg, put_by)
        for (food, kind, form, place, put_by), kg in left.items()
        if kg >= LEAST_KG
    )


def _came_true(plan: Plan, lot: Lot, courses: Sequence[_Course], monday: date) -> float:
    """Give the share of a lot's picking that was picked: by what its kind's plantings gave [1]."""
    if lot.in_hand:
        return 1.0
    planned = true = 0.0
    begins = plan.horizon.monday(lot.put_by_week)
    for course in courses:
        if course.planting.kind == lot.kind:
            for pick in course.planting.picks:
                if (pick.food, pick.week) == (lot.food, lot.put_by_week):
                    planned += pick.kg
                    true += pick.kg * course.came_true(begins, monday)
    return true / planned if planned > 0 else 1.0


def _left_kg(plan: Plan, lot: Lot, share: float, monday: date) -> float:
    """Give what is sound of a lot on a Monday once what was due before it was taken out [kg]."""
    now = plan.horizon.week_of(monday)

    def sound(week: int) -> float:
        age = lot.age_weeks + week if lot.in_hand else week - lot.put_by_week
        start = lot.sound[lot.age_weeks] if lot.in_hand else 1.0
        return lot.sound[age] / start if age < len(lot.sound) else 0.0

    gone = sum(kg / sound(week) for week, kg in lot.eaten if week < now)
    if lot.seed_week is not None and lot.seed_week < now:
        gone += lot.seed_kg / sound(lot.seed_week)
    return max(0.0, lot.kg_in * share - gone) * sound(now)
