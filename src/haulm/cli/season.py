"""The verbs about the season as it is: what lies in store."""

from datetime import UTC, datetime
from typing import Annotated

import typer

from haulm.cli import show, show_diary, show_lessons, show_seed
from haulm.cli.options import AsJson, Notebook, On
from haulm.desk.garden.exchange import notebook_here
from haulm.desk.garden.opening import open_garden
from haulm.desk.season.learning import keep_lessons, lessons_of, say_of, take_lessons_back
from haulm.desk.season.ledger import ledger_of
from haulm.desk.season.seed import Trial, seed_of, try_packet
from haulm.notebook.odd_records import SaidOfRecord
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


def learn(  # noqa: PLR0913, PLR0917 - each option is one thing that may be asked or said
    notebook: Notebook = None,
    keep: Annotated[
        bool, typer.Option("--keep", help="Plan by these figures from now on.")
    ] = False,
    back: Annotated[bool, typer.Option("--back", help="Plan by the usual figures again.")] = False,
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
    if back:
        taken = take_lessons_back(path, now)
    found = lessons_of(path, show.day_of(on, path))
    kept = keep_lessons(path, found, now) if keep else 0
    if as_json:
        show.data(found)
        return
    show_lessons.lessons(found, open_garden(path).garden.units)
    if back:
        show.line(f"{taken} figures are the usual ones again.")
    if keep:
        show.line(f"{kept} figures are your own now; haulm learn --back takes them back.")


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
