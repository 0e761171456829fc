"""The larder's books balance: every gram is put by, gone, lost or there, whatever is written."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.larder.keeping import keeping_curve, sound_by_week
from haulm.season.larder import Larder
from haulm.season.ledger import balance, keep_ledger, left_kg, left_within_kg
from haulm.season.ledger_records import Keeps, Ledger, LotBalance
from haulm.season.records import Entry, EntryKind, Purpose, StoreCount
from season.diary_by_hand import entry, kg, pieces

DAY = date(2027, 9, 20)
K = EntryKind
WHERE = {"food": "squash", "form": "cured", "store": "loft"}
OTHER = {"food": "squash", "form": "cured", "store": "shed"}
SQUASH = Keeps(sound_by_week(keeping_curve(9, 20)), piece_kg=1.5)
LARDER = Larder(
    {("squash", None, "cured", "loft"): SQUASH, ("squash", None, "cured", "shed"): SQUASH},
    {"squash": "winter squash"},
    pace_spread=0.2,
)
US = Larder(LARDER.keeps, LARDER.names, LARDER.pace_spread, units="us")
TO_THE_GRAM = 1e-3


def put_by(amount: float, day: date = DAY, **said: object) -> Entry:
    """Put squash by."""
    return entry(K.PUT_BY, day, **{**WHERE, "amount": kg(amount), **said})


def counted(weeks: float, sound: float, soft: float = 0.0, **said: object) -> Entry:
    """Count squash after some weeks."""
    count = StoreCount(sound, soft)
    day = DAY + timedelta(days=round(7 * weeks))
    told = {**WHERE, "amount": pieces(sound + soft), "count": count, **said}
    return entry(K.COUNTED, day, **told)


def out(kind: EntryKind, amount: float, weeks: float, **said: object) -> Entry:
    """Take squash out after some weeks."""
    day = DAY + timedelta(days=round(7 * weeks))
    return entry(kind, day, **{**WHERE, "amount": kg(amount), **said})


def sides(one: LotBalance) -> tuple[float, float]:
    """Give what came into a lot, and what became of it."""
    came = one.put_by_kg + one.more_kg
    gone = sum(one.out_kg.values()) + one.cleared_kg + one.missing_kg
    return came, gone + one.sound_kg + one.rotting_kg


written = st.lists(
    st.tuples(
        st.sampled_from(["put by", "eaten", "given", "thrown", "counted", "counted soft"]),
        st.integers(0, 45),
        st.floats(0, 30),
        st.floats(0, 12),
        st.sampled_from([WHERE, OTHER]),
    ),
    min_size=1,
    max_size=14,
)


def entry_of(said: tuple[str, int, float, float, dict[str, str]]) -> Entry:
    """Make an entry of what was drawn."""
    kind, week, amount, soft, where = said
    if kind == "put by":
        return put_by(amount, DAY + timedelta(weeks=week), **where)
    if kind.startswith("counted"):
        return counted(week, amount, soft if kind == "counted soft" else 0.0, **where)
    return out(EntryKind(kind), amount, week, **where)


@given(said=written)
def test_every_gram_that_came_in_went_out_was_lost_or_lies_there(
    said: list[tuple[str, int, float, float, dict[str, str]]],
) -> None:
    """Put by + found beyond the books = eaten + given + thrown + lost + missing + there.

    What was put by and what left is added up from the entries, not from the books.
    """
    entries = [entry_of(one) for one in said]
    ledger = keep_ledger(entries, (), LARDER)
    last = max(one.day for one in entries) + timedelta(weeks=3)
    balances = [balance(lot, last) for lot in ledger.lots]
    for one in balances:
        came, gone = sides(one)
        assert came == pytest.approx(gone, abs=TO_THE_GRAM)
        parts = (one.more_kg, one.cleared_kg, one.missing_kg, one.sound_kg, one.rotting_kg)
        assert min(parts) >= -TO_THE_GRAM
    came_in = sum(one.amount.number for one in entries if one.kind is K.PUT_BY and one.amount)
    assert sum(one.put_by_kg for one in balances) == pytest.approx(came_in, abs=TO_THE_GRAM)
    left = {K.EATEN, K.GIVEN, K.THROWN}
    told = {finding.where for finding in ledger.worth_knowing if "no lot" in finding.what}
    if not told:
        went = sum(one.amount.number for one in entries if one.kind in left and one.amount)
        assert sum(sum(one.out_kg.values()) for one in balances) == pytest.approx(
            went, abs=TO_THE_GRAM
        )


@given(shares=st.lists(st.floats(0.01, 0.3), min_size=1, max_size=8))
def test_nothing_is_found_beyond_the_books_by_eating_what_is_there(shares: list[float]) -> None:
    """Who eats less than is there, and counts nothing, finds nothing more and misses nothing."""
    entries, ledger = [put_by(60)], keep_ledger([put_by(60)], (), LARDER)
    for week, share in enumerate(shares, start=1):
        there = left_kg(ledger.lots[0], DAY + timedelta(weeks=week))
        entries.append(out(K.EATEN, share * there, week))
        ledger = keep_ledger(entries, (), LARDER)
    one = balance(ledger.lots[0], DAY + timedelta(weeks=len(shares)))
    assert (one.more_kg, one.missing_kg) == (0, 0)


def test_throwing_what_a_count_found_soft_takes_nothing_from_the_sound() -> None:
    """Thirty sound and ten soft are counted, the ten are thrown: thirty are left, not twenty."""
    count = counted(9, 30, 10)
    thrown = entry(K.THROWN, count.day, **WHERE, amount=pieces(10))
    ledger = keep_ledger([put_by(60), count, thrown], (), LARDER)
    assert left_kg(ledger.lots[0], thrown.day) == pytest.approx(30 * 1.5)
    assert ledger.lots[0].aside_kg == pytest.approx(0)


def test_eating_the_soft_ones_first_takes_nothing_from_the_sound() -> None:
    """Two soft squash eaten in the days after they were found are those two."""
    eaten = entry(K.EATEN, DAY + timedelta(weeks=9, days=3), **WHERE, amount=pieces(2))
    ledger = keep_ledger([put_by(60), counted(9, 30, 2), eaten], (), LARDER)
    usual = keep_ledger([put_by(60), counted(9, 30, 2)], (), LARDER)
    assert left_kg(ledger.lots[0], eaten.day) == left_kg(usual.lots[0], eaten.day)


def test_what_is_found_sound_past_its_keeping_is_there() -> None:
    """Ten squash found sound after a year are ten squash, and are still nearly so a week on."""
    count = counted(52, 10)
    ledger = keep_ledger([put_by(60), count], (), LARDER)
    assert left_kg(ledger.lots[0], count.day) == pytest.approx(15)
    assert left_kg(ledger.lots[0], count.day + timedelta(weeks=1)) > 13


def test_a_lot_found_again_can_be_eaten_from() -> None:
    """What a count found in a lot thought to be over is eaten from that lot."""
    eaten = out(K.EATEN, 3, 53)
    ledger = keep_ledger([put_by(60), counted(52, 10), eaten], (), LARDER)
    assert [move.kg for move in ledger.lots[0].moves] == [3]
    assert not any("more were eaten" in one.what for one in ledger.worth_knowing)


def test_a_gift_comes_out_of_what_was_put_by_to_give() -> None:
    """Given from a store with squash to eat and squash to give, it is the latter that goes."""
    mine, gift = put_by(10), put_by(6, DAY + timedelta(weeks=1), purpose=Purpose.GIVE)
    ledger = keep_ledger([mine, gift, out(K.GIVEN, 2, 3)], (), LARDER)
    assert ledger.by_id[mine.id].moves == ()
    assert [move.kg for move in ledger.by_id[gift.id].moves] == [2]


def test_a_garden_in_pounds_is_told_in_pounds() -> None:
    """The books of a US garden part in pounds, never in kilograms."""
    ledger = keep_ledger([put_by(60), out(K.COUNTED, 20, 9)], (), US)
    assert "lb" in ledger.worth_knowing[0].what
    assert "kg" not in ledger.worth_knowing[0].what


def test_squash_counted_as_published_is_no_news() -> None:
    """Of a hundred squash 90, 70 and 50 sound at 9, 15 and 20 weeks are what the books say.

    Cantwell and Suslow, Pumpkin and Winter Squash, reporting research at Oregon State University.
    """
    ledger = keep_ledger([put_by(150)], (), LARDER)
    for weeks, share in ((9, 0.9), (15, 0.7), (20, 0.5)):
        day = DAY + timedelta(weeks=weeks)
        assert left_kg(ledger.lots[0], day) == pytest.approx(150 * share, rel=0.02)
    counts = [counted(9, 90, 10), counted(15, 70, 20), counted(20, 50, 20)]
    found = keep_ledger([put_by(150), *counts], (), LARDER)
    assert found.worth_knowing == ()
    assert found.lots[0].pace == pytest.approx(1, abs=0.05)


def test_counts_teach_a_wrong_curve_the_published_points() -> None:
    """A lot thought to keep half as long again is put right by two counts, before the third.

    The same published points: after 90 of 100 at 9 weeks and 70 at 15, the books expect 50 at 20
    within six; without the counts they expect 75.
    """
    long = Keeps(sound_by_week(keeping_curve(13.5, 30)), piece_kg=1.5)
    larder = Larder({("squash", None, "cured", "loft"): long}, {}, pace_spread=0.2)
    untold = keep_ledger([put_by(150)], (), larder)
    told = keep_ledger([put_by(150), counted(9, 90, 10), counted(15, 70, 20)], (), larder)
    at_20 = DAY + timedelta(weeks=20)
    assert left_kg(untold.lots[0], at_20) / 1.5 > 70
    assert left_kg(told.lots[0], at_20) / 1.5 == pytest.approx(50, abs=6)


def test_counts_narrow_what_is_thought_of_a_lot() -> None:
    """Eight years in ten lie closer together after a count of a hundred than before it."""
    at_20 = DAY + timedelta(weeks=20)
    untold = keep_ledger([put_by(150)], (), LARDER)
    told = keep_ledger([put_by(150), counted(15, 70, 30)], (), LARDER)
    low, high = left_within_kg(untold.lots[0], at_20, 1.2816)
    low_told, high_told = left_within_kg(told.lots[0], at_20, 1.2816)
    assert low < left_kg(untold.lots[0], at_20) < high
    assert high_told - low_told < (high - low) / 2


def test_a_lot_counted_again_and_again_stays_in_the_books() -> None:
    """Fifty counts of a hundred, a week apart, leave a pace and a range that are numbers."""
    counts = [counted(week / 2, 100 - week, 1) for week in range(1, 50)]
    lot = keep_ledger([put_by(150), *counts], (), LARDER).lots[0]
    low, high = left_within_kg(lot, counts[-1].day + timedelta(weeks=2), 1.2816)
    assert 0 < low < high <= 76.5
    assert 0 < lot.pace < 1.2


def test_ten_years_of_one_food_are_ten_lots_and_every_meal_is_in_one_of_them() -> None:
    """A food put by each year for ten years is ten lots; no meal of it is lost or told twice."""

    def years(number: int) -> Ledger:
        entries = []
        for year in range(number):
            start = DAY.replace(year=2027 + year)
            entries.append(put_by(60, start))
            entries += [
                entry(K.EATEN, start + timedelta(days=3 * day), **WHERE, amount=kg(0.4))
                for day in range(60)
            ]
        return keep_ledger(entries, (), LARDER)

    ledger = years(10)
    assert len(ledger.lots) == 10
    assert sum(len(lot.moves) for lot in ledger.lots) == 600
