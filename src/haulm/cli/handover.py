"""The verb that prints what whoever takes a garden over needs."""

from pathlib import Path
from typing import Annotated

import typer

from haulm.cli import show
from haulm.cli.options import AsJson, Notebook, On, OnPaper, paper_of
from haulm.desk.garden.exchange import notebook_here
from haulm.desk.showing.handover import handed_over, handover_of
from haulm.sheets.handover import handover_pdf


def handover(
    notebook: Notebook = None,
    out: Annotated[Path, typer.Option("--out", help="The PDF to write.")] = Path("handover.pdf"),
    paper: OnPaper = None,
    on: On = None,
    as_json: AsJson = False,
) -> None:
    """Print two pages that let a neighbour or a successor run the garden."""
    path = notebook_here(notebook)
    day = show.day_of(on, path)
    with show.working("Gathering it"):
        given = handed_over(path, day)
        told = handover_of(given)
    if as_json:
        show.data(told)
        return
    pdf, left_out = handover_pdf(told, paper_of(paper, given.made.garden.units))
    show.save(out, pdf)
    show.wrote(out, left_out)
