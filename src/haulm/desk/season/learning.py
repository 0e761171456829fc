"""What the diary makes of the catalogue's figures: yields, seed that comes up, days till ready."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from math import exp, log, sqrt
from pathlib import Path

from haulm.catalogue.known import known
from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Catalogue, Giving, Picking
from haulm.desk.garden.editing import Change, change_garden, mark_of, parts_of
from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.season.diary_typed import key_of
from haulm.forecast.safety import yield_spread
from haulm.growing.harvest import yield_bounds
from haulm.measure.chance import DECILE
from haulm.notebook.diary import read_diary
from haulm.notebook.file import open_notebook
from haulm.notebook.notebook import Notebook
from haulm.plan.records import Planting
from haulm.season.learning import (
    CountSeen,
    Learnt,
    Prior,
    Seen,
    ShareLearnt,
    learn,
    learn_share,
)
from haulm.season.records import Entry, EntryKind, Measured
from haulm.season.rules import season_rules

OVER_DAYS = 14
"""So long after a planting was to be cleared, what was picked of it is all there was."""

NOTE = "from your diary"
"""How the note begins of a figure that was learnt, and may be learnt anew."""

STARTS = frozenset({EntryKind.SOWN, EntryKind.SET, EntryKind.SET_OUT})


@dataclass(frozen=True, slots=True)
class Moved:
    """A figure of the catalogue that the diary moves.

    Attributes
    ----------
    of, figure
        The kind, and the figure's name as in ``[[own_figure]]``.
    name
        What it is, in words.
    unit
        Its unit.
    usual
        The catalogue's value.
    value, low, high
        This household's: its mean, and what 8 years in 10 lie between.
    records
        How many records it rests on.
    prior_weight
        The share of it that is still the catalogue's [1].
    asked
        Entries so far from what was to be expected that they do not count.
    """

    of: str
    figure: str
    name: str
    unit: str
    usual: float
    value: float
    low: float
    high: float
    records: int
    prior_weight: float
    asked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Readiness:
    """By how many days a kind is ready later than reckoned (earlier: less than nothing), here."""

    kind: str
    food: str
    learnt: Learnt


@dataclass(frozen=True, slots=True)
class Lessons:
    """What a diary teaches: figures moved, and days till ready."""

    moved: tuple[Moved, ...]
    ready: tuple[Readiness, ...]
    names: Mapping[str, str]


def lessons_of(path: Path, day: date) -> Lessons:
    """Learn what a notebook's diary teaches, up to a day.

    A planting counts once it was cleared, or should have been two weeks ago; its ground is what
    was written of it, else what the plan gave it. Figures are moved from the catalogue's own, not
    from what was learnt before, so that no record counts twice.

    Raises
    ------
    FaultsFoundError
        When the path is no notebook.
    """
    opened = open_garden(path)
    with open_notebook(path) as notebook:
        entries = read_diary(notebook).entries
        plantings = _plantings(notebook)
    written = [entry for entry in entries if entry.day <= day]
    by_planting: dict[str, list[Entry]] = defaultdict(list)
    for entry in written:
        if entry.about.planting in plantings:
            by_planting[str(entry.about.planting)].append(entry)
    records = [
        _Record(plantings[key], tuple(told), day) for key, told in sorted(by_planting.items())
    ]
    usual = _usual(opened)
    names = {food.id: food.name for food in usual.foods.values()}
    names |= {kind.id: kind.name for kind in usual.kinds.values()}
    return Lessons(
        (*_yields(records, usual), *_germination(records, usual)),
        tuple(_readiness(records, usual)),
        names,
    )


def keep_lessons(path: Path, lessons: Lessons, at: datetime) -> int:
    """Put the figures moved in the place of the catalogue's, and say how many there were.

    One that the household gave itself, by hand, is left: it knows better.
    """
    parts = parts_of(path)
    own = {(str(part["of"]), str(part["figure"])): part for part in parts["own_figure"]}
    changes = []
    for moved in lessons.moved:
        if not moved.records:
            continue
        before = own.get((moved.of, moved.figure))
        if before is not None and not str(before.get("note", "")).startswith(NOTE):
            continue
        seen = "" if before is None else mark_of(before)
        changes.append(Change("own_figure", seen, _as_figure(moved)))
    if changes:
        change_garden(path, changes, at)
    return len(changes)


def _as_figure(moved: Moved) -> dict[str, object]:
    share = f"{moved.prior_weight:.0%}"
    note = f"{NOTE}: {moved.records} records; the catalogue's {moved.usual:g} still weighs {share}"
    part: dict[str, object] = {
        "of": moved.of,
        "figure": moved.figure,
        "value": round(moved.value, 4),
        "note": note,
    }
    if moved.unit != "1":
        part |= {"low": round(moved.low, 4), "high": round(moved.high, 4)}
    return part


@dataclass(frozen=True, slots=True)
class _Record:
    """One planting with what was written of it, as of a day."""

    planting: Planting
    entries: tuple[Entry, ...]
    day: date

    @property
    def is_over(self) -> bool:
        """Whether nothing more will come of it."""
        cleared = any(entry.kind is EntryKind.CLEARED for entry in self.entries)
        return cleared or (self.day - self.planting.clear_by).days > OVER_DAYS

    @property
    def area_m2(self) -> float:
        """Its ground: as written, else as planned."""
        told = [
            entry.amount.number
            for entry in self.entries
            if entry.kind in STARTS
            and entry.amount is not None
            and entry.amount.measured is Measured.SQUARE_METRES
        ]
        return told[-1] if told else self.planting.area_m2

    def picked(self, food: str) -> list[Entry]:
        """Give the pickings of a food; one that names no food is of the planting's first."""
        first = self.planting.expects[0].food if self.planting.expects else ""
        return [
            entry
            for entry in self.entries
            if entry.kind is EntryKind.PICKED and (entry.about.food or first) == food
        ]


def _plantings(notebook: Notebook) -> dict[str, Planting]:
    """Give every planting of every plan kept, by its lasting name, as the newest plan has it."""
    found: dict[str, Planting] = {}
    for entry in notebook.plans():
        for planting in notebook.plan(entry.number).plantings:
            found[key_of(planting)] = planting
    return found


def _usual(opened: Opened) -> Catalogue:
    """Give haulm's catalogue, and of the household's own kinds what they were made like."""
    usual = load_catalogue()
    return usual if set(opened.catalogue.kinds) == set(usual.kinds) else opened.catalogue


def _yields(records: Sequence[_Record], usual: Catalogue) -> Iterator[Moved]:
    rules = season_rules()
    for (kind_id, food), mine in _by_kind(records).items():
        kind = usual.kinds.get(kind_id)
        giving = _giving(kind.givings if kind else (), food)
        if kind is None or giving is None:
            continue
        piece_kg = known(usual.foods[food].piece_kg)
        seen = [one for record in mine for one in _yield_seen(record, food, piece_kg)]
        if not seen:
            continue
        spread = yield_spread(*yield_bounds(giving.yield_kg_m2))
        between = spread * sqrt(rules.own_share.value)
        within = spread * sqrt(1 - rules.own_share.value)
        prior = Prior(
            log(giving.yield_kg_m2.value) - spread**2 / 2, between, within, rules.year_share.value
        )
        learnt = learn(prior, seen)
        ahead = (learnt.next_high - learnt.mean) / DECILE
        yield Moved(
            of=kind_id,
            figure=f"givings.{food}.yield_kg_m2",
            name=f"{kind.name}, {usual.foods[food].name}: yield",
            unit="kg/m²",
            usual=giving.yield_kg_m2.value,
            value=exp(learnt.mean + ahead**2 / 2),
            low=exp(learnt.next_low),
            high=exp(learnt.next_high),
            records=learnt.records,
            prior_weight=learnt.prior_weight,
            asked=tuple(one.entry for one in learnt.asked),
        )


def _by_kind(records: Sequence[_Record]) -> Mapping[tuple[str, str], list[_Record]]:
    """Sort plantings that are over by kind and food."""
    found: dict[tuple[str, str], list[_Record]] = defaultdict(list)
    for record in records:
        if record.is_over:
            for expects in record.planting.expects:
                found[record.planting.kind, expects.food].append(record)
    return found


def _giving(givings: Sequence[Giving], food: str) -> Giving | None:
    return next((giving for giving in givings if giving.food == food), None)


def _yield_seen(record: _Record, food: str, piece_kg: float | None) -> Iterator[Seen]:
    """Give what a planting yielded of a food, if all that was picked of it was weighed."""
    kg = 0.0
    picked = record.picked(food)
    for entry in picked:
        if entry.amount is None:
            return
        if entry.amount.measured is Measured.KG:
            kg += entry.amount.number
        elif piece_kg is not None:
            kg += entry.amount.number * piece_kg
        else:
            return
    if picked and kg > 0 and record.area_m2 > 0:
        yield Seen(log(kg / record.area_m2), picked[0].day.year, picked[-1].id)


def _germination(records: Sequence[_Record], usual: Catalogue) -> Iterator[Moved]:
    counts: dict[tuple[str, str], list[CountSeen]] = defaultdict(list)
    for record in records:
        sown = _pieces(record, EntryKind.SOWN)
        up = _pieces(record, EntryKind.EMERGED)
        if sown is not None and up is not None:
            key = record.planting.kind, record.planting.method
            counts[key].append(CountSeen(up, sown, record.entries[-1].id))
    for (kind_id, method_id), seen in counts.items():
        kind = usual.kinds.get(kind_id)
        method = next((m for m in kind.methods if m.id == method_id), None) if kind else None
        if kind is None or method is None or not 0 < method.germination.value < 1:
            continue
        learnt: ShareLearnt = learn_share(method.germination.value, seen)
        yield Moved(
            of=kind_id,
            figure=f"methods.{method_id}.germination",
            name=f"{kind.name}, {method_id}: share that comes up",
            unit="1",
            usual=method.germination.value,
            value=learnt.mean,
            low=learnt.low,
            high=learnt.high,
            records=learnt.records,
            prior_weight=learnt.prior_weight,
        )


def _pieces(record: _Record, kind: EntryKind) -> float | None:
    """Add up what was counted of a planting in entries of a kind; None where nothing was."""
    told = [
        entry.amount.number
        for entry in record.entries
        if entry.kind is kind
        and entry.amount is not None
        and entry.amount.measured is Measured.PIECES
    ]
    return sum(told) if told else None


def _readiness(records: Sequence[_Record], usual: Catalogue) -> Iterator[Readiness]:
    """Tell of what is taken when it is ready; what stands until it is wanted tells nothing."""
    rules = season_rules()
    prior = Prior(0.0, rules.ready_own_days.value, rules.ready_year_days.value)
    seen: dict[tuple[str, str], list[Seen]] = defaultdict(list)
    for record in records:
        for ready in record.planting.ready:
            picked = record.picked(ready.food)
            kind = usual.kinds.get(record.planting.kind)
            giving = _giving(kind.givings if kind else (), ready.food)
            waits = giving is None or giving.picking is Picking.STAND
            if picked and not waits and not record.planting.standing:
                first = min(picked, key=lambda entry: entry.day)
                days = float((first.day - ready.middle).days)
                key = record.planting.kind, ready.food
                seen[key].append(Seen(days, first.day.year, first.id))
    for whose, mine in seen.items():
        yield Readiness(*whose, learn(prior, mine))
