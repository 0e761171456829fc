"""The schoolhouse's sheets, gathered once for every test that only reads them."""

import pytest

from haulm.sheets.bundle import SheetBundle
from sheets.schoolhouse import bundle


@pytest.fixture(scope="session")
def schoolhouse() -> SheetBundle:
    """Give the sheets' bundle of the invented schoolhouse, in metric units."""
    return bundle()
