from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.desk.beds.ground import (
    bed_grounds,
    closed_ground,
    closures_told,
    standing_plantings,
    too_dark,
)
from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.planning.question import Asked
from haulm.ground.records import Cover
from haulm.notebook.garden import StandingCrop


def test_every_bed_comes_with_its_size_and_past(opened: Opened) -> None:
    """A bed of 1.2 by 6 m is 7.2 m², and onions lifted in 2026 count for their whole family."""
    north, south = bed_grounds(opened.garden, opened.catalogue)
    assert north.area_m2 == pytest.approx(7.2)
    assert south.last_year_of_family == ((opened.catalogue.crops["onion"].family, 2026),)


@pytest.mark.parametrize(("cover", "covered"), [(Cover.OPEN, False), (Cover.TUNNEL, True)])
def test_a_tunnel_is_ground_under_cover(opened: Opened, cover: Cover, covered: bool) -> None:  # noqa: FBT001
    """A bed in a tunnel lies under cover; one in the open does not."""
    bed = replace(opened.garden.beds[0], cover=cover)
    (ground,) = bed_grounds(replace(opened.garden, beds=(bed,)), opened.catalogue)
    assert ground.under_cover is covered


def test_white_rot_closes_its_own_bed_to_the_onion_family(opened: Opened) -> None:
    """White rot on South keeps garlic, onions and leeks off South, and off no other bed."""
    (closure,) = closed_ground(opened.garden, opened.catalogue)
    assert closure.bed == "south"
    assert closure.family == opened.catalogue.crops["leek"].family
    assert closure.until_year > 2030


def test_garlic_that_stands_is_lifted_this_summer(opened: Opened, asked: Asked) -> None:
    """Garlic set in November holds its ground from then until next summer, and then gives bulbs."""
    stand = StandingCrop("north", "garlic/soft-necked", "cloves", date(2026, 11, 2), 2.0)
    garden = replace(opened.garden, standing=(stand,))
    horizon = asked.question.horizon
    (garlic,) = standing_plantings(garden, opened.catalogue, asked.weather, horizon)
    assert (garlic.bed, garlic.area_m2) == ("north", 2.0)
    assert garlic.sowing.ground_from_week < 0
    assert horizon.monday(garlic.sowing.ground_until_week).year == 2027
    assert 6 <= horizon.monday(garlic.sowing.ground_until_week).month <= 8
    assert "garlic" in {food.food for food in garlic.sowing.foods}


def test_fruit_keeps_to_the_sun_and_leaves_bear_less(tmp_path: Path) -> None:
    """A bed in the shade is offered to nothing that needs sun; half a day's sun does for leeks."""
    shade = small_garden(tmp_path, ('width = "1.2 m"', 'width = "1.2 m"\nsun = "shade"'))
    opened = open_garden(shade)
    dark = too_dark(opened.garden, opened.catalogue.kinds.values())
    assert {bed for bed, _ in dark} == {"north"}
    part = small_garden(tmp_path, ('width = "1.2 m"', 'width = "1.2 m"\nsun = "part"'))
    dark = too_dark(open_garden(part).garden, opened.catalogue.kinds.values())
    assert ("north", "garlic/hard-necked") in dark
    assert ("north", "leek/winter") not in dark


def test_powdery_scab_is_told_of_potatoes_and_not_of_their_family(tmp_path: Path) -> None:
    """A bed where powdery scab was found is closed to potatoes by name, while tomatoes may come;
    one where late blight was found is closed to nothing.
    """
    changed = ('disease = "white rot"', 'disease = "powdery scab"')
    opened = open_garden(small_garden(tmp_path, changed))
    (note,) = closures_told(opened.garden, opened.catalogue)
    assert note.what.startswith("South: no potato until 2037 (powdery scab found 2026")
    (closure,) = closed_ground(opened.garden, opened.catalogue)
    assert closure.keeps_off("south", "potato", "potato")
    assert not closure.keeps_off("south", "potato", "tomato")
    blighted = small_garden(tmp_path, ('disease = "white rot"', 'disease = "late blight"'))
    opened = open_garden(blighted)
    assert closed_ground(opened.garden, opened.catalogue) == ()


def test_closed_ground_is_told_by_both_counts_of_years(opened: Opened) -> None:
    """White rot of 2026 keeps onions off for the published 20 years; the usual 4 are shown."""
    (note,) = closures_told(opened.garden, opened.catalogue)
    assert note.what == (
        "South: no onion family until 2047 (white rot found 2026; common advice 4 years, "
        "published survival 20 or more)."
    )
