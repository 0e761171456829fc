"""The verb that looks back on a year: plan against what came."""

from typing import Annotated

import typer

from haulm.cli import show, show_review
from haulm.cli.options import AsJson, Notebook, On
from haulm.desk.garden.exchange import notebook_here
from haulm.desk.season import review as reviews
from haulm.desk.season import review_odds

SEED = 1


def review(
    notebook: Notebook = None,
    year: Annotated[
        int | None,
        typer.Option("--year", help="Which year; in the south the one that began in that July."),
    ] = None,
    since: Annotated[
        str | None, typer.Option("--from", metavar="DATE", help="The first day, for any span.")
    ] = None,
    until: Annotated[
        str | None, typer.Option("--to", metavar="DATE", help="The last day, for any span.")
    ] = None,
    on: On = None,
    as_json: AsJson = False,
) -> None:
    """Look back on a year: what the plan had meant, what came, and why it parted."""
    path = notebook_here(notebook)
    wish = reviews.ReviewWish(
        year, show.day_of(since) if since else None, show.day_of(until) if until else None
    )
    found = reviews.review_of(path, show.day_of(on, path), wish)
    with show.working("Living through many seasons"):
        odds = review_odds.odds_of_review(found, SEED)
    if as_json:
        show.data({**reviews.as_data(found), **review_odds.as_data(found, odds)})
    else:
        show.aside(reviews.told_of(found))
        show_review.review(found, odds)
