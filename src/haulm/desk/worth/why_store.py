"""Why a store is so full, and why a lot is so large and runs out when it does."""

from collections.abc import Iterator

from haulm.catalogue.records import Form, Keeping
from haulm.desk.worth.why_more import one_more_of
from haulm.desk.worth.why_records import (
    Grounds,
    Part,
    Reckoned,
    See,
    Shown,
    Why,
    parts_of_use,
    reckoned,
)
from haulm.larder.records import StorePlace
from haulm.measure.day_words import long_day
from haulm.plan.records import Lot, Plan
from haulm.planner.records import Scarce
from haulm.planner.words import month

NOTHING_KG = 0.005


def room_taken_l(plan: Plan, store: str) -> list[float]:
    """Give (weeks) the room that all lots in a store take [l].

    A lot takes its room from the week it is put by; what is taken out frees it in the week after,
    with what has rotted of that part. What is never taken out takes it until the lot is past
    keeping.
    """
    return [room_in_week_l(plan, store, week) for week in range(plan.horizon.weeks)]


def room_in_week_l(plan: Plan, store: str, week: int) -> float:
    """Give the room that all lots in a store take in a week [l]."""
    return sum(_room_l(lot, week) for lot in plan.lots if lot.place == store)


def _room_l(lot: Lot, week: int) -> float:
    """Give the room that one lot takes in a week [l]."""
    first = max(0, lot.put_by_week)
    if not first <= week < first + len(lot.sound) - lot.age_weeks:
        return 0.0
    out = [*lot.eaten, *([(lot.seed_week, lot.seed_kg)] if lot.seed_week is not None else [])]
    gone = sum(kg / _sound(lot, at) for at, kg in out if at < week)
    return max(0.0, lot.kg_in - gone) * lot.space_l_kg


def _sound(lot: Lot, week: int) -> float:
    """Give the sound share of a lot in a week, against what went in."""
    at = min(week - lot.put_by_week + lot.age_weeks, len(lot.sound) - 1)
    return lot.sound[at] / lot.sound[lot.age_weeks]


def why_store(store: StorePlace, grounds: Grounds) -> Why:
    """Say how full a store is, by what, and what more room in it would bring."""
    plan = grounds.made.plan
    taken = room_taken_l(plan, store.id)
    fullest = max(range(len(taken)), key=lambda week: taken[week])
    lots = [lot for lot in plan.lots if lot.place == store.id]
    when = long_day(plan.horizon.monday(fullest))
    room = "not limited" if store.capacity_l is None else grounds.volume(store.capacity_l)
    most = grounds.volume(taken[fullest])
    answer = (
        f"At its fullest, in the week of {when}, {most} are taken; its room is {room}."
        if lots
        else f"The plan puts nothing into it; its room is {room}."
    )
    enough = "More room would bring nothing to table: it is never full when it matters."
    return Why(
        path=f"store/{store.id}",
        name=store.name,
        answer=answer,
        parts=parts_of_use(
            one_more_of((Scarce.ROOM, store.id), "More room", enough, grounds),
            Part("What lies in it", shown=_lots(lots, grounds)),
            Part("How full, month by month", shown=_months(taken, grounds), folded=True),
            Part("The sum", tuple(_sum(lots, fullest, grounds, most))),
        ),
        figures=tuple(dict.fromkeys(f for lot in lots for f in _figures(lot, grounds)[-1:])),
        see=tuple(See(f"lot/{lot.id}", f"{grounds.name(lot.food)}, {lot.id}") for lot in lots),
    )


def _lots(lots: list[Lot], grounds: Grounds) -> Shown | None:
    rows = tuple(
        (
            lot.id,
            grounds.name(lot.food),
            lot.form,
            _came(lot, grounds),
            grounds.mass(lot.kg_in),
            grounds.volume(lot.kg_in * lot.space_l_kg),
        )
        for lot in lots
    )
    return Shown(("lot", "food", "kept", "put by", ">went in", ">room"), rows) if rows else None


def _came(lot: Lot, grounds: Grounds) -> str:
    """Say when a lot was put by."""
    return "in hand" if lot.in_hand else long_day(grounds.made.plan.horizon.monday(lot.put_by_week))


def _months(taken: list[float], grounds: Grounds) -> Shown | None:
    by_month: dict[str, float] = {}
    for week, litres in enumerate(taken):
        when = month(grounds.question, week)
        by_month[when] = max(by_month.get(when, 0.0), litres)
    rows = tuple(
        (when, grounds.volume(litres)) for when, litres in by_month.items() if litres > NOTHING_KG
    )
    return Shown(("month", ">most room taken"), rows) if rows else None


def _sum(lots: list[Lot], week: int, grounds: Grounds, most: str) -> Iterator[str]:
    """Add up the room taken in the fullest week, lot by lot."""
    there = [(lot, litres) for lot in lots if (litres := _room_l(lot, week)) > NOTHING_KG]
    for lot, litres in there:
        lies = litres / lot.space_l_kg
        yield (
            f"{lot.id}: {grounds.mass(lies)} as put by × {grounds.room(lot.space_l_kg)} ="
            f" {grounds.volume(litres)}"
        )
    if there:
        yield f"together {most}"


def why_lot(lot: Lot, grounds: Grounds) -> Why:
    """Say why a lot is so large, when it runs out, and what is lost of it."""
    plan = grounds.made.plan
    monday = plan.horizon.monday
    eaten = [(week, kg) for week, kg in lot.eaten if kg > NOTHING_KG]
    food, place = grounds.name(lot.food), grounds.name(lot.place)
    ends = (
        f"the last of it is eaten in the week of {long_day(monday(eaten[-1][0]))}"
        if eaten
        else "none of it is eaten within these weeks"
    )
    came = (
        "in hand" if lot.in_hand else f"put by in the week of {long_day(monday(lot.put_by_week))}"
    )
    return Why(
        path=f"lot/{lot.id}",
        name=f"{lot.id}: {food}, {lot.form}",
        answer=f"{grounds.mass(lot.kg_in)} of {food} {came} in {place}; {ends}.",
        parts=parts_of_use(
            Part("Why it runs out then", (_why_out(lot, eaten, grounds),)),
            Part("Where it comes from", tuple(_from(lot, grounds))),
            Part(
                "Week by week",
                shown=Shown(
                    ("week of", ">eaten", ">sound by then", ">taken out for it"),
                    tuple(
                        (
                            long_day(monday(week)),
                            grounds.mass(kg),
                            f"{_sound(lot, week):.0%}",
                            grounds.mass(kg / _sound(lot, week)),
                        )
                        for week, kg in eaten
                    ),
                )
                if eaten
                else None,
            ),
            Part("The sum", tuple(_lot_sum(lot, grounds))),
        ),
        figures=_figures(lot, grounds),
        see=tuple(_see(lot, grounds)),
    )


def why_kept(food: str, form: str, grounds: Grounds) -> Why:
    """Say of all that is put by of one food in one form why it is so much, lot by lot."""
    lots = [lot for lot in grounds.made.plan.lots if (lot.food, lot.form) == (food, form)]
    name = f"{grounds.name(food)}, {form}"
    went_in = sum(lot.kg_in for lot in lots)
    eaten = sum(kg for lot in lots for _, kg in lot.eaten)
    lost, left = sum(lot.lost_kg for lot in lots), sum(lot.left_kg for lot in lots)
    seed = sum(lot.seed_kg for lot in lots)
    sums = [
        f"{grounds.mass(went_in)} went in, in {len(lots)} lot{'' if len(lots) == 1 else 's'}",
        f"{grounds.mass(eaten)} come out sound and are eaten",
        f"{grounds.mass(lost)} rot, sprout or are past keeping",
    ]
    sums += [f"{grounds.mass(seed)} are kept back to plant"] if seed > NOTHING_KG else []
    sums += [f"{grounds.mass(left)} are left at the plan's end"] if left > NOTHING_KG else []
    return Why(
        path=f"kept/{food}/{form}",
        name=name,
        answer=f"{grounds.mass(went_in)} are put by, {grounds.mass(eaten)} eaten from it.",
        parts=parts_of_use(
            Part("Lot by lot", shown=_each(lots, grounds)), Part("The sum", tuple(sums))
        ),
        figures=tuple(dict.fromkeys(each for lot in lots for each in _figures(lot, grounds))),
        see=tuple(See(f"lot/{lot.id}", lot.id) for lot in lots),
    )


def _each(lots: list[Lot], grounds: Grounds) -> Shown:
    monday = grounds.made.plan.horizon.monday
    rows = []
    for lot in lots:
        eaten = [week for week, kg in lot.eaten if kg > NOTHING_KG]
        rows.append(
            (
                lot.id,
                grounds.name(lot.place),
                _came(lot, grounds),
                grounds.mass(lot.kg_in),
                grounds.mass(sum(kg for _, kg in lot.eaten)),
                grounds.mass(lot.lost_kg),
                long_day(monday(eaten[-1])) if eaten else "none",
            )
        )
    heads = ("lot", "where", "put by", ">went in", ">eaten", ">lost", "last eaten in the week of")
    return Shown(heads, tuple(rows))


def _why_out(lot: Lot, eaten: list[tuple[int, float]], grounds: Grounds) -> str:
    """Say what ends a lot: it is all eaten, it is past keeping, or the plan ends."""
    weeks = grounds.made.plan.horizon.weeks
    past = max(0, lot.put_by_week) + len(lot.sound) - lot.age_weeks
    if lot.left_kg > NOTHING_KG:
        return f"{grounds.mass(lot.left_kg)} of it lie there still when the plan's weeks end."
    if not eaten:
        return "It is kept back to be planted." if lot.seed_kg > 0 else "Nobody wants it in time."
    if eaten[-1][0] >= min(past, weeks) - 2:
        end = long_day(grounds.made.plan.horizon.monday(min(past, weeks)))
        return f"It is eaten to the end of its keeping: by {end} under a third would be sound."
    return (
        "All of it is eaten by then: what is lifted after that week serves better, or no more of it"
        " was worth its ground, hours or room."
    )


def _from(lot: Lot, grounds: Grounds) -> Iterator[str]:
    if lot.in_hand:
        yield "It lay in store when the plan was made, as you told it."
        return
    for p in grounds.made.plan.plantings:
        kg = sum(k.kg for k in p.picks if k.food == lot.food and k.week == lot.put_by_week)
        if p.kind == lot.kind and kg > NOTHING_KG:
            yield f"{p.id} in {grounds.name(p.bed)}: {grounds.mass(kg)} lifted that week"


def _lot_sum(lot: Lot, grounds: Grounds) -> Iterator[str]:
    eaten = sum(kg for _, kg in lot.eaten)
    if eaten > NOTHING_KG:
        out = sum(kg / _sound(lot, week) for week, kg in lot.eaten)
        yield (
            f"{grounds.mass(eaten)} eaten / {eaten / out:.2f} sound when eaten ="
            f" {grounds.mass(out)} put by for it"
        )
    if lot.seed_kg > NOTHING_KG and lot.seed_week is not None:
        sound = _sound(lot, lot.seed_week)
        yield (
            f"{grounds.mass(lot.seed_kg)} kept back to plant / {sound:.2f} sound then ="
            f" {grounds.mass(lot.seed_kg / sound)}"
        )
    if lot.left_kg > NOTHING_KG:
        yield f"{grounds.mass(lot.left_kg)} left at the plan's end"
    if lot.lost_kg > NOTHING_KG:
        yield f"{grounds.mass(lot.lost_kg)} rot, sprout or are past keeping"
    room = grounds.volume(lot.kg_in * lot.space_l_kg)
    yield f"{grounds.mass(lot.kg_in)} × {grounds.room(lot.space_l_kg)} = {room} at first"


def _figures(lot: Lot, grounds: Grounds) -> tuple[Reckoned, ...]:
    """Tell how its food keeps, by the catalogue; the room it takes last."""
    catalogue = grounds.made.catalogue
    kind = catalogue.kinds.get(lot.kind)
    keeping: Keeping | None = next(
        (
            keeps
            for giving in (kind.givings if kind else ())
            if giving.food == lot.food
            for keeps in giving.keeping
            if keeps.form is Form(lot.form)
        ),
        None,
    )
    if keeping is None:
        return ()
    of = f"{grounds.name(lot.food)}, {lot.form}"
    return (
        reckoned(f"{of}: weeks until it may be eaten", keeping.cure_weeks, catalogue),
        reckoned(f"{of}: nine in ten sound after", keeping.sound_90_weeks, catalogue),
        reckoned(f"{of}: half sound after", keeping.sound_50_weeks, catalogue),
        reckoned(f"{of}: putting it by", keeping.work_min_kg, catalogue),
        reckoned(f"{of}: room it takes", keeping.space_l_kg, catalogue),
    )


def _see(lot: Lot, grounds: Grounds) -> Iterator[See]:
    plan = grounds.made.plan
    yield See(f"store/{lot.place}", grounds.name(lot.place))
    lines = dict.fromkeys(h.line for h in plan.helpings if h.lot == lot.id)
    for line in lines:
        yield See(f"line/{line}", grounds.name(line))
    for p in plan.plantings:
        if p.kind == lot.kind and any(
            k.week == lot.put_by_week and k.food == lot.food for k in p.picks
        ):
            yield See(f"planting/{p.id}", p.id)
