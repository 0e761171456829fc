"""How soon the season is told out of ten years' diary: 50,000 entries of a garden of forty beds.

The garden is the one of :mod:`benchmarks.pages`, with a yield of its own for every kind, planned a
year ago and again today; its diary is drawn from a seed, in shares as a household may write it,
every figure invented: what is eaten lies in store, and a count finds about what the books have.
Each is measured with the diary of the last year alone, and with all ten, in processor seconds: the
page again, after an entry that moves no food, after a meal, and after one of five years ago that
came late. The review is told without its regret ledger, which is all solving. Run from the root of
the repository: ``python -m benchmarks.season [seed]``.
"""

import resource
import subprocess
import sys
import tempfile
from collections import defaultdict
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, time, timedelta
from functools import partial
from multiprocessing import get_context
from pathlib import Path
from statistics import median
from time import process_time

import numpy as np
from benchmarks.pages import DAY, large_garden
from starlette.testclient import TestClient

from haulm.catalogue.loader import load_catalogue
from haulm.cli.main import leave_imports_alone
from haulm.desk.at_hand import AtHand
from haulm.desk.garden.exchange import import_garden
from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.plans import plan_garden
from haulm.desk.season.books_beside import beside
from haulm.desk.season.larder_books import larder_books
from haulm.desk.season.larder_told import larder_of
from haulm.desk.season.ledger import ledger_of
from haulm.desk.season.review_page import looked_back
from haulm.notebook.diary import write_entries
from haulm.notebook.file import open_notebook
from haulm.planner.solve import EFFORTS
from haulm.season.records import About, Amount, Entry, EntryKind, Measured, StoreCount
from haulm.web.app import create_app
from haulm.web.guard import cookie_name
from haulm.web.shelf import Shelf

K = EntryKind
ENTRIES, YEARS, BEDS = 50_000, 10, 40
ROUNDS = 5
SHARES = {
    K.PICKED: 0.18,
    K.EATEN: 0.16,
    K.WATERED: 0.15,
    K.WORKED: 0.12,
    K.WEEDED: 0.10,
    K.PUT_BY: 0.08,
    K.RAINED: 0.05,
    K.SOWN: 0.04,
    K.SET_OUT: 0.03,
    K.CLEARED: 0.03,
    K.THROWN: 0.02,
    K.COUNTED: 0.02,
    K.TROUBLE: 0.02,
}
"""What part of the diary each kind of entry is (judged)."""
PUT_RIGHT = 0.02
"""So many entries put right the one before."""
PAGES = ("/week", "/diary", "/larder", "/larder/books")
PLANNED = (DAY - timedelta(days=365), DAY)
LONG_AGO = DAY - timedelta(days=5 * 365)

Stored = tuple[str, str, str, str]
"""A food, its kind, the form it is kept in and the store."""


def kg(number: float) -> Amount:
    """Make a weight, as a kitchen scale shows it."""
    return Amount(round(number, 2), Measured.KG)


@dataclass(slots=True)
class Writer:
    """A household that writes its diary, and knows about what lies in store.

    Attributes
    ----------
    draw, stored
        Chance, and all that can be put by here.
    there_kg
        What of it lies there.
    """

    draw: np.random.Generator
    stored: tuple[Stored, ...]
    there_kg: dict[Stored, float] = field(default_factory=lambda: defaultdict(float))

    def diary(self) -> Iterator[Entry]:
        """Write ten years up to the day, in the order of the days."""
        chances = np.array(list(SHARES.values()))
        days = np.sort(self.draw.integers(0, 365 * YEARS, ENTRIES))
        which = self.draw.choice(len(chances), ENTRIES, p=chances / chances.sum())
        first = DAY - timedelta(days=365 * YEARS)
        for number, (passed, chosen) in enumerate(zip(days, which, strict=True)):
            day = first + timedelta(days=int(passed))
            yield self.entry(number, list(SHARES)[chosen], day)

    def entry(self, number: int, kind: EntryKind, day: date) -> Entry:
        """Write one entry."""
        about, amount, count = self._said(kind)
        # What was put by is not put right: the stock here would not follow.
        puts_right = kind is K.WORKED and self.draw.random() < PUT_RIGHT / SHARES[K.WORKED]
        return Entry(
            id=f"{number:032x}",
            kind=kind,
            day=day,
            written_at=datetime.combine(day, time(6), UTC) + timedelta(seconds=number),
            device="laptop",
            about=about,
            amount=amount,
            count=count,
            minutes=float(self.draw.integers(1, 60)),
            replaces=f"{number - 1:032x}" if puts_right and number else None,
        )

    def _said(self, kind: EntryKind) -> tuple[About, Amount | None, StoreCount | None]:
        """Say of what, how much, and what was counted."""
        if kind in (K.PUT_BY, K.EATEN, K.THROWN, K.COUNTED):
            return self._said_of_store(kind)
        about = About(bed=f"bed-{self.draw.integers(0, BEDS)}")
        food, of, _, _ = self.stored[self.draw.integers(0, len(self.stored))]
        much = float(self.draw.uniform(0.3, 6.0))
        told: dict[EntryKind, tuple[About, Amount | None]] = {
            K.PICKED: (replace(about, food=food, kind=of), kg(much)),
            K.RAINED: (About(), Amount(round(much, 1), Measured.MILLIMETRES)),
            K.WATERED: (about, Amount(40.0, Measured.LITRES)),
            K.TROUBLE: (replace(about, trouble="slugs"), None),
            K.SOWN: (replace(about, kind=of), None),
            K.SET_OUT: (replace(about, kind=of), None),
        }
        return *told.get(kind, (about, None)), None

    def _said_of_store(self, kind: EntryKind) -> tuple[About, Amount, StoreCount | None]:
        """Put by something, or take out of what most is left of, or count that."""
        much = float(self.draw.uniform(0.3, 6.0))
        chosen = self.stored[self.draw.integers(0, len(self.stored))]
        if kind is K.PUT_BY:
            self.there_kg[chosen] += much
        else:
            chosen = max(self.there_kg, key=self.there_kg.__getitem__, default=chosen)
            there = self.there_kg.get(chosen, 0.0)
            much = there if kind is K.COUNTED else min(much / 3, there / 2)
        if kind in (K.EATEN, K.THROWN):
            self.there_kg[chosen] -= much
        food, of, form, store = chosen
        found = StoreCount(round(0.95 * much, 2), round(0.05 * much, 2))
        about = About(food=food, kind=of, store=store, form=form)
        return about, kg(much), found if kind is K.COUNTED else None


def own_yields() -> str:
    """Give every kind a yield of the household's own, as ten years' diary leaves behind."""
    return "".join(
        f'[[own_figure]]\nof = "{kind.id}"\nfigure = "givings.{giving.food}.yield_kg_m2"\n'
        f"value = {0.9 * giving.yield_kg_m2.value:.4g}\n"
        for kind in load_catalogue().kinds.values()
        for giving in kind.givings
    )


def gardens(folder: Path, seed: int) -> tuple[Path, Path]:
    """Make the garden with the diary of its last year, and with that of all ten."""
    toml = large_garden(folder, seed)
    toml.write_text(toml.read_text(encoding="utf-8") + own_yields(), encoding="utf-8")
    notebook, _ = import_garden(toml, folder / "one.haulm")
    for day in PLANNED:
        plan_garden(notebook, day, EFFORTS["quick"], seed)
    keeps = larder_of(open_garden(notebook)).keeps
    stored = tuple(
        (food, of, form, store) for food, of, form, store in sorted(keeps, key=str) if of
    )
    diary = tuple(Writer(np.random.default_rng(seed), stored).diary())
    ten = folder / "ten.haulm"
    ten.write_bytes(notebook.read_bytes())
    for path, entries in ((notebook, diary[-ENTRIES // YEARS :]), (ten, diary)):
        with open_notebook(path, writing=True) as opened:
            write_entries(opened, entries)
    return notebook, ten


def seconds(what: Callable[[], object], rounds: int = ROUNDS) -> float:
    """Take the middle of several goes [s of the processor]."""
    found = []
    for _ in range(rounds):
        begun = process_time()
        what()
        found.append(process_time() - begun)
    return median(found)


@dataclass(slots=True)
class Pen:
    """Writes one entry more into a notebook's diary each time."""

    path: Path
    number: int = ENTRIES

    def work(self) -> None:
        """Write of work, which moves no food."""
        self._write(K.WORKED, DAY, About())

    def meal(self, day: date = DAY) -> None:
        """Write of a little that was eaten out of store."""
        food, of, form, store = self._stored()
        self._write(K.EATEN, day, About(food=food, kind=of, store=store, form=form), kg(0.01))

    def late_meal(self) -> None:
        """Write today of a meal of five years ago."""
        self.meal(LONG_AGO)

    def _stored(self) -> Stored:
        keeps = larder_of(open_garden(self.path)).keeps
        food, of, form, store = min((key for key in keeps if key[1]), key=str)
        return food, of or "", form, store

    def _write(self, kind: EntryKind, day: date, about: About, much: Amount | None = None) -> None:
        self.number += 1
        at = datetime.combine(DAY, time(8), UTC) + timedelta(seconds=self.number)
        entry = Entry(f"{self.number:032x}", kind, day, at, "laptop", about, much, minutes=20.0)
        with open_notebook(self.path, writing=True) as opened:
            write_entries(opened, [entry])


def seconds_after(write: Callable[[], None], what: Callable[[], object]) -> float:
    """Take the middle of several goes, each after an entry more, its writing not counted."""
    found = []
    for _ in range(ROUNDS):
        write()
        found.append(seconds(what, 1))
    return median(found)


def from_the_file(path: Path) -> dict[str, float]:
    """Measure what a command does once it runs, in a notebook nobody holds at hand."""
    leave_imports_alone()
    ledger_of(path, DAY)

    def from_nothing() -> None:
        beside(path).unlink(missing_ok=True)
        ledger_of(path, DAY)

    return {
        "garden opened": seconds(lambda: open_garden(path)),
        "ledger": seconds(lambda: ledger_of(path, DAY)),
        "ledger, from nothing": seconds(from_nothing),
        "ledger, all it tells": seconds(lambda: larder_books(path, DAY)),
        "haulm ledger, the command": of_command("ledger", str(path), "--on", str(DAY)),
        "haulm, any command": of_command("--help"),
        "review": seconds(lambda: looked_back(path, DAY, PLANNED[0].year), 1),
    }


def of_command(*words: str) -> float:
    """Take what a command takes with all it begins with [s of the processor]."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    command = [sys.executable, "-m", "haulm", *words]
    subprocess.run(command, check=True, capture_output=True)  # noqa: S603 - ours
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def measured(path: Path) -> dict[str, float]:
    """Measure one garden: what is read anew, each page again, and each after an entry."""
    shelf = Shelf(path, lambda: DAY)
    app = create_app(shelf, "key", 80, frozenset({"localhost"}))
    pen = Pen(path)
    # In a process of its own, as a command is, with nothing in memory but what it needs.
    with ProcessPoolExecutor(1, get_context("spawn")) as apart:
        found = apart.submit(from_the_file, path).result()
    found["diary read, first time"] = seconds(lambda: AtHand(path, lambda: DAY).diary)
    with TestClient(app, base_url="http://localhost:80") as client:
        client.cookies.set(cookie_name(80), "key")

        def get(page: str) -> None:
            assert client.get(page).status_code == 200, page

        for page in PAGES:
            get(page)
        for page in PAGES:
            found[page] = seconds(partial(get, page))
            found[f"{page}, after work"] = seconds_after(pen.work, partial(get, page))
            found[f"{page}, after a meal"] = seconds_after(pen.meal, partial(get, page))

        def books() -> object:
            return shelf.garden.books

        found["books, after work"] = seconds_after(pen.work, books)
        found["books, after a meal"] = seconds_after(pen.meal, books)
        found["books, after a late meal"] = seconds_after(pen.late_meal, books)
    return found


def main(seed: int) -> None:
    """Measure both gardens, and print a row for each thing."""
    with tempfile.TemporaryDirectory() as name:
        one, ten = gardens(Path(name), seed)
        short, long = measured(one), measured(ten)
        print(f"{'':<28}{'one year':>10}{'ten':>10}{'ratio':>8}   processor ms, {ENTRIES} entries")
        for what, took in long.items():
            ratio = took / short[what]
            print(f"{what:<28}{1000 * short[what]:>10.1f}{1000 * took:>10.1f}{ratio:>8.1f}")
        print(f"the file: {ten.stat().st_size / 2**20:.1f} MiB")
        most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 2**10
        print(f"memory at most: {most:.0f} MiB")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1)
