"""The notebook at hand: what was reckoned stays until the garden or its plans change."""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from gardens import small_garden
from haulm.desk.at_hand import AtHand
from haulm.desk.garden.editing import Change, change_garden, mark_of
from haulm.desk.garden.exchange import import_garden
from haulm.desk.planning.plans import plan_garden
from haulm.desk.season.diary import write_entry
from haulm.desk.season.diary_typed import TypedEntry, Written
from haulm.desk.table.needs import needs_of
from haulm.planner.question import Effort

QUICK = Effort("quick", rounds=0, target_gap=0.05)
DAY = date(2027, 2, 1)
LEEKS = """
[[standing]]
bed = "south"
kind = "leek/winter"
method = "modules"
started = 2026-06-15
area = "2 m2"
"""
AT = datetime(2027, 2, 1, 12, tzinfo=UTC)


def test_writing_the_diary_leaves_what_was_reckoned(small_toml: Path, tmp_path: Path) -> None:
    """An entry shows at once, and nothing that rests on garden and plan is reckoned again."""
    path, _ = import_garden(small_toml, tmp_path / "small.haulm")
    garden = AtHand(path, lambda: DAY)
    mark, needs = garden.mark, garden.needs
    assert garden.diary.before == {}
    write_entry(
        path, TypedEntry("frost seen", "2027-01-20"), Written("e1", AT, "laptop"), today=DAY
    )
    assert [entry.id for entry in garden.diary.entries] == ["e1"]
    assert garden.mark == mark
    assert garden.needs is needs


def test_a_day_asked_for_goes_before_the_day_an_invented_garden_has(
    small_toml: Path, tmp_path: Path
) -> None:
    """Whoever asks for a day gets it, also where the garden brings one of its own."""
    path, _ = import_garden(small_toml, tmp_path / "small.haulm")
    garden = AtHand(path, lambda: DAY)
    told = garden.parts["garden"][0]
    own = {**told, "invented": True, "today": date(2027, 3, 1)}
    change_garden(path, [Change("garden", mark_of(told), own)], AT)
    assert garden.day == date(2027, 3, 1)
    assert AtHand(path, lambda: DAY, given=date(2027, 6, 1)).day == date(2027, 6, 1)


def test_every_change_of_the_garden_is_seen(small_toml: Path, tmp_path: Path) -> None:
    """A bed renamed in another window is another garden; named back, it is the one before."""
    path, _ = import_garden(small_toml, tmp_path / "small.haulm")
    garden = AtHand(path, lambda: DAY)
    before, bed = garden.mark, garden.parts["bed"][0]
    change_garden(path, [Change("bed", mark_of(bed), {**bed, "name": "Elsewhere"})], AT)
    assert garden.mark != before
    assert garden.opened.garden.beds[0].name == "Elsewhere"


def test_what_stood_when_the_garden_was_first_told_is_not_asked_about_for_ever(
    tmp_path: Path,
) -> None:
    """Two years after the first plan the table is still reckoned: the leeks that stood then
    were lifted by the plan, and nobody has to take them out of what was told.
    """
    toml = small_garden(tmp_path)
    toml.write_text(toml.read_text(encoding="utf-8") + LEEKS, encoding="utf-8")
    path, _ = import_garden(toml, tmp_path / "small.haulm")
    plan = plan_garden(path, DAY, QUICK, seed=1).plan
    assert any(one.standing for one in plan.plantings)
    later = DAY + timedelta(weeks=104)
    garden = AtHand(path, lambda: later)
    assert garden.opened.garden.standing
    assert not any(":2026-" in one.sowing.id for one in garden.asked.question.standing)
    assert garden.needs.sums
    assert needs_of(path, later, seed=1).sums
