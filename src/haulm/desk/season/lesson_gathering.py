"""What lessons are drawn from: plantings with what was written of them, and the usual figures."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path

from haulm.catalogue.known import known
from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.own import Own, with_own
from haulm.catalogue.records import Catalogue, Giving, Kind, Method
from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.season.lesson_records import NOTE
from haulm.notebook.diary import read_diary
from haulm.notebook.file import open_notebook
from haulm.notebook.odd_records import SaidOfRecord, said_of_records
from haulm.notebook.plantings import PlannedOnce, plantings_kept
from haulm.plan.records import Planting
from haulm.season.records import STARTED, Entry, EntryKind, Measured, as_kg
from haulm.season.rules import season_rules

OF_GROUND = STARTED | {
    EntryKind.EMERGED,
    EntryKind.THINNED,
    EntryKind.PICKED,
    EntryKind.CLEARED,
    EntryKind.WATERED,
    EntryKind.FED,
    EntryKind.WEEDED,
    EntryKind.TROUBLE,
    EntryKind.WORKED,
}


@dataclass(frozen=True, slots=True)
class Record:
    """One planting with what was written of it, as of a day."""

    kept: PlannedOnce
    entries: tuple[Entry, ...]
    day: date

    @property
    def planting(self) -> Planting:
        """The planting, as the newest plan has it."""
        return self.kept.newest

    @property
    def is_over(self) -> bool:
        """Whether nothing more will come of it."""
        return bool(self.of(EntryKind.CLEARED)) or self.last_day < self.day

    @property
    def last_day(self) -> date:
        """The last day on which something may still have come of it."""
        return self.planting.clear_by + timedelta(days=round(season_rules().picked_over_days.value))

    @property
    def area_m2(self) -> float:
        """Its ground: as written, else as planned."""
        told = [
            entry.amount.number
            for entry in self.entries
            if entry.kind in STARTED
            and entry.amount is not None
            and entry.amount.measured is Measured.SQUARE_METRES
        ]
        return told[-1] if told else self.planting.area_m2

    def of(self, *kinds: EntryKind) -> tuple[Entry, ...]:
        """Give the entries of some kinds."""
        return tuple(entry for entry in self.entries if entry.kind in kinds)

    def food_of(self, entry: Entry) -> str:
        """Give the food that an entry is of; one that names none is of the planting's first."""
        expects = self.planting.expects
        return entry.about.food or (expects[0].food if expects else "")

    def picked(self, food: str) -> tuple[Entry, ...]:
        """Give the pickings of a food."""
        return tuple(entry for entry in self.of(EntryKind.PICKED) if self.food_of(entry) == food)

    def pieces(self, kind: EntryKind) -> float | None:
        """Add up what was counted in entries of a kind; None where nothing was, or not in all."""
        told = self.of(kind)
        counts = [
            entry.amount.number
            for entry in told
            if entry.amount is not None and entry.amount.measured is Measured.PIECES
        ]
        return sum(counts) if counts and len(counts) == len(told) else None


@dataclass(frozen=True, slots=True)
class Gathered:
    """All that lessons are drawn from.

    Attributes
    ----------
    opened, day
        The garden, and the day.
    usual
        The catalogue with the household's own kinds and what it gave by hand, not what was learnt.
    entries
        The entries up to the day that were not set aside.
    records
        Plantings with what was written of them.
    loose
        Pickings that cannot be told to be of one planting, by food.
    confirmed, aside
        Entries said to be right, and those set aside.
    """

    opened: Opened
    day: date
    usual: Catalogue
    entries: tuple[Entry, ...]
    records: tuple[Record, ...]
    loose: Mapping[str, tuple[Entry, ...]]
    confirmed: frozenset[str]
    aside: frozenset[str]

    def kind(self, id_: str) -> Kind | None:
        """Give a kind as usual; None where the catalogue has it no more."""
        return self.usual.kinds.get(id_)

    def method(self, record: Record) -> Method | None:
        """Give the method that a planting was started by, as usual."""
        kind = self.kind(record.planting.kind)
        methods = kind.methods if kind else ()
        return next((one for one in methods if one.id == record.planting.method), None)

    def piece_kg(self, food: str) -> float | None:
        """Give what a piece of a food weighs [kg]; None where nobody knows."""
        found = self.usual.foods.get(food)
        return known(found.piece_kg) if found else None

    def kg(self, entry: Entry, food: str) -> float | None:
        """Give an entry's amount of a food [kg]; None where it cannot be told."""
        return as_kg(entry.amount, self.piece_kg(food))


def gather(path: Path, day: date) -> Gathered:
    """Read a notebook's diary up to a day, and tell its entries to the plantings they are of.

    An entry that names a bed and a kind or a food, but no planting, is of the only planting of it
    that was in that bed then; where there are several, or none, it is of no planting.

    Raises
    ------
    FaultsFoundError
        When the path is no notebook, or the garden has faults.
    """
    opened = open_garden(path)
    with open_notebook(path) as notebook:
        entries = read_diary(notebook).entries
        plantings = plantings_kept(notebook.connection)
        said = said_of_records(notebook)
    aside = frozenset(one for one, word in said.items() if word is SaidOfRecord.ASIDE)
    written = tuple(entry for entry in entries if entry.day <= day and entry.id not in aside)
    by_planting, loose = _told_apart(written, plantings)
    return Gathered(
        opened=opened,
        day=day,
        usual=usual_of(opened),
        entries=written,
        records=tuple(
            Record(plantings[key], tuple(told), day) for key, told in sorted(by_planting.items())
        ),
        loose=loose,
        confirmed=frozenset(one for one, word in said.items() if word is SaidOfRecord.RIGHT),
        aside=aside,
    )


def usual_of(opened: Opened) -> Catalogue:
    """Give the catalogue with the household's own kinds and figures, but for those learnt."""
    own: Own = opened.garden.own
    by_hand = tuple(one for one in own.figures if not one.note.startswith(NOTE))
    paces = tuple(one for one in own.paces if not one.note.startswith(NOTE))
    return with_own(load_catalogue(), replace(own, figures=by_hand, paces=paces))[0]


def giving_of(kind: Kind | None, food: str) -> Giving | None:
    """Give how a kind gives a food; None where it does not."""
    return next((one for one in kind.givings if one.food == food), None) if kind else None


def _told_apart(
    entries: Iterable[Entry], plantings: Mapping[str, PlannedOnce]
) -> tuple[dict[str, list[Entry]], dict[str, tuple[Entry, ...]]]:
    in_bed: dict[str, list[tuple[str, Planting]]] = defaultdict(list)
    for key, one in plantings.items():
        in_bed[one.newest.bed].append((key, one.newest))
    found: dict[str, list[Entry]] = defaultdict(list)
    loose: dict[str, list[Entry]] = defaultdict(list)
    for entry in entries:
        if entry.kind not in OF_GROUND:
            continue
        named = entry.about.planting or _only_one(entry, in_bed.get(entry.about.bed or "", ()))
        if named is not None and named in plantings:
            found[named].append(entry)
        elif entry.kind is EntryKind.PICKED and entry.about.food is not None:
            loose[entry.about.food].append(entry)
    return found, {food: tuple(some) for food, some in loose.items()}


def _only_one(entry: Entry, plantings: Sequence[tuple[str, Planting]]) -> str | None:
    """Find the only planting in a bed that an entry can be of."""
    about = entry.about
    if about.kind is None and about.food is None:
        return None
    slack = timedelta(days=round(season_rules().picked_over_days.value))
    fits = [
        key
        for key, one in plantings
        if one.in_ground_from - slack <= entry.day <= one.clear_by + slack
        and (about.kind is None or one.kind == about.kind)
        and (about.food is None or about.food in {expects.food for expects in one.expects})
    ]
    return fits[0] if len(fits) == 1 else None
