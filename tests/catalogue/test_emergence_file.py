"""The file of emergence tables is read whole or refused with every fault."""

from pathlib import Path

import pytest

from haulm.catalogue.emergence import read_emergence
from haulm.catalogue.loader import load_catalogue
from haulm.measure.errors import FaultsFoundError

SOUND = """
[tables.beet]
at_c = [5, 10]
days = [42, 17]
none_at_c = [0]
source = "harrington"
most_c = 35
most_source = "harrington"
share_at_c = [5, 10]
share = [0.5, 0.7]
share_source = "harrington"

[crops]
beetroot = { table = "beet", basis = "published" }
chard = { table = "beet", basis = "judged", note = "the same species" }
"""


def read(folder: Path, text: str) -> object:
    """Read a text as the file."""
    file = folder / "emergence.toml"
    file.write_text(text, encoding="utf-8")
    return read_emergence(file, load_catalogue().sources)


def test_a_sound_file_is_read(tmp_path: Path) -> None:
    """Every crop has its table, its own or its kin's."""
    assert isinstance(read(tmp_path, SOUND), dict)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("days = [42, 17]", "days = [42]", "at_c and days do not go together"),
        ("at_c = [5, 10]\ndays", "at_c = [10, 5]\ndays", "at_c is out of order"),
        ("days = [42, 17]", "days = [42, 0]", "days holds what cannot be"),
        ("share = [0.5, 0.7]", "share = [0.5, 70]", "share holds what cannot be"),
        ("none_at_c = [0]", "none_at_c = [5]", "at 5 °C seed both comes up and does not"),
        ('most_source = "harrington"\n', "", "most_c and most_source come together"),
        ('most_source = "harrington"', 'most_source = "hearsay"', "no source “hearsay” is known"),
        (
            '{ table = "beet", basis = "published" }',
            '{ table = "beat", basis = "judged" }',
            "“beat”",
        ),
        ('basis = "published"', 'basis = "sure"', "neither published nor judged"),
        (', note = "the same species"', "", "why that table stands in is not said"),
        ("most_c = 35", "most_c = 35\nleast_c = 4", "no such field: least_c"),
    ],
)
def test_a_fault_is_told(tmp_path: Path, old: str, new: str, told: str) -> None:
    """Whoever edits the file is told what is wrong with it."""
    assert old in SOUND
    with pytest.raises(FaultsFoundError) as raised:
        read(tmp_path, SOUND.replace(old, new, 1))
    assert any(told in finding.what for finding in raised.value.findings)
