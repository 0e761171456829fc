"""The notebook at hand: what was reckoned stays until the garden or its plans change."""

from datetime import UTC, date, datetime
from pathlib import Path

from haulm.desk.at_hand import AtHand
from haulm.desk.garden.editing import Change, change_garden, mark_of
from haulm.desk.garden.exchange import import_garden
from haulm.desk.season.diary import write_entry
from haulm.desk.season.diary_typed import TypedEntry, Written

DAY = date(2027, 2, 1)
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
