"""Today's water asked of a notebook: the plan that is kept, and what its diary tells."""

from datetime import date, timedelta
from pathlib import Path

from haulm.desk.beds.bed_water import midwinter_before
from haulm.desk.beds.stood import TOLD
from haulm.desk.beds.water_course import Asked
from haulm.desk.beds.water_today import water_today
from haulm.desk.beds.water_today_records import WaterToday
from haulm.desk.planning.plans import Made
from haulm.notebook.ahead import read_ahead
from haulm.notebook.diary import Wanted, read_diary
from haulm.notebook.file import open_notebook
from haulm.season.watered import KINDS

BEFORE = timedelta(days=400)
"""What stands at midwinter was begun no longer before it."""


def asked_of(path: Path, made: Made, day: date, cans: int | None = None) -> Asked:
    """Ask today's water of a notebook; only entries that bear on it are read.

    Parameters
    ----------
    path
        The notebook.
    made
        The plan that is kept.
    day
        The day.
    cans
        How many cans there are today; None for as many as the garden tells.
    """
    first = midwinter_before(made.garden.place, day) - BEFORE
    with open_notebook(path) as notebook:
        entries = read_diary(notebook, Wanted(first, KINDS | TOLD)).entries
        ahead = read_ahead(notebook, day)
    return Asked(made, day, entries, ahead, cans)


def water_on(path: Path, made: Made, day: date, cans: int | None = None) -> WaterToday:
    """Reckon the water of a notebook's kept plan on a day, by its diary.

    Raises
    ------
    FaultsFoundError
        When the garden's weather has no rain.
    """
    return water_today(asked_of(path, made, day, cans))
