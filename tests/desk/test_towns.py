"""Towns are found as they are typed."""

import pytest

from haulm.desk.garden.towns import Town, town_named, towns_like
from haulm.measure.errors import FaultsFoundError


def first_name(words: str) -> str:
    """Give the name of the first town found."""
    return towns_like(words)[0].name


def test_the_largest_town_that_starts_so_comes_first() -> None:
    """Whoever types “lond” is offered London in the United Kingdom before any other London."""
    first, *others = towns_like("lond")
    assert (first.name, first.country) == ("London", "United Kingdom")
    assert "Canada" in {town.country for town in others}


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("zurich", "Zürich"),
        ("ZÜRICH", "Zürich"),
        ("são pau", "São Paulo"),
        ("sao pau", "São Paulo"),
        ("münchen", "Munich"),
        ("wien", "Vienna"),
        ("  seattle ", "Seattle"),
    ],
)
def test_accents_capitals_and_home_names(words: str, name: str) -> None:
    """Accents, capitals and spaces make no difference, and a large town answers to the name it
    has at home.
    """
    assert first_name(words) == name


def test_a_later_word_finds_a_town() -> None:
    """“Hague” finds The Hague."""
    assert "The Hague" in {town.name for town in towns_like("hague")}


def test_what_follows_a_comma_narrows() -> None:
    """Portland in Maine is found by its state, and every Portland by its country."""
    assert {town.region for town in towns_like("portland, mai")} == {"Maine"}
    assert {town.country for town in towns_like("portland, united s")} == {"United States"}
    assert towns_like("portland, fr") == ()


def test_no_more_than_asked_for() -> None:
    """No more towns come than were asked for, and none for nothing typed."""
    assert len(towns_like("s", limit=3)) == 3
    assert towns_like("") == towns_like(" , france") == ()
    assert towns_like("xqzw") == ()


def test_places_lie_where_they_are() -> None:
    """Melbourne lies at 37.8° S 145.0° E, to a tenth of a degree (an atlas's common figure)."""
    town = town_named("melbourne", "australia")
    assert town.latitude_deg == pytest.approx(-37.8, abs=0.1)
    assert town.longitude_deg == pytest.approx(145.0, abs=0.1)


def test_an_unknown_town_is_answered_with_near_ones() -> None:
    """A mistyped town is refused with the near names of that country, and a way out."""
    with pytest.raises(FaultsFoundError) as refused:
        town_named("Setle", "United States")
    (found,) = refused.value.findings
    assert "Seattle" in found.remedy
    assert "latitude" in found.remedy


def test_a_town_is_plain_facts() -> None:
    """A town is a name, a country, degrees, and a state where one was told."""
    assert Town("Torrenz", "nowhere", 46.4, 8.9).region == ""
