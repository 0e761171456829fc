"""Every published figure is held, and the page of checks tells how it came out."""

import pytest

from pages import kept
from truth.all_checks import PUBLISHED, UNPUBLISHED
from truth.checks_page import PAGE, checks_of, written
from truth.published import Basis, Check, Table, agrees, ours

ALL = [*checks_of(PUBLISHED), *checks_of(UNPUBLISHED)]
LEAST_PUBLISHED = 250


@pytest.mark.parametrize(
    ("table", "check"), ALL, ids=[f"{table.source[:40]}: {check.what}" for table, check in ALL]
)
def test_ours_stands_to_what_is_printed(table: Table, check: Check) -> None:
    """Ours agrees with the figure printed, or is said to differ, with the reason, and does."""
    assert agrees(table, check) == (not check.differs), (table.claim, ours(check), check.printed)


def test_many_published_figures_are_held() -> None:
    """At least 250 published figures are checked."""
    assert sum(1 for _ in checks_of(PUBLISHED)) >= LEAST_PUBLISHED


def test_only_published_figures_are_counted_as_published() -> None:
    """Common practice and figures from memory stand apart from what was read in print."""
    assert {table.basis for table, _ in checks_of(PUBLISHED)} == {Basis.PUBLISHED}
    assert Basis.PUBLISHED not in {table.basis for table, _ in checks_of(UNPUBLISHED)}


def test_every_table_says_where_and_how_near() -> None:
    """Every figure has its source, and the reason for its tolerance."""
    for section in (*PUBLISHED, *UNPUBLISHED):
        for table in section.tables:
            assert table.source
            assert table.why
            assert table.claim.endswith(".")
            assert table.checks


def test_the_page_of_checks_is_what_the_checks_say() -> None:
    """docs/checks.md shows each check as it comes out today; HAULM_WRITE_PAGES=1 writes it anew."""
    page = written()
    assert kept(PAGE, page) == page
