"""The glossary against the code: every record has its word, and every word one meaning."""

import ast
import importlib
import inspect
import re
from collections import Counter
from pathlib import Path

import pytest

import haulm

WORDS = Path(__file__).parents[2] / "docs" / "words.md"
CODE = Path(haulm.__file__).parent

MODULES = (
    "haulm.measure.findings",
    "haulm.measure.weeks",
    "haulm.catalogue.records",
    "haulm.site.records",
    "haulm.ground.records",
    "haulm.ground.closures",
    "haulm.household.records",
    "haulm.growing.records",
    "haulm.larder.records",
    "haulm.larder.need",
    "haulm.water.records",
    "haulm.plan.records",
    "haulm.forecast.records",
    "haulm.planting.records",
    "haulm.planner.question",
    "haulm.planner.records",
    "haulm.notebook.garden",
)


def rows() -> list[list[str]]:
    """Read the cells of every row of the glossary: word, meaning, unit, records."""
    lines = WORDS.read_text(encoding="utf-8").splitlines()
    table = [line for line in lines if line.startswith("| ") and not line.startswith("| Word |")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in table]


def records_told() -> list[str]:
    """List every record named in the glossary."""
    return [name for row in rows() for name in re.findall(r"`(\w+)`", row[3])]


def records_of(module_name: str) -> list[str]:
    """List the public records that a module defines."""
    module = importlib.import_module(module_name)
    return [
        name
        for name, member in vars(module).items()
        if inspect.isclass(member) and member.__module__ == module_name and not name.startswith("_")
    ]


@pytest.mark.parametrize("module_name", MODULES)
def test_every_record_has_its_word(module_name: str) -> None:
    """A record that passes between rooms is explained to the reader in the glossary."""
    missing = sorted(set(records_of(module_name)) - set(records_told()))
    assert not missing, f"docs/words.md lacks a row for {', '.join(missing)}"


def test_every_word_stands_once_with_a_meaning() -> None:
    """One word for one thing: no word has two rows, and none is left unexplained."""
    words = Counter(row[0] for row in rows())
    assert words
    assert [word for word, count in words.items() if count > 1] == []
    assert all(len(row) == 4 and row[1].endswith(".") for row in rows())


def test_no_row_outlives_its_record() -> None:
    """Every record named in the glossary is in the code, and is named once."""
    told = Counter(records_told())
    known = {
        node.name
        for file in sorted(CODE.rglob("*.py"))
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.ClassDef)
    }
    assert [name for name, count in told.items() if count > 1] == []
    assert sorted(set(told) - known) == []
