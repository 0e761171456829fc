"""A stretch of days' jobs: what to sow, set, pick, put by, clear and tend, and in which bed."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from haulm.catalogue.caution_records import Deed
from haulm.catalogue.cautions import cautions_at_work, cautions_for, told
from haulm.catalogue.known import counted
from haulm.catalogue.records import Picking
from haulm.measure.weeks import monday_of
from haulm.plan.records import Lot, Pick, Planting
from haulm.sheets.acts import JobKind, acts_of
from haulm.sheets.bed_facts import depth_text
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.care import cares_of
from haulm.sheets.strip_names import to_dig_in
from haulm.sheets.wording import (
    area_text,
    figure,
    food_name,
    main_expects,
    measure_figure,
    measure_unit,
    weight_text,
)

_SUNDAY = timedelta(days=6)
_WEEK = timedelta(days=7)
STARTS = (JobKind.SOW_TRAYS, JobKind.SOW, JobKind.PLANT, JobKind.SET_OUT)


@dataclass(frozen=True, slots=True)
class Job:
    """One job.

    Attributes
    ----------
    id
        Unique in the plan, the same whenever it is asked for.
    kind
        What is done.
    place
        The bed's or the store's name; for trays, that of the bed they are meant for.
    what
        The job in words, as in *Set out leek, winter*.
    amount
        How much, how far apart, how deep; or what to expect, with its spread.
    minutes
        Work the plan counts for it [minutes]; None where it counts none apart from the rest of
        the planting's work.
    first_day, last_day
        The days in which the plan wants it done.
    latest_day
        For sowing and planting in place: the last day on which it may be done at all; else None.
    planting
        The planting's id; empty where a job is of a whole bed or of a lot.
    cautions
        What to take care of, and whom to ask.
    """

    id: str
    kind: JobKind
    place: str
    what: str
    amount: str
    minutes: float | None
    first_day: date
    last_day: date
    latest_day: date | None
    planting: str
    cautions: tuple[str, ...]

    def is_last_day(self, day: date) -> bool:
        """Whether a day is the last on which the plan wants it done."""
        return day == self.last_day

    def days_late(self, day: date) -> int:
        """Count the days since its last one; 0 until then."""
        return max(0, (day - self.last_day).days)


def jobs_between(bundle: SheetBundle, first: date, last: date) -> tuple[Job, ...]:
    """Give every job that may be done from one day to another, what is due first foremost.

    The minutes of a week's jobs add up to the hours the plan asks of that week. Work that belongs
    to no act of a planting, weeding above all, is gathered by bed as tending.
    """
    found = [job for job in _all_jobs(bundle, first, last) if _within(job, first, last)]
    return tuple(sorted(found, key=lambda job: (job.last_day, job.first_day, job.place, job.id)))


def _within(job: Job, first: date, last: date) -> bool:
    return job.first_day <= last and job.last_day >= first


def _all_jobs(bundle: SheetBundle, first: date, last: date) -> Iterator[Job]:
    horizon = bundle.plan.horizon
    weeks = range(max(0, horizon.week_of(first)), min(horizon.weeks, horizon.week_of(last) + 1))
    tending: dict[tuple[str, int], float] = defaultdict(float)
    for planting in bundle.plan.plantings:
        left = {week: minutes for week, minutes in planting.minutes if week in weeks}
        yield from _picking(bundle, planting, weeks, left)
        yield from _acting(bundle, planting, left)
        yield from _caring(bundle, planting, weeks)
        for week, minutes in left.items():
            tending[planting.bed, week] += minutes
    for (bed, week), minutes in tending.items():
        if minutes > 0:
            yield _tending(bundle, bed, week, minutes)
    together: dict[tuple[int, str, str, str, str], list[Lot]] = defaultdict(list)
    for lot in bundle.plan.lots:
        if not lot.in_hand and lot.put_by_week in weeks:
            same = (lot.put_by_week, lot.food, lot.kind, lot.form, lot.place)
            together[same].append(lot)
    for lots in together.values():
        yield _putting_by(bundle, lots)


def _picking(
    bundle: SheetBundle, planting: Planting, weeks: range, left: dict[int, float]
) -> Iterator[Job]:
    """Give a planting's picking, and take its minutes from what is left of each week."""
    how = {giving.food: giving.picking for giving in bundle.kind_of(planting).givings}
    a_kg = bundle.kind_of(planting).labour.pick_min_kg
    for pick in planting.picks:
        if pick.week not in weeks:
            continue
        minutes = min(left.get(pick.week, 0.0), pick.kg * counted(a_kg))
        left[pick.week] = left.get(pick.week, 0.0) - minutes
        # What is taken again and again is picked; all else is lifted.
        again = how.get(pick.food, Picking.SPREAD) == Picking.SPREAD
        kind = JobKind.PICK if again else JobKind.LIFT
        monday = bundle.plan.horizon.monday(pick.week)
        yield Job(
            id=f"{planting.id}-{kind.value}-{pick.food}-{bundle.plan.horizon.label(pick.week)}",
            kind=kind,
            place=bundle.bed(planting.bed).name,
            what=f"{kind.verb} {food_name(bundle.catalogue, pick.food)}",
            amount=_expected(bundle, planting, pick),
            minutes=minutes,
            first_day=monday,
            last_day=monday + _SUNDAY,
            latest_day=None,
            planting=planting.id,
            cautions=_cautions(
                bundle, pick.food, Deed.EAT, Deed.LIFT, *(() if again else (Deed.CARRY,))
            ),
        )


def _expected(bundle: SheetBundle, planting: Planting, pick: Pick) -> str:
    """Say what a week's picking brings, spread as the planting's whole yield is."""
    kg = weight_text(pick.kg, bundle.units)
    for expects in planting.expects:
        if expects.food == pick.food and expects.kg > 0:
            low, high = (pick.kg * end / expects.kg for end in (expects.low_kg, expects.high_kg))
            low_text = weight_text(low, bundle.units).rsplit(" ", 1)[0]
            return f"{kg}; 8 years in 10 from {low_text} to {weight_text(high, bundle.units)}"
    return kg


def _acting(bundle: SheetBundle, planting: Planting, left: dict[int, float]) -> Iterator[Job]:
    """Give what starts and ends a planting; the first of a week takes what minutes are left."""
    for act in acts_of(planting, stays=bundle.stays(planting)):
        kind = act.kind
        if kind in {JobKind.LIFT, JobKind.CLEAR}:
            if _lifted_at_once(bundle, planting):
                continue
            kind = JobKind.DIG_IN if to_dig_in(bundle, planting) else JobKind.CLEAR
            first, last = act.day - _WEEK, act.day
        else:
            first, last = act.day, monday_of(act.day) + _SUNDAY
        week = bundle.plan.horizon.week_of(first)
        in_place = kind in {JobKind.SOW, JobKind.PLANT, JobKind.SOW_TRAYS}
        name = bundle.full_name(planting)
        yield Job(
            id=f"{planting.id}-{kind.value}",
            kind=kind,
            place=bundle.bed(planting.bed).name,
            what=_what(kind, f"{name[0].lower()}{name[1:]}"),
            amount=_amount(bundle, planting, kind),
            minutes=left.pop(week, None) if kind != JobKind.CLEAR else None,
            first_day=first,
            last_day=last,
            latest_day=planting.latest_sowing + _SUNDAY if in_place else None,
            planting=planting.id,
            cautions=_starting_cautions(bundle, planting, kind),
        )


def _what(kind: JobKind, name: str) -> str:
    if kind == JobKind.SOW_TRAYS:
        return f"Sow {name}{',' if ',' in name else ''} in trays"
    return f"{kind.verb} {name}"


def _lifted_at_once(bundle: SheetBundle, planting: Planting) -> bool:
    """Whether lifting a planting's chief food clears its ground."""
    chief = main_expects(planting)
    return chief is not None and any(
        giving.food == chief.food and giving.picking == Picking.ONCE
        for giving in bundle.kind_of(planting).givings
    )


def _amount(bundle: SheetBundle, planting: Planting, kind: JobKind) -> str:
    ground = area_text(planting.area_m2, bundle.units)
    stand = bundle.kind_of(planting).stand
    unit = measure_unit(bundle.units)
    apart = f"{measure_figure(stand.spacing_offset_m.value, bundle.units)} {unit} apart"
    stock_deep, plants_deep = depth_text(bundle, planting)
    stock = figure(round(planting.stock))
    units = f"{stock} {planting.stock_unit}{'' if stock == '1' else 's'}"
    told = {
        JobKind.SOW_TRAYS: (f"{units} in {planting.tray_cells} cells", stock_deep),
        JobKind.SET_OUT: (f"{planting.plants} plants on {ground}", apart, plants_deep),
        JobKind.SOW: (f"{units} on {ground}", apart, stock_deep),
        JobKind.PLANT: (f"{units} on {ground}", apart, stock_deep),
    }
    return ", ".join(part for part in told.get(kind, (ground,)) if part)


def _caring(bundle: SheetBundle, planting: Planting, weeks: range) -> Iterator[Job]:
    """Give what a planting that stays for years wants once a year; its minutes are tending's."""
    for care in cares_of(bundle, planting):
        if bundle.plan.horizon.week_of(care.day) not in weeks:
            continue
        name = bundle.full_name(planting)
        monday = monday_of(care.day)
        yield Job(
            id=f"{planting.id}-{care.kind.value}-{monday:%Y}",
            kind=care.kind,
            place=bundle.bed(planting.bed).name,
            what=_what(care.kind, f"{name[0].lower()}{name[1:]}"),
            amount=", ".join(
                part for part in (area_text(planting.area_m2, bundle.units), care.note) if part
            ),
            minutes=None,
            first_day=monday,
            last_day=monday + _SUNDAY,
            latest_day=None,
            planting=planting.id,
            cautions=(),
        )


def _tending(bundle: SheetBundle, bed: str, week: int, minutes: float) -> Job:
    monday = bundle.plan.horizon.monday(week)
    name = bundle.bed(bed).name
    return Job(
        id=f"{bed}-{JobKind.TEND.value}-{bundle.plan.horizon.label(week)}",
        kind=JobKind.TEND,
        place=name,
        what=f"{JobKind.TEND.verb} {name}",
        amount="weed, thin, water, tie",
        minutes=minutes,
        first_day=monday,
        last_day=monday + _SUNDAY,
        latest_day=None,
        planting="",
        cautions=(),
    )


def _putting_by(bundle: SheetBundle, lots: Sequence[Lot]) -> Job:
    """Give the putting by of lots that are of one kind, form, place and week: one job."""
    lot = lots[0]
    monday = bundle.plan.horizon.monday(lot.put_by_week)
    food = food_name(bundle.catalogue, lot.food)
    detail = bundle.kind_detail(lot.kind) if lot.kind in bundle.catalogue.kinds else ""
    stores = {store.id: store.name for store in bundle.stores}
    return Job(
        id=f"{lot.id}-{JobKind.PUT_BY.value}",
        kind=JobKind.PUT_BY,
        place=stores.get(lot.place, lot.place),
        what=f"{JobKind.PUT_BY.verb} {food}{f', {detail}' if detail else ''}",
        amount=f"{weight_text(sum(one.kg_in for one in lots), bundle.units)}, {lot.form}",
        minutes=sum(one.kg_in * one.work_min_kg for one in lots),
        first_day=monday,
        last_day=monday + _SUNDAY,
        latest_day=None,
        planting="",
        cautions=_cautions(bundle, lot.food, Deed.PUT_BY),
    )


def _cautions(bundle: SheetBundle, food: str, *deeds: Deed) -> tuple[str, ...]:
    """Give the cautions due when something is done with a food, with whom to ask."""
    found = cautions_for(bundle.catalogue, (food,), deeds, bundle.ages)
    return tuple(told(caution) for caution in found)


def _starting_cautions(bundle: SheetBundle, planting: Planting, kind: JobKind) -> tuple[str, ...]:
    """Give the cautions due when a planting is sown or set; in trays it is potting soil too."""
    if kind not in STARTS:
        return ()
    foods = [expects.food for expects in planting.expects]
    deeds = (Deed.SOW,)
    own = cautions_for(bundle.catalogue, foods, deeds, bundle.ages, (planting.crop,))
    work = cautions_at_work(bundle.catalogue, deeds) if kind == JobKind.SOW_TRAYS else ()
    return tuple(told(caution) for caution in (*own, *work))
