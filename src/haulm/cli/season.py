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
from haulm.desk.season.larder_papers import strip_pdf
from haulm.desk.season.learning import keep_lessons, lessons_of
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding


def ledger(
    notebook: Notebook = None,
    strip: Annotated[
        Path | None, typer.Option("--strip", help="Write the strip for the fridge door: a PDF.")
    ] = None,
    paper: Annotated[PaperName, typer.Option("--paper", help="The paper's size.")] = PaperName.A4,
    on: On = None,
    as_json: AsJson = False,
) -> None:
    """Say what lies in store, what to eat first and how fast, until when it lasts, what is seed."""
    path = notebook_here(notebook)
    found = larder_books(path, show.day_of(on, path))
    if strip is not None:
        _write(strip, strip_pdf(found, open_garden(path), papers[paper]))
    elif as_json:
        show.data(books_json(found))
    else:
        show_larder.books(found)


def _write(file: Path, content: bytes) -> None:
    """Write a file, or say why not."""
    try:
        file.write_bytes(content)
    except OSError as error:
        what = f"it cannot be written: {error.strerror}."
        raise FaultsFoundError([Finding(str(file), what, "Name another file.")]) from None
    show.line(f"Wrote {file}")


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
