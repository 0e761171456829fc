"""The choices the command line offers by name."""

from enum import StrEnum

from haulm.planner.question import Effort
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


efforts = {
    EffortName.QUICK: Effort("quick", rounds=0, target_gap=0.05),
    EffortName.USUAL: Effort("usual", rounds=8, target_gap=0.01),
    EffortName.THOROUGH: Effort("thorough", rounds=40, target_gap=0.001),
}
papers = {PaperName.A4: Paper.A4, PaperName.LETTER: Paper.LETTER}
