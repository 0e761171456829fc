"""The ledger on a terminal: what lies in store, as data too, and the strip as a file."""

import json
from pathlib import Path

from shell import Haulm


def put_by(haulm: Haulm, planned: Path, *more: str) -> None:
    """Put garlic by in the pantry."""
    what = ("put by", "--food", "garlic", "--kind", "garlic/hard-necked", "--amount", "1 kg")
    where = ("--store", "pantry", "--form", "cured", "--on", "2026-08-20", "--in", planned)
    assert haulm("diary", "add", *what, *where, *more).code == 0


def test_the_ledger_tells_what_to_eat_and_until_when(haulm: Haulm, planned: Path) -> None:
    """Garlic in the pantry is listed with this week's limit and the dates of running out."""
    put_by(haulm, planned)
    said = haulm("ledger", planned, "--on", "2027-01-15").out
    for words in ("eat first", "garlic", "bulb", "gone in 2, 5, 8 years of 10 by"):
        assert words in said


def test_an_empty_larder_is_said_to_be_empty(haulm: Haulm, planned: Path) -> None:
    """Nothing in store is no table of nothing."""
    assert "Nothing lies in store." in haulm("ledger", planned).out


def test_the_ledger_as_data_balances(haulm: Haulm, planned: Path) -> None:
    """As data, each lot has its balance: what came in is what went, was lost or is there."""
    put_by(haulm, planned)
    found = json.loads(haulm("ledger", planned, "--on", "2027-01-15", "--json").out)
    one = found["lots"][0]["balance"]
    gone = sum(one["out_kg"].values()) + one["cleared_kg"] + one["missing_kg"]
    assert abs(one["put_by_kg"] - gone - one["sound_kg"] - one["rotting_kg"]) < 1e-6
    assert found["strip"][0]["food"] == "garlic"


def test_the_strip_is_written_where_it_was_asked_for(
    haulm: Haulm, planned: Path, tmp_path: Path
) -> None:
    """--strip writes a PDF; a folder that is not there is told, and nothing else happens."""
    put_by(haulm, planned)
    strip = tmp_path / "strip.pdf"
    assert haulm("ledger", planned, "--strip", strip).code == 0
    assert strip.read_bytes()[:4] == b"%PDF"
    refused = haulm("ledger", planned, "--strip", tmp_path / "nowhere" / "strip.pdf")
    assert refused.code != 0
    assert "cannot be written" in refused.err
