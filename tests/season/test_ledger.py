"""The larder's ledger: books that balance, counts that correct them, seed that is not eaten."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.larder.keeping import keeping_curve, sound_by_week, sound_share
from haulm.season.keeping_pace import Pace, pace_after
from haulm.season.larder import Larder
from haulm.season.ledger import by_food, keep_ledger, left_kg, lot_told
from haulm.season.ledger_records import Keeps
from haulm.season.records import Entry, EntryKind, Purpose, StoreCount
from season.diary_by_hand import entry, kg, pieces

DAY = date(2027, 9, 20)
CURVE = keeping_curve(12, 24)
SQUASH = Keeps(sound_by_week(CURVE), piece_kg=1.5)
USUAL = Pace(1.0, 0.3)
ROCK = Keeps((1.0,) * 200)
WHERE = {"food": "squash", "form": "cellared", "store": "loft"}
STONES = {"food": "stones", "form": "cellared", "store": "loft"}
LARDER = Larder(
    {
        ("squash", None, "cellared", "loft"): SQUASH,
        ("stones", None, "cellared", "loft"): ROCK,
    },
    {"squash": "winter squash"},
    pace_spread=0.3,
)


def put_by(amount: float, day: date = DAY, **said: object) -> Entry:
    """Put squash by."""
    return entry(EntryKind.PUT_BY, day, **{**WHERE, "amount": kg(amount), **said})


def taken(kind: EntryKind, amount: float, weeks: int, **said: object) -> Entry:
    """Take squash out after some weeks."""
    day = DAY + timedelta(weeks=weeks)
    return entry(kind, day, **{**WHERE, "amount": kg(amount), **said})


def test_what_lies_untouched_keeps_as_its_curve_says() -> None:
    """Sixty kilograms after 12 weeks are 54 kg sound: the curve's own nine tenths."""
    ledger = keep_ledger([put_by(60)], (), LARDER)
    assert by_food(ledger, DAY + timedelta(weeks=12))["squash"] == pytest.approx(54, abs=1e-6)


def test_eating_leaves_the_rest_to_rot_at_its_own_pace() -> None:
    """Eaten half at nine tenths sound, the other half goes on keeping as it would have."""
    ledger = keep_ledger([put_by(60), taken(EntryKind.EATEN, 27, 12)], (), LARDER)
    half = 30 * sound_share(CURVE, 24)
    assert by_food(ledger, DAY + timedelta(weeks=24))["squash"] == pytest.approx(half, rel=1e-3)


def test_what_was_picked_and_eaten_at_once_comes_out_of_no_lot() -> None:
    """Squash eaten with no store named is not taken out of the loft behind the grower's back."""
    fresh = entry(EntryKind.EATEN, DAY, food="squash", amount=kg(5))
    ledger = keep_ledger([put_by(60), fresh], (), LARDER)
    assert by_food(ledger, DAY)["squash"] == pytest.approx(60)


def test_the_oldest_lot_is_eaten_first_where_none_is_named() -> None:
    """Taken from a store with two lots, food comes out of the one put by first."""
    old, new = put_by(10), put_by(10, DAY + timedelta(weeks=2))
    eaten = taken(EntryKind.EATEN, 4, 3)
    ledger = keep_ledger([new, old, eaten], (), LARDER)
    assert [move.kg for move in ledger.by_id[old.id].moves] == [4]
    assert ledger.by_id[new.id].moves == ()


def test_more_eaten_than_the_books_have_is_told() -> None:
    """Eating 12 kg of 10 leaves nothing, and the grower is told that 2 kg were in no books."""
    stones = {**STONES, "amount": kg(10)}
    ledger = keep_ledger(
        [
            entry(EntryKind.PUT_BY, DAY, **stones),
            entry(EntryKind.EATEN, DAY, **{**stones, "amount": kg(12)}),
        ],
        (),
        LARDER,
    )
    assert by_food(ledger, DAY)["stones"] == 0
    assert "2 kg more" in ledger.worth_knowing[0].what


def test_seed_is_locked_from_the_kitchen() -> None:
    """What is kept to plant is no food in the books, and eating does not touch it."""
    seed = put_by(8, purpose=Purpose.PLANT)
    ledger = keep_ledger([seed, put_by(5), taken(EntryKind.EATEN, 3, 1)], (), LARDER)
    assert ledger.by_id[seed.id].moves == ()
    assert by_food(ledger, DAY)["squash"] < 5


def test_a_count_sets_the_books_and_tells_how_far_they_were_apart() -> None:
    """The books said 54 kg, 40 kg were found: from then on it is 40, and the 14 are named."""
    count = taken(EntryKind.COUNTED, 40, 12)
    ledger = keep_ledger([put_by(60), count], (), LARDER)
    assert by_food(ledger, count.day)["squash"] == pytest.approx(40)
    assert "14 kg less" in ledger.worth_knowing[0].what


def test_a_count_near_the_books_is_not_told() -> None:
    """53 kg found where the books said 54 is no news."""
    ledger = keep_ledger([put_by(60), taken(EntryKind.COUNTED, 53, 12)], (), LARDER)
    assert ledger.worth_knowing == ()


def test_many_soft_ones_make_the_lot_age_faster() -> None:
    """Half of forty squash soft at 12 weeks, when a tenth was to be: the rest is not trusted."""
    count = entry(
        EntryKind.COUNTED,
        DAY + timedelta(weeks=12),
        **WHERE,
        amount=pieces(40),
        count=StoreCount(20, 20),
    )
    lot = keep_ledger([put_by(60), count], (), LARDER).lots[0]
    assert lot.pace > 1.3
    usual = 30 * sound_share(CURVE, 20) / sound_share(CURVE, 12)
    assert left_kg(lot, DAY + timedelta(weeks=20)) < 0.9 * usual


def test_a_count_as_the_curve_says_leaves_the_pace_alone() -> None:
    """Nine of ten sound at the age of nine tenths sound is the usual pace."""
    assert pace_after(SQUASH.sound, (0, 12), (90, 10), USUAL).usual == pytest.approx(1, abs=0.05)


def test_few_pieces_move_the_pace_little() -> None:
    """One soft squash of two says less than fifty of a hundred."""
    few = pace_after(SQUASH.sound, (0, 12), (1, 1), USUAL)
    many = pace_after(SQUASH.sound, (0, 12), (50, 50), USUAL)
    assert 1 < few.usual < many.usual
    assert many.spread < few.spread < USUAL.spread


def test_pieces_of_unknown_weight_are_told_not_guessed() -> None:
    """Ten stones that nobody weighed are not put into the books as kilograms."""
    lot = entry(EntryKind.PUT_BY, DAY, **{**STONES, "amount": pieces(10)})
    ledger = keep_ledger([lot], (), LARDER)
    assert ledger.lots == ()
    assert "piece" in ledger.worth_knowing[0].what


@given(
    amounts=st.lists(st.floats(0.1, 8), min_size=1, max_size=8),
    kinds=st.lists(st.sampled_from([EntryKind.EATEN, EntryKind.GIVEN, EntryKind.THROWN])),
)
def test_books_of_what_does_not_rot_balance_to_the_gram(
    amounts: list[float], kinds: list[EntryKind]
) -> None:
    """Put by = eaten + given + thrown + what is left, where nothing rots."""
    lot = entry(EntryKind.PUT_BY, DAY, **{**STONES, "amount": kg(100)})
    out = [
        entry(kind, DAY + timedelta(weeks=n), **{**STONES, "amount": kg(amount)})
        for n, (kind, amount) in enumerate(zip(kinds, amounts, strict=False))
    ]
    ledger = keep_ledger([lot, *out], (), LARDER)
    gone = sum(move.kg for move in ledger.lots[0].moves)
    assert gone + by_food(ledger, DAY + timedelta(weeks=10))["stones"] == pytest.approx(
        100, abs=1e-3
    )


@given(order=st.permutations(range(6)))
def test_the_order_of_writing_does_not_change_the_books(order: list[int]) -> None:
    """Entries sent late from the far end of the plot give the same books."""
    written = [
        put_by(30),
        put_by(20, DAY + timedelta(weeks=1)),
        taken(EntryKind.EATEN, 3, 3),
        taken(EntryKind.GIVEN, 2, 4),
        taken(EntryKind.COUNTED, 35, 6),
        taken(EntryKind.EATEN, 4, 8),
    ]
    straight = keep_ledger(written, (), LARDER)
    mixed = keep_ledger([written[n] for n in order], (), LARDER)
    assert mixed.lots == straight.lots


def test_a_lot_told_in_the_garden_is_in_the_books() -> None:
    """What lay in store before the diary began was sound as told on the day it was told."""
    lot = replace(keep_ledger([put_by(12)], (), LARDER).lots[0], id="lot 1")
    later = DAY + timedelta(weeks=10)
    ledger = keep_ledger([], [lot_told(lot, later)], LARDER)
    assert by_food(ledger, later)["squash"] == pytest.approx(12)


def test_what_is_given_comes_out_of_the_kitchen_s_before_the_seed() -> None:
    """Squash given from a store that holds seed too leaves the seed alone while other is there."""
    seed, other = put_by(2, purpose=Purpose.PLANT), put_by(5)
    ledger = keep_ledger([seed, other, taken(EntryKind.GIVEN, 3, 1)], (), LARDER)
    assert ledger.by_id[seed.id].moves == ()
    assert [move.kg for move in ledger.by_id[other.id].moves] == [3]


def test_a_count_of_a_lot_names_its_food() -> None:
    """A count that names a lot alone, and is far from the books, is told with the food's name."""
    lot = put_by(60)
    day = DAY + timedelta(weeks=1)
    count = entry(EntryKind.COUNTED, day, lot=lot.id, count=StoreCount(20, 0), amount=pieces(0))
    ledger = keep_ledger([lot, count], (), LARDER)
    assert any("counted winter squash" in told.where for told in ledger.worth_knowing)
