"""How the table fared week by week: what was eaten of each line, as far as the diary says."""

from collections import defaultdict
from collections.abc import Mapping, Sequence

from haulm.household.records import Wanted
from haulm.plan.records import Plan
from haulm.season.review_books import ByWeek
from haulm.season.review_records import (
    LineAsked,
    LineReview,
    LineWeek,
    ReviewSpan,
    Season,
    WeekCame,
)
from haulm.season.review_rules import review_rules


def lines_through(
    season: Season, fresh: ByWeek, stored: ByWeek, unwritten: Mapping[str, frozenset[int]]
) -> tuple[LineReview, ...]:
    """Follow every line of the table through the span.

    Each week the lines are served in order of priority, the one with fewest foods first among
    equals, as the forecast serves them: fresh first, then from store. What was picked fresh and
    not eaten in its week lasts for ``fresh_weeks`` more. A week counts as fed where at least
    ``fed_share`` of what it wanted was eaten, as without where less was and the diary says all
    there is to say; else nobody knows.

    Parameters
    ----------
    season
        What is looked back on.
    fresh, stored
        What there was to eat fresh, and what was eaten from store.
    unwritten
        By food, the weeks in which some of it may have been eaten that nobody wrote.
    """
    wanted, planned = _by_line(season.plan, season.span)
    eaten = _served(season.lines, wanted, dict(fresh), dict(stored), season.span)
    return tuple(
        _line(one, season.span, (wanted, planned, eaten), unwritten) for one in season.lines
    )


def _by_line(plan: Plan, span: ReviewSpan) -> tuple[ByWeek, ByWeek]:
    wanted: dict[tuple[str, int], float] = {}
    planned: dict[tuple[str, int], float] = {}
    for row in plan.table:
        if span.has(row.week):
            wanted[row.line, row.week] = row.wanted_kg
            planned[row.line, row.week] = row.fresh_kg + row.stored_kg
    return wanted, planned


def _served(
    lines: Sequence[LineAsked],
    wanted: ByWeek,
    fresh: dict[tuple[str, int], float],
    stored: dict[tuple[str, int], float],
    span: ReviewSpan,
) -> ByWeek:
    eaten: dict[tuple[str, int], float] = defaultdict(float)
    lasts = round(review_rules().fresh_weeks.value)
    order = sorted(lines, key=lambda line: (-line.priority, len(line.foods)))
    for week in span.weeks:
        for line in order:
            left = wanted.get((line.line, week), 0.0)
            ways = []
            if line.wanted is not Wanted.KEPT:
                ways += [(fresh, f, w) for f in line.foods for w in range(week - lasts, week + 1)]
            if line.wanted is not Wanted.FRESH:
                ways += [(stored, food, week) for food in line.foods]
            for pile, food, at in ways:
                kg = min(left, pile.get((food, at), 0.0))
                if kg > 0:
                    pile[food, at] -= kg
                    eaten[line.line, week] += kg
                    left -= kg
    return eaten


def _line(
    one: LineAsked,
    span: ReviewSpan,
    books: tuple[ByWeek, ByWeek, ByWeek],
    unwritten: Mapping[str, frozenset[int]],
) -> LineReview:
    wanted, planned, eaten = books
    share = review_rules().fed_share.value
    dark = frozenset().union(*(unwritten.get(food, frozenset()) for food in one.foods))
    weeks = []
    without = 0
    for week in span.weeks:
        want = wanted.get((one.line, week), 0.0)
        meant, had = planned.get((one.line, week), 0.0), eaten.get((one.line, week), 0.0)
        came = WeekCame.WITHOUT
        if want <= 0:
            came = WeekCame.NOT_WANTED
        elif had >= share * want:
            came = WeekCame.FED
        elif week in dark:
            came = WeekCame.NOT_KNOWN
        without += want > 0 and meant < share * want
        weeks.append(LineWeek(week, want, meant, had, came))
    return LineReview(one.line, tuple(weeks), without)
