"""The verbs by which a grower settles and notes things by hand, as the pages let them."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from haulm.cli import show
from haulm.cli.safe import copied_weekly
from haulm.desk.planning import noting, settling

WORDS = "failed, not-sown, late, gives, cleared or eaten-up."
RULES = "keep, at-least, at-most, forbid, only-in or apart; left out, the pins are listed."


def pin(
    notebook: Annotated[Path, typer.Argument(help="The notebook.")],
    rule: Annotated[str | None, typer.Argument(help=RULES)] = None,
    what: Annotated[
        str | None, typer.Argument(help="A kind, a crop or a family, as haulm crops lists them.")
    ] = None,
    area: Annotated[str, typer.Option("--area", help='How much ground, as in "12 m2".')] = "",
    bed: Annotated[
        list[str] | None,
        typer.Option("--bed", metavar="ID", help="In this bed; with only-in, several times."),
    ] = None,
    year: Annotated[str, typer.Option("--year", help="Sown or set in this year.")] = "",
    week: Annotated[str, typer.Option("--week", help="Sown or set in the week of this day.")] = "",
    method: Annotated[str, typer.Option("--method", help="Started in this way.")] = "",
    apart_from: Annotated[
        str, typer.Option("--from", metavar="NAME", help="With apart: the other kind or crop.")
    ] = "",
    let_go: Annotated[
        int | None, typer.Option("--let-go", metavar="NUMBER", help="Take this pin out.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print data for other programs.")] = False,
) -> None:
    """List what is settled by hand, settle one thing more, or let one go."""
    now = datetime.now(UTC).astimezone()
    if let_go is not None:
        show.aside(settling.let_go(notebook, let_go, now))
    elif rule is not None:
        wish = settling.PinWish(
            rule, what or "", area, tuple(bed or ()), method, week, year, apart_from
        )
        show.aside(settling.settle_pin(notebook, wish, now))
        copied_weekly(notebook)
    pins = settling.pins_told(notebook)
    if as_json:
        show.data(pins)
        return
    for one in pins:
        show.line(f"{one.number}. {one.sentence}")
    if not pins:
        show.line("Nothing is settled by hand.")


def note(
    notebook: Annotated[Path, typer.Argument(help="The notebook.")],
    planting: Annotated[
        str | None,
        typer.Argument(help="A planting's id, as in leek-2; or a food in store. Left out: a list."),
    ] = None,
    what: Annotated[str | None, typer.Argument(help=WORDS)] = None,
    on: Annotated[
        str | None, typer.Option("--on", metavar="DATE", help="The day it was seen; today.")
    ] = None,
    days: Annotated[str, typer.Option("--days", help="With late: by how many days.")] = "",
    share: Annotated[str, typer.Option("--share", help='With gives: as in "50 %" or 1.2.')] = "",
    place: Annotated[str, typer.Option("--place", help="Of a food: the store it lay in.")] = "",
    take_back: Annotated[
        int | None, typer.Option("--take-back", metavar="NUMBER", help="Take this note out.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print data for other programs.")] = False,
) -> None:
    """List what went otherwise than planned, note one thing more, or take one back."""
    now = datetime.now(UTC).astimezone()
    if take_back is not None:
        show.aside(noting.take_back(notebook, take_back, now))
    elif planting is not None:
        wish = noting.NoteWish(what or "", show.day_of(on, notebook), days, share, place)
        show.aside(noting.note(notebook, planting, wish, now))
        copied_weekly(notebook)
    notes = noting.notes_told(notebook)
    if as_json:
        show.data(notes)
        return
    for one in notes:
        show.line(f"{one.number}. {one.sentence}")
    if not notes:
        show.line("Nothing is noted.")
