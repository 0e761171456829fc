"""The verb that looks back on a year: plan against what came, what to regret, and the next plan."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from haulm.cli import show, show_regrets, show_review
from haulm.cli.options import (
    AsJson,
    EffortName,
    Notebook,
    On,
    OnPaper,
    PaperName,
    efforts,
    paper_of,
)
from haulm.cli.progress import watching
from haulm.desk.garden.exchange import notebook_here
from haulm.desk.season import next_year, regrets, review_odds
from haulm.desk.season import review as reviews
from haulm.desk.season.learning import lessons_of
from haulm.desk.season.review_page import LookedBack
from haulm.desk.showing.review_sheet import ReviewToPrint, review_sheet_of
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.planner.question import Watcher
from haulm.sheets.review_sheet import review_pdf

SEED = 1
Year = Annotated[
    int | None,
    typer.Option("--year", help="Which year; in the south the one that began in that July."),
]
From = Annotated[
    str | None, typer.Option("--from", metavar="DATE", help="The first day, for any span.")
]
To = Annotated[str | None, typer.Option("--to", metavar="DATE", help="The last day.")]
WithRegrets = Annotated[
    bool, typer.Option("--regrets", help="What one thing done otherwise would have brought.")
]
Next = Annotated[
    bool, typer.Option("--next", help="Propose next year's plan, starting from this year.")
]
Adopt = Annotated[
    list[int] | None,
    typer.Option("--adopt", metavar="NUMBER", help="With --next: ask for this regret's sowing."),
]
Lessons = Annotated[
    bool, typer.Option("--lessons/--no-lessons", help="With --next: plan by what was learnt.")
]
Out = Annotated[Path | None, typer.Option("--out", help="Print it on two pages, as a PDF, too.")]
EffortOf = Annotated[EffortName, typer.Option("--effort", help="With --next: how hard to look.")]


def review(
    notebook: Notebook = None,
    year: Year = None,
    since: From = None,
    until: To = None,
    with_regrets: WithRegrets = False,
    next_plan: Next = False,
    adopt: Adopt = None,
    lessons: Lessons = True,
    effort: EffortOf = EffortName.USUAL,
    out: Out = None,
    paper: OnPaper = None,
    on: On = None,
    as_json: AsJson = False,
) -> None:
    """Look back on a year: plan against what came, what to regret; and plan the next from it."""
    path = notebook_here(notebook)
    found = reviews.review_of(path, show.day_of(on, path), _wish(year, since, until))
    with show.working("Living through many seasons"):
        odds = review_odds.odds_of_review(found, SEED)
    ledger = None
    with watching(quiet=as_json) as watch:
        if with_regrets or adopt:
            ledger = regrets.regrets_of(found, watch=watch)
    if as_json:
        told = {**reviews.as_data(found), **review_odds.as_data(found, odds)}
        show.data(told if ledger is None else {**told, "regrets": regrets.as_data(ledger)})
    else:
        show.aside(reviews.told_of(found))
        show_review.review(found, odds)
        if ledger is not None:
            show_regrets.regrets(ledger)
    if out is not None:
        left_out = _print(LookedBack(found, odds), ledger, out, paper)
        if not as_json:
            show.wrote(out, left_out)
    if next_plan:
        adopted = _adopted(ledger, adopt or ())
        wish = next_year.NextWish(show.day_of(on, path), lessons, adopted)
        with watching(quiet=as_json) as watch:
            _plan_next(found, wish, effort, watch, quiet=as_json)


def _print(
    looked: LookedBack, ledger: regrets.Regrets | None, out: Path, paper: PaperName | None
) -> tuple[tuple[str, int], ...]:
    """Write the two printed pages; give what found no room."""
    lessons = lessons_of(looked.reviewed.path, looked.reviewed.day)
    told = review_sheet_of(ReviewToPrint(looked, lessons, ledger))
    pdf, left_out = review_pdf(told, paper_of(paper, looked.reviewed.units))
    show.save(out, pdf)
    return left_out


def _wish(year: int | None, since: str | None, until: str | None) -> reviews.ReviewWish:
    first = show.day_of(since) if since else None
    return reviews.ReviewWish(year, first, show.day_of(until) if until else None)


def _adopted(
    ledger: regrets.Regrets | None, numbers: list[int] | tuple[int, ...]
) -> tuple[regrets.Regret, ...]:
    """Give the regrets that were named by their numbers."""
    there = ledger.regrets if ledger else ()
    wrong = [number for number in numbers if not 1 <= number <= len(there)]
    if wrong:
        what = f"there is no regret {wrong[0]}; there are {len(there)}."
        raise FaultsFoundError([Finding("--adopt", what, "haulm review --regrets lists them.")])
    return tuple(there[number - 1] for number in numbers)


def _plan_next(
    found: reviews.Reviewed,
    wish: next_year.NextWish,
    effort: EffortName,
    watch: Watcher | None,
    *,
    quiet: bool,
) -> None:
    told = next_year.begin_next_year(found, wish, datetime.now(UTC).astimezone())
    made = next_year.plan_next_year(found, wish, efforts[effort], SEED, watch)
    if not quiet:
        show_regrets.next_plan(told, made)
