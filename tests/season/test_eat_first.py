"""What to eat first, and how much a week may take so that it lasts."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.larder.keeping import keeping_curve, sound_by_week
from haulm.season.eat_first import eat_first, past_keeping_on, past_unseen, safe_use
from haulm.season.keeping_pace import sound_at
from haulm.season.ledger_records import Counted, Keeps, Ledger, LedgerLot
from haulm.season.records import Purpose

DAY = date(2027, 10, 1)


def lot(name: str, kg: float, weeks: tuple[float, float], age_weeks: int = 0) -> LedgerLot:
    """Make a lot that keeps nine tenths and half sound for so many weeks."""
    keeps = Keeps(sound_by_week(keeping_curve(*weeks)))
    put_by = DAY - timedelta(weeks=age_weeks)
    key = (name, None, "cellared", "cellar")
    return LedgerLot(name, key, put_by, kg, Purpose.EAT, keeps, base_kg=kg, most_kg=kg)


def books(*lots: LedgerLot) -> Ledger:
    """Make a ledger of lots."""
    return Ledger(lots, (), {one.id: one for one in lots})


def test_what_rots_soonest_is_eaten_first() -> None:
    """Pears that are half gone in a month come before onions that keep till spring."""
    order = eat_first(books(lot("onion", 9, (20, 30)), lot("pear", 9, (3, 5))), DAY)
    assert [one.lot.food for one in order] == ["pear", "onion"]


def test_seed_potatoes_are_not_on_the_strip() -> None:
    """What is kept to plant is never told to be eaten."""
    seed = replace(lot("potato", 20, (10, 20)), purpose=Purpose.PLANT)
    assert eat_first(books(seed), DAY) == ()


def test_a_lot_that_was_found_going_soft_comes_up() -> None:
    """Of two alike, the one whose count showed fast ageing is eaten first."""
    usual = lot("carrot", 9, (10, 20))
    fast = replace(lot("beetroot", 9, (10, 20)), pace=1.6)
    assert eat_first(books(usual, fast), DAY)[0].lot.food == "beetroot"


def test_what_does_not_rot_is_shared_out_evenly() -> None:
    """Twelve kilograms that keep for ever last twelve weeks at a kilogram each."""
    stones = replace(lot("stones", 12, (10, 20)), keeps=Keeps((1.0,) * 200))
    use = safe_use([stones], DAY, DAY + timedelta(weeks=12))
    assert use is not None
    assert use.week_kg == pytest.approx(1)


def test_what_rots_gives_less_a_week_than_its_share() -> None:
    """Of twelve kilograms that rot meanwhile, a week gets less than a twelfth."""
    use = safe_use([lot("carrot", 12, (8, 16))], DAY, DAY + timedelta(weeks=12))
    assert use is not None
    assert 0.6 < use.week_kg < 1


@given(kg=st.floats(0.5, 80), weeks=st.integers(1, 20), sound=st.floats(4, 30))
def test_the_safe_use_of_one_lot_is_its_closed_form(kg: float, weeks: int, sound: float) -> None:
    """One lot that stays within its keeping gives R / Σ 1 / S(t) a week."""
    one = lot("carrot", kg, (sound, 2 * sound))
    use = safe_use([one], DAY, DAY + timedelta(weeks=weeks))
    assert use is not None
    shares = [sound_at(one.keeps.sound, week) for week in range(weeks)]
    if all(share > 0 for share in shares):
        expected = kg / sum(1 / share for share in shares)
        assert use.week_kg == pytest.approx(expected, rel=1e-6)
    else:
        assert use.week_kg == pytest.approx(0, abs=1e-6)


def test_nothing_left_has_no_safe_use() -> None:
    """An empty store is said to be empty, not to give nought a week."""
    empty = replace(lot("carrot", 12, (8, 16)), base_kg=0.0, most_kg=0.0)
    assert safe_use([empty], DAY, DAY + timedelta(weeks=4)) is None


def test_what_the_books_gave_up_for_its_age_is_asked_about() -> None:
    """Carrots past keeping by their age, that nobody looked at since, are told; thrown out or
    counted after that day they are not, nor years later.
    """
    old = lot("carrot", 9, (4, 6), age_weeks=20)
    past_on = past_keeping_on(old)
    assert past_on is not None
    assert past_on <= DAY
    (told,) = past_unseen([old], DAY)
    assert told.past_on == past_on
    assert 0 < told.sound_kg < 9
    counted = replace(old, counts=(Counted(past_on, 0.0, 9.0, 0.0, "x"),))
    assert past_unseen([counted], DAY) == ()
    assert past_unseen([old], past_on - timedelta(days=1)) == ()
    assert past_unseen([old], past_on + timedelta(weeks=60)) == ()
