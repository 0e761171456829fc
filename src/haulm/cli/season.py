"""The verbs about the season as it is: what lies in store."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from haulm.cli import show, show_diary, show_larder
from haulm.cli.options import AsJson, Notebook, On, PaperName, papers
from haulm.desk.garden.exchange import notebook_here
from haulm.desk.garden.opening import open_garden
from haulm.desk.season.larder_books import larder_books
from haulm.desk.season.larder_json import books_json
from haulm.desk.season.learning import keep_lessons, lessons_of
from haulm.desk.season.store_counts import take_counts, write_papers


def ledger(
    notebook: Notebook = None,
    folder: Annotated[
        Path | None,
        typer.Option(
            "--papers",
            metavar="FOLDER",
            help="Write the fridge strip, and each store's check sheet and table, into a folder.",
        ),
    ] = None,
    counted: Annotated[
        Path | None,
        typer.Option("--counted", help="Take in a filled-in check table, a CSV that haulm wrote."),
    ] = None,
    paper: Annotated[PaperName, typer.Option("--paper", help="The paper's size.")] = PaperName.A4,
    on: On = None,
    as_json: AsJson = False,
) -> None:
    """Say what lies in store, what to eat first and how fast, until when it lasts, what is seed."""
    path = notebook_here(notebook)
    found = larder_books(path, show.day_of(on, path))
    if counted is not None:
        entries = take_counts(path, counted, found, datetime.now(UTC))
        show.line(f"{len(entries)} lots counted.")
    elif folder is not None:
        for file in write_papers(folder, found, open_garden(path), papers[paper]):
            show.line(f"Wrote {file}")
    elif as_json:
        show.data(books_json(found))
    else:
        show_larder.books(found)


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
