"""The diary on paper and the table of the same lines: filled in with a pencil, typed, and read."""

import csv
from datetime import UTC, date, datetime
from io import BytesIO
from pathlib import Path

import pandas as pd
import pytest
from pypdf import PdfReader

from haulm.desk.garden.exchange import import_garden
from haulm.desk.planning.plans import plan_garden
from haulm.desk.season.diary import diary_of
from haulm.desk.season.diary_files import ColumnMap, import_table
from haulm.desk.season.diary_paper import PaperDiary, paper_csv, paper_diary
from haulm.desk.showing.sheets import bundle_of
from haulm.measure.errors import FaultsFoundError
from haulm.planner.question import Effort
from haulm.season.records import EntryKind
from haulm.sheets.bundle import Paper
from haulm.sheets.diary_sheet import FREE_LINES, diary_sheets
from haulm.sheets.paper import to_pdf

DAY, TODAY = date(2027, 4, 5), date(2027, 5, 1)
AT = datetime(2027, 5, 1, tzinfo=UTC)


@pytest.fixture(scope="module")
def book(small_toml: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, PaperDiary]:
    """Give the small garden's notebook, planned, and its diary sheet of April."""
    path = tmp_path_factory.mktemp("paper") / "quill.haulm"
    import_garden(small_toml, path)
    made = plan_garden(path, date(2027, 2, 1), Effort("quick", rounds=0, target_gap=0.05), 1)
    return path, paper_diary(bundle_of(made, DAY), made.names, DAY)


def filled(table: Path, printed: PaperDiary, **lines: dict[str, str]) -> Path:
    """Fill lines of the table in, as a spreadsheet or an editor would; each by its number."""
    table.write_text(paper_csv(printed), encoding="utf-8")
    with table.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    for number, said in lines.items():
        rows[int(number.removeprefix("line")) - 1].update(said)
    with table.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, rows[0])
        writer.writeheader()
        writer.writerows(rows)
    return table


@pytest.mark.parametrize("paper", Paper)
def test_sheet_and_table_have_the_same_lines(
    book: tuple[Path, PaperDiary], paper: Paper, tmp_path: Path
) -> None:
    """Every line of the paper is a row of the table under the same number, as others read both."""
    _, printed = book
    pdf = PdfReader(BytesIO(to_pdf(diary_sheets(printed.sheet, paper))))
    text = " ".join(page.extract_text() for page in pdf.pages)
    (tmp_path / "sheet.csv").write_text(paper_csv(printed), encoding="utf-8")
    table = pd.read_csv(tmp_path / "sheet.csv")
    assert len(table) == len(printed.sheet.jobs) + FREE_LINES
    assert list(table["line"]) == list(range(1, len(table) + 1))
    assert table["day"].isna().all()
    for words in printed.sheet.jobs:
        assert " ".join(words.split()) in " ".join(text.split())
    for code in ("sown", "put by", "north", "south", "pantry"):
        assert code in text


def test_what_was_pencilled_in_comes_into_the_diary(
    book: tuple[Path, PaperDiary], tmp_path: Path
) -> None:
    """Lines with a day become entries of their jobs, free lines too; the others were not done."""
    path, printed = book
    free = f"line{len(printed.sheet.jobs) + 1}"
    table = filled(
        tmp_path / "filled.csv",
        printed,
        line1={"day": "2027-04-08", "minutes": "25", "amount": "2 kg"},
        **{free: {"day": "2027-04-09", "kind": "rained", "amount": "8 mm"}},
    )
    taken = import_table(path, table, ColumnMap(), AT, TODAY)
    assert taken.new == 2
    first, rain = diary_of(path).entries
    assert first.kind == printed.rows[0].kind
    assert first.minutes == 25
    assert first.about.planting == printed.rows[0].planting
    assert (rain.kind, rain.day) == (EntryKind.RAINED, date(2027, 4, 9))
    assert import_table(path, table, ColumnMap(), AT, TODAY).new == 0


def test_a_line_with_an_amount_and_no_day_is_told(
    book: tuple[Path, PaperDiary], tmp_path: Path
) -> None:
    """What was weighed and has no day is not passed over: it is told by its row."""
    path, printed = book
    before = len(diary_of(path).entries)
    table = filled(tmp_path / "dayless.csv", printed, line2={"minutes": "10"})
    with pytest.raises(FaultsFoundError, match=r"dayless\.csv, row 3"):
        import_table(path, table, ColumnMap(), AT, TODAY)
    assert len(diary_of(path).entries) == before
