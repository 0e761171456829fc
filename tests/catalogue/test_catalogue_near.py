"""Finding crops, kinds and foods by the names growers write."""

import pytest

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.near import find_crop, find_food, find_kind
from haulm.measure.near import near_names


@pytest.mark.parametrize(
    "word", ["garlic/hard-necked", "Garlic/Hard-Necked", "  hard-necked  GARLIC "]
)
def test_a_kind_is_found_by_id_or_name_in_any_case(word: str) -> None:
    """Capitals and spaces do not hide a kind."""
    kind = find_kind(load_catalogue(), word)
    assert kind is not None
    assert kind.id == "garlic/hard-necked"


@pytest.mark.parametrize(
    ("word", "food"),
    [("Green Beans", "green beans"), ("EARLY POTATO", "early potato"), ("garlic", "garlic")],
)
def test_a_food_is_found_in_any_case(word: str, food: str) -> None:
    """Capitals do not hide a food."""
    found = find_food(load_catalogue(), word)
    assert found is not None
    assert found.id == food


def test_every_id_finds_itself() -> None:
    """What the catalogue calls a thing always finds that thing."""
    catalogue = load_catalogue()
    assert all(find_crop(catalogue, id_) is crop for id_, crop in catalogue.crops.items())
    assert all(find_kind(catalogue, id_) is kind for id_, kind in catalogue.kinds.items())
    assert all(find_food(catalogue, id_) is food for id_, food in catalogue.foods.items())


def test_what_is_not_there_is_not_found() -> None:
    """A banana is no food of this catalogue, and no crop is taken for a food of a near name."""
    catalogue = load_catalogue()
    assert find_food(catalogue, "banana") is None
    assert find_crop(catalogue, "garlick") is None
    assert find_kind(catalogue, "garlic") is None


def test_a_slip_is_met_with_the_near_name() -> None:
    """Someone who writes garlick is asked whether garlic was meant."""
    assert near_names("garlick", load_catalogue().foods)[0] == "garlic"
    assert "winter squash" in near_names("winter squach", load_catalogue().foods)
