"""Why a line of the table gets so much, and what a week asks in hours."""

from collections import defaultdict
from collections.abc import Iterator, Sequence

from haulm.catalogue.records import Catalogue
from haulm.desk.worth.why_records import (
    Grounds,
    Part,
    Reckoned,
    See,
    Shown,
    Why,
    once_each,
    parts_of_use,
    reckoned,
)
from haulm.desk.worth.worth_words import left_out_sentence, more_sentence
from haulm.household.portions import portions_of
from haulm.household.records import TableLine
from haulm.measure.day_words import long_day
from haulm.measure.sentences import capital
from haulm.plan.records import TableWeek
from haulm.planner.records import Scarce
from haulm.planner.words import MINUTES_AN_HOUR, month, span

CRUMB_KG = 0.005
ALL_TO_GROW = 0.9995
MONTH_HEADS = ("month", ">wanted", ">fresh", ">from store", ">short")


def why_line(line: str, grounds: Grounds) -> Why:
    """Say why a line of the table gets what it gets, month by month, and what would bring more."""
    plan = grounds.made.plan
    weeks = [row for row in plan.table if row.line == line]
    wanted, fresh, stored, short = _sums(weeks)
    name = grounds.name(line)
    told = [one for one in plan.shortages if one.line == line]
    told.sort(key=lambda one: -one.kg)
    if short >= CRUMB_KG:
        answer = (
            f"{grounds.mass(short)} of {grounds.mass(wanted)} wanted run short"
            f"{'; for the most part: ' + _reason(told[0].sentence) if told else ''}."
        )
    else:
        answer = f"All of the {grounds.mass(wanted)} wanted is served."
    return Why(
        path=f"line/{line}",
        name=name,
        answer=answer,
        parts=parts_of_use(
            Part("Where it runs short", tuple(f"{capital(one.sentence)}." for one in told)),
            Part("Who serves it", shown=_served(line, grounds)),
            Part("Month by month", shown=_months(weeks, grounds)),
            Part("Week by week", shown=_by_week(weeks, grounds), folded=True),
            Part("What more would bring it more", tuple(_more(line, grounds))),
            Part("What could serve it and is left out", tuple(_left(line, grounds))),
            Part("The sum", tuple(_asked(line, grounds, (wanted, fresh, stored, short)))),
        ),
        figures=_figures(line, grounds),
        see=tuple(_see(line, grounds)),
    )


def _sums(weeks: Sequence[TableWeek]) -> tuple[float, float, float, float]:
    return (
        sum(row.wanted_kg for row in weeks),
        sum(row.fresh_kg for row in weeks),
        sum(row.stored_kg for row in weeks),
        sum(row.short_kg for row in weeks),
    )


def _reason(sentence: str) -> str:
    """Give the reason out of a shortage's sentence: what stands behind its colon."""
    return sentence.split(": ", 1)[-1]


def _served(line: str, grounds: Grounds) -> Shown | None:
    plan = grounds.made.plan
    rows = tuple(
        (p.id, grounds.name(p.kind), grounds.name(p.bed), grounds.mass(s.kg))
        for p in plan.plantings
        for s in p.serves
        if s.line == line and s.kg >= CRUMB_KG
    )
    in_hand = {lot.id: lot for lot in plan.lots if lot.in_hand}
    from_hand: dict[str, float] = defaultdict(float)
    for helping in plan.helpings:
        if helping.line == line and helping.lot in in_hand:
            from_hand[str(helping.lot)] += helping.kg
    rows += tuple(
        (lot, f"{grounds.name(in_hand[lot].food)} in hand", grounds.name(in_hand[lot].place),
         grounds.mass(kg))
        for lot, kg in from_hand.items()
    )  # fmt: skip
    return Shown(("from", "what", "where", ">brings"), rows) if rows else None


def _months(weeks: Sequence[TableWeek], grounds: Grounds) -> Shown:
    by_month: dict[str, list[TableWeek]] = defaultdict(list)
    for row in weeks:
        by_month[month(grounds.question, row.week)].append(row)
    rows = [
        (when, *(grounds.mass(kg) for kg in _sums(some)))
        for when, some in by_month.items()
        if sum(row.wanted_kg for row in some) >= CRUMB_KG
    ]
    return Shown(MONTH_HEADS, tuple(rows))


def _by_week(weeks: Sequence[TableWeek], grounds: Grounds) -> Shown:
    monday = grounds.made.plan.horizon.monday
    rows = [
        (long_day(monday(row.week)), *(grounds.mass(kg) for kg in _sums([row])))
        for row in weeks
        if row.wanted_kg > 0
    ]
    return Shown(("week of", *MONTH_HEADS[1:]), tuple(rows))


def _more(line: str, grounds: Grounds) -> Iterator[str]:
    """Tell of each sort what one more brings most to this line."""
    found = [
        (kg, more)
        for more in grounds.worths.more
        for fed, kg in more.fed
        if fed == line and kg >= CRUMB_KG
    ]
    for what in Scarce:
        of_sort = [(kg, more) for kg, more in found if more.what is what]
        for _, more in sorted(of_sort, key=lambda each: -each[0])[:2]:
            yield f"{capital(more_sentence(more, grounds.worths))}."


def _left(line: str, grounds: Grounds) -> Iterator[str]:
    for left in grounds.worths.left_out:
        if left.line == line:
            yield f"{capital(left_out_sentence(left, grounds.worths))}."


def _asked(line: str, grounds: Grounds, sums: tuple[float, float, float, float]) -> Iterator[str]:
    """Add up what is wanted, as a grower would check it by hand."""
    told = next((one for one in grounds.made.garden.household.table if one.id == line), None)
    if told is not None:
        yield from _weekly(told, grounds)
    wanted, fresh, stored, short = (grounds.mass(kg) for kg in sums)
    yield f"{wanted} wanted = {fresh} fresh + {stored} from store + {short} short, over all weeks"


def _weekly(told: TableLine, grounds: Grounds) -> Iterator[str]:
    household, catalogue = grounds.made.garden.household, grounds.made.catalogue
    if told.kg_week is not None:
        yield f"{grounds.mass(told.kg_week)} a week with everybody at home, as you told it"
    elif told.portions_week is not None:
        adults = sum(portions_of(eater) for eater in household.eaters)
        each = catalogue.foods[told.foods[0]].portion_kg.value
        weekly = told.portions_week * adults * each
        yield (
            f"{told.portions_week:g} a week × {adults:.3g} grown eaters' portions ×"
            f" {grounds.mass(each)} a portion = {grounds.mass(weekly)} a week"
        )
    if told.share_to_grow < ALL_TO_GROW:
        yield f"of that, {told.share_to_grow:.0%} is to be grown"
    if told.first is not None or told.last is not None:
        yield "wanted in its season only, as you told it"
    if household.away:
        yield "days on which some or all are away are taken off"


def _figures(line: str, grounds: Grounds) -> tuple[Reckoned, ...]:
    catalogue: Catalogue = grounds.made.catalogue
    foods = next((a.foods for a in grounds.question.appetites if a.line == line), ())
    return once_each(
        [
            reckoned(f"{grounds.name(food)}: {what}", figure, catalogue)
            for food in foods
            for what, figure in (
                ("a usual portion", catalogue.foods[food].portion_kg),
                ("share that reaches the plate", catalogue.foods[food].kitchen_share),
            )
        ]
    )


def _see(line: str, grounds: Grounds) -> Iterator[See]:
    plan = grounds.made.plan
    for planting in plan.plantings:
        if any(serves.line == line for serves in planting.serves):
            yield See(f"planting/{planting.id}", f"{planting.id}, {grounds.name(planting.kind)}")
    lots = dict.fromkeys(h.lot for h in plan.helpings if h.line == line and h.lot is not None)
    for lot in lots:
        yield See(f"lot/{lot}", lot)


def why_week(week: int, grounds: Grounds) -> Why:
    """Say what a week asks in hours, who asks it, and what the table has and lacks in it."""
    plan = grounds.made.plan
    hours = plan.hours[week]
    monday = plan.horizon.monday(week)
    worth = grounds.worths.hours_kg[week]
    jobs = [*_on_beds(week, grounds), *_in_kitchen(week, grounds)]
    jobs.sort(key=lambda job: -job[1])
    full = hours.asked_h >= hours.given_h - 1e-6
    answer = f"{span(hours.asked_h)} asked of {span(hours.given_h)} given"
    return Why(
        path=f"week/{monday.isoformat()}",
        name=f"The week of {long_day(monday)}",
        answer=f"{answer}: {'the week is full' if full else 'there is time left'}.",
        parts=parts_of_use(
            Part(
                "What the hours go to",
                shown=Shown(
                    ("work", ">time"),
                    tuple((words, span(minutes / MINUTES_AN_HOUR)) for words, minutes in jobs),
                )
                if jobs
                else None,
            ),
            Part("One more hour", (_hour(worth, week, grounds),)),
            Part("At table", shown=_at_table(week, grounds)),
            Part(
                "The sum",
                (
                    f"all of these together = {span(hours.asked_h)}",
                    f"{span(hours.given_h)} given: your hours of that month, none while away",
                ),
            ),
        ),
        figures=_labour(week, grounds),
        see=tuple(
            See(f"planting/{p.id}", p.id)
            for p in plan.plantings
            if any(w == week for w, _ in p.minutes)
        ),
    )


def _on_beds(week: int, grounds: Grounds) -> Iterator[tuple[str, float]]:
    for p in grounds.made.plan.plantings:
        minutes = sum(m for w, m in p.minutes if w == week)
        if minutes > 0:
            yield f"{grounds.name(p.kind)} in {grounds.name(p.bed)}, {p.id}", minutes


def _in_kitchen(week: int, grounds: Grounds) -> Iterator[tuple[str, float]]:
    for lot in grounds.made.plan.lots:
        if not lot.in_hand and lot.put_by_week == week and lot.work_min_kg > 0:
            yield f"putting by {grounds.name(lot.food)}, {lot.form}", lot.work_min_kg * lot.kg_in


def _hour(worth_kg: float, week: int, grounds: Grounds) -> str:
    for more in grounds.worths.more:
        if more.what is Scarce.HOURS and more.first_week <= week <= more.last_week:
            return f"{capital(more_sentence(more, grounds.worths))}."
    if worth_kg > CRUMB_KG:
        return "One more hour would only spare an hour beyond those you give."
    return "One more hour in this week would bring nothing to table."


def _at_table(week: int, grounds: Grounds) -> Shown | None:
    rows = tuple(
        (grounds.name(row.line), *(grounds.mass(kg) for kg in _sums([row])))
        for row in grounds.made.plan.table
        if row.week == week and row.wanted_kg > 0
    )
    return Shown(("line", *MONTH_HEADS[1:]), rows) if rows else None


def _labour(week: int, grounds: Grounds) -> tuple[Reckoned, ...]:
    catalogue = grounds.made.catalogue
    kinds = dict.fromkeys(
        p.kind for p in grounds.made.plan.plantings if any(w == week for w, _ in p.minutes)
    )
    return once_each(
        [
            reckoned(f"{grounds.name(kind)}: {what}", figure, catalogue)
            for kind in kinds
            if kind in catalogue.kinds
            for what, figure in (
                ("starting it", catalogue.kinds[kind].labour.start_min_m2),
                ("tending it", catalogue.kinds[kind].labour.tend_min_m2_week),
                ("picking or lifting it", catalogue.kinds[kind].labour.pick_min_kg),
            )
        ]
    )
