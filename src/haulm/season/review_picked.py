"""What was picked, planting by planting: as written, else shared out among those that gave it."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date

from haulm.measure.findings import Finding, Grade
from haulm.plan.records import Planting
from haulm.season.records import Entry, EntryKind, as_kg, key_of
from haulm.season.review_records import Picked, ReviewSpan, Season
from haulm.season.review_rules import review_rules


def first_food(planting: Planting) -> str:
    """Give the food that a picking is of where it names none: the planting's first."""
    return planting.expects[0].food if planting.expects else ""


def pickings(season: Season, told: list[Finding]) -> tuple[Picked, ...]:
    """Give everything that was picked in the span, shared out among the plantings that gave it.

    Parameters
    ----------
    season
        What is looked back on.
    told
        Takes in what could not be counted.
    """
    plantings = {key_of(p): p for p in season.plan.plantings}
    to_pick = _to_pick(plantings)
    found: list[Picked] = []
    for entry in season.entries:
        if entry.kind is not EntryKind.PICKED or not season.span.holds(entry.day):
            continue
        key = entry.about.planting or ""
        planting = plantings.get(key) or season.later.get(key)
        food = entry.about.food or (first_food(planting) if planting else "")
        kg = as_kg(entry.amount, season.piece_kg.get(food))
        if not food or kg is None:
            told.append(_uncounted(entry, food))
        elif planting is not None:
            found.append(
                Picked(
                    entry.id, entry.day, food, kg, key, planting.bed, planting.kind, shared=False
                )
            )
        else:
            found += _shared(entry, (food, kg), plantings, to_pick.get(food, {}), season.span)
    return tuple(found)


def _shared(
    entry: Entry,
    picked: tuple[str, float],
    plantings: Mapping[str, Planting],
    to_pick: Mapping[str, Mapping[int, float]],
    span: ReviewSpan,
) -> Iterator[Picked]:
    """Share out a picking that names no planting, by what each was to give about that time."""
    (food, kg), about = picked, entry.about
    week = span.horizon.week_of(entry.day)
    bed, kind = about.bed or "", about.kind or ""
    fits = {
        key: weeks
        for key, weeks in to_pick.items()
        if (about.bed is None or plantings[key].bed == bed)
        and (about.kind is None or plantings[key].kind == kind)
    }
    weeks = round(review_rules().near_weeks.value)
    near = _within(fits, range(week - weeks, week + weeks + 1))
    weights = near or _within(fits, span.weeks)
    whole = sum(weights.values())
    if whole <= 0:
        yield Picked(entry.id, entry.day, food, kg, "", bed, kind, shared=True)
        return
    left = kg
    for number, (key, weight) in enumerate(weights.items(), start=1):
        part = left if number == len(weights) else kg * weight / whole
        left -= part
        one = plantings[key]
        yield Picked(entry.id, entry.day, food, part, key, one.bed, one.kind, shared=True)


def _to_pick(plantings: Mapping[str, Planting]) -> Mapping[str, Mapping[str, Mapping[int, float]]]:
    """Give what is to be picked by food, planting and week [kg]."""
    found: dict[str, dict[str, dict[int, float]]] = defaultdict(lambda: defaultdict(dict))
    for key, planting in plantings.items():
        for pick in planting.picks:
            weeks = found[pick.food][key]
            weeks[pick.week] = weeks.get(pick.week, 0.0) + pick.kg
    return found


def _within(fits: Mapping[str, Mapping[int, float]], weeks: range) -> Mapping[str, float]:
    """Give what each planting was to give in some weeks; none that was to give nothing."""
    found = {key: sum(kg for week, kg in by.items() if week in weeks) for key, by in fits.items()}
    return {key: kg for key, kg in found.items() if kg > 0}


def left_fresh(
    picked: Sequence[Picked], taken: Iterable[tuple[date, str, float]], span: ReviewSpan
) -> Mapping[tuple[str, int], float]:
    """Give what of each week's picking was not put by, given or thrown, by food and week [kg].

    What was put by is taken from the pickings before it, the newest first: roots are put by as
    they are lifted, and what was cured some weeks came from nowhere else.

    Parameters
    ----------
    picked
        What was picked.
    taken
        (day, food, kg) of what was put by, given away or thrown out fresh.
    span
        The span.
    """
    piles: dict[str, list[list[float]]] = defaultdict(list)
    for one in sorted(picked, key=lambda one: one.day):
        piles[one.food].append([one.day.toordinal(), one.kg])
    for day, food, kg in sorted(taken):
        before = [pile for pile in piles[food] if pile[0] <= day.toordinal()]
        wanting = kg
        for pile in reversed(before):
            part = min(wanting, pile[1])
            pile[1] -= part
            wanting -= part
    left: dict[tuple[str, int], float] = defaultdict(float)
    for food, pile_list in piles.items():
        for ordinal, kg in pile_list:
            left[food, span.horizon.week_of(date.fromordinal(int(ordinal)))] += kg
    return left


def _uncounted(entry: Entry, food: str) -> Finding:
    where = f"the diary of {entry.day.isoformat()}, picked {food}".rstrip()
    if not food:
        return Finding(
            where,
            "it names a planting that no plan has, and no food.",
            "Put it right: name the food.",
            Grade.WARNING,
        )
    return Finding(
        where,
        "nobody knows what a piece of it weighs; it is not counted.",
        "Weigh some, and put the entry right.",
        Grade.WARNING,
    )
