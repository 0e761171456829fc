"""A grower who lost a harvest asks to be sure, and is told what that takes and what it is worth."""

import json
from importlib.resources import as_file, files
from math import hypot, sqrt
from pathlib import Path

import pytest

from haulm.desk.odds.certainty import REPEAT_SEASONS
from shell import Haulm

ON = ("--on", "2027-08-30")


@pytest.fixture
def garden(tmp_path: Path) -> Path:
    """Give the example garden of one food, which asks for 8 years in 10."""
    toml = tmp_path / "garden.toml"
    with as_file(files("haulm.examples") / "one-food" / "garden.toml") as example:
        told = example.read_text(encoding="utf-8")
    toml.write_text(told.replace("[place]", "certainty = 8\n\n[place]", 1), encoding="utf-8")
    return toml


def test_a_garden_that_asks_to_be_sure(garden: Path, haulm: Haulm, tmp_path: Path) -> None:
    """From garden.toml to paper: the plan is made for 8 years in 10, says how often it held in
    seasons it never saw and what held less often, why it counts on less than the mean, and hands
    all that to other programs; the larder tide on paper shows poor and good years.
    """
    book = tmp_path / "yard.haulm"
    assert haulm("import", garden, book).code == 0
    planned = haulm("plan", book, *ON, "--effort", "quick")
    assert planned.code == 0
    assert "Made to keep its promises 8 years in 10" in planned.out
    assert "seasons it never saw" in planned.out

    why = haulm("why", "garlic-1", book)
    assert "of garlic is counted on, 0." in why.out
    assert "so that what is promised holds 8 years in 10" in why.out

    sure = json.loads(haulm("plan", book, *ON, "--effort", "quick", "--json").out)["certainty"]
    assert set(sure["lines"].values()) == {0.8}
    assert sure["seasons"] >= 1000
    for held in sure["held"]:
        # The search knew the odds no better than the seasons it tried plans in could tell.
        assert held["share"] >= 0.8 - 3 * hypot(held["error"], sqrt(0.8 * 0.2 / REPEAT_SEASONS))
        if held["share"] < 0.8 - 3 * held["error"]:
            assert f"holds {10 * held['share']:.1f} years in 10, not 8" in planned.out

    assert haulm("sheets", book, "--out", tmp_path / "sheets", "--odds").code == 0
    tide = (tmp_path / "sheets" / "larder-tide.svg").read_text(encoding="utf-8")
    assert "in store in a poor year, one in ten" in tide
    assert "counts on, to hold 8 years in 10" in tide
