"""The verbs about the season as it is: what lies in store."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Annotated

import typer

from haulm.cli import show, show_larder, show_lessons, show_seed
from haulm.cli.options import AsJson, Notebook, On, OnPaper, paper_of
from haulm.cli.show_plan import counted
from haulm.desk.garden.exchange import notebook_here
from haulm.desk.garden.opening import open_garden
from haulm.desk.season.diary import diary_of
from haulm.desk.season.diary_words import words_of
from haulm.desk.season.larder_books import larder_books
from haulm.desk.season.larder_json import books_json
from haulm.desk.season.learning import (
    figures_named,
    keep_lessons,
    lessons_of,
    say_of,
    take_lessons_back,
)
from haulm.desk.season.seed import Trial, seed_of, try_packet
from haulm.desk.season.store_counts import files_of, take_counts
from haulm.notebook.odd_records import SaidOfRecord


def ledger(  # noqa: PLR0913, PLR0917 - each option is one thing that may be asked or said
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
    all_told: Annotated[
        bool, typer.Option("--all", help="Tell every place where books and diary part.")
    ] = False,
    paper: OnPaper = None,
    on: On = None,
    as_json: AsJson = False,
) -> None:
    """Say what lies in store, what to eat first and how fast, until when it lasts, what is seed.

    What hangs to cure and whether the racks hold it, what sprouted food is good for, and where the
    picking of the last twelve months went are told too.
    """
    path = notebook_here(notebook)
    found = larder_books(path, show.day_of(on, path))
    if counted is not None:
        entries = take_counts(path, counted, found, datetime.now(UTC))
        show.line(f"{len(entries)} lots counted.")
    elif folder is not None:
        opened = open_garden(path)
        show.save_all(folder, files_of(found, opened, paper_of(paper, opened.garden.units)))
    elif as_json:
        show.data(books_json(found))
    else:
        show_larder.books(found, all_told=all_told)


def learn(  # noqa: PLR0913, PLR0917 - each option is one thing that may be asked or said
    notebook: Notebook = None,
    keep: Annotated[
        bool, typer.Option("--keep", help="Plan by these figures from now on.")
    ] = False,
    back: Annotated[bool, typer.Option("--back", help="Plan by the usual figures again.")] = False,
    only: Annotated[
        list[str] | None,
        typer.Option(
            metavar="FIGURE",
            help="This figure alone, by its name in the list: told with its records, kept or back.",
        ),
    ] = None,
    right: Annotated[
        list[str] | None, typer.Option(help="An odd entry that is right all the same.")
    ] = None,
    aside: Annotated[
        list[str] | None, typer.Option(help="An entry that is to teach nothing.")
    ] = None,
    unsaid: Annotated[
        list[str] | None, typer.Option(help="An entry to be asked about again.")
    ] = None,
    on: On = None,
    as_json: AsJson = False,
) -> None:
    """Say what the diary makes of usual figures: yields, losses, ready days, keeping, minutes."""
    path, now = notebook_here(notebook), datetime.now(UTC).astimezone()
    words = {SaidOfRecord.RIGHT: right, SaidOfRecord.ASIDE: aside, SaidOfRecord.NOTHING: unsaid}
    for said, entries in words.items():
        for entry in entries or ():
            say_of(path, entry, said, now)
    day = show.day_of(on, path)
    done = _planned_by(path, day, only or (), keep=keep, back=back)
    found = lessons_of(path, day)
    if only:
        found = replace(found, moved=figures_named(found, only), eaten=(), told=())
    if as_json:
        show.data(found)
        return
    spoken = words_of(open_garden(path))
    show_lessons.lessons(found, spoken.units)
    if only:
        show_lessons.records(found, diary_of(path).entries, spoken)
    for sentence in done:
        show.line(sentence)


def _planned_by(path: Path, day: date, only: Sequence[str], *, keep: bool, back: bool) -> list[str]:
    """Plan by figures learnt, or by the usual ones again, all or some; say how many there were."""
    found, now = lessons_of(path, day), datetime.now(UTC).astimezone()
    chosen = figures_named(found, only)
    done = []
    if back:
        writes = [part for one in chosen for part in one.writes]
        taken = take_lessons_back(path, now, writes if only else None)
        done.append(f"{counted(taken, 'figure')} {'is' if taken == 1 else 'are'} as usual again.")
    if keep:
        kept = keep_lessons(path, found, now, [one.key for one in chosen] if only else None)
        own = "is your own now" if kept == 1 else "are your own now"
        done.append(f"{counted(kept, 'figure')} {own}; haulm learn --back takes them back.")
    return done


def seed(
    notebook: Notebook = None,
    packet: Annotated[int | None, typer.Option(help="A packet that was tried, by number.")] = None,
    sprouted: Annotated[int | None, typer.Option(help="How many seeds of it sprouted.")] = None,
    tried: Annotated[int | None, typer.Option(help="How many were laid on damp paper.")] = None,
    on: On = None,
    as_json: AsJson = False,
) -> None:
    """Say what each packet of seed is still worth: keep, sow thicker, test or buy anew."""
    path = notebook_here(notebook)
    day = show.day_of(on, path)
    if packet is not None:
        now = datetime.now(UTC).astimezone()
        try_packet(path, Trial(packet, sprouted, tried, day), now)
    found = seed_of(path, day)
    if as_json:
        show.data(found)
    else:
        show_seed.packets(found)
