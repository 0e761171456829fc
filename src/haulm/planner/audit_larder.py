"""The audit of food: kilograms from bed to plate and store, keeping, room, seed kept back."""

from collections.abc import Iterator

from haulm.catalogue.records import Role
from haulm.larder.records import KeepRule
from haulm.measure.findings import Finding
from haulm.plan.records import Lot, Planting
from haulm.planner.audit_books import KG, Books, add_up

LITRES = 0.01
"""Room in stores is re-added to a centilitre [litres]."""


def check_picks(books: Books) -> Iterator[Finding]:
    """No planting gives more of a food, or in other weeks, than its ground yields."""
    for planting in books.plan.plantings:
        where = f"planting {planting.id}"
        picked = add_up(((pick.food, pick.week), pick.kg) for pick in planting.picks)
        for (food_id, week), kg in picked.items():
            food = books.food_of(planting, food_id)
            if food is None:
                yield books.wrong(where, f"it gives no {books.name(food_id)}.")
                continue
            share = add_up(food.week_shares).get(week, 0.0)
            most = food.yield_kg_m2 * share * planting.area_m2
            if kg < -KG or kg > most + KG:
                what = f"{kg:.3f} kg of {books.name(food_id)} in {books.week(week)}, of {most:.3f}."
                yield books.wrong(where, what)
        yield from _whole_yield(books, planting)


def _whole_yield(books: Books, planting: Planting) -> Iterator[Finding]:
    """Each square metre is lifted once: what is taken early takes ground from the main food."""
    lifted = add_up((pick.food, pick.kg) for pick in planting.picks)
    main = 0.0
    by_product = [0.0]
    for food_id, kg in lifted.items():
        food = books.food_of(planting, food_id)
        if food is None or kg <= KG:
            continue
        ground = kg / food.yield_kg_m2 if food.yield_kg_m2 > 0 else float("inf")
        if food.role is Role.BY_PRODUCT:
            by_product.append(ground)
        else:
            main += ground
    for ground in (main, max(by_product)):
        if ground > planting.area_m2 * (1 + 1e-6) + KG:
            what = f"it gives what {ground:.3f} m² would, on {planting.area_m2:.3f} m²."
            yield books.wrong(f"planting {planting.id}", what)


def check_expects(books: Books) -> Iterator[Finding]:
    """Each planting is expected to give no more than its ground yields, between its bounds."""
    for planting in books.plan.plantings:
        for expects in planting.expects:
            food = books.food_of(planting, expects.food)
            # What is told is the mean of years, however little of it is counted on.
            mean_kg_m2 = food.yield_kg_m2 / books.counted_on(food) if food else 0.0
            most = mean_kg_m2 * planting.area_m2
            ordered = expects.low_kg <= expects.kg + KG and expects.kg <= expects.high_kg + KG
            if expects.kg > most + KG or not ordered:
                what = (
                    f"it expects {expects.kg:.3f} kg of {books.name(expects.food)}, of {most:.3f}."
                )
                yield books.wrong(f"planting {planting.id}", what)


def check_bed_to_plate(books: Books) -> Iterator[Finding]:
    """In every week no more of a food is eaten fresh and put by than is picked."""
    plan = books.plan
    picked = add_up(((k.food, k.week), k.kg) for p in plan.plantings for k in p.picks)
    eaten = [((h.food, h.week), h.kg) for h in plan.helpings if h.lot is None]
    put_by = [((lot.food, lot.put_by_week), lot.kg_in) for lot in plan.lots if not lot.in_hand]
    for (food, week), kg in add_up(eaten + put_by).items():
        there = picked.get((food, week), 0.0)
        if kg > there + KG:
            what = f"{kg:.3f} kg are eaten or put by, and {there:.3f} kg picked."
            yield books.wrong(f"{books.name(food)}, {books.week(week)}", what)
    by_kind = add_up(((p.kind, k.food, k.week), k.kg) for p in plan.plantings for k in p.picks)
    stored = add_up(((t.kind, t.food, t.put_by_week), t.kg_in) for t in plan.lots if not t.in_hand)
    for (kind, food, week), kg in stored.items():
        if kg > by_kind.get((kind, food, week), 0.0) + KG:
            what = f"{kg:.3f} kg of {books.name(kind)} are put by, and not so much is picked."
            yield books.wrong(f"{books.name(food)}, {books.week(week)}", what)


def check_lots(books: Books) -> Iterator[Finding]:
    """Each lot keeps by a rule of the larder, in a place there is, and waits as long as it must."""
    rules = {(r.food, r.kind, r.form, r.place): r for r in books.question.keep_rules}
    places = {place.id for place in books.question.stores}
    for lot in books.plan.lots:
        if lot.place not in places:
            yield books.wrong(f"lot {lot.id}", f"there is no store {lot.place}.")
        if lot.in_hand:
            continue
        rule = next(
            (
                r
                for (food, kind, form, place), r in rules.items()
                if (food, kind, form.value, place) == (lot.food, lot.kind, lot.form, lot.place)
            ),
            None,
        )
        if rule is None:
            what = f"{lot.kind} does not keep {lot.form} in {books.name(lot.place)}."
            yield books.wrong(f"lot {lot.id}", what)
            continue
        yield from _rule_kept(books, lot, rule)


def _rule_kept(books: Books, lot: Lot, rule: KeepRule) -> Iterator[Finding]:
    """Lots have the keeping, room and work of their rule, and nothing is eaten before it may be."""
    where = f"lot {lot.id}"
    if (lot.sound, lot.space_l_kg, lot.work_min_kg) != (
        rule.sound,
        rule.space_l_kg,
        rule.work_min_kg,
    ):
        yield books.wrong(where, "its keeping, room or work is not the larder's.")
    for week, kg in lot.eaten:
        if kg > KG and week < lot.put_by_week + rule.wait_weeks:
            what = f"eaten in {books.week(week)}, {rule.wait_weeks} weeks must pass first."
            yield books.wrong(where, what)


def check_in_hand(books: Books) -> Iterator[Finding]:
    """No more lies in store at the start than was found there."""
    found = add_up(((t.food, t.form.value, t.place), t.kg) for t in books.question.lots)
    counted = add_up(((t.food, t.form, t.place), t.kg_in) for t in books.plan.lots if t.in_hand)
    for (food, form, place), kg in counted.items():
        there = found.get((food, form, place), 0.0)
        if kg > there + KG:
            what = (
                f"{kg:.3f} kg {form} in {books.name(place)}, and {there:.3f} kg were found there."
            )
            yield books.wrong(f"{books.name(food)} in hand", what)


def share_sound(lot: Lot, week: int) -> float:
    """Give the share of what went in that is sound in a week; 0 beyond its table.

    Of what lay in store already, the share of what was sound at the start.
    """
    age = lot.age_weeks + week if lot.in_hand else week - lot.put_by_week
    if age < 0 or age >= len(lot.sound):
        return 0.0
    start = lot.sound[lot.age_weeks] if lot.in_hand and lot.age_weeks < len(lot.sound) else 1.0
    return lot.sound[age] / start if start > 0 else 0.0


def went_in_kg(books: Books, lot: Lot, until_week: int) -> float:
    """Add up what must have gone in for all that came out by a week: each divided by survival."""
    out = [(week, kg) for week, kg in lot.eaten if kg > KG]
    if lot.seed_kg > KG:
        last = books.plan.horizon.weeks - 1
        out.append((last if lot.seed_week is None else lot.seed_week, lot.seed_kg))
    total = 0.0
    for week, kg in out:
        if week <= until_week:
            share = share_sound(lot, week)
            total += kg / share if share > 0 else float("inf")
    return total


def check_keeping(books: Books) -> Iterator[Finding]:
    """Nothing comes out of a lot that did not go in, what rots included."""
    last = books.plan.horizon.weeks - 1
    for lot in books.plan.lots:
        where = f"lot {lot.id}"
        eaten = sum(kg for _, kg in lot.eaten)
        parts = (lot.kg_in, eaten, lot.seed_kg, lot.left_kg, lot.lost_kg)
        if min(parts) < -KG:
            yield books.wrong(where, "a figure of it is below nothing.")
        if abs(lot.kg_in - sum(parts[1:])) > KG + 1e-6 * lot.kg_in:
            what = f"{lot.kg_in:.3f} kg went in, {sum(parts[1:]):.3f} kg are accounted for."
            yield books.wrong(where, what)
        needed = went_in_kg(books, lot, last)
        if needed > lot.kg_in + KG * max(1, len(lot.eaten)):
            what = f"{needed:.3f} kg must go in for what comes out sound, and {lot.kg_in:.3f} do."
            yield books.wrong(where, what)
        else:
            oldest = len(lot.sound) - 1 + (-lot.age_weeks if lot.in_hand else lot.put_by_week)
            sound_left = (lot.kg_in - needed) * share_sound(lot, min(last, oldest))
            if lot.left_kg > sound_left + KG * max(1, len(lot.eaten)):
                what = f"{lot.left_kg:.3f} kg are left, and {sound_left:.3f} kg can still be sound."
                yield books.wrong(where, what)


def check_store_space(books: Books) -> Iterator[Finding]:
    """All that is sound in a store has room, but for what the plan tells; the worst week is told.

    What lies over the room is added up over the weeks, as the plan tells it week by week.
    """
    for place in books.question.stores:
        if place.capacity_l is None:
            continue
        lots = [lot for lot in books.plan.lots if lot.place == place.id]
        held = {week: sum(_room_l(books, lot, week) for lot in lots) for week in _weeks(books)}
        worst = max(held, key=lambda week: held[week], default=0)
        over = sum(max(litres - place.capacity_l - LITRES, 0) for litres in held.values())
        if over > LITRES and books.broken_by("store space", place.id) < 0.99 * over - LITRES:
            what = f"{held[worst]:.1f} litres lie in {place.capacity_l:.1f}, and this is not told."
            yield books.wrong(f"{place.name}, {books.week(worst)}", what)


def _room_l(books: Books, lot: Lot, week: int) -> float:
    """Give the room that what is still sound of a lot takes at the end of a week [litres]."""
    if not lot.in_hand and week < lot.put_by_week:
        return 0.0
    left = max(lot.kg_in - went_in_kg(books, lot, week), 0.0)
    return left * share_sound(lot, week) * lot.space_l_kg


def _weeks(books: Books) -> range:
    return range(books.plan.horizon.weeks)


def check_seed_back(books: Books) -> Iterator[Finding]:
    """Seed is kept back only of kinds replanted so, for a week, and no more than is set."""
    allowed = {(back.kind, back.food): back for back in books.question.seed_back}
    kept: list[tuple[str, float]] = []
    for lot in books.plan.lots:
        if lot.seed_kg <= KG:
            continue
        back = allowed.get((lot.kind, lot.food))
        if back is None:
            what = f"{lot.seed_kg:.3f} kg are kept back, though {lot.kind} is not replanted so."
            yield books.wrong(f"lot {lot.id}", what)
        elif lot.seed_week is None or lot.seed_week not in _weeks(books):
            yield books.wrong(f"lot {lot.id}", "seed is kept back for no week of the plan.")
        else:
            kept.append((lot.kind, lot.seed_kg * back.units_per_kg))
    needs = add_up((p.kind, p.stock) for p in books.plan.plantings if not p.standing)
    for kind, units in add_up(kept).items():
        if units > needs.get(kind, 0.0) + 1:
            what = f"{units:.0f} units are kept back and {needs.get(kind, 0.0):.0f} planted."
            yield books.wrong(books.name(kind), what)


def check_serves(books: Books) -> Iterator[Finding]:
    """No planting serves more of a food than is picked from it."""
    for planting in books.plan.plantings:
        picked = add_up((pick.food, pick.kg) for pick in planting.picks)
        served = add_up((serves.food, serves.kg) for serves in planting.serves)
        for food, kg in served.items():
            if kg > picked.get(food, 0.0) + KG * max(1, len(planting.picks)):
                what = f"it serves {kg:.3f} kg of {books.name(food)}, more than is picked."
                yield books.wrong(f"planting {planting.id}", what)
