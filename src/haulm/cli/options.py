"""The choices the command line offers by name."""

from enum import StrEnum

from haulm.planner.solve import EFFORTS
from haulm.sheets.bundle import Paper


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
