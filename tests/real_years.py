"""The small garden at a place with ten real years on record, for tests of what was lived there."""

from datetime import UTC, date, datetime
from pathlib import Path
from shutil import copy

from gardens import small_garden
from haulm.desk.garden.exchange import import_garden
from haulm.desk.planning.plans import plan_garden
from haulm.planner.question import Effort
from stations import WEATHER

DAY = date(2027, 2, 1)
QUICK = Effort("quick", rounds=0, target_gap=0.05)
TANK = """
[[tank]]
name = "barrel"
roof = "8 m2"
holds = "300 l"
"""


def real_garden(folder: Path, tank: str = TANK) -> Path:
    """Make the small garden's notebook with a record of 1979 to 1988, and plan it."""
    toml = small_garden(folder)
    (record,) = WEATHER.glob("fulda_*.csv")
    text = toml.read_text(encoding="utf-8")
    start, end = text.index("[weather.normals]"), text.index("[hours]")
    copy(record, folder / "weather.csv")
    weather = '[weather]\nrecord = "weather.csv"\n\n'
    toml.write_text(text[:start] + weather + text[end:] + tank, encoding="utf-8")
    path = folder / "garden.haulm"
    import_garden(toml, path, datetime(2027, 2, 1, tzinfo=UTC))
    plan_garden(path, DAY, QUICK, seed=1)
    return path
