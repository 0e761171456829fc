"""What could close a hungry gap: every way to serve its weeks, and what held each in the plan."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from haulm.desk.planning.question import Asked
from haulm.growing.records import Sowing, SowingFood
from haulm.household.records import Appetite, Wanted
from haulm.larder.records import KeepRule
from haulm.measure.weeks import DAYS_A_WEEK
from haulm.plan.records import Plan
from haulm.sheets.page.tide import HungryGap

MOST_LINES, MOST_WAYS = 6, 5


@dataclass(frozen=True, slots=True)
class GapWay:
    """One way in which a line could be served in some weeks of a gap.

    Attributes
    ----------
    kind
        The kind's name.
    form, places
        How it is kept and where; both empty where it is fresh from the ground.
    under_cover
        Whether it is grown under a tunnel or glass.
    sow_first, sow_last
        The first and the last sowing that would serve.
    weeks
        How many weeks of the gap it reaches.
    first_day, last_day
        The first and last day of the gap that it reaches.
    sound
        For what is kept, the share still sound in the last of those weeks, from the latest sowing
        that serves it [1]; None where fresh.
    planned_m2
        Ground the plan gives to these sowings [m²]; 0 where none.
    bounds
        What held those plantings at their size, in the plan's words.
    """

    kind: str
    form: str
    places: tuple[str, ...]
    under_cover: bool
    sow_first: date
    sow_last: date
    weeks: int
    first_day: date
    last_day: date
    sound: float | None
    planned_m2: float
    bounds: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GapLine:
    """What one line of the table lacks in a gap [kg], why, and the ways that could serve it."""

    line: str
    name: str
    short_kg: float
    why: tuple[str, ...]
    ways: tuple[GapWay, ...]


@dataclass(frozen=True, slots=True)
class _Reach:
    """One sowing that reaches one week of a gap; the share sound then, where it is kept."""

    sowing: Sowing
    rule: KeepRule | None
    week: int
    sound: float | None


def closing(gap: HungryGap, plan: Plan, asked: Asked) -> tuple[GapLine, ...]:
    """Say for the lines that lack most in a gap what could serve them then.

    Only sowings that can still be made are looked at, each as the planner sees it: ready by its
    weeks 8 years in 10, and kept by the household's own stores. That a way reaches a week does not
    say that there is ground, work or room for it: ``bounds`` tells what the plan met with.

    Parameters
    ----------
    gap
        The gap, by its days.
    plan
        The plan whose gap it is.
    asked
        The question as of today.
    """
    horizon = asked.question.horizon
    weeks = range(horizon.week_of(gap.first_day), horizon.week_of(gap.last_day) + 1)
    wants = {appetite.line: appetite for appetite in asked.question.appetites}
    return tuple(
        GapLine(
            line=line,
            name=name,
            short_kg=kg,
            why=_why(line, gap, plan),
            ways=_ways(wants[line], weeks, plan, asked) if line in wants else (),
        )
        for line, name, kg in gap.lines[:MOST_LINES]
    )


def _why(line: str, gap: HungryGap, plan: Plan) -> tuple[str, ...]:
    """Give the plan's own sentences on what a line lacks in the weeks of a gap."""
    first, last = plan.horizon.week_of(gap.first_day), plan.horizon.week_of(gap.last_day)
    return tuple(
        dict.fromkeys(
            one.sentence
            for one in plan.shortages
            if one.line == line and one.first_week <= last and one.last_week >= first
        )
    )


def _ways(want: Appetite, weeks: Iterable[int], plan: Plan, asked: Asked) -> tuple[GapWay, ...]:
    """Gather the ways that reach a week in which the line wants something, the widest first."""
    wanted = {week for week in weeks if 0 <= week < len(want.kg) and want.kg[week] > 0}
    ways: dict[tuple[str, str, bool], list[_Reach]] = defaultdict(list)
    for sowing in asked.question.sowings:
        for given in sowing.foods:
            if given.food not in want.foods:
                continue
            for reach in _reaches(sowing, given, want, wanted, asked.question.keep_rules):
                form = reach.rule.form.value if reach.rule else ""
                ways[sowing.kind, form, sowing.under_cover].append(reach)
    found = [_way(key, reaches, want, plan, asked) for key, reaches in ways.items()]
    ordered = sorted(found, key=lambda way: (-way.weeks, way.sow_first, way.kind, way.form))
    return tuple(ordered[:MOST_WAYS])


def _reaches(
    sowing: Sowing,
    given: SowingFood,
    want: Appetite,
    wanted: set[int],
    rules: Sequence[KeepRule],
) -> Iterator[_Reach]:
    """Give each week of a gap that a sowing's food reaches, fresh or from a store."""
    ready = [week for week, share in given.week_shares if share > 0]
    if want.wanted is not Wanted.KEPT:
        yield from (_Reach(sowing, None, week, None) for week in ready if week in wanted)
    if want.wanted is Wanted.FRESH or not ready:
        return
    for rule in rules:
        if rule.kind != sowing.kind or rule.food != given.food:
            continue
        for week in wanted:
            # What is put by last is youngest then.
            ages = [week - put_by for put_by in ready if rule.wait_weeks <= week - put_by]
            if ages and min(ages) < len(rule.sound):
                yield _Reach(sowing, rule, week, rule.sound[min(ages)])


def _way(
    key: tuple[str, str, bool],
    reaches: Sequence[_Reach],
    want: Appetite,
    plan: Plan,
    asked: Asked,
) -> GapWay:
    kind, form, under_cover = key
    names, horizon = asked.question.names, asked.question.horizon
    sown = [reach.sowing.sow_on for reach in reaches]
    weeks = sorted({reach.week for reach in reaches})
    last = [reach.sound for reach in reaches if reach.week == weeks[-1]]
    ids = {reach.sowing.id for reach in reaches}
    planted = [one for one in plan.plantings if one.sowing in ids]
    serving = [one for one in planted if any(serves.line == want.line for serves in one.serves)]
    return GapWay(
        kind=names.get(kind, kind),
        form=form,
        places=tuple(dict.fromkeys(names[one.rule.place] for one in reaches if one.rule)),
        under_cover=under_cover,
        sow_first=min(sown),
        sow_last=max(sown),
        weeks=len(weeks),
        first_day=horizon.monday(weeks[0]),
        last_day=horizon.monday(weeks[-1]) + timedelta(days=DAYS_A_WEEK - 1),
        sound=max((share for share in last if share is not None), default=None),
        planned_m2=sum(one.area_m2 for one in serving),
        bounds=tuple(dict.fromkeys(b.sentence for one in serving for b in one.bounds))[:3],
    )
