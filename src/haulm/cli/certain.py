"""Price certainty: the garden planned by means and for several certainties, side by side."""

from typing import Annotated

import typer

from haulm.cli import show, show_forecast
from haulm.cli.options import AsJson, EffortName, Garden, On, Seed, efforts
from haulm.cli.progress import watching
from haulm.desk.odds import certainty_prices


def certainty(
    garden: Garden,
    years: Annotated[
        list[float] | None,
        typer.Option("--years", help="Years in 10 to plan for; may be given several times."),
    ] = None,
    on: On = None,
    effort: Annotated[
        EffortName, typer.Option("--effort", help="How hard to look for a better plan.")
    ] = EffortName.USUAL,
    seed: Seed = 1,
    as_json: AsJson = False,
) -> None:
    """Tell what it costs to be surer: the garden planned by means, and for 5, 8 and 9 years."""
    day = show.day_of(on, garden)
    shares = [year / 10 for year in years] if years else certainty_prices.OFFERED
    with watching(quiet=as_json) as watch:
        opened, priced = certainty_prices.price_of_certainty(
            garden, day, shares, efforts[effort], seed, watch
        )
    if as_json:
        show.data(certainty_prices.as_data(priced))
    else:
        show_forecast.prices(opened, priced)
