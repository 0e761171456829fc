"""Learning on a terminal: one figure told apart, planned by, and taken back."""

import json
from datetime import UTC, datetime
from pathlib import Path

from haulm.desk.planning.plans import UNLAID, kept_plan
from haulm.desk.season.diary import write_entry
from haulm.desk.season.diary_typed import TypedEntry, Written
from shell import Haulm

AT = datetime(2028, 3, 1, 12, tzinfo=UTC)
LATER = ("--on", "2028-03-01")


def weighed(haulm: Haulm, path: Path) -> str:
    """Weigh a planting of onions for half as much again as planned; give the figure's name."""
    onions = next(p for p in kept_plan(path, UNLAID).plan.plantings if p.crop == "onion")
    said = [("picked", f"{onions.expects[0].kg * 1.5:.3f} kg"), ("cleared", "")]
    for number, (kind, amount) in enumerate(said):
        typed = TypedEntry(kind, onions.clear_by.isoformat(), planting=onions.id, amount=amount)
        write_entry(path, typed, Written(f"e{number}", AT, "l"), AT.date())
    moved = json.loads(haulm("learn", path, *LATER, "--json").out)["moved"]
    return str(next(one["name"] for one in moved if one["taught"] == "yield"))


def test_one_figure_is_told_with_its_records(haulm: Haulm, planned: Path) -> None:
    """Asked for alone, a figure comes with the entries it rests on and what the next may give."""
    name = weighed(haulm, planned)
    told = haulm("learn", planned, "--only", name, *LATER).out
    assert "picked" in told
    assert "The next planting, 8 years in 10" in told


def test_one_figure_is_planned_by_and_taken_back(haulm: Haulm, planned: Path) -> None:
    """All at once leave a single record's figure alone; by its name it is kept, and given up."""
    name = weighed(haulm, planned)
    assert "0 figures" in haulm("learn", planned, "--keep", *LATER).out
    kept = haulm("learn", planned, "--keep", "--only", name, *LATER).out
    assert "planned by" in kept
    assert "1 figure is your own now" in kept
    back = haulm("learn", planned, "--back", "--only", name, *LATER).out
    assert "1 figure is as usual again" in back
    assert "planned by" not in back


def test_a_figure_that_nothing_moves_is_refused(haulm: Haulm, planned: Path) -> None:
    """A name that is none of those in the list is refused, and nothing is kept."""
    weighed(haulm, planned)
    ran = haulm("learn", planned, "--keep", "--only", "rain", *LATER)
    assert ran.code != 0
    assert "nothing moves" in ran.err
