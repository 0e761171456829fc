"""Writing a whole set of sheets."""

from dataclasses import replace
from pathlib import Path

import pytest

from haulm.measure.errors import LabelsDifferError
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.write import write_sheets

NAMES = {
    "beds/atlas.pdf", "beds/set-square.pdf", "beds/easel.pdf", "beds/inkwell.pdf",
    "beds/ruler.pdf", "bed-sheets.pdf", "bed-strips.pdf", "bed-strips.svg", "larder-tide.pdf",
    "larder-tide.svg", "shopping-list.pdf", "shopping-list.csv", "calendar.ics", "plan.json",
    "plantings.csv", "weeks.csv", "lots.csv",
}  # fmt: skip


def test_every_sheet_is_written_the_same_each_time(
    schoolhouse: SheetBundle, tmp_path: Path
) -> None:
    """All files are there, and a second writing gives the same bytes."""
    first = write_sheets(schoolhouse, tmp_path / "one", Paper.A4)
    second = write_sheets(schoolhouse, tmp_path / "two", Paper.A4)
    assert {str(path.relative_to(tmp_path / "one")) for path in first} == NAMES
    for one, other in zip(first, second, strict=True):
        assert one.read_bytes() == other.read_bytes()


def test_a_fault_leaves_the_folder_as_it_was(schoolhouse: SheetBundle, tmp_path: Path) -> None:
    """A plan whose labels point at nothing writes no file at all."""
    lame = replace(schoolhouse, layouts={})
    with pytest.raises(LabelsDifferError):
        write_sheets(lame, tmp_path / "out", Paper.A4)
    assert list(tmp_path.iterdir()) == []


def test_a_plan_without_plantings_still_has_its_tables(
    schoolhouse: SheetBundle, tmp_path: Path
) -> None:
    """A garden in which nothing is to be planted has no bed sheets, and all else."""
    plan = replace(schoolhouse.plan, plantings=(), lots=(), helpings=())
    written = write_sheets(replace(schoolhouse, plan=plan), tmp_path, Paper.LETTER)
    names = {str(path.relative_to(tmp_path)) for path in written}
    assert names == {name for name in NAMES if not name.startswith("bed") or "strips" in name}
