from pathlib import Path

import pytest

from haulm.desk.garden.exchange import import_garden
from haulm.desk.garden.opening import Opened, open_garden
from haulm.measure.errors import FaultsFoundError


def test_a_garden_is_the_same_from_its_notebook(
    opened: Opened, small_toml: Path, tmp_path: Path
) -> None:
    """Whether garden.toml or the notebook made of it is named, the garden is the same."""
    book, _ = import_garden(small_toml, tmp_path / "small.haulm")
    again = open_garden(book)
    assert again.garden == opened.garden
    assert again.notebook == book
    assert opened.notebook is None


def test_names_in_the_garden_are_names_of_the_catalogue(opened: Opened) -> None:
    """Every food on the table and every crop of the past is one the catalogue knows."""
    foods = {food for line in opened.garden.household.table for food in line.foods}
    past = {past.crop for bed in opened.garden.beds for past in bed.past}
    assert foods <= set(opened.catalogue.foods)
    assert past <= set(opened.catalogue.crops)


@pytest.mark.parametrize("name", ["none.toml", "none.haulm"])
def test_a_garden_that_is_not_there_is_told_by_name(tmp_path: Path, name: str) -> None:
    """Whoever names a file that is not there reads its name and what to do; none is made."""
    with pytest.raises(FaultsFoundError) as refused:
        open_garden(tmp_path / name)
    (finding,) = refused.value.findings
    assert name in finding.where
    assert finding.remedy
    assert list(tmp_path.iterdir()) == []
