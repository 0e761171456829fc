"""Where what was picked went, to the gram: nothing is dropped, and what nobody told is told."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.season.curing import hung
from haulm.season.records import Entry, EntryKind
from haulm.season.weighing import Weighing, weigh_whole
from season.diary_by_hand import entry, kg, pieces

K = EntryKind
JULY = date(2027, 7, 10)
SINCE = date(2027, 1, 1)
GARLIC = {"food": "garlic"}
LOFT = {**GARLIC, "form": "cured", "store": "loft"}
PIECE = {"garlic": 0.05}


def weighed(*entries: Entry) -> Weighing:
    """Weigh garlic whole."""
    hangs = hung(entries, {("garlic", None): (28, 35, 42)}, PIECE)
    (found,) = weigh_whole(entries, hangs, PIECE, SINCE)
    return found


def on(days: int, tells: EntryKind, amount: float, **said: object) -> Entry:
    """Write an entry some days after the lifting."""
    return entry(tells, JULY + timedelta(days), amount=kg(amount), **(GARLIC | said))


def test_what_was_picked_is_put_by_eaten_given_thrown_dried_or_not_told() -> None:
    """Twelve lifted, ten hung, six put by, one eaten fresh, half given: half is not told."""
    found = weighed(
        on(0, K.PICKED, 12),
        on(1, K.CURED, 10),
        on(2, K.EATEN, 1),
        on(3, K.GIVEN, 0.5),
        on(37, K.PUT_BY, 6, **LOFT),
    )
    assert (found.put_by_kg, found.fresh_kg, found.given_kg) == (6, 1, 0.5)
    assert found.dried_kg == 4
    assert found.hanging_kg == 0
    assert found.untold_kg == pytest.approx(0.5)
    assert not found.parts


def test_what_hangs_still_is_no_loss() -> None:
    """Until it is put by it hangs, and nothing of it counts as dried away or not told."""
    found = weighed(on(0, K.PICKED, 12), on(1, K.CURED, 12))
    assert found.hanging_kg == 12
    assert found.untold_kg == 0


def test_what_left_a_store_is_not_counted_twice() -> None:
    """Eaten out of the loft it was put by before: only the putting by is of the picking."""
    found = weighed(
        on(0, K.PICKED, 6), on(1, K.PUT_BY, 6, **LOFT), on(60, K.EATEN, 2, store="loft")
    )
    assert found.fresh_kg == 0
    assert found.untold_kg == 0


def test_books_that_part_say_so_either_way() -> None:
    """Five of twelve not told part; so does more put by than was ever picked."""
    less = weighed(on(0, K.PICKED, 12), on(37, K.PUT_BY, 7, **LOFT))
    assert less.untold_kg == 5
    assert less.parts
    more = weighed(on(0, K.PICKED, 3), on(1, K.PUT_BY, 7, **LOFT))
    assert more.untold_kg == -4
    assert more.parts


def test_what_was_not_written_as_hung_may_have_dried() -> None:
    """Where nobody wrote that garlic hung, what usually goes in drying stands beside the rest."""
    found = weighed(on(0, K.PICKED, 12), on(37, K.PUT_BY, 7, **LOFT))
    assert found.may_have_dried_kg is not None
    low, high = found.may_have_dried_kg
    assert low == pytest.approx(7 * 0.25 / 0.75)
    assert high == pytest.approx(7 * 0.55 / 0.45)


def test_what_was_not_weighed_is_counted_as_not_weighed() -> None:
    """An entry without a weight is in no sum, and is told by number; pieces are weighed."""
    unweighed = replace(on(2, K.EATEN, 1), amount=None)
    picked = replace(on(0, K.PICKED, 1), amount=pieces(40))
    found = weighed(picked, unweighed)
    assert found.picked_kg == pytest.approx(2)
    assert found.unweighed == 1


def test_last_years_batch_is_not_this_years_picking() -> None:
    """What was hung before the year began is left out with what was put by of it."""
    old = entry(K.CURED, SINCE - timedelta(20), **GARLIC, amount=kg(9))
    put_by = entry(K.PUT_BY, SINCE + timedelta(20), **LOFT, lot=old.id, amount=kg(5))
    found = weighed(old, put_by, on(0, K.PICKED, 1), on(0, K.EATEN, 1))
    assert (found.picked_kg, found.put_by_kg, found.untold_kg) == (1, 0, 0)


KINDS = st.sampled_from([K.PICKED, K.PUT_BY, K.EATEN, K.GIVEN, K.THROWN])


@given(st.lists(st.tuples(KINDS, st.integers(1, 9000)), min_size=1, max_size=30))
def test_every_gram_picked_is_somewhere(told: Sequence[tuple[EntryKind, int]]) -> None:
    """Whatever was written: picked is the sum of where it went and what nobody told."""
    entries = [
        on(day, kind, grams / 1000, **(LOFT if kind is K.PUT_BY else {}))
        for day, (kind, grams) in enumerate(told)
    ]
    found = weighed(*entries)
    picked = sum(grams for kind, grams in told if kind is K.PICKED)
    gone = sum(grams for kind, grams in told if kind is not K.PICKED)
    assert found.picked_kg * 1000 == pytest.approx(picked, abs=1e-6)
    assert found.untold_kg * 1000 == pytest.approx(picked - gone, abs=1e-6)
