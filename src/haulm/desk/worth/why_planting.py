"""Why a planting is so large, on that day and in that bed; and why so much is bought for it."""

from collections import defaultdict
from collections.abc import Iterator, Sequence

from haulm.catalogue.records import Kind, Method
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
from haulm.desk.worth.worth_words import brings
from haulm.desk.worth.worths import Others
from haulm.measure.customary import show_temperatures
from haulm.measure.day_words import long_day
from haulm.measure.sentences import capital
from haulm.plan.records import Planting
from haulm.planner.records import Elsewhere
from haulm.planner.words import MINUTES_AN_HOUR, month, span
from haulm.sheets.shopping_sums import StockLine

NOTHING_KG = 0.005
MOST_PLACES = 3


def why_planting(planting: Planting, grounds: Grounds, others: Others) -> Why:
    """Say why a planting is as it is.

    Parameters
    ----------
    planting, grounds
        The planting, and the plan it is in.
    others
        What it would cost in other beds and weeks.
    """
    kind = grounds.made.catalogue.kinds.get(planting.kind)
    held = grounds.area(planting.area_m2)
    bound = planting.bounds[0].sentence if planting.bounds else "it stands already"
    return Why(
        path=f"planting/{planting.id}",
        name=f"{planting.id}: {grounds.name(planting.kind)}",
        answer=(f"{held} in {grounds.name(planting.bed)}, {planting.plants} plants: {bound}."),
        parts=parts_of_use(
            Part(
                "Gives (8 years in 10)",
                tuple(_gives(planting, grounds)),
            ),
            Part("What bound its size", tuple(f"{capital(b.sentence)}." for b in planting.bounds)),
            Part("What it serves", tuple(_serves(planting, grounds))),
            Part("Its days", tuple(_days(planting, grounds))),
            Part("Why this bed", tuple(_beds(planting, grounds, others.beds))),
            Part("Why this week", tuple(_weeks(planting, grounds, others))),
            Part("Its work", tuple(_work(planting)), _work_by_month(planting, grounds)),
            Part("The sum", planting.sum),
        ),
        figures=_figures(planting, kind, grounds) if kind else (),
        see=tuple(_see(planting, grounds)),
    )


def _gives(planting: Planting, grounds: Grounds) -> Iterator[str]:
    for expects in planting.expects:
        low, high = grounds.mass(expects.low_kg), grounds.mass(expects.high_kg)
        yield f"{grounds.mass(expects.kg)} of {grounds.name(expects.food)} ({low} to {high})"


def _serves(planting: Planting, grounds: Grounds) -> Iterator[str]:
    horizon = grounds.made.plan.horizon
    for serves in planting.serves:
        yield (
            f"{grounds.mass(serves.kg)} of {grounds.name(serves.food)} for"
            f" {grounds.name(serves.line)}, {long_day(horizon.monday(serves.first_week))} to"
            f" {long_day(horizon.monday(serves.last_week))}"
        )
    if not planting.serves:
        yield "Nothing within these weeks."


def _days(planting: Planting, grounds: Grounds) -> Iterator[str]:
    if planting.in_trays:
        yield f"It is in trays, and set out {long_day(planting.in_ground_from)}."
    elif planting.standing:
        yield f"It stands since {long_day(planting.set_on)}."
    else:
        start = "Sown" if planting.set_on > planting.sow_on else "Sown or set"
        out = f", set out {long_day(planting.set_on)}" if planting.set_on > planting.sow_on else ""
        free = long_day(planting.clear_by)
        yield f"{start} {long_day(planting.sow_on)}{out}; ground free {free}."
        rules = [
            show_temperatures(rule, grounds.units)
            for rule in (planting.earliest_rule, planting.latest_rule)
        ]
        yield f"Not before {long_day(planting.earliest_sowing)}: {rules[0]}."
        yield f"Not after {long_day(planting.latest_sowing)}: {rules[1]}."
    for ready in planting.ready:
        yield (
            f"{capital(grounds.name(ready.food))} ready by {long_day(ready.early)} 1 year in 10,"
            f" by {long_day(ready.middle)} 5 in 10, by {long_day(ready.late)} 9 in 10."
        )


def _beds(planting: Planting, grounds: Grounds, beds: Sequence[Elsewhere]) -> Iterator[str]:
    if planting.standing:
        yield "It stands there already, and what stands is not moved."
    elif not beds:
        lone = len(grounds.made.plan.beds) == 1
        kept_off = "No other bed may hold it then: by cover, sun, size, disease or your own word."
        yield "There is no other bed." if lone else kept_off
    for other in beds[:MOST_PLACES]:
        yield f"In {grounds.name(other.bed)}, {_costs(other, grounds)}."


def _weeks(planting: Planting, grounds: Grounds, others: Others) -> Iterator[str]:
    if not others.weeks and not planting.standing:
        yield "No other week of its time is left for it in this bed."
    for other in others.weeks[:MOST_PLACES]:
        yield f"Begun {long_day(others.begun[other.sowing])}, {_costs(other, grounds)}."


def _costs(other: Elsewhere, grounds: Grounds) -> str:
    """Say what somewhere else would cost, in kilograms at table."""
    room = f"on {grounds.area(other.area_m2)},"
    total = sum(kg for _, kg in other.fed)
    if other.cost_kg < -NOTHING_KG:
        return f"{room} it would do better: the plan has not looked everywhere"
    if other.cost_kg <= NOTHING_KG:
        return f"{room} it would do as well"
    if total <= -NOTHING_KG:
        less = [(line, -kg) for line, kg in reversed(other.fed) if kg <= -NOTHING_KG][:MOST_PLACES]
        of = ", ".join(f"{grounds.mass(kg)} of {grounds.name(line)}" for line, kg in less)
        return f"{room} the table would have {grounds.mass(-total)} less in all: less by {of}"
    if total >= NOTHING_KG:
        return (
            f"{room} it {brings(other.fed, grounds.worths)}, but of what is wanted less, or for"
            " more work or less rest"
        )
    return f"{room} the table would have as much, for more work, waste or less rest"


def _work(planting: Planting) -> Iterator[str]:
    hours = sum(minutes for _, minutes in planting.minutes) / MINUTES_AN_HOUR
    if hours > 0:
        yield f"{span(hours)} in all, picking and lifting counted, putting by left out."


def _work_by_month(planting: Planting, grounds: Grounds) -> Shown | None:
    by_month: dict[str, float] = defaultdict(float)
    for week, minutes in planting.minutes:
        by_month[month(grounds.question, week)] += minutes
    rows = tuple((when, span(minutes / MINUTES_AN_HOUR)) for when, minutes in by_month.items())
    return Shown(("month", ">work"), rows) if rows else None


def _figures(planting: Planting, kind: Kind, grounds: Grounds) -> tuple[Reckoned, ...]:
    """Tell the catalogue's figures behind a planting: yield, spacing, losses, work, rest."""
    catalogue = grounds.made.catalogue
    given = {expects.food for expects in planting.expects}
    told = [
        reckoned(f"{grounds.name(giving.food)}: {what}", figure, catalogue)
        for giving in kind.givings
        if giving.food in given
        for what, figure in (
            ("what a square metre gives", giving.yield_kg_m2),
            ("weeks over which it can be taken", giving.span_weeks),
        )
    ]
    told.append(reckoned("apart in offset rows", kind.stand.spacing_offset_m, catalogue))
    method = next((m for m in kind.methods if m.id == planting.method), None)
    told += _losses(method, grounds) if method else ()
    told += [
        reckoned("starting it", kind.labour.start_min_m2, catalogue),
        reckoned("tending it", kind.labour.tend_min_m2_week, catalogue),
        reckoned("picking or lifting it", kind.labour.pick_min_kg, catalogue),
        reckoned(
            "years between its family's stands",
            catalogue.families[planting.family].rotation_gap_years,
            catalogue,
        ),
    ]
    return once_each(told)


def _losses(method: Method, grounds: Grounds) -> list[Reckoned]:
    catalogue = grounds.made.catalogue
    told = [
        reckoned(f"{method.unit}s to a station", method.units_per_station, catalogue),
        reckoned("share that comes up", method.germination, catalogue),
        reckoned("share of those that lives", method.survival, catalogue),
    ]
    if method.module_weeks is not None:
        told.append(reckoned("time in the tray", method.module_weeks, catalogue))
    return told


def _see(planting: Planting, grounds: Grounds) -> Iterator[See]:
    yield See(f"bed/{planting.bed}", grounds.name(planting.bed))
    for line in dict.fromkeys(serves.line for serves in planting.serves):
        yield See(f"line/{line}", grounds.name(line))
    if not planting.standing:
        yield See(f"buy/{planting.kind}", f"{grounds.name(planting.kind)}, to buy")
    for lot in grounds.made.plan.lots:
        if lot.kind == planting.kind and any(p.week == lot.put_by_week for p in planting.picks):
            yield See(f"lot/{lot.id}", f"{grounds.name(lot.food)} put by, {lot.id}")


def why_bought(kind: str, lines: Sequence[StockLine], grounds: Grounds) -> Why:
    """Say why so much planting stock of a kind is bought, year by year."""
    plan, catalogue = grounds.made.plan, grounds.made.catalogue
    known = catalogue.kinds.get(kind)
    sums = [step for line in lines for step in _bought(line, grounds)]
    buys = " and ".join(f"{line.to_buy} {_many(line)} in {line.year}" for line in lines)
    methods = {method for line in lines for method in line.methods}
    told = [
        each
        for method in (known.methods if known else ())
        if method.id in methods
        for each in (
            *_losses(method, grounds),
            reckoned(f"{method.unit}s in a kilogram", method.units_per_kg, catalogue),
        )
    ]
    mine = [p for p in plan.plantings if p.kind == kind and not p.standing]
    return Why(
        path=f"buy/{kind}",
        name=f"{grounds.name(kind)}, to buy",
        answer=f"{capital(buys)}: what its plantings ask, less what is in hand or kept back.",
        parts=parts_of_use(
            Part(
                "What its plantings ask",
                shown=Shown(
                    ("planting", "begun", ">ground", ">plants", ">to start"),
                    tuple(
                        (
                            p.id,
                            long_day(p.sow_on),
                            grounds.area(p.area_m2),
                            str(p.plants),
                            f"{p.stock:.4g} {p.stock_unit}s",
                        )
                        for p in mine
                    ),
                ),
            ),
            Part("The sum", tuple(sums)),
        ),
        figures=once_each(told),
        see=tuple(See(f"planting/{p.id}", p.id) for p in mine),
    )


def _many(line: StockLine) -> str:
    return line.unit if line.to_buy == 1 else f"{line.unit}s"


def _bought(line: StockLine, grounds: Grounds) -> Iterator[str]:
    yield (
        f"{line.year}: {line.needed:.4g} needed − {line.in_hand:.4g} in hand −"
        f" {line.kept_back:.4g} kept back = {line.to_buy} to buy, rounded up"
    )
    if line.buy_g is None:
        yield f"{line.year}: how many make a kilogram is not known"
    elif line.to_buy:
        yield f"{line.year}: {line.to_buy} {_many(line)} weigh {grounds.mass(line.buy_g / 1000)}"
