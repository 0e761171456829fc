"""Ask why: of a thing on the plan, and what one more of whatever is scarce would bring."""

from typing import Annotated

import typer

from haulm.cli import show, show_why, show_worth
from haulm.cli.options import AsJson, EffortName, Notebook, efforts
from haulm.cli.progress import watching
from haulm.desk.garden import exchange
from haulm.desk.planning import plans
from haulm.desk.worth import anew, whys, worths


def why(
    what: Annotated[
        str,
        typer.Argument(
            help="A planting, bed, store, lot, line of the table, kind to buy, or a day; "
            "with a space, in quotes."
        ),
    ],
    notebook: Notebook = None,
    as_json: AsJson = False,
) -> None:
    """Say why a number on the plan is what it is: its sum, what bound it, what it rests on."""
    made = plans.kept_plan(exchange.notebook_here(notebook), plans.UNLAID)
    with show.working("Reckoning"):
        found = whys.answer(what, made, show.day_of(None, made.garden))
    show.aside(made.since)
    show.data(whys.as_data(found, made)) if as_json else show_why.why(found)


def worth(
    notebook: Notebook = None,
    anew_too: Annotated[
        bool,
        typer.Option("--anew", help="Plan anew with a tunnel, and with one more of the scarcest."),
    ] = False,
    effort: Annotated[
        EffortName, typer.Option("--effort", help="How hard to look when planning anew.")
    ] = EffortName.QUICK,
    as_json: AsJson = False,
) -> None:
    """Say what one more square metre, hour, shelf or tray would bring, and what was left out."""
    made = plans.kept_plan(exchange.notebook_here(notebook), plans.UNLAID)
    with show.working("Reckoning what one more would bring"):
        found = worths.with_left_out(worths.worths_of(made), made)
    again: tuple[anew.Anew, ...] = ()
    if anew_too:
        with watching(quiet=as_json) as watch:
            again = anew.planned_anew(made, found, efforts[effort], watch)
    show.aside(made.since)
    if as_json:
        show.data(worths.as_data(found) | {"planned_anew": again})
        return
    show_worth.worth(found)
    if again:
        show_worth.anew(again, found)
