"""Tell two plans apart: what comes, goes, moves, and what the table gains or loses by it.

Plantings are matched by label: sowing and bed first, then kind and method. What has had its time
when the later plan starts, and what stands, is no choice of a plan, and is not told.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from haulm.desk.planning.reasons import Change, Difference, Reasons
from haulm.measure.sentences import capital
from haulm.measure.units import Units, show_area, show_mass
from haulm.measure.weeks import DAYS_A_WEEK, monday_of
from haulm.plan.pins import Pin
from haulm.plan.records import Plan, Planting
from haulm.plan.state import Noted
from haulm.planner.words import MONTHS

RESIZED_M2 = 0.05
RESIZED_SHARE = 0.01
"""A patch is told as resized where it changes by more than both: this ground, and this share."""
SHIFTED_WEEKS = 8
"""Sowings further apart than this are not one sowing at another time, but two."""
TOLD_KG = 0.1
TOLD_SHARE = 0.01
"""A line is told where more changes than this many kg, or than this share of what is wanted."""
NOTHING_KG = 1e-3


@dataclass(frozen=True, slots=True)
class _Patch:
    """All that one sowing has in one bed."""

    planting: Planting
    bed: str
    area_m2: float
    stands: bool

    @property
    def week(self) -> date:
        """The Monday of its sowing."""
        return monday_of(self.planting.sow_on)


@dataclass(frozen=True, slots=True)
class _Words:
    """How plantings are spoken of."""

    names: Mapping[str, str]
    units: Units

    def kind(self, patch: _Patch) -> str:
        return capital(self.names.get(patch.planting.kind, patch.planting.kind))

    def area(self, patch: _Patch) -> str:
        return show_area(patch.area_m2, self.units)

    def week(self, patch: _Patch) -> str:
        return f"week of {patch.week.day} {MONTHS[patch.week.month - 1]} {patch.week.year}"


def differences(
    before: Plan,
    after: Plan,
    names: Mapping[str, str],
    units: Units,
    noted: Sequence[tuple[Planting, Noted]] = (),
) -> tuple[Difference, ...]:
    """Tell in what a plan differs from the one before: the largest ground first, then the table.

    Parameters
    ----------
    before, after
        The two plans; the later one may start later.
    names
        Display names by id, for kinds, beds and lines of the table.
    units
        Metric or us.
    noted
        Plantings of the plan before that are no more, each with the note that says so: they are
        told first, and what takes their ground or follows at table is told with them as the reason.
    """
    first_day = after.horizon.first_day
    old = {
        label: p for label, p in _patches(before, names).items() if p.planting.clear_by > first_day
    }
    new = _patches(after, names)
    words = _Words(names, units)
    told = [
        _told(words, old.pop(label), new.pop(label)) for label in sorted(old.keys() & new.keys())
    ]
    left, come = list(old.values()), list(new.values())
    told += [_told(words, was, now) for was, now in _moves(left, come)]
    ended = {(p.sowing, p.bed): note for p, note in noted}
    told += [_gone(words, was) for was in left if not was.stands and _label(was) not in ended]
    told += [_new(words, now) for now in come if not now.stands]
    reasons = Reasons(noted, names)
    plantings = [reasons.of_ground(one, after) for one in told if one is not None]
    lines = [reasons.of_line(one) for one in _lines(before, after, words)]
    return (
        *reasons.told(units),
        *sorted(plantings, key=lambda each: (-_ground_m2(each), each.sentence)),
        *sorted(lines, key=lambda each: (-abs(each.less_short_kg), each.sentence)),
    )


def _label(patch: _Patch) -> tuple[str, str]:
    return patch.planting.sowing, patch.planting.bed


def _patches(plan: Plan, names: Mapping[str, str]) -> dict[tuple[str, str], _Patch]:
    """Add up a plan's plantings by sowing and bed."""
    beds = {bed.id: bed.name for bed in plan.beds}
    groups: dict[tuple[str, str], list[Planting]] = defaultdict(list)
    for planting in plan.plantings:
        groups[planting.sowing, planting.bed].append(planting)
    return {
        label: _Patch(
            group[0],
            names.get(label[1], beds.get(label[1], label[1])),
            sum(planting.area_m2 for planting in group),
            all(planting.standing for planting in group),
        )
        for label, group in groups.items()
    }


def _moves(left: list[_Patch], come: list[_Patch]) -> Iterator[tuple[_Patch, _Patch]]:
    """Pair what goes with what comes of one kind and method, nearest first; take both away."""

    def apart(pair: tuple[_Patch, _Patch]) -> tuple[int, bool, float, str, str]:
        was, now = pair
        weeks = abs((now.week - was.week).days) // DAYS_A_WEEK
        other_bed = was.planting.bed != now.planting.bed
        return weeks, other_bed, abs(now.area_m2 - was.area_m2), was.planting.id, now.planting.id

    pairs = [
        (was, now)
        for was in left
        for now in come
        if (was.planting.kind, was.planting.method) == (now.planting.kind, now.planting.method)
        and apart((was, now))[0] <= SHIFTED_WEEKS
    ]
    for was, now in sorted(pairs, key=apart):
        if was in left and now in come:
            left.remove(was)
            come.remove(now)
            yield was, now


def _told(words: _Words, was: _Patch, now: _Patch) -> Difference | None:
    """Tell what became of a patch; None where it is as it was."""
    kind, old, new = words.kind(now), words.area(was), words.area(now)
    weeks = (now.week - was.week).days // DAYS_A_WEEK
    resized = abs(now.area_m2 - was.area_m2) > max(RESIZED_M2, RESIZED_SHARE * was.area_m2)
    if was.planting.bed != now.planting.bed:
        change = Change.MOVED
        sentence = f"{kind} will leave {was.bed} ({old}) for {now.bed} ({new})"
        if weeks:
            sentence += f", sown {_weeks(weeks)}"
    elif weeks:
        change = Change.SHIFTED
        sentence = f"{kind} in {now.bed} ({new}) will be sown {_weeks(weeks)}"
        if resized:
            sentence += f", on {new} instead of {old}"
    elif resized and not now.stands:
        change = Change.RESIZED
        sentence = f"{kind} in {now.bed} will have {new} instead of {old}"
    else:
        return None
    return Difference(
        change, was.planting.id, now.planting.id, f"{sentence}.", was.area_m2, now.area_m2
    )


def _gone(words: _Words, was: _Patch) -> Difference:
    what = f"{words.area(was)}, {words.week(was)}"
    sentence = f"{words.kind(was)} will not be planted in {was.bed} any more ({what})."
    return Difference(Change.GONE, was.planting.id, None, sentence, area_before_m2=was.area_m2)


def _new(words: _Words, now: _Patch) -> Difference:
    what = f"{words.area(now)}, {words.week(now)}"
    sentence = f"{words.kind(now)} will be planted in {now.bed} ({what})."
    return Difference(Change.NEW, None, now.planting.id, sentence, area_after_m2=now.area_m2)


def _ground_m2(difference: Difference) -> float:
    """Give the ground that a difference is about [m²]: of a patch resized, what it changes by."""
    was, now = difference.area_before_m2, difference.area_after_m2
    return abs(now - was) if difference.kind is Change.RESIZED else max(was, now)


def _lines(before: Plan, after: Plan, words: _Words) -> Iterator[Difference]:
    """Tell each line of the table that is met otherwise, over the weeks that both plans hold."""
    shared = weeks_of(before) & weeks_of(after)
    _, short_before = by_line(before, shared)
    wanted, short_after = by_line(after, shared)
    for line in sorted(short_before.keys() | short_after.keys()):
        called = capital(words.names.get(line, line))
        if line not in short_before or line not in short_after:
            on = "is new on" if line in short_after else "is no more on"
            yield Difference(Change.TABLE, None, None, f"{called}: it {on} the table.", line=line)
            continue
        less = short_before[line] - short_after[line]
        if abs(less) <= TOLD_KG and abs(less) <= TOLD_SHARE * wanted[line]:
            continue
        way = "less" if less > 0 else "more"
        end = ", and short no more" if short_after[line] < NOTHING_KG else ""
        mass = show_mass(abs(less), words.units)
        sentence = f"{called} will be {mass} {way} short{end}."
        yield Difference(Change.TABLE, None, None, sentence, line=line, less_short_kg=less)


def weeks_of(plan: Plan) -> set[date]:
    """Give the Monday of each week that a plan looks over."""
    return {plan.horizon.monday(week) for week in range(plan.horizon.weeks)}


def by_line(plan: Plan, mondays: set[date]) -> tuple[dict[str, float], dict[str, float]]:
    """Add up what each line wants, and what it is short of, over some weeks [kg]."""
    wanted: defaultdict[str, float] = defaultdict(float)
    short: defaultdict[str, float] = defaultdict(float)
    for row in plan.table:
        if plan.horizon.monday(row.week) in mondays:
            wanted[row.line] += row.wanted_kg
            short[row.line] += row.short_kg
    return dict(wanted), dict(short)


def _weeks(weeks: int) -> str:
    way = "later" if weeks > 0 else "earlier"
    return f"{abs(weeks)} {'week' if abs(weeks) == 1 else 'weeks'} {way}"


def settled_first(
    told: Sequence[Difference], before: Plan, after: Plan, pins: Sequence[Pin]
) -> tuple[Difference, ...]:
    """Put first what became of what was settled by hand; all else keeps its order."""
    settled = {what for pin in pins for what in (pin.what, pin.apart_from)}
    then, now = (
        {p.id for p in plan.plantings if settled & {p.kind, p.crop, p.family}}
        for plan in (before, after)
    )
    return tuple(sorted(told, key=lambda one: one.before not in then and one.after not in now))
