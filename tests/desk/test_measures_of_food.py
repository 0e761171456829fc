"""Household measures: helpings, pieces and weight of what is eaten in a week."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Absent
from haulm.desk.table.measures_of_food import (
    measure_of,
    plural,
    read_week_kg,
    stepped,
    told_as,
    told_week,
    week_text,
)
from haulm.household.records import Eater, Household, TableLine, Wanted
from haulm.measure.errors import FaultsFoundError
from stated import stated

FOODS = load_catalogue().foods
ONION, LEEK = FOODS["onion"], FOODS["leek"]
HOURS = (8.0,) * 12
TWO = Household((Eater("Ines", 40), Eater("Pau", None, 0.5)), (), (), HOURS)


def line(kg_week: float | None, portions_week: float | None) -> TableLine:
    """Give a line of leek told by weight or by portions."""
    return TableLine(
        "leek", "leek", ("leek",), kg_week, portions_week, None, None, Wanted.EITHER, 3, 1.0
    )


def test_a_line_told_by_weight_is_measured_in_helpings_and_pieces() -> None:
    """At the catalogue's 200 g a helping and 150 g a leek, 1.2 kg is 6 helpings or 8 leeks."""
    measure = measure_of(line(1.2, None), LEEK, TWO)
    assert measure.helpings == pytest.approx(1.2 / LEEK.portion_kg.value)
    assert measure.pieces == pytest.approx(1.2 / stated(LEEK.piece_kg).value)
    assert measure.piece == "leeks"


def test_a_line_told_by_portions_follows_who_eats() -> None:
    """Two portions for each adult are three for an adult and a half."""
    assert measure_of(line(None, 2.0), LEEK, TWO).helpings == pytest.approx(3.0)


@pytest.mark.parametrize(
    ("text", "kg"),
    [
        ("6", 6 * ONION.portion_kg.value),
        ("6 helpings", 6 * ONION.portion_kg.value),
        ("1,5", 1.5 * ONION.portion_kg.value),
        ("3 Bulbs", 3 * stated(ONION.piece_kg).value),
        ("1 bulb", stated(ONION.piece_kg).value),
        ("2.5 kg", 2.5),
        ("400 g", 0.4),
        ("1 lb", 0.45359237),
    ],
)
def test_a_week_is_read_in_any_measure(text: str, kg: float) -> None:
    """A figure counts helpings; pieces and weights say what they are.

    The pound is the international avoirdupois pound of 0.45359237 kg (NIST Handbook 44, App. C).
    """
    assert read_week_kg(text, ONION, "onion") == pytest.approx(kg)


@pytest.mark.parametrize(
    "text", ["", "three", "-2", "0", "0 kg", "3 heads", "5 gallons", "1,000", "nan", "1e5"]
)
def test_what_is_no_amount_is_refused_with_a_remedy(text: str) -> None:
    """Words, less than nothing, another food's measure and doubtful commas are never guessed at."""
    with pytest.raises(FaultsFoundError) as caught:
        read_week_kg(text, ONION, "onion")
    assert caught.value.findings[0].remedy


@given(st.floats(0.001, 500), st.sampled_from(["metric", "us"]))
@settings(max_examples=60, deadline=None)
def test_a_written_week_reads_back_as_the_same(kg: float, units: str) -> None:
    """What is written down for a week is what was meant, to half a gram or a hundredth of 1 %."""
    text = week_text(kg, "us" if units == "us" else "metric")
    assert read_week_kg(text, ONION, "onion") == pytest.approx(kg, abs=5e-4, rel=1e-4)


@given(st.floats(0.01, 400), st.sampled_from([1, -1]))
@settings(max_examples=80, deadline=None)
def test_a_step_goes_to_a_whole_helping_the_right_way(helpings: float, step: int) -> None:
    """One step up is more, one step down is less, until one helping is left."""
    after = stepped(helpings, step)
    assert after == int(after) >= 1
    assert after > helpings if step > 0 else after < helpings or after == 1


def test_steps_are_by_one_and_above_forty_by_five() -> None:
    """12.5 goes to 13, 13 to 14 and 45 to 50; 13.6 goes down to 13."""
    assert [stepped(12.5, 1), stepped(13, 1), stepped(45, 1)] == [13, 14, 50]
    assert [stepped(13.6, -1), stepped(13, -1), stepped(50, -1)] == [13, 12, 45]


def test_a_line_goes_on_being_told_as_it_was() -> None:
    """A line told in portions stays one, so that it follows who eats."""
    assert told_as(line(0.4, None), 0.9, LEEK, TWO, "metric") == {"amount": "900 g"}
    told = told_as(line(None, 2.0), 0.9, LEEK, TWO, "metric")
    assert told == {"portions": pytest.approx(0.9 / LEEK.portion_kg.value / 1.5)}


def test_a_weight_is_kept_as_it_was_typed() -> None:
    """Pounds stay pounds; counts become a weight."""
    assert told_week("2 lb", LEEK, "leek", "metric") == "2 lb"
    assert told_week("2 leeks", LEEK, "leek", "metric") == "300 g"


def test_every_piece_of_the_catalogue_has_a_plural_that_reads_back() -> None:
    """Bunches, potatoes and heads are understood for every food."""
    for food in FOODS.values():
        kg = read_week_kg(f"4 {plural(food.piece)}", food, food.name)
        assert kg == pytest.approx(4 * stated(food.piece_kg).value)


def test_pieces_of_an_unknown_weight_are_not_counted() -> None:
    """Where nobody has the weight of a leek, none are counted, and a count typed is refused."""
    unweighed = replace(LEEK, piece_kg=Absent("no one weighed it", "kg"))
    assert measure_of(line(1.2, None), unweighed, TWO).pieces is None
    assert read_week_kg("1.2 kg", unweighed, "leek") == pytest.approx(1.2)
    with pytest.raises(FaultsFoundError, match="no one weighed it"):
        read_week_kg("3 leeks", unweighed, "leek")
