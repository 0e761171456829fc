"""When a store is to be looked through, and what to look for there."""

from dataclasses import replace
from datetime import date, timedelta

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Form
from haulm.larder.keeping import keeping_curve, sound_by_week
from haulm.season.ledger_records import Counted, Keeps, LedgerLot
from haulm.season.looking import looking_rules
from haulm.season.records import Purpose
from haulm.season.store_check import store_checks

PUT_BY = date(2027, 9, 1)
MOST = {"cellared": 28, "frozen": 91}


def lot(name: str, weeks: tuple[float, float], store: str = "cellar") -> LedgerLot:
    """Make a lot of ten kilograms that keeps nine tenths and half for so many weeks."""
    keeps = Keeps(sound_by_week(keeping_curve(*weeks)))
    key = (name, None, "frozen" if store == "freezer" else "cellared", store)
    return LedgerLot(name, key, PUT_BY, 10, Purpose.EAT, keeps, base_kg=10, most_kg=10)


def test_what_rots_fast_is_looked_at_sooner() -> None:
    """Pears lose a twentieth in 17 days and are due then; onions in 4 weeks, frozen peas in 13.

    By the curve: S(17 d) = exp(−0.105 · (2.43 / 3)^3.69) = 0.953, S(18 d) = 0.942; between the
    curve's whole weeks it runs straight, which reaches 0.95 on the 17th day.
    """
    pears, onions, peas = lot("pear", (3, 5)), lot("onion", (20, 30)), lot("pea", (35, 52))
    peas = replace(peas, key=("pea", None, "frozen", "freezer"))
    for one, days in ((pears, 17), (onions, 28), (peas, 91)):
        check = store_checks([one], PUT_BY, MOST)[0]
        assert (check.due - PUT_BY).days == days


def test_a_store_is_due_when_its_first_lot_is() -> None:
    """Pears beside onions bring the whole cellar's check forward, and head its sheet."""
    check = store_checks([lot("onion", (20, 30)), lot("pear", (3, 5))], PUT_BY, MOST)[0]
    assert [line.lot.food for line in check.lines] == ["pear", "onion"]
    assert check.due == check.lines[0].due


def test_a_count_puts_the_next_check_off() -> None:
    """Looked through today, a lot is due from today on."""
    day = PUT_BY + timedelta(weeks=6)
    count = Counted(day, 9.0, 1.0, 9.0, "c")
    counted = replace(lot("onion", (20, 30)), counts=(count,))
    assert store_checks([counted], day, MOST)[0].due > day + timedelta(days=13)


def test_likely_soft_and_likely_sound_are_all_there_is() -> None:
    """What is likely sound and what is likely not add up to what lies there."""
    line = store_checks([lot("pear", (3, 5))], PUT_BY + timedelta(weeks=4), MOST)[0].lines[0]
    assert line.lost_kg > 1
    assert abs(line.sound_kg + line.lost_kg - 10) < 1e-9


def test_every_form_says_what_to_look_for() -> None:
    """No form of keeping is without words, and every food that has its own is in the catalogue."""
    rules = looking_rules()
    assert set(rules.by_form) == {form.value for form in Form}
    assert set(rules.by_food) <= set(load_catalogue().foods)


def test_nobody_is_told_how_long_to_can() -> None:
    """No word on jars gives a time or a temperature: it defers to the food safety authority."""
    bottled = looking_rules().by_form["bottled"]
    text = f"{bottled.look} {bottled.soft}"
    assert "food safety authority" in text
    assert not any(letter.isdigit() for letter in text)


def test_green_potatoes_are_not_eaten() -> None:
    """The sheet says so beside the potatoes, by the BfR."""
    looking = looking_rules().of("potato", "cellared")
    assert "not eaten" in looking.soft
    assert "BfR" in looking.source
