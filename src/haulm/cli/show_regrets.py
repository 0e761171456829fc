"""Show the regret ledger and the next plan on a terminal."""

from collections.abc import Sequence

from haulm.cli import show
from haulm.cli.show import line
from haulm.desk.planning.plans import Made
from haulm.desk.season.regret_words import (
    assumed_sentence,
    paid_sentence,
    ready_sentence,
    regret_sentence,
    tried_sentence,
    whole_sentence,
)
from haulm.desk.season.regrets import Regrets
from haulm.measure.findings import Finding
from haulm.measure.sentences import capital


def regrets(found: Regrets) -> None:
    """Print what one thing done otherwise would have brought, the most first."""
    line("\nThe regret ledger: one thing done otherwise in the year as it came, all else held")
    for number, one in enumerate(found.regrets, start=1):
        line(f"{number}. {capital(regret_sentence(one, found))}.")
        after = [paid_sentence(one), assumed_sentence(one, found.question)]
        line(f"   {capital('; '.join(words for words in after if words))}.")
    if not found.regrets:
        line("Nothing: no single change would have fed the table noticeably better.")
    line(f"{whole_sentence(found)}.")
    if found.ready:
        line(f"{ready_sentence(found)}.")
    line(f"{tried_sentence(found.tried)}.")


def next_plan(told: Sequence[Finding], made: Made) -> None:
    """Print what was written down for next year, and what moves in the plan proposed."""
    line("\nNext year")
    show.findings(told)
    line("What moves against the plan kept until now:")
    for change in made.changes:
        line(f"  {change.sentence}")
    if not made.changes:
        line("  Nothing.")
    line("The plan is proposed: look at it on the page Year, and keep it or drop it there.")
