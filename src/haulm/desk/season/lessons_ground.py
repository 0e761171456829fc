"""What weighed and counted plantings teach: yields, what comes up, what lives, when it is ready."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from math import exp, log, sqrt

from haulm.catalogue.records import Giving, Kind, Picking
from haulm.catalogue.stand import plants_m2
from haulm.desk.season.lesson_gathering import Gathered, Record, giving_of
from haulm.desk.season.lesson_records import OWN_FIGURE, Moved, Taught, Written
from haulm.forecast.safety import yield_spread
from haulm.growing.harvest import yield_bounds
from haulm.measure.chance import DECILE
from haulm.season.learning import Learnt, Prior, Seen, learn
from haulm.season.records import STARTED, Entry, EntryKind, Measured, Severity
from haulm.season.rules import season_rules
from haulm.season.share_learning import CountSeen, learn_share


def ground_lessons(told: Gathered) -> Iterator[Moved]:
    """Give every figure of a kind that plantings move.

    A planting counts once it was cleared, or should have been two weeks ago; its ground is what
    was written of it, else what the plan gave it.
    """
    yield from _yields(told)
    yield from _come_up(told)
    yield from _live(told)
    yield from _ready(told)


def _yields(told: Gathered) -> Iterator[Moved]:
    rules = season_rules()
    for (kind_id, food), mine in _by_kind(told).items():
        kind = told.kind(kind_id)
        giving = giving_of(kind, food)
        if kind is None or giving is None:
            continue
        seen = [one for record in mine for one in _yield_seen(told, record, food)]
        if not seen:
            continue
        spread = yield_spread(*yield_bounds(giving.yield_kg_m2))
        prior = Prior(
            log(giving.yield_kg_m2.value) - spread**2 / 2,
            spread * sqrt(rules.own_share.value),
            spread * sqrt(1 - rules.own_share.value),
            rules.year_share.value,
        )
        learnt = learn(prior, seen, told.confirmed)
        ahead = (learnt.next_high - learnt.mean) / DECILE
        figure = f"givings.{food}.yield_kg_m2"
        typed = {
            "value": exp(learnt.mean + ahead**2 / 2),
            "low": exp(learnt.next_low),
            "high": exp(learnt.next_high),
        }
        yield Moved(
            taught=Taught.YIELD,
            of=kind_id,
            figure=figure,
            name=f"{kind.name}, {told.usual.foods[food].name}: yield",
            unit="kg/m²",
            usual=giving.yield_kg_m2.value,
            value=typed["value"],
            low=exp(learnt.low + prior.within**2 / 2),
            high=exp(learnt.high + prior.within**2 / 2),
            next_low=typed["low"],
            next_high=typed["high"],
            prior_weight=learnt.prior_weight,
            counted=learnt.counted,
            asked=tuple(one.entry for one in learnt.asked),
            few=_few(learnt),
            writes=(_own_figure(kind_id, figure, **typed),),
        )


def _by_kind(told: Gathered) -> Mapping[tuple[str, str], list[Record]]:
    """Sort plantings that are over by kind and food."""
    found: dict[tuple[str, str], list[Record]] = defaultdict(list)
    for record in told.records:
        if record.is_over:
            for expects in record.planting.expects:
                found[record.planting.kind, expects.food].append(record)
    return found


def _yield_seen(told: Gathered, record: Record, food: str) -> Iterator[Seen]:
    """Give what a planting yielded of a food, if all that was picked of it was weighed.

    Nothing where some of the food was picked meanwhile of which it is not told from where.
    """
    picked = record.picked(food)
    kg = [told.kg(entry, food) for entry in picked]
    first = record.planting.in_ground_from
    doubtful = any(first <= entry.day <= record.last_day for entry in told.loose.get(food, ()))
    if doubtful or None in kg or record.area_m2 <= 0:
        return
    whole = sum(one for one in kg if one is not None)
    if whole > 0:
        yield Seen(log(whole / record.area_m2), picked[0].day.year, picked[-1].id)


def _come_up(told: Gathered) -> Iterator[Moved]:
    counts: dict[tuple[str, str], list[CountSeen]] = defaultdict(list)
    for record in told.records:
        started = record.pieces(EntryKind.SOWN) or record.pieces(EntryKind.SET)
        up = record.pieces(EntryKind.EMERGED)
        if started is not None and up is not None:
            key = record.planting.kind, record.planting.method
            counts[key].append(CountSeen(up, started, record.of(EntryKind.EMERGED)[-1].id))
    yield from _shares(told, counts, Taught.COMES_UP, "germination", "share that comes up")


def _live(told: Gathered) -> Iterator[Moved]:
    counts: dict[tuple[str, str], list[CountSeen]] = defaultdict(list)
    for record in told.records:
        stood = _stood(record)
        lifted = _lifted(told, record)
        if record.is_over and stood and lifted is not None:
            through, entry = lifted
            key = record.planting.kind, record.planting.method
            counts[key].append(CountSeen(through, stood, entry.id))
    yield from _shares(told, counts, Taught.LIVES, "survival", "share that lives to be lifted")


def _stood(record: Record) -> float | None:
    """Count the plants that stood: set out, or come up and not thinned; None where not counted."""
    set_out = record.pieces(EntryKind.SET_OUT)
    if set_out is not None:
        return set_out
    up, thinned = record.pieces(EntryKind.EMERGED), record.pieces(EntryKind.THINNED)
    if up is None or (record.of(EntryKind.THINNED) and thinned is None):
        return None
    return max(0.0, up - (thinned or 0.0))


def _lifted(told: Gathered, record: Record) -> tuple[float, Entry] | None:
    """Count the plants lifted, where a plant gives one piece and all of them were counted."""
    lost = [
        entry
        for entry in record.of(EntryKind.TROUBLE)
        if entry.about.severity is Severity.LOST and not record.of(EntryKind.PICKED)
    ]
    if lost:
        return 0.0, lost[-1]
    kind = told.kind(record.planting.kind)
    picked = record.of(EntryKind.PICKED)
    first = record.planting.in_ground_from
    for entry in picked:
        food = record.food_of(entry)
        giving = giving_of(kind, food)
        if kind is None or giving is None or not _one_a_plant(told, kind, giving):
            return None
        if entry.amount is None or entry.amount.measured is not Measured.PIECES:
            return None
        if any(first <= one.day <= record.last_day for one in told.loose.get(food, ())):
            return None
    counted = sum(entry.amount.number for entry in picked if entry.amount is not None)
    return (counted, picked[-1]) if picked else None


def _one_a_plant(told: Gathered, kind: Kind, giving: Giving) -> bool:
    """Say whether a plant gives one piece of a food, by what the catalogue says it weighs."""
    piece_kg = told.piece_kg(giving.food)
    if piece_kg is None or giving.picking is Picking.SPREAD:
        return False
    rules = season_rules()
    each = giving.yield_kg_m2.value / plants_m2(kind.stand) / piece_kg
    return rules.one_piece_least.value <= each <= rules.one_piece_most.value


def _shares(
    told: Gathered,
    counts: Mapping[tuple[str, str], list[CountSeen]],
    taught: Taught,
    field: str,
    words: str,
) -> Iterator[Moved]:
    """Move a share of each method that was counted."""
    rules = season_rules()
    for (kind_id, method_id), seen in counts.items():
        kind = told.kind(kind_id)
        method = next((m for m in kind.methods if m.id == method_id), None) if kind else None
        usual = getattr(method, field).value if method else 0.0
        if kind is None or not 0 < usual < 1:
            continue
        learnt = learn_share(usual, seen, told.confirmed)
        figure = f"methods.{method_id}.{field}"
        yield Moved(
            taught=taught,
            of=kind_id,
            figure=figure,
            name=f"{kind.name}, {method_id}: {words}",
            unit="1",
            usual=usual,
            value=learnt.mean,
            low=learnt.low,
            high=learnt.high,
            prior_weight=learnt.prior_weight,
            counted=learnt.counted,
            asked=tuple(one.entry for one in learnt.asked),
            few=learnt.prior_weight > rules.few_weight.value,
            writes=(_own_figure(kind_id, figure, value=learnt.mean),),
        )


def _ready(told: Gathered) -> Iterator[Moved]:
    """Tell of what is taken when it is ready; what stands until it is wanted tells nothing.

    A planting's own days are taken from the day that was reckoned for it with the usual figures:
    days by which a plan took the kind to be later already are added back.
    """
    rules = season_rules()
    prior = Prior(0.0, rules.ready_own_days.value, rules.ready_year_days.value)
    seen: dict[str, list[Seen]] = defaultdict(list)
    for record in told.records:
        planted = record.kept.as_planned
        if planted.standing or not _in_time(record):
            continue
        kind = told.kind(planted.kind)
        for ready in planted.ready:
            giving = giving_of(kind, ready.food)
            picked = record.picked(ready.food)
            if picked and giving is not None and giving.picking is not Picking.STAND:
                first = min(picked, key=lambda entry: entry.day)
                days = (first.day - ready.middle).days + ready.later_days
                seen[planted.kind].append(Seen(float(days), first.day.year, first.id))
                break
    for kind_id, mine in seen.items():
        learnt = learn(prior, mine, told.confirmed)
        yield Moved(
            taught=Taught.READY,
            of=kind_id,
            figure="later_days",
            name=f"{told.usual.kinds[kind_id].name}: days later than reckoned",
            unit="d",
            usual=0.0,
            value=learnt.mean,
            low=learnt.low,
            high=learnt.high,
            next_low=learnt.next_low,
            next_high=learnt.next_high,
            prior_weight=learnt.prior_weight,
            counted=learnt.counted,
            asked=tuple(one.entry for one in learnt.asked),
            few=_few(learnt),
            writes=(_own_figure(kind_id, "later_days", value=learnt.mean),),
        )


def _in_time(record: Record) -> bool:
    """Whether it was begun near its planned day, as far as that was written."""
    planted = record.kept.as_planned
    begun = [entry for entry in record.of(*STARTED) if entry.kind is not EntryKind.SET_OUT]
    off = season_rules().start_off_days.value
    return all(abs((entry.day - planted.sow_on).days) <= off for entry in begun)


def _few(learnt: Learnt) -> bool:
    return learnt.records < season_rules().few_records.value


def _own_figure(of: str, figure: str, **typed: float) -> Written:
    rounded = {key: round(value, 4) for key, value in typed.items()}
    return Written(OWN_FIGURE, {"of": of, "figure": figure, **rounded})
