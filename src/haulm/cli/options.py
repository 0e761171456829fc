"""The arguments, options and named choices that several verbs share."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from haulm.measure.units import Units
from haulm.planner.solve import EFFORTS
from haulm.sheets.bundle import Paper, usual_paper

Garden = Annotated[Path, typer.Argument(help="A notebook (.haulm) or garden.toml.")]
Notebook = Annotated[
    Path | None, typer.Argument(help="The notebook; by default the only one in this folder.")
]
AsJson = Annotated[bool, typer.Option("--json", help="Print data for other programs.")]
On = Annotated[
    str | None,
    typer.Option("--on", metavar="DATE", help="The day that counts as today, as in 2027-02-01."),
]
Seed = Annotated[int, typer.Option("--seed", min=0, help="The seed of every random draw.")]


class EffortName(StrEnum):
    """How hard to look for a better plan."""

    QUICK = "quick"
    USUAL = "usual"
    THOROUGH = "thorough"


class PaperName(StrEnum):
    """The size of paper to print on."""

    A4 = "a4"
    LETTER = "letter"


efforts = {name: EFFORTS[name.value] for name in EffortName}
papers = {PaperName.A4: Paper.A4, PaperName.LETTER: Paper.LETTER}
OnPaper = Annotated[
    PaperName | None,
    typer.Option("--paper", help="The paper's size; by default the usual one of the units."),
]


def paper_of(named: PaperName | None, units: Units) -> Paper:
    """Give the paper that was named, else the usual one where such units are used."""
    return papers[named] if named else usual_paper(units)
