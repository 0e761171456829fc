"""The books carried on from the file beside a notebook: right whatever becomes of either."""

from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from sqlite3 import connect
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given, settings

from haulm.desk.at_hand import AtHand
from haulm.desk.garden.exchange import import_garden
from haulm.desk.garden.opening import open_garden
from haulm.desk.season import books_beside
from haulm.desk.season.books_beside import beside
from haulm.desk.season.larder_books import larder_books, tell_larder
from haulm.desk.season.larder_told import larder_of
from haulm.desk.season.ledger import books_held, books_on, ledger_of
from haulm.notebook.diary import mark_until, read_after, read_diary, write_entries
from haulm.notebook.file import open_notebook
from haulm.season.closings import closing_days
from haulm.season.ledger_records import IN_BOOKS, Ledger
from haulm.season.records import Entry, EntryKind, StoreCount
from season.diaries_drawn import comings
from season.diary_by_hand import entry, kg

TODAY = date(2027, 2, 14)
K = EntryKind
GARLIC = {"food": "garlic", "kind": "garlic/hard-necked", "form": "cured", "store": "pantry"}
WHERE = (GARLIC, {key: said for key, said in GARLIC.items() if key != "kind"})


@pytest.fixture(autouse=True)
def _always_worth_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Have the file written for however few entries."""
    monkeypatch.setattr(books_beside, "WORTH_IT", 0)


@pytest.fixture
def notebook(small_toml: Path, tmp_path: Path) -> Path:
    """Give a notebook of the small garden with a year and a half of garlic in it."""
    path, _ = import_garden(small_toml, tmp_path / "small.haulm")
    add(
        path,
        entry(K.PUT_BY, date(2025, 8, 1), **GARLIC, amount=kg(6)),
        entry(K.EATEN, date(2025, 11, 1), **GARLIC, amount=kg(1)),
        entry(K.PUT_BY, date(2026, 8, 1), **GARLIC, amount=kg(8)),
        entry(K.COUNTED, date(2026, 12, 6), **GARLIC, amount=kg(7)),
        entry(K.EATEN, date(2027, 1, 20), **GARLIC, amount=kg(0.5)),
    )
    return path


def add(path: Path, *entries: Entry) -> None:
    """Write entries into a notebook."""
    with open_notebook(path, writing=True) as opened:
        write_entries(opened, entries)


def anew(path: Path, day: date = TODAY) -> Ledger:
    """Keep a notebook's books from nothing."""
    opened = open_garden(path)
    with open_notebook(path) as notebook:
        entries = read_diary(notebook).entries
    return books_on(opened, entries, day, larder_of(opened))


@settings(
    max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None
)
@given(parcels=comings(WHERE))
def test_books_carried_on_are_books_kept_from_nothing(
    small_toml: Path, parcels: list[list[Entry]]
) -> None:
    """Whatever comes, late or put right or taken back: file and pages tell the books kept anew."""
    with TemporaryDirectory() as folder:
        path, _ = import_garden(small_toml, Path(folder) / "small.haulm")
        garden = AtHand(path, lambda: TODAY)
        for parcel in parcels:
            add(path, *parcel)
            expected = anew(path)
            assert ledger_of(path, TODAY).ledger == expected
            assert ledger_of(path, TODAY).ledger == expected
            assert garden.books.ledger == expected


def test_the_file_is_read_instead_of_years_of_entries(
    notebook: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The second time only entries after the last closing are read, and the books are the same."""
    first = ledger_of(notebook, TODAY)
    monkeypatch.setattr(books_beside, "read_diary", None)
    assert ledger_of(notebook, TODAY) == first


def test_a_month_later_the_file_is_written_anew(notebook: Path) -> None:
    """Once the books are closed at a later day the file holds that, and they are still the same."""
    ledger_of(notebook, TODAY)
    before, later = beside(notebook).read_bytes(), TODAY + timedelta(days=45)
    assert ledger_of(notebook, later).ledger == anew(notebook, later)
    assert beside(notebook).read_bytes() != before
    assert ledger_of(notebook, later).ledger == anew(notebook, later)


def test_a_day_long_past_is_told_and_leaves_the_file(notebook: Path) -> None:
    """Asked for the day of an old photo the books are those of that day; the file is today's."""
    ledger_of(notebook, TODAY)
    before, past = beside(notebook).read_bytes(), date(2025, 12, 1)
    assert ledger_of(notebook, past).ledger == anew(notebook, past)
    assert beside(notebook).read_bytes() == before


def cut(said: bytes) -> bytes:
    """Leave the first half."""
    return said[: len(said) // 2]


def one_figure_other(said: bytes) -> bytes:
    """Let what was told be another by one letter."""
    at = said.index(b"==")
    return said[: at - 4] + (b"B" if said[at - 4 : at - 3] == b"A" else b"A") + said[at - 3 :]


@pytest.mark.parametrize(
    "harm",
    [cut, one_figure_other, lambda _: b"", lambda _: b"\xff\x00", lambda said: said + b" "],
)
def test_a_damaged_file_is_not_trusted(notebook: Path, harm: Callable[[bytes], bytes]) -> None:
    """Cut short, emptied or with one figure changed, the file is as if there were none."""
    ledger_of(notebook, TODAY)
    beside(notebook).write_bytes(harm(beside(notebook).read_bytes()))
    assert ledger_of(notebook, TODAY).ledger == anew(notebook)


def test_the_file_of_another_notebook_is_not_trusted(notebook: Path) -> None:
    """Where an older copy of the notebook is put back, the newer books beside it do not count."""
    copy = notebook.read_bytes()
    add(notebook, entry(K.EATEN, date(2025, 12, 1), **GARLIC, amount=kg(2)))
    ledger_of(notebook, TODAY)
    notebook.write_bytes(copy)
    assert ledger_of(notebook, TODAY).ledger == anew(notebook)


def test_an_entry_changed_by_another_program_is_seen(notebook: Path) -> None:
    """The notebook is only ever added to; should a row be another all the same, it counts."""
    ledger_of(notebook, TODAY)
    with closing(connect(notebook)) as file, file:
        file.execute("UPDATE diary SET entry = replace(entry, '6.0', '5.0')")
    found = ledger_of(notebook, TODAY).ledger
    assert found == anew(notebook)
    assert found.lots[0].kg_in == 5


def test_the_file_of_a_haulm_that_keeps_books_otherwise_is_not_trusted(
    notebook: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After an update the books are kept from nothing, by what the new haulm knows."""
    ledger_of(notebook, TODAY)
    monkeypatch.setattr(books_beside, "_mark_of_haulm", lambda: "another")
    monkeypatch.setattr(books_beside, "books_from_text", None)
    assert ledger_of(notebook, TODAY).ledger == anew(notebook)


def test_a_folder_that_may_not_be_written_takes_nothing_from_the_books(
    notebook: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the file cannot be put beside the notebook, the books are told as well."""

    def refuse(*_said: object, **_how: object) -> int:
        raise PermissionError

    monkeypatch.setattr(Path, "write_text", refuse)
    assert ledger_of(notebook, TODAY).ledger == anew(notebook)
    assert not beside(notebook).exists()


def test_what_is_put_right_across_a_closing_is_read_whole(notebook: Path) -> None:
    """A meal of December told to have been in February cannot be read without December."""
    until = closing_days(TODAY)[-1]
    with open_notebook(notebook) as opened:
        before = read_after(opened, IN_BOOKS, until)
        wrong = next(one for one in read_diary(opened).entries if one.day == date(2026, 12, 6))
        mark = mark_until(opened, IN_BOOKS, until)
    assert before is not None
    assert [one.day for one in before] == [date(2027, 1, 20)]
    right = replace(wrong, id="right", day=date(2027, 2, 1), replaces=wrong.id)
    right = replace(right, written_at=datetime(2027, 2, 2, tzinfo=UTC))
    ledger_of(notebook, TODAY)
    add(notebook, right)
    with open_notebook(notebook) as opened:
        assert read_after(opened, IN_BOOKS, until) is None
        assert mark_until(opened, IN_BOOKS, until) == mark
    assert ledger_of(notebook, TODAY).ledger == anew(notebook)
    assert ledger_of(notebook, TODAY).ledger == anew(notebook)


def test_the_terminal_tells_what_the_page_tells(notebook: Path) -> None:
    """Out of few entries of the diary the terminal tells the same larder as the page out of all."""
    hung = entry(K.CURED, date(2025, 7, 10), food="garlic", amount=kg(7))
    down = entry(K.PUT_BY, date(2025, 8, 3), **GARLIC, lot=hung.id, amount=kg(6))
    add(
        notebook,
        hung,
        down,
        entry(K.PICKED, date(2026, 7, 8), food="garlic", amount=kg(12)),
        entry(K.CURED, date(2026, 7, 10), food="garlic", amount=kg(11)),
        entry(K.SET, date(2026, 10, 10), kind="garlic/hard-necked", bed="north", amount=kg(1)),
        entry(K.TROUBLE, date(2026, 6, 1), kind="garlic/hard-necked", trouble="white rot"),
        entry(K.GIVEN, date(2026, 12, 20), **GARLIC, amount=kg(1)),
        entry(
            K.COUNTED, TODAY, **GARLIC, amount=kg(5), count=StoreCount(4.0, soft=0.5, sprouted=0.5)
        ),
    )
    opened = open_garden(notebook)
    with open_notebook(notebook) as read:
        diary, plan = read_diary(read), read.newest_plan()
    books = books_held(opened, [one for one in diary.entries if one.kind in IN_BOOKS], TODAY).today
    told = larder_books(notebook, TODAY)
    assert told == tell_larder(opened, plan, books, diary.entries)
    assert told.hung
    assert told.sprouted
    assert told.weighing


def test_a_young_diary_has_no_file_beside_it(
    notebook: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With a year or two of entries the notebook is one file and stays so."""
    monkeypatch.undo()
    ledger_of(notebook, TODAY)
    assert not beside(notebook).exists()
