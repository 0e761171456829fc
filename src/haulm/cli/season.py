"""The verbs about the season as it is: what lies in store."""

from datetime import UTC, datetime
from typing import Annotated

import typer

from haulm.cli import show, show_diary
from haulm.cli.options import AsJson, Notebook, On
from haulm.desk.garden.exchange import notebook_here
from haulm.desk.garden.opening import open_garden
from haulm.desk.season.learning import keep_lessons, lessons_of
from haulm.desk.season.ledger import ledger_of
from haulm.season.eat_first import eat_first


def ledger(
    notebook: Notebook = None,
    on: On = None,
    as_json: AsJson = False,
) -> None:
    """Say what lies in store by the diary, what to eat first, and where books and counts part."""
    path = notebook_here(notebook)
    found = ledger_of(path, show.day_of(on, path))
    order = eat_first(found.ledger, found.day)
    if as_json:
        show.data(found)
    else:
        show_diary.ledger(found, order, open_garden(path).garden.units)


def learn(
    notebook: Notebook = None,
    keep: Annotated[
        bool, typer.Option("--keep", help="Plan by these figures from now on.")
    ] = False,
    on: On = None,
    as_json: AsJson = False,
) -> None:
    """Say what the diary makes of usual figures: yields, seed that comes up, days till ready."""
    path = notebook_here(notebook)
    found = lessons_of(path, show.day_of(on, path))
    if as_json:
        show.data(found)
    else:
        show_diary.lessons(found)
    if keep:
        kept = keep_lessons(path, found, datetime.now(UTC).astimezone())
        show.line(f"{kept} figures are your own now; haulm crops shows them, and takes them back.")
