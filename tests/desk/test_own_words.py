"""A garden's own figures are told as a grower would say them, never by the name of a field."""

import pytest

from haulm.catalogue.own import OwnFigure
from haulm.desk.showing.own_words import own_figure_text

NAMES = {"leek": "leek", "garlic": "garlic"}


@pytest.mark.parametrize(
    ("figure", "value", "told"),
    [
        ("givings.leek.yield_kg_m2", 2.8, "yield of leek 2.8 kg/m²"),
        (
            "givings.garlic.keeping.cured.sound_50_weeks",
            20.03,
            "cured garlic half sound after 20 weeks",
        ),
        ("later_days", 4.9, "ready 5 days later than usual"),
        ("later_days", 0.3, "ready as is usual"),
        ("later_days", -3.0, "ready 3 days earlier than usual"),
        ("stand.depth_m", 0.05, "depth 0.05 m"),
    ],
)
def test_a_figure_is_told_in_words_with_its_unit(figure: str, value: float, told: str) -> None:
    """Whose figure it is, what it is of, and how much; no dots and no underscores."""
    assert own_figure_text(OwnFigure("leek/summer", figure, value), NAMES, "metric") == told


def test_a_yield_is_told_in_the_garden_s_units() -> None:
    """Who measures in feet reads pounds by the square foot."""
    own = OwnFigure("leek/summer", "givings.leek.yield_kg_m2", 2.8)
    assert own_figure_text(own, NAMES, "us") == "yield of leek 0.57 lb/sq ft"
