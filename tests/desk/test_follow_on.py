"""What a bed could take: closures and rest kept, the table's lack first."""

from datetime import date
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.desk.dates.follow_on import follow
from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.planning.plans import Made
from haulm.measure.errors import FaultsFoundError

DAY = date(2027, 2, 1)
FREE = date(2027, 7, 5)


def test_the_table_s_lack_stands_first(opened: Opened, made: Made) -> None:
    """What could serve most of what the plan leaves short leads, then what is eaten at all."""
    found = follow(opened, made.plan, "north", DAY, FREE, seed=1)
    reached = [round(one.reaches_kg or 0.0, 1) for one in found.followers]
    assert reached == sorted(reached, reverse=True)
    nothing = [one.on_table for one in found.followers if not round(one.reaches_kg or 0.0, 1)]
    assert nothing == sorted(nothing, reverse=True)
    short = sum(week.short_kg for week in made.plan.table)
    assert all((one.reaches_kg or 0.0) <= short + 1e-6 for one in found.followers)


def test_without_a_plan_the_whole_bed_is_free(opened: Opened) -> None:
    """No plan: the whole bed, on the day asked, and nothing is known to be short."""
    found = follow(opened, None, "North", DAY, FREE, seed=1)
    assert found.freed.area_m2 == pytest.approx(7.2)
    assert found.freed.on == FREE
    assert all(one.reaches_kg is None and one.instead_of is None for one in found.followers)
    assert {"french bean/dwarf", "lettuce/leaf"} <= {one.kind for one in found.followers}
    assert all(one.start.sowing.set_on >= FREE for one in found.followers)


def test_a_disease_and_a_past_crop_keep_their_family_off(opened: Opened) -> None:
    """South had white rot and onions in 2026: leeks follow in North, not in South, and the reason
    is told.
    """
    north = follow(opened, None, "north", DAY, date(2027, 6, 7), seed=1)
    south = follow(opened, None, "south", DAY, date(2027, 6, 7), seed=1)
    assert any(one.kind.startswith("leek/") for one in north.followers)
    assert not any(one.kind.startswith("leek/") for one in south.followers)
    assert any("onion" in family for family, _ in south.kept_off)


def test_room_beside_the_plan_is_told_or_what_it_would_replace(opened: Opened, made: Made) -> None:
    """Each has room of its own, or is told what it would take the place of."""
    for bed in ("north", "south"):
        found = follow(opened, made.plan, bed, DAY, None, seed=1)
        for one in found.followers:
            assert 0 <= one.spare_m2 <= 7.2 + 1e-6
            if one.instead_of is not None:
                assert one.spare_m2 < opened.garden.least_patch_m2
                assert found.freed.on <= one.instead_of.on < one.free_again


@pytest.mark.parametrize(
    ("bed", "free", "words"),
    [("nort", FREE, "no bed called"), ("north", date(2026, 1, 1), "past")],
)
def test_what_cannot_be_asked_is_refused(opened: Opened, bed: str, free: date, words: str) -> None:
    """A bed that is not there, and a day that is past."""
    with pytest.raises(FaultsFoundError, match=words):
        follow(opened, None, bed, DAY, free, seed=1)


def test_under_glass_other_things_follow(tmp_path: Path) -> None:
    """A covered bed takes only what may be grown under cover."""
    toml = small_garden(tmp_path, ('name = "North"', 'name = "North"\ncover = "tunnel"'))
    opened = open_garden(toml)
    found = follow(opened, None, "north", DAY, FREE, seed=1)
    assert found.followers
    assert all(one.start.sowing.under_cover for one in found.followers)
