"""A soil test from garden.toml to what is told of it."""

from datetime import date
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.desk.beds.bed_cards import bed_cards
from haulm.desk.beds.soil_told import NOT_TESTED, soil_of
from haulm.desk.garden.answers import check_garden
from haulm.desk.garden.exchange import export_garden, import_garden
from haulm.desk.garden.opening import open_garden
from haulm.measure.errors import FaultsFoundError

PLACE = ('soil = "loam"', 'soil = "loam"\nph = 5.5')
BED = ('name = "North"', 'name = "North"\nph = 7.2')


def test_a_bed_s_own_test_goes_before_the_place_s(tmp_path: Path) -> None:
    """North was tested by itself; south has what the place has; without any nothing is known."""
    beds = {bed.id: bed for bed in open_garden(small_garden(tmp_path, PLACE, BED)).garden.beds}
    assert (beds["north"].ph, beds["south"].ph) == (7.2, 5.5)
    untested = open_garden(small_garden(tmp_path)).garden.beds
    assert [bed.ph for bed in untested] == [None, None]


def test_the_check_tells_where_lime_is_wanted(tmp_path: Path) -> None:
    """Haulm check says it of the bed that is too acid, of every crop in one sentence, and says
    nothing where no soil was tested.
    """
    told = [one for one in check_garden(small_garden(tmp_path, PLACE, BED)) if "pH" in one.what]
    assert [one.where for one in told] == ["soil of South"]
    assert "pH 5.5: for French bean, garlic, leek and onion 6.5 or so" in told[0].what
    assert not [one for one in check_garden(small_garden(tmp_path)) if "pH" in one.what]


def test_limed_ground_is_told_to_spare_potatoes(tmp_path: Path) -> None:
    """Where cabbages want lime and potatoes share their bed, no fresh lime goes before these."""
    opened = open_garden(small_garden(tmp_path, PLACE))
    south = opened.garden.beds[1]
    told = soil_of(south, ["cabbage", "potato", "kale"], opened.catalogue)
    assert told.lime
    assert "for cabbage and kale 7 or so" in told.sentences[0]
    assert told.sentences[-2].startswith("No fresh lime before potato")
    assert "autumn before, apart from manure" in told.sentences[-1]
    untested = open_garden(small_garden(tmp_path)).garden.beds[1]
    assert soil_of(untested, ["cabbage"], opened.catalogue) == NOT_TESTED


def test_a_card_tells_it_of_what_stands(tmp_path: Path) -> None:
    """A bed's card says what the test means for the crop that stands there, how heavily that feeds
    and how deep compost is laid before it.
    """
    standing = """
[[standing]]
bed = "south"
kind = "kale/curly"
method = "modules"
started = 2026-06-01
area = "1 m2"

[[store]]
id = "pantry"
"""
    changed = ('[[store]]\nid = "pantry"\n', standing.lstrip("\n"))
    opened = open_garden(small_garden(tmp_path, PLACE, changed))
    cards = bed_cards(opened.garden, opened.catalogue, None, date(2027, 2, 1))
    assert cards[1].soil.lime
    assert cards[0].soil == NOT_TESTED
    (fed,) = cards[1].feeds
    assert fed.startswith("curly winter kale: a ")
    assert "of compost laid before it (" in fed
    assert cards[0].feeds == ()


@pytest.mark.parametrize("ph", ["1", "14", '"sour"'])
def test_what_no_soil_is_is_refused(tmp_path: Path, ph: str) -> None:
    """A pH that no garden has is a fault at its key."""
    changed = ('soil = "loam"', f'soil = "loam"\nph = {ph}')
    with pytest.raises(FaultsFoundError) as caught:
        open_garden(small_garden(tmp_path, changed))
    assert [one.where for one in caught.value.findings] == ["garden.toml, [place], ph"]


def test_a_soil_test_goes_through_the_notebook(tmp_path: Path) -> None:
    """It is kept in the notebook and written back as it was typed."""
    notebook, _ = import_garden(small_garden(tmp_path, PLACE, BED), None, None)
    out = tmp_path / "out.toml"
    export_garden(notebook, out)
    assert "ph = 7.2" in out.read_text(encoding="utf-8")
    assert open_garden(notebook).garden == open_garden(out).garden
