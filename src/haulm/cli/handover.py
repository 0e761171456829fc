"""The verb that prints what whoever takes a garden over needs."""

from pathlib import Path
from typing import Annotated

import typer

from haulm.cli import show
from haulm.cli.options import AsJson, Notebook, On, PaperName, papers
from haulm.desk.garden.exchange import notebook_here
from haulm.desk.showing.handover import handed_over, handover_of
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.sheets.handover import handover_pdf


def handover(
    notebook: Notebook = None,
    out: Annotated[Path, typer.Option("--out", help="The PDF to write.")] = Path("handover.pdf"),
    paper: Annotated[PaperName, typer.Option("--paper", help="The paper's size.")] = PaperName.A4,
    on: On = None,
    as_json: AsJson = False,
) -> None:
    """Print two pages that let a neighbour or a successor run the garden."""
    path = notebook_here(notebook)
    day = show.day_of(on, path)
    with show.working("Gathering it"):
        told = handover_of(handed_over(path, day))
    if as_json:
        show.data(told)
        return
    pdf, left_out = handover_pdf(told, papers[paper])
    try:
        out.write_bytes(pdf)
    except OSError as error:
        what = f"it cannot be written: {error.strerror}."
        raise FaultsFoundError([Finding(str(out), what, "Name another file.")]) from None
    show.line(f"Wrote {out}")
    for title, number in left_out:
        show.line(f"Left out for want of room: {number} of {title.lower()}.")
