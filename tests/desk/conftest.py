"""The small garden, opened, asked and planned once for all the desk's tests."""

from datetime import date
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.planning.plans import Made, plan_garden
from haulm.desk.planning.question import Asked, ask
from haulm.planner.question import Effort

DAY = date(2027, 2, 1)
QUICK = Effort("quick", rounds=0, target_gap=0.05)


@pytest.fixture(scope="session")
def small_toml(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the small garden's garden.toml."""
    return small_garden(tmp_path_factory.mktemp("small"))


@pytest.fixture(scope="session")
def opened(small_toml: Path) -> Opened:
    """Give the small garden, opened."""
    return open_garden(small_toml)


@pytest.fixture(scope="session")
def asked(opened: Opened) -> Asked:
    """Give the small garden's question as of 1 February 2027."""
    return ask(opened.garden, opened.catalogue, DAY, seed=1)


@pytest.fixture(scope="session")
def made(small_toml: Path) -> Made:
    """Give the small garden's plan as of 1 February 2027."""
    return plan_garden(small_toml, DAY, QUICK, seed=1)


@pytest.fixture
def day() -> date:
    """Give the day the small garden is planned from."""
    return DAY


@pytest.fixture
def quick() -> Effort:
    """Give the least effort there is."""
    return QUICK
