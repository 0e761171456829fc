"""The verbs about water: what the beds want today, through the year, and while one is away."""

from pathlib import Path
from typing import Annotated

import typer

from haulm.cli import show, show_water, show_water_today
from haulm.cli.options import AsJson, Garden, Notebook, On, OnPaper, paper_of
from haulm.desk.beds import watering
from haulm.desk.beds.water_course import Asked
from haulm.desk.beds.water_diary import asked_of
from haulm.desk.beds.water_today import water_today
from haulm.desk.garden.exchange import notebook_here
from haulm.desk.garden.opening import TOML
from haulm.desk.planning import plans
from haulm.desk.season.away import away_note
from haulm.desk.showing.water_card import water_card_pdf
from haulm.sheets.away_note import draw_away_note
from haulm.sheets.paper import to_pdf
from haulm.web.away_words import sheet_of
from haulm.web.reader import reader_from

Bed = Annotated[str | None, typer.Option("--bed", metavar="ID", help="Show this bed alone.")]
First = Annotated[str | None, typer.Option("--from", metavar="DATE", help="The first day away.")]
Last = Annotated[str | None, typer.Option("--to", metavar="DATE", help="The last day away.")]
Note = Annotated[Path, typer.Option("--out", metavar="FILE", help="The note to write, as a PDF.")]
Year = Annotated[
    bool, typer.Option("--year", help="What the beds want through the year, not today.")
]
Cans = Annotated[
    int | None, typer.Option("--cans", min=0, help="How many cans there are today: who gets them.")
]
Card = Annotated[
    Path | None, typer.Option("--print", metavar="FILE", help="Write today's water card as a PDF.")
]


def water(
    garden: Garden,
    on: On = None,
    bed: Bed = None,
    year: Year = False,
    cans: Cans = None,
    card: Card = None,
    paper: OnPaper = None,
    as_json: AsJson = False,
) -> None:
    """Say what each bed wants of water today, by gauge and diary; with --year, through the year."""
    day = show.day_of(on, garden)
    with show.working("Reckoning the water"):
        made = plans.kept_plan(garden, plans.UNLAID)
        if year:
            of_year = watering.garden_water(made, day)
        else:
            told = garden.suffix.lower() != TOML
            asked = asked_of(garden, made, day, cans) if told else Asked(made, day, cans=cans)
            today = water_today(asked)
    show.aside(made.since)
    if year:
        one = of_year if bed is None else watering.bed_named(of_year, bed)
        show.data(one) if as_json else show_water.water(of_year, made.garden.units, bed)
        return
    if as_json:
        show.data(today)
    else:
        show_water_today.today(today, made.garden.units, bed)
    if card is not None:
        show.save(card, water_card_pdf(today, made, paper_of(paper, made.garden.units)))
        show.wrote(card)


def away(
    notebook: Notebook = None,
    first: First = None,
    last: Last = None,
    out: Note = Path("away.pdf"),
    paper: OnPaper = None,
    on: On = None,
    as_json: AsJson = False,
) -> None:
    """Write the note for whoever looks after the garden: cans by the day, what to pick."""
    path = notebook_here(notebook)
    day = show.day_of(on, path)
    made = plans.kept_plan(path, plans.UNLAID)
    ends = [show.day_of(one) if one else None for one in (first, last)]
    note = away_note(path, made, day, *ends)
    show.aside(made.since)
    if as_json:
        show.data(note)
    else:
        sheet = sheet_of(note, reader_from(None, made.garden.units))
        show.save(out, to_pdf(draw_away_note(sheet, paper_of(paper, made.garden.units))))
        show.wrote(out)
