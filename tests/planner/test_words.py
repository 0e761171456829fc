"""How the planner words things."""

from dataclasses import replace

from haulm.measure.weeks import Horizon
from haulm.planner.words import area, count, gives, one_more, room, span, stands, stretch, weight
from planner.tiny_gardens import FIRST_DAY, garden


def test_a_plan_of_two_years_names_the_year() -> None:
    """June is told apart from the June after; a plan within one year needs no year."""
    short = garden([], [])
    long = replace(short, horizon=Horizon(FIRST_DAY, 104))
    assert stretch(short, 0, 0) == "in March"
    assert stretch(long, 1, 14) == "from March to June 2027"
    assert stretch(long, 40, 50) == "from December 2027 to February 2028"
    assert stretch(long, 66, 66) == "in June 2028"


def test_small_amounts_are_told_in_small_units() -> None:
    """A handful is told in grams, half an hour in minutes, and never as nothing."""
    asked = garden([], [])
    assert [weight(asked, kg) for kg in (12.4, 1.26, 0.42, 0.029, 1e-5)] == [
        "12 kg", "1.3 kg", "0.42 kg", "29 g", "1 g",
    ]  # fmt: skip
    assert [span(hours) for hours in (2.5, 0.5, 0.001)] == ["2.5 h", "30 minutes", "1 minute"]


def test_one_of_a_thing_is_no_plural() -> None:
    """One plant, two plants."""
    assert (count(1, "plant"), count(2, "plant")) == ("1 plant", "2 plants")


def test_an_area_is_told_as_it_is_pegged_out() -> None:
    """A small patch to a hundredth of a square metre, a large one to a tenth."""
    asked = garden([], [])
    assert (area(asked, 0.5), area(asked, 12.26)) == ("0.50 m²", "12.3 m²")


def test_a_garden_in_us_units_is_answered_in_them() -> None:
    """Whoever measures in feet and pounds reads no kilogram in the plan's sentences."""
    asked = replace(garden([], []), units="us")
    told = [
        weight(asked, 4.5),
        area(asked, 4.5),
        gives(asked, 3.1),
        stands(asked, 44.0),
        room(asked, 40.0),
        *one_more(asked, 0.2),
    ]
    assert told[0].endswith(" lb")
    assert told[1].endswith(" sq ft")
    assert told[2] == "10.2 oz a sq ft"
    assert told[3] == "4.1 plants a sq ft"
    assert told[4].endswith(" US gal")
    assert told[5] == "square foot"
