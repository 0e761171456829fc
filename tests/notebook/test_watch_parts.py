"""What a garden tells of its look-out."""

from pathlib import Path

import pytest

from gardens import SMALL
from haulm.desk.garden.exchange import export_garden, import_garden
from haulm.desk.garden.opening import open_garden
from haulm.measure.errors import FaultsFoundError
from haulm.season.blight_rules import BlightBy
from haulm.season.watch_records import WatchMeans

TOLD = """
[lookout]
blight = ["hutton", "irish"]
fleece = ["2 m x 10 m", "12 m2", "6 ft by 50 ft"]
"""


def means(folder: Path, more: str) -> WatchMeans:
    """Open the small garden with something more told, and give what its look-out goes by."""
    (folder / "garden.toml").write_text(SMALL + more, encoding="utf-8")
    return open_garden(folder / "garden.toml").garden.watch


def test_rules_and_fleece_are_read_piece_by_piece(tmp_path: Path) -> None:
    """Two rules count and no others; pieces by their sides and by area add up."""
    told = means(tmp_path, TOLD)
    assert told.goes_by(BlightBy.IRISH)
    assert not told.goes_by(BlightBy.SMITH)
    assert told.fleece_m2 == pytest.approx(20 + 12 + 300 * 0.3048**2)


def test_nothing_told_is_every_rule_and_no_word_of_fleece(tmp_path: Path) -> None:
    """Where nothing is told all rules count, and fleece is not known, which is not none."""
    told = means(tmp_path, "")
    assert all(told.goes_by(one) for one in BlightBy)
    assert told.fleece_m2 is None
    assert means(tmp_path, '[lookout]\nfleece = "0"\n').fleece_m2 == 0


def test_what_is_told_goes_into_the_notebook_and_out_again(tmp_path: Path) -> None:
    """Imported and written out again it says the same."""
    (tmp_path / "garden.toml").write_text(SMALL + TOLD, encoding="utf-8")
    notebook, _ = import_garden(tmp_path / "garden.toml", tmp_path / "small.haulm")
    export_garden(notebook, tmp_path / "again.toml")
    again = open_garden(tmp_path / "again.toml").garden.watch
    assert again == open_garden(notebook).garden.watch == means(tmp_path, TOLD)


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ('blight = "wallin"', "warns of nothing alone"),
        ('blight = "hutten"', 'Did you mean "hutton"'),
        ('fleece = "a roll"', "a roll"),
        ('fleece = "0 m x 10 m"', "no size"),
        ('fleece = "2 m x 10"', "unit"),
    ],
)
def test_what_cannot_be_gone_by_is_a_fault(tmp_path: Path, more: str, words: str) -> None:
    """A rule that warns of nothing, one nobody knows, and a piece without a size are told."""
    with pytest.raises(FaultsFoundError) as caught:
        means(tmp_path, f"[lookout]\n{more}\n")
    assert words in str(caught.value)


def test_each_piece_that_cannot_be_read_is_told_beside_a_wrong_rule(tmp_path: Path) -> None:
    """A rule nobody knows hides no piece of fleece; each is told with its number and its words."""
    more = '[lookout]\nblight = "hutten"\nfleece = ["2 m x", "3 m x 4 m", "a roll"]\n'
    with pytest.raises(FaultsFoundError) as caught:
        means(tmp_path, more)
    told = [(one.where.rpartition(", ")[2], one.what) for one in caught.value.findings]
    assert [where for where, _ in told] == ["blight 1", "fleece 1", "fleece 3"]
    assert "“2 m x”" in told[1][1]
    assert "“a roll”" in told[2][1]
