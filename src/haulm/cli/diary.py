"""The verbs about the diary: write an entry, list them, put one right, take one back, tables."""

from dataclasses import asdict, replace
from datetime import UTC, datetime
from pathlib import Path
from platform import node
from typing import Annotated
from uuid import uuid4

import typer

from haulm.cli import show, show_diary
from haulm.cli.options import AsJson, OnPaper, paper_of
from haulm.cli.safe import copied_weekly
from haulm.desk.garden.exchange import notebook_here
from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.plans import Means, kept_plan, leave_unlaid
from haulm.desk.planning.question import on_offer
from haulm.desk.season import diary
from haulm.desk.season.diary_files import ColumnMap, diary_csv, import_table
from haulm.desk.season.diary_line import is_line, typed_line
from haulm.desk.season.diary_paper import paper_csv, paper_diary
from haulm.desk.season.diary_photo_files import export_photos, import_photos
from haulm.desk.season.diary_typed import TypedEntry, Written
from haulm.desk.season.diary_words import DiaryWords, words_of
from haulm.desk.showing.sheets import bundle_of
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.sheets.diary_sheet import diary_sheets
from haulm.sheets.paper import to_pdf

diary_app = typer.Typer(
    help="The diary: what was done and seen, which next year is planned from.",
    no_args_is_help=True,
    add_completion=False,
)

Notebook = Annotated[
    Path | None,
    typer.Option("--in", help="The notebook; by default the only one in this folder."),
]
On = Annotated[
    str | None, typer.Option("--on", metavar="DATE", help="The day it was, as in 2027-07-20.")
]
Kind = Annotated[
    str,
    typer.Argument(
        help='What it tells: "sown", "put by" … or the whole line: "watered slate, 4 cans".'
    ),
]
Planting = Annotated[str, typer.Option("--planting", help="A planting of the plan: garlic-1.")]
Bed = Annotated[str, typer.Option("--bed", help="A bed's id or name.")]
CropKind = Annotated[str, typer.Option("--kind", help="A kind, where no planting is named.")]
Food = Annotated[str, typer.Option("--food", help="A food: garlic, dry beans.")]
Store = Annotated[str, typer.Option("--store", help="A store's id or name.")]
KeptAs = Annotated[str, typer.Option("--form", help="How it is kept: cellared, frozen …")]
Lot = Annotated[str, typer.Option("--lot", help="The entry by which a lot was put by.")]
Trouble = Annotated[str, typer.Option("--trouble", help="A disease, or a pest in your words.")]
Severity = Annotated[str, typer.Option("--severity", help="How bad: slight, bad or lost.")]
Purpose = Annotated[str, typer.Option("--for", help="What a lot is for: eat, plant or give.")]
Amount = Annotated[str, typer.Option("--amount", help="How much: 2.1 kg, 12 heads, 40 l, 20 min.")]
Sound = Annotated[str, typer.Option("--sound", help="Counted in store: what is sound.")]
Soft = Annotated[str, typer.Option("--soft", help="Counted in store: what is soft or rotten.")]
Sprouted = Annotated[str, typer.Option("--sprouted", help="Counted in store: what sprouts.")]
Green = Annotated[str, typer.Option("--green", help="Looked at: green leaves of a usual plant.")]
Brown = Annotated[str, typer.Option("--brown", help="Looked at: brown leaves of it.")]
Down = Annotated[str, typer.Option("--down", help="Looked at: tops down or dead, in per cent.")]
Minutes = Annotated[str, typer.Option("--minutes", help="What the work took.")]
Tank = Annotated[str, typer.Option("--tank", help="A rain tank: read, or drawn from.")]
Words = Annotated[str, typer.Option("--words", help="Whatever else there is to say.")]


@diary_app.callback()
def diary_() -> None:
    """Hold the verbs about the diary together."""


@diary_app.command()
def add(
    kind: Kind,
    notebook: Notebook = None,
    on: On = None,
    planting: Planting = "",
    bed: Bed = "",
    crop_kind: CropKind = "",
    food: Food = "",
    store: Store = "",
    form: KeptAs = "",
    lot: Lot = "",
    trouble: Trouble = "",
    severity: Severity = "",
    purpose: Purpose = "",
    amount: Amount = "",
    sound: Sound = "",
    soft: Soft = "",
    sprouted: Sprouted = "",
    green: Green = "",
    brown: Brown = "",
    down: Down = "",
    minutes: Minutes = "",
    words: Words = "",
    tank: Tank = "",
    instead_of: Annotated[
        str, typer.Option("--instead-of", help="The entry that this one puts right.")
    ] = "",
) -> None:
    """Write an entry, whole as in "watered slate, 4 cans", or by options."""
    path = notebook_here(notebook)
    today = show.day_of(None, path)
    typed = TypedEntry(
        kind=kind,
        day=on or today.isoformat(),
        planting=planting,
        bed=bed,
        crop_kind=crop_kind,
        food=food,
        store=store,
        form=form,
        lot=lot,
        trouble=trouble,
        severity=severity,
        purpose=purpose,
        amount=amount,
        sound=sound,
        soft=soft,
        sprouted=sprouted,
        minutes=minutes,
        words=words,
        green=green,
        brown=brown,
        down=down,
        tank=tank,
    )
    if is_line(kind):
        line = typed_line(path, kind, typed.day)
        typed = replace(typed, **{name: told for name, told in asdict(line).items() if told})
    if instead_of:
        entry = diary.put_right(path, instead_of, typed, _written(), today)
    else:
        entry = diary.write_entry(path, typed, _written(), today)
    show_diary.written(entry, _words(path))
    show.aside(diary.slips_of(path, entry))
    copied_weekly(path)


@diary_app.command("list")
def list_(
    notebook: Notebook = None,
    since: Annotated[
        str | None, typer.Option("--since", metavar="DATE", help="From this day on.")
    ] = None,
    as_json: AsJson = False,
) -> None:
    """List the entries that hold, each with what it said before it was put right."""
    first = show.day_of(since) if since else None
    path = notebook_here(notebook)
    found = diary.diary_of(path, first)
    show.data(found) if as_json else show_diary.entries(found, _words(path))


@diary_app.command()
def back(
    entry: Annotated[str, typer.Argument(help="The entry's name, or the start of it.")],
    notebook: Notebook = None,
) -> None:
    """Take an entry back; it no longer counts, and can still be found in the notebook."""
    path = notebook_here(notebook)
    taken = diary.take_back(path, entry, _written())
    show.line(f"Taken back: {_words(path).sentence(taken)}")
    copied_weekly(path)


@diary_app.command("import")
def import_(
    table: Annotated[Path, typer.Argument(help="A CSV file, in UTF-8, with a row of headings.")],
    notebook: Notebook = None,
    column: Annotated[
        list[str] | None,
        typer.Option("--column", help="What a column is called: day=Datum. For each that differs."),
    ] = None,
    word: Annotated[
        list[str] | None,
        typer.Option("--word", help="What a kind of entry is called: sown=gesät."),
    ] = None,
    photos: Annotated[
        Path | None,
        typer.Option("--photos", help="A folder of photos that export wrote with the table."),
    ] = None,
) -> None:
    """Take a table's rows into the diary: all of them, or none where one does not fit."""
    path = notebook_here(notebook)
    names = ColumnMap(_pairs(column, "--column"), {v: k for k, v in _pairs(word, "--word").items()})
    taken = import_table(path, table, names, datetime.now(UTC), show.day_of(None, path))
    show.line(f"{taken.new} entries taken in; {taken.known} were there already.")
    if photos is not None:
        number, told = import_photos(path, photos)
        show.findings(told)
        show.line(f"{number} photos taken in.")
    copied_weekly(path)


@diary_app.command()
def export(
    table: Annotated[Path, typer.Argument(help="The CSV file to write.")],
    notebook: Notebook = None,
    photos: Annotated[
        Path | None, typer.Option("--photos", help="A folder to write the photos into.")
    ] = None,
) -> None:
    """Write the diary as a table, which import reads again."""
    path = notebook_here(notebook)
    show.save(table, diary_csv(path).encode())
    show.line(f"Wrote {table}")
    if photos is not None:
        show.line(f"Wrote {export_photos(path, photos)} photos into {photos}")


@diary_app.command()
def sheet(
    notebook: Notebook = None,
    out: Annotated[
        Path, typer.Option("--out", help="The PDF to write; the table goes beside it.")
    ] = Path("diary-sheet.pdf"),
    paper: OnPaper = None,
    on: On = None,
) -> None:
    """Print the coming fortnight's jobs to fill in with a pencil, and a table of the same lines."""
    path = notebook_here(notebook)
    day = show.day_of(on, path)
    made = kept_plan(path, Means(leave_unlaid, on_offer))
    printed = paper_diary(bundle_of(made, day), made.names, day)
    table = out.with_suffix(".csv")
    show.save(out, to_pdf(diary_sheets(printed.sheet, paper_of(paper, made.garden.units))))
    show.save(table, paper_csv(printed).encode())
    show.line(f"Wrote {out} and {table}. Filled in, haulm diary import {table} takes it.")


def _words(path: Path) -> DiaryWords:
    return words_of(open_garden(path))


def _written() -> Written:
    return Written(uuid4().hex, datetime.now(UTC), node() or "this machine")


def _pairs(given: list[str] | None, option: str) -> dict[str, str]:
    pairs = {}
    for text in given or ():
        name, sign, heading = text.partition("=")
        if not sign or not name or not heading:
            what = f"“{text}” names no column and heading."
            raise FaultsFoundError([Finding(option, what, "Write it as in day=Datum.")])
        pairs[name.strip()] = heading.strip()
    return pairs
