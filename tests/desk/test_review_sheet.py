"""What the printed review gathers: plan against what came, luck, and what moves next year."""

from datetime import date
from pathlib import Path

from haulm.desk.planning.plans import UNLAID, kept_plan
from haulm.desk.season.learning import lessons_of
from haulm.desk.season.review_page import looked_back
from haulm.desk.showing.review_sheet import ReviewToPrint, review_sheet_of
from haulm.notebook.diary import write_entries
from haulm.notebook.file import open_notebook
from haulm.season.records import EntryKind
from haulm.sheets.review_sheet import ReviewSheet
from season.year_lived import Luck, diary_of_year

NEW_YEAR = date(2027, 12, 31)


def gathered(path: Path, luck: dict[str, Luck] | None = None, *, silent: str = "") -> ReviewSheet:
    """Live a year, all but the pickings of one food written down, and gather its sheet."""
    plan = kept_plan(path, UNLAID).plan
    entries = diary_of_year(plan, NEW_YEAR, luck)
    kept = [one for one in entries if one.kind is not EntryKind.PICKED or one.about.food != silent]
    with open_notebook(path, writing=True) as notebook:
        write_entries(notebook, kept)
    looked = looked_back(path, NEW_YEAR, 2027)
    return review_sheet_of(ReviewToPrint(looked, lessons_of(path, NEW_YEAR)))


def section(told: ReviewSheet, title: str) -> list[str]:
    """Give a section's lines as they are read."""
    (found,) = [one for one in told.sections if one.title == title]
    return [f"{line.lead} {line.words}".strip() for line in found.lines]


def test_a_year_as_planned_is_neither_lucky_nor_unlucky(planned: Path) -> None:
    """Lived as planned, no food came better or poorer than nine seasons in ten, and no line went
    without for more weeks than the plan had told.
    """
    told = gathered(planned)
    assert section(told, "Lucky and unlucky") == [
        "No food came better or poorer than 9 seasons in 10."
    ]
    assert section(told, "Weeks without") == [
        "No line of the table went without in more weeks than by the plan."
    ]
    assert section(told, "The regret ledger") == ["Not asked for this time."]


def test_a_tenth_of_the_beans_is_unlucky_and_said_so(planned: Path) -> None:
    """Beans that gave a tenth are told as unlucky, and why; their row shows both figures."""
    plan = kept_plan(planned, UNLAID).plan
    poor = {p.id: Luck(0.1) for p in plan.plantings if p.crop == "french bean"}
    told = gathered(planned, poor)
    (line,) = [one for one in section(told, "Lucky and unlucky") if "Green beans" in one]
    assert "unlucky" in line
    assert any(
        "gave less for its ground" in one for one in section(told, "Why it parted from the plan")
    )
    foods = {one.name: one for one in told.tables[0].rows}
    beans = foods["Green beans"]
    assert beans.picked_kg is not None
    assert beans.between_kg is not None
    assert beans.picked_kg < beans.between_kg[0]


def test_what_nobody_wrote_is_a_dot_and_no_nought(planned: Path) -> None:
    """Onions nobody wrote of have no figure on the sheet."""
    told = gathered(planned, silent="onion")
    (onions,) = [one for one in told.tables[0].rows if one.name == "Onion"]
    assert onions.picked_kg is None
    assert onions.cells[1] == "·"


def test_every_bed_and_food_has_a_row(planned: Path) -> None:
    """Each bed of the plan stands in the second table, with the plantings somebody wrote of."""
    told = gathered(planned)
    plan = kept_plan(planned, UNLAID).plan
    assert len(told.tables[1].rows) == len(plan.beds)
    assert {row.cells[-1].split(" of ")[0] for row in told.tables[1].rows} != {"0"}
    assert section(told, "What moves next year's figures")
