"""What tests of every room may ask for: the command line as a shell would run it; a notebook."""

import shutil
import sys
from datetime import date
from pathlib import Path

import pytest
from hypothesis import settings

from gardens import small_garden
from haulm.cli.main import run
from haulm.desk.garden.exchange import import_garden
from haulm.desk.planning.plans import plan_garden
from haulm.notebook.file import open_notebook
from haulm.plan.records import Plan
from haulm.planner.solve import EFFORTS
from shell import Haulm, Ran

# Speed is measured in the benchmarks; a busy machine is no fault of the code.
settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")

DAY = date(2027, 2, 1)
LONGEST = ("test_three_years", "tests/browser/", "tests/stories/")
"""These run first, so that no process waits for another's long file at the end."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the longest files first; all else stays in its order."""

    def place(item: pytest.Item) -> int:
        named = (n for n, words in enumerate(LONGEST) if words in item.nodeid)
        return next(named, len(LONGEST))

    items.sort(key=place)


@pytest.fixture
def haulm(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Haulm:
    """Give a function that runs one haulm command."""

    def command(*words: object) -> Ran:
        monkeypatch.setattr(sys, "argv", ["haulm", *map(str, words)])
        capsys.readouterr()
        code = 0
        try:
            run()
        except SystemExit as end:
            code = int(end.code or 0)
        said = capsys.readouterr()
        return Ran(code, said.out, said.err)

    return command


@pytest.fixture(scope="session")
def planned_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Plan the small garden once; tests take copies of its notebook."""
    folder = tmp_path_factory.mktemp("planned")
    notebook, _ = import_garden(small_garden(folder), folder / "yard.haulm")
    plan_garden(notebook, DAY, EFFORTS["quick"], 1)
    return notebook


@pytest.fixture(scope="session")
def plan(planned_once: Path) -> Plan:
    """Give the small garden's plan as of 1 February 2027."""
    with open_notebook(planned_once) as notebook:
        return notebook.plan()


@pytest.fixture
def planned(planned_once: Path, tmp_path: Path) -> Path:
    """Give a notebook of the small garden with a plan kept as of 1 February 2027."""
    return Path(shutil.copy(planned_once, tmp_path / "yard.haulm"))


@pytest.fixture
def unplanned(tmp_path: Path) -> Path:
    """Give a notebook of the small garden without a plan."""
    return import_garden(small_garden(tmp_path), tmp_path / "yard.haulm")[0]
