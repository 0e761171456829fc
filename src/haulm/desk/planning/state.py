"""The garden as it truly is on a day: what it tells itself, what its kept plan did, what was noted.

What the garden tells goes before what the plan assumes: a standing crop, a lot or a count of stock
told since the plan was made takes the place of the plan's own, and none is counted twice.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from haulm.catalogue.records import Catalogue, Form
from haulm.desk.planning.state_marks import mark
from haulm.desk.planning.state_told import Carried, told_of
from haulm.ground.records import PastCrop
from haulm.growing.sowings import Planned
from haulm.larder.keeping import keep_rules
from haulm.larder.records import KeepRule, LotInHand
from haulm.measure.findings import Finding
from haulm.measure.weeks import monday_of
from haulm.notebook.garden import Garden, PlantingStock, StandingCrop
from haulm.plan.records import Begun, Plan, Planting
from haulm.plan.state import GONE, LEAST_KG, Became, Growing, Noted, PlanState, state_on
from haulm.season.keeping_pace import age_weeks, sound_at

NEAR_DAYS = 14
"""A standing crop told within so many days of a planting's start is that planting [days]."""


@dataclass(frozen=True, slots=True)
class Now:
    """A garden on a day, as a plan is to be made from.

    Attributes
    ----------
    garden
        The garden, with what stands, lies in store and is in hand on that day.
    begun
        What the plan to be made is begun with.
    planned
        What is still to be sown by the kept plan, to be offered again.
    gone
        Plantings of the kept plan that are no more, each with the note that says so.
    findings
        What was assumed, and notes that speak of nothing.
    """

    garden: Garden
    begun: Begun
    planned: Planned = frozenset()
    gone: tuple[tuple[Planting, Noted], ...] = ()
    findings: tuple[Finding, ...] = ()


def garden_on(
    garden: Garden,
    catalogue: Catalogue,
    plan: Plan | None,
    day: date,
    *,
    books_kept: bool = False,
) -> Now:
    """Give a garden on a day, the kept plan carried on until then.

    Parameters
    ----------
    garden, catalogue
        What is told, and what is known.
    plan
        The plan that is kept; None where there is none.
    day
        The day. A plan begun on a later Monday has nothing to say of it.
    books_kept
        Whether the garden tells all that lies in store, by the larder's books: then nothing that
        the plan meant to put by is taken to be there.
    """
    told = tuple(marks_told(garden))
    stock = tuple(_told_stock(garden).items())
    if plan is None or plan.horizon.first_day > monday_of(day):
        standing = [_as_noted(stand, garden.noted, day) for stand in garden.standing]
        left = tuple(stand for stand in standing if stand is not None)
        return Now(replace(garden, standing=left), Begun(told, stock))
    state = state_on(plan, day, garden.noted)
    begun = plan.begun or Begun()
    stock_now = _stock(garden, plan, state)
    past = (*begun.past, *state.past)
    carried = replace(
        garden,
        standing=_standing(garden, catalogue, plan, state, day),
        lots=garden.lots
        if books_kept
        else (*_lots(garden, plan, state), *left_lying(garden, catalogue, plan, day)),
        stock=tuple(
            PlantingStock(kind, units, _year(garden, kind, day)) for kind, units in stock_now
        ),
        beds=tuple(
            replace(bed, past=(*bed.past, *(PastCrop(c, y) for b, c, y in past if b == bed.id)))
            for bed in garden.beds
        ),
    )
    planned = frozenset(
        (planting.kind, planting.method, monday_of(planting.sow_on))
        for planting in plan.plantings
        if not planting.standing and planting.sow_on >= monday_of(day)
    )
    return Now(
        carried,
        Begun(told, stock_now, past),
        planned,
        state.gone,
        told_of(Carried(garden, catalogue, plan, state, carried, books_kept), day),
    )


def marks_told(garden: Garden) -> list[str]:
    """Give a mark of each standing crop, lot, stock and note that a garden tells."""
    everything = (*garden.standing, *garden.lots, *garden.stock, *garden.noted)
    return sorted({mark(one) for one in everything})


def noted_since(garden: Garden, plan: Plan) -> bool:
    """Say whether something was noted that a plan does not know of."""
    known = plan.begun.told if plan.begun else ()
    return any(mark(note) not in known for note in garden.noted)


def _as_noted(stand: StandingCrop, notes: Sequence[Noted], day: date) -> StandingCrop | None:
    """Give a standing crop that a garden tells as it was noted since; None where it is gone."""
    mine = [
        note
        for note in notes
        if (note.kind, note.bed) == (stand.kind, stand.bed)
        and stand.sown_on <= note.on <= day
        and note.sown in {None, stand.sown_on}
    ]
    if any(note.what in GONE for note in mine):
        return None
    for note in mine:
        if note.what is Became.GIVES and note.share is not None:
            stand = replace(stand, hoped=note.share)
        elif note.what is Became.LATE and note.days is not None:
            stand = replace(stand, late_days=note.days)
    return stand


def _standing(
    garden: Garden, catalogue: Catalogue, plan: Plan, state: PlanState, day: date
) -> tuple[StandingCrop, ...]:
    """Give what stands: what the plan started, what the garden tells in its place, what lasts."""
    known = set(plan.begun.told) if plan.begun else None
    growing = list(state.growing)
    others = [*state.cleared, *(planting for planting, _ in state.gone)]
    found: list[StandingCrop] = []
    for stand in garden.standing:
        lasting = catalogue.kinds[stand.kind].perennial is not None
        mine = _nearest(stand, growing)
        if mine is not None:
            growing.remove(mine)
            so_far = () if lasting else mine.taken
            late = 0 if lasting else mine.late_days
            found.append(replace(stand, taken=so_far, hoped=mine.hoped, late_days=late))
            continue
        over = [planting for planting in others if _is_it(stand, planting)]
        # What the plan itself knew to stand has had its time; what was told since stands all the
        # same, though the plan says otherwise.
        stale = any(planting.standing for planting in over) or (
            known is not None and mark(stand) in known
        )
        ended = any(_is_it(stand, planting) for planting, _ in state.gone)
        if not stale and not ended:
            seen = _as_noted(stand, garden.noted, day)
            found += [] if seen is None else [seen]
    found += [
        StandingCrop(
            bed=one.planting.bed,
            kind=one.planting.kind,
            method=one.planting.method,
            sown_on=one.planting.set_on,
            area_m2=one.planting.area_m2,
            taken=one.taken,
            hoped=one.hoped,
            late_days=one.late_days,
            assumed=True,
        )
        for one in growing
    ]
    return tuple(found)


def _is_it(stand: StandingCrop, planting: Planting) -> bool:
    """Say whether a standing crop that is told is a planting: by kind, bed, method and day."""
    apart = (abs((stand.sown_on - d).days) for d in (planting.sow_on, planting.set_on))
    same = (planting.kind, planting.bed, planting.method) == (stand.kind, stand.bed, stand.method)
    return same and min(apart) <= NEAR_DAYS


def _nearest(stand: StandingCrop, growing: Sequence[Growing]) -> Growing | None:
    """Find the planting that a standing crop is, the nearest in time."""
    return min(
        (one for one in growing if _is_it(stand, one.planting)),
        key=lambda one: (abs((stand.sown_on - one.planting.set_on).days), one.planting.id),
        default=None,
    )


def _lots(garden: Garden, plan: Plan, state: PlanState) -> tuple[LotInHand, ...]:
    """Give what lies in store: lots counted since the plan was made, and what it has left.

    Whatever is counted of a food in one form and store is all there is of it there.
    """
    known = set(plan.begun.told) if plan.begun else set()
    fresh = [lot for lot in garden.lots if mark(lot) not in known and not _began_with(plan, lot)]
    counted = {(lot.food, lot.form.value, lot.place) for lot in fresh}
    assumed = (
        LotInHand(left.food, left.kind or None, Form(left.form), left.place, left.kg, left.put_by)
        for left in state.lots
        if (left.food, left.form, left.place) not in counted
    )
    return (*fresh, *assumed)


def left_lying(
    garden: Garden, catalogue: Catalogue, plan: Plan, day: date
) -> tuple[LotInHand, ...]:
    """Give the lots that a plan had no use for: they lie where they lay, less what has rotted."""
    unused = dict(plan.begun.unused) if plan.begun else {}
    rules = keep_rules(catalogue.kinds.values(), garden.stores) if unused else ()
    left = []
    for lot in garden.lots:
        kg = unused.get(mark(lot))
        if kg is not None:
            share = _sound_since(lot, rules, plan.made_on, day)
            left.append(replace(lot, kg=kg * share))
    return tuple(lot for lot in left if lot.kg > LEAST_KG)


def unused_lots(plan: Plan, garden: Garden, told: Garden) -> tuple[tuple[str, float], ...]:
    """Find the lots a garden tells that a plan made from it has no use for.

    Parameters
    ----------
    plan
        The plan.
    garden
        The garden it was made from, with what lay in store that day.
    told
        The garden as the grower tells it, by whose lots the marks are.
    """
    used = {(lot.food, lot.form, lot.place) for lot in plan.lots if lot.in_hand}
    there = {
        (lot.food, lot.kind, lot.form, lot.place, lot.put_by): lot.kg
        for lot in garden.lots
        if (lot.food, lot.form.value, lot.place) not in used
    }
    marks = {
        mark(lot): there.get((lot.food, lot.kind, lot.form, lot.place, lot.put_by))
        for lot in told.lots
    }
    return tuple((mark, kg) for mark, kg in marks.items() if kg is not None)


def _sound_since(lot: LotInHand, rules: Sequence[KeepRule], then: date, day: date) -> float:
    """Give the share of what was sound of a lot that is so still; of an unknown kind the worst."""
    fits = [
        rule.sound
        for rule in rules
        if (rule.food, rule.form, rule.place) == (lot.food, lot.form, lot.place)
        and lot.kind in {None, rule.kind}
    ]
    if not fits:
        return 1.0
    sound = min(fits, key=sum)
    before, now = (sound_at(sound, age_weeks(lot.put_by, one)) for one in (then, day))
    return now / before if before > 0 else 0.0


def _began_with(plan: Plan, lot: LotInHand) -> bool:
    """Say whether a plan was begun with this very lot; of plans that left no marks."""
    if plan.begun is not None:
        return False
    kg = sum(
        one.kg_in
        for one in plan.lots
        if one.in_hand
        and (one.food, one.form, one.place) == (lot.food, lot.form.value, lot.place)
        and one.kind in {"", lot.kind}
    )
    return lot.put_by <= plan.made_on and kg > 0


def _told_stock(garden: Garden) -> dict[str, float]:
    """Add up the planting stock that a garden tells, by kind [units]."""
    units: dict[str, float] = {}
    for stock in garden.stock:
        units[stock.kind] = units.get(stock.kind, 0.0) + stock.units
    return units


def _stock(garden: Garden, plan: Plan, state: PlanState) -> tuple[tuple[str, float], ...]:
    """Give the planting stock in hand by kind: what was told since, or what is left of before."""
    fresh = told_since(garden, plan)
    return tuple(
        (kind, units if kind in fresh else max(0.0, units - state.stock_used.get(kind, 0.0)))
        for kind, units in stock_at_start(garden, plan).items()
    )


def told_since(garden: Garden, plan: Plan) -> frozenset[str]:
    """Name the kinds of which a garden tells planting stock that a plan did not know of."""
    if plan.begun is None:
        return frozenset()
    known = set(plan.begun.told)
    return frozenset(stock.kind for stock in garden.stock if mark(stock) not in known)


def stock_at_start(garden: Garden, plan: Plan) -> dict[str, float]:
    """Give the planting stock that a plan may use, by kind [units].

    What was told since it was made is all there is of its kind; of any other kind so much is there
    as the plan was begun with, what earlier plans have used not counted again.
    """
    told, fresh = _told_stock(garden), told_since(garden, plan)
    before = dict(plan.begun.stock) if plan.begun else told
    return {
        kind: units if kind in fresh else before.get(kind, units) for kind, units in told.items()
    }


def _year(garden: Garden, kind: str, day: date) -> int:
    """Give the year that stock of a kind is from: the newest told."""
    return max((stock.year for stock in garden.stock if stock.kind == kind), default=day.year)
