"""What hangs to cure, and what sprouted food is still good for."""

from datetime import date, timedelta

import pytest

from haulm.catalogue.figures import Basis
from haulm.catalogue.loader import load_catalogue
from haulm.desk.season.larder_care import cure_days
from haulm.larder.keeping import keeping_curve, sound_by_week
from haulm.season.curing import Hung, curings, hung, rack_m2
from haulm.season.grammar import check_entry
from haulm.season.larder import Larder
from haulm.season.ledger import keep_ledger
from haulm.season.ledger_records import Keeps, LedgerLot
from haulm.season.records import Entry, EntryKind, StoreCount
from haulm.season.rescue import rescue_ways, rescues
from season.diary_by_hand import entry, kg, pieces

K = EntryKind
JULY = date(2027, 7, 10)
DAYS = {("garlic", "garlic/hard"): (28, 35, 42), ("garlic", None): (28, 35, 42)}
GARLIC = {"food": "garlic", "kind": "garlic/hard"}
LOFT = {**GARLIC, "form": "cured", "store": "loft"}


def cured(day: date, amount: float | None = 12, **said: object) -> Entry:
    """Hang garlic to cure."""
    told = {**GARLIC, **({} if amount is None else {"amount": kg(amount)}), **said}
    return entry(K.CURED, day, **told)


def one_hung(*entries: Entry) -> Hung:
    """Follow what was hung; there is one."""
    (found,) = hung(entries, DAYS, {"garlic": 0.05})
    return found


def test_what_was_hung_is_expected_down_in_its_weeks() -> None:
    """Garlic hung on 10 July is likely done on 14 August, a week either way."""
    assert one_hung(cured(JULY)).done_on == tuple(JULY + timedelta(d) for d in (28, 35, 42))


def test_put_by_takes_it_down_and_tells_what_went_in_drying() -> None:
    """Twelve kilograms hung and seven put by: five went with leaves, roots and water."""
    put_by = entry(K.PUT_BY, JULY + timedelta(36), **LOFT, amount=kg(7))
    found = one_hung(cured(JULY), put_by)
    assert found.ended == put_by.day
    assert found.gone_kg == pytest.approx(5)


def test_of_two_that_hang_the_one_named_comes_down() -> None:
    """Where two batches hang, put by without a name takes neither down; named, the one named."""
    first, second = cured(JULY), cured(JULY + timedelta(7))
    day = JULY + timedelta(36)
    unnamed = entry(K.PUT_BY, day, **LOFT, amount=kg(7))
    assert all(one.ended is None for one in hung([first, second, unnamed], DAYS, {}))
    named = entry(K.PUT_BY, day, **LOFT, lot=second.id, amount=kg(7))
    ended = {one.id: one.ended for one in hung([first, second, named], DAYS, {})}
    assert ended == {first.id: None, second.id: day}


def test_taken_down_is_told_by_naming_what_was_hung() -> None:
    """An entry that names it ends the curing, and is taken as it is written."""
    first = cured(JULY)
    down = entry(K.CURED, JULY + timedelta(30), lot=first.id)
    assert check_entry(down, down.day) == ()
    assert one_hung(first, down).ended == down.day


def test_what_was_not_weighed_is_not_said_to_have_lost_anything() -> None:
    """No weight hung: no loss is made up, and no rack."""
    put_by = entry(K.PUT_BY, JULY + timedelta(36), **LOFT, amount=kg(7))
    found = one_hung(cured(JULY, None), put_by)
    assert found.gone_kg is None
    assert rack_m2(found) is None


def test_rack_space_is_weight_by_loading() -> None:
    """Twelve kilograms at the data's load take that much rack."""
    load = curings()["garlic"].load_kg_m2
    assert rack_m2(one_hung(cured(JULY))) == pytest.approx(12 / load.value)


def test_every_food_with_words_on_curing_has_days_in_the_catalogue() -> None:
    """The test for done stands beside days for each food, and each figure says its basis."""
    days = cure_days(load_catalogue())
    for food, curing in curings().items():
        assert (food, None) in days, food
        assert curing.lost.low is not None
        assert curing.lost.high is not None
        assert curing.lost.low < curing.lost.value < curing.lost.high
        assert curing.load_kg_m2.basis in Basis


def test_onions_lose_in_curing_what_is_published() -> None:
    """Our range of weight lost holds 5 to 8 %, and reaches 10 to 20 % for early lifting.

    Suslow, Onions, Dry: Produce Facts, UC Davis.
    """
    lost = curings()["onion"].lost
    assert lost.low is not None
    assert lost.high is not None
    assert lost.low <= 0.05
    assert 0.05 <= lost.value <= 0.08
    assert lost.high == pytest.approx(0.20)


POTATO = Keeps(sound_by_week(keeping_curve(20, 33)), piece_kg=0.12)
CELLAR = {"food": "potato", "kind": "potato/maincrop", "form": "cellared", "store": "cellar"}
OCTOBER = date(2027, 10, 1)
LARDER = Larder({("potato", "potato/maincrop", "cellared", "cellar"): POTATO}, {}, pace_spread=0.2)


def sprouting(*more: Entry) -> tuple[LedgerLot, ...]:
    """Find six of a hundred potatoes sprouted in February."""
    put_by = entry(K.PUT_BY, OCTOBER, **CELLAR, amount=kg(13))
    count = entry(
        K.COUNTED, date(2028, 2, 1), **CELLAR, amount=pieces(102), count=StoreCount(94, 2, 6)
    )
    return keep_ledger([put_by, count, *more], (), LARDER).lots


def test_sprouted_potatoes_are_told_what_for() -> None:
    """Six sprouted potatoes are weighed; green or strongly sprouted ones are not to be eaten."""
    (told,) = rescues(sprouting(), [], date(2028, 2, 2))
    assert told.kg == pytest.approx(6 * 0.12)
    assert told.way is not None
    assert "strongly sprouted" in told.way.eat
    assert "not eaten" in told.way.eat
    assert told.barred == ()


def test_potatoes_of_a_year_with_blight_are_not_planted() -> None:
    """Late blight seen on the potatoes bars them as seed; on tomatoes it says nothing."""
    day = date(2027, 8, 3)
    on_potato = entry(K.TROUBLE, day, trouble="late blight", kind="potato/maincrop", bed="b")
    on_tomato = entry(K.TROUBLE, day, trouble="late blight", kind="tomato/cordon", bed="b")
    (told,) = rescues(sprouting(), [on_potato], date(2028, 2, 2))
    assert told.barred == (("late blight", day),)
    (free,) = rescues(sprouting(), [on_tomato], date(2028, 2, 2))
    assert free.barred == ()


def test_what_was_thrown_is_no_longer_asked_about() -> None:
    """Once the eight soft and sprouted ones are thrown there is nothing to rescue."""
    thrown = entry(K.THROWN, date(2028, 2, 2), **CELLAR, amount=pieces(8))
    assert rescues(sprouting(thrown), [], date(2028, 2, 3)) == ()


def test_no_way_of_keeping_gives_a_time_and_all_preserving_defers() -> None:
    """Drying, freezing, fermenting point to tested directions; only garlic in oil has days."""
    for food, way in rescue_ways().items():
        assert food in load_catalogue().foods
        digits = [letter for letter in f"{way.eat}{way.plant}{way.keep}" if letter.isdigit()]
        assert not digits, food
        assert "bottle" not in way.keep
        assert "can " not in way.keep
    assert "four days at most" in rescue_ways()["garlic"].keep


def test_beans_are_never_told_to_be_eaten_raw() -> None:
    """Beans that sprouted in store go, and no raw sprout is recommended."""
    assert "no bean is eaten raw" in rescue_ways()["dry beans"].eat
