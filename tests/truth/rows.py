"""The tables of printed figures that lie beside the tests."""

import csv
from functools import cache
from pathlib import Path

DATA = Path(__file__).parent / "data"


@cache
def rows_of(name: str) -> tuple[dict[str, str], ...]:
    """Read a table: each row by the names of its columns."""
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))
