"""The larder's books kept on from a closing say what books kept from nothing say."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.larder.keeping import keeping_curve, sound_by_week
from haulm.season.books_text import books_from_text, books_to_text
from haulm.season.closings import KeptBooks, closing_days, keep_closing
from haulm.season.diary import in_order
from haulm.season.larder import Larder
from haulm.season.ledger import keep_ledger, ledger_of_books, lot_told
from haulm.season.ledger_records import IN_BOOKS, Keeps, LedgerLot
from haulm.season.records import Entry, EntryKind, Purpose
from season.diaries_drawn import FIRST_DAY, LAST_DAY, comings
from season.diary_by_hand import entry, kg

SQUASH = {"food": "squash", "form": "cured", "store": "loft"}
WHERE = (
    SQUASH,
    {**SQUASH, "store": "shed"},
    {"food": "garlic", "kind": "garlic/soft", "form": "cured", "store": "loft"},
    {"food": "garlic", "form": "cured", "store": "loft"},
)
CURVE = sound_by_week(keeping_curve(9, 20))
LARDER = Larder(
    {
        ("squash", None, "cured", "loft"): Keeps(CURVE, piece_kg=1.5),
        ("squash", None, "cured", "shed"): Keeps(CURVE, piece_kg=1.5),
        ("garlic", "garlic/soft", "cured", "loft"): Keeps(sound_by_week(keeping_curve(26, 40))),
    },
    {"squash": "winter squash"},
    pace_spread=0.2,
    stock_a_kg={"garlic/soft": 120.0},
)
TOLD = lot_told(
    LedgerLot(
        "lot-1",
        ("squash", None, "cured", "loft"),
        date(2021, 10, 1),
        20.0,
        Purpose.EAT,
        LARDER.keeps["squash", None, "cured", "loft"],
    ),
    FIRST_DAY,
)


def moving(written: list[Entry]) -> tuple[Entry, ...]:
    """Give what moves food of all that was written, corrections worked in."""
    return tuple(one for one in in_order(written).entries if one.kind in IN_BOOKS)


@given(parcels=comings(WHERE), days=st.lists(st.dates(date(2026, 1, 1), LAST_DAY), min_size=5))
def test_books_kept_on_are_books_kept_from_nothing(
    parcels: list[list[Entry]], days: list[date]
) -> None:
    """Whatever comes late, is put right or taken back: the books are those kept from nothing."""
    written: list[Entry] = []
    kept: KeptBooks | None = None
    for parcel, day in zip(parcels, days, strict=False):
        written += parcel
        entries = moving(written)
        kept = keep_closing(entries, (TOLD,), LARDER, day, kept)
        anew = keep_ledger([one for one in entries if one.day <= day], (TOLD,), LARDER)
        assert ledger_of_books(kept.books) == anew
        for closed in kept.closings:
            then = [one for one in entries if one.day <= closed.until]
            assert ledger_of_books(closed.books) == keep_ledger(then, (TOLD,), LARDER)


def test_books_of_a_day_before_are_closed_at_no_later_day() -> None:
    """Asked for last year after this year, the books are closed at no day that is yet to come."""
    put_by = entry(EntryKind.PUT_BY, date(2025, 9, 20), **SQUASH, amount=kg(30))
    before = keep_closing([put_by], (), LARDER, LAST_DAY)
    day = date(2026, 1, 1)
    after = keep_closing([put_by], (), LARDER, day, before)
    assert max(closed.until for closed in after.closings) <= day


@given(parcels=comings(WHERE))
def test_books_read_back_are_those_written(parcels: list[list[Entry]]) -> None:
    """Books written down and read again are the same to the last figure, and go on the same."""
    entries = moving([one for parcel in parcels for one in parcel])
    kept = keep_closing(entries, (TOLD,), LARDER, LAST_DAY)
    for closed in kept.closings:
        assert books_from_text(books_to_text(closed.books), LARDER) == closed.books


def test_an_entry_of_today_takes_no_older_one_into_the_books_again() -> None:
    """After one meal more the books go on from the closing before, which is left as it was."""
    put_by = entry(EntryKind.PUT_BY, date(2026, 9, 20), **SQUASH, amount=kg(30))
    before = keep_closing([put_by], (), LARDER, LAST_DAY)
    eaten = entry(EntryKind.EATEN, LAST_DAY, **SQUASH, amount=kg(2))
    after = keep_closing([put_by, eaten], (), LARDER, LAST_DAY, before)
    assert after.closings[-1] is before.closings[-1]
    assert [move.kg for move in after.books.lots[0].moves] == [2]


def test_books_of_another_larder_are_not_kept_on() -> None:
    """Where a food keeps otherwise than was thought, nothing of the earlier books is used."""
    put_by = entry(EntryKind.PUT_BY, date(2026, 9, 20), **SQUASH, amount=kg(30))
    before = keep_closing([put_by], (), LARDER, LAST_DAY)
    other = replace(LARDER, pace_spread=0.4)
    after = keep_closing([put_by], (), other, LAST_DAY, before)
    assert ledger_of_books(after.books) == keep_ledger([put_by], (), other)
    assert after.books != before.books


def test_the_books_are_closed_at_the_ends_of_past_months_and_years() -> None:
    """In the middle of February they are closed at the end of December, and of earlier years."""
    assert closing_days(date(2027, 2, 14)) == (
        date(2022, 12, 31),
        date(2025, 12, 31),
        date(2026, 12, 31),
    )


@pytest.mark.parametrize("text", ["", "[]", "[1, 2, 3]", '[[["a"]], [], []]', "[[], [4], []]"])
def test_what_tells_no_books_is_refused(text: str) -> None:
    """A text that is no books is refused as such, whatever it is."""
    with pytest.raises(ValueError, match="no books"):
        books_from_text(text, LARDER)
