"""The set of sheets: one list for previews, downloads and the folder."""

import io
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest

from haulm.measure.errors import LabelsDifferError
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.sheet_set import files_of, sheet_names, sheet_pages, sheet_pdf
from haulm.sheets.write import write_sheets


def test_every_sheet_named_can_be_drawn(schoolhouse: SheetBundle) -> None:
    """Each name has its pages, each page a drawing with a title."""
    for sheet in sheet_names(schoolhouse):
        pages = sheet_pages(schoolhouse, sheet.id, Paper.LETTER)
        assert pages
        assert all("<title>" in page for page in pages)


def test_some_sheets_make_one_file(schoolhouse: SheetBundle) -> None:
    """Two sheets asked for lie in one PDF in that order, with all their pages."""
    ids = ("shopping-list", "beds/inkwell")
    read = pypdf.PdfReader(io.BytesIO(sheet_pdf(schoolhouse, ids, Paper.A4)))
    pages = [len(sheet_pages(schoolhouse, one, Paper.A4)) for one in ids]
    assert len(read.pages) == sum(pages)
    assert "Inkwell" in read.pages[pages[0]].extract_text()


def test_a_bed_nothing_goes_into_has_no_sheet(schoolhouse: SheetBundle) -> None:
    """Without plantings there are the strips, the tide and the list."""
    bare = replace(schoolhouse, plan=replace(schoolhouse.plan, plantings=()))
    names = [sheet.id for sheet in sheet_names(bare)]
    assert names == ["bed-strips", "larder-tide", "shopping-list"]


def test_a_download_is_the_file_of_the_folder(schoolhouse: SheetBundle, tmp_path: Path) -> None:
    """What a page offers and what the folder holds are the same, byte for byte."""
    written = write_sheets(schoolhouse, tmp_path, Paper.A4)
    files = files_of(schoolhouse, Paper.A4)
    assert [str(path.relative_to(tmp_path)) for path in written] == [file.name for file in files]
    for file, path in zip(files, written, strict=True):
        if path.suffix in {".csv", ".ics", ".json"}:
            assert file.make() == path.read_bytes()
        assert file.title
        assert "/" in file.media_type


def test_an_unknown_sheet_is_refused(schoolhouse: SheetBundle) -> None:
    """A sheet that is not in the set is named, with those that are."""
    with pytest.raises(LabelsDifferError, match="There is no sheet beds/moon"):
        sheet_pages(schoolhouse, "beds/moon", Paper.A4)
