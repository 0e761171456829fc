"""The command line's door: every verb parses, calls the desk once, and shows what came back."""

import gc
import sys
import webbrowser
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import Annotated

import typer
from rich.console import Console

from haulm.cli import (
    by_hand,
    show,
    show_crops,
    show_forecast,
    show_gaps,
    show_land,
    show_money,
    show_nourished,
    show_plan,
    show_rotation,
    show_site,
)
from haulm.cli.certain import certainty
from haulm.cli.dates import dates_app
from haulm.cli.diary import diary_app
from haulm.cli.handover import handover
from haulm.cli.lookout import lookout
from haulm.cli.options import (
    AsJson,
    EffortName,
    Garden,
    Notebook,
    On,
    OnPaper,
    Seed,
    efforts,
    paper_of,
)
from haulm.cli.panels import in_panels
from haulm.cli.phones import phones
from haulm.cli.progress import watching
from haulm.cli.review import review
from haulm.cli.safe import backup, check, copied_weekly, rescue, restore
from haulm.cli.season import learn, ledger, seed
from haulm.cli.seasons import drought, replay, split
from haulm.cli.water import away, water
from haulm.cli.weather import weather_app
from haulm.cli.week import week
from haulm.cli.why import why, worth
from haulm.desk.beds import rotation as rotations
from haulm.desk.garden import answers, exchange
from haulm.desk.garden.demo import notebook_to_serve
from haulm.desk.odds import forecasting, stores_lived
from haulm.desk.planning import plans
from haulm.desk.showing import sheets
from haulm.desk.showing.crop_footing import catalogue_gaps
from haulm.desk.sizing import land as lands
from haulm.desk.table import money as monies
from haulm.desk.table import needs, nourishing
from haulm.measure.customary import units_written
from haulm.measure.errors import HaulmError
from haulm.web.phone_door.door import PORT
from haulm.web.run import Wish
from haulm.web.run import serve as serve_garden

app = typer.Typer(
    name="haulm",
    help="Plan a food garden round the year: from what a household eats to the printed bed sheet.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)
app.add_typer(weather_app, name="weather")
app.add_typer(dates_app)
app.command()(by_hand.pin)
app.command()(certainty)
app.add_typer(diary_app, name="diary")
app.command()(week)
app.command()(ledger)
app.command()(learn)
app.command()(seed)
app.command()(review)
app.command()(lookout)
app.command()(check)
app.command()(handover)
app.command()(backup)
app.command()(restore)
app.command()(rescue)
app.command()(phones)
app.command()(by_hand.note)
INTERRUPTED = 130
"""The exit code of what was stopped from the keyboard, as shells have it."""
crops_help = "A crop, kind or food; leave it out to list them all."


@app.command("import")
def import_(
    toml: Annotated[Path, typer.Argument(help="The garden.toml to read.")],
    notebook: Annotated[
        Path | None, typer.Argument(help="The notebook to make; by default beside garden.toml.")
    ] = None,
) -> None:
    """Turn garden.toml into a notebook, or bring a notebook up to date with it."""
    made, findings = exchange.import_garden(toml, notebook, datetime.now(UTC).astimezone())
    show.findings(findings)
    show.line(f"Imported into {made}")


@app.command()
def export(
    notebook: Annotated[Path, typer.Argument(help="The notebook to read.")],
    toml: Annotated[Path, typer.Argument(help="The garden.toml to write.")],
) -> None:
    """Write a notebook's garden as garden.toml, every value kept."""
    for path in exchange.export_garden(notebook, toml):
        show.line(f"Wrote {path}")


@app.command()
def climate(garden: Garden, seed: Seed = 1, as_json: AsJson = False) -> None:
    """Sum up the climate of the garden's place: frost odds, warmth, day length, rain."""
    summary, described = answers.climate_of(garden, seed)
    show.data(summary) if as_json else show_site.climate(summary, described)


@app.command()
def need(
    garden: Garden,
    line: Annotated[
        str | None, typer.Option("--line", help="Show the whole sum for this line of the table.")
    ] = None,
    on: On = None,
    seed: Seed = 1,
    as_json: AsJson = False,
) -> None:
    """Work out, food by food, what the table needs in plants, ground and planting stock."""
    found = needs.needs_of(garden, show.day_of(on, garden), seed)
    show.data(found.sums) if as_json else show_site.needs(found, line)


@app.command()
def plan(
    garden: Garden,
    on: On = None,
    effort: Annotated[
        EffortName, typer.Option("--effort", help="How hard to look for a better plan.")
    ] = EffortName.USUAL,
    seed: Seed = 1,
    as_json: AsJson = False,
) -> None:
    """Plan the garden over two seasons; a notebook keeps the plan."""
    day = show.day_of(on, garden)
    with watching(quiet=as_json) as watch:
        made = plans.plan_garden(garden, day, efforts[effort], seed, watch)
    show.data(sheets.plan_as_json(made, day)) if as_json else show_plan.plan(made)
    copied_weekly(garden)


app.command()(why)
app.command()(worth)


@app.command()
def forecast(
    notebook: Notebook = None,
    seasons: Annotated[
        int, typer.Option("--seasons", help="How many seasons to live through.")
    ] = forecasting.SEASONS,
    seed: Seed = 1,
    as_json: AsJson = False,
) -> None:
    """Live the newest plan through many seasons: how sure it is, and when stores run out."""
    path = exchange.notebook_here(notebook)
    with show.working("Living through the seasons"):
        found = forecasting.forecast_of(path, seasons, seed)
    show.aside(found.made.since)
    show.data(forecasting.as_data(found)) if as_json else show_forecast.forecast(found)


app.command()(replay)
app.command()(drought)
app.command()(split)


@app.command()
def nourish(notebook: Notebook = None, as_json: AsJson = False) -> None:
    """Say what part of the household's energy and vitamins the kept plan grows, by month."""
    with show.working("Adding up"):
        found = nourishing.nourished_by(exchange.notebook_here(notebook))
    show.aside(found.since)
    show.data(nourishing.as_told(found)) if as_json else show_nourished.nourished(found)


@app.command()
def land(
    garden: Garden,
    years: Annotated[
        float, typer.Option("--years", help="Years in 10 in which promises are to hold.")
    ] = 10 * lands.USUAL_CERTAINTY,
    cover: Annotated[
        str | None,
        typer.Option("--cover", metavar="AREA", help='Ground under cover, as in "12 m2".'),
    ] = None,
    on: On = None,
    seed: Seed = 1,
    as_json: AsJson = False,
) -> None:
    """Say how much land, work and money it takes to eat like this, and what less would feed."""
    day = show.day_of(on, garden)
    wish = lands.wish_from(years, cover)
    with watching(quiet=as_json) as watch:
        found = lands.land_of(garden, day, wish, seed, watch)
    show.data(lands.as_data(found)) if as_json else show_land.land(found)


@app.command()
def money(notebook: Notebook = None, on: On = None, as_json: AsJson = False) -> None:
    """Say what the kept plan's planting stock costs, and what its food would cost at the shop."""
    path = exchange.notebook_here(notebook)
    made = plans.kept_plan(path, plans.UNLAID)
    day = show.day_of(on, path)
    found = monies.money_of(made.plan, made.garden, made.catalogue, day=day)
    show.aside(made.since)
    show.data(monies.as_data(found)) if as_json else show_money.money(found, made)


@app.command()
def rotation(
    garden: Garden,
    years: Annotated[
        int, typer.Option("--years", help="How many years to lay out, from 3 to 8.")
    ] = rotations.USUAL_YEARS,
    keep: Annotated[
        bool, typer.Option("--keep", help="Keep it in the notebook, so that plans are held to it.")
    ] = False,
    on: On = None,
    seed: Seed = 1,
    as_json: AsJson = False,
) -> None:
    """Lay out several years: which family in which bed, what rests break, and what that costs."""
    day = show.day_of(on, garden)
    if keep:
        rotations.allotments_kept(garden)
    with watching(quiet=as_json) as watch:
        laid = rotations.rotation_of(garden, day, years, seed, watch)
    if keep:
        rotations.keep_rotation(garden, laid.rotation, datetime.now(UTC).astimezone())
    show.data(laid.rotation) if as_json else show_rotation.rotation(laid)


app.command()(water)
app.command()(away)


@app.command()
def rows(
    size: Annotated[str, typer.Argument(help='A bed: "1.2 x 4.8 m", or "2.4 m round".')],
    spacing: Annotated[str, typer.Option("--spacing", help="Least distance between plants.")],
    edge: Annotated[
        str | None, typer.Option("--edge", help="Distance to the edge; by default half of it.")
    ] = None,
    row_gap: Annotated[
        str | None, typer.Option("--row-gap", help="Distance between rows, where wider.")
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Set plants into one bed and give the measure, row by row."""
    layout = answers.rows_in(size, spacing, edge, row_gap)
    show.data(answers.rows_data(layout)) if as_json else show_plan.rows(layout, units_written(size))


@app.command(name="sheets")
def sheets_(
    notebook: Notebook = None,
    out: Annotated[Path, typer.Option("--out", help="The folder to write into.")] = Path("sheets"),
    paper: OnPaper = None,
    on: On = None,
    odds: Annotated[
        bool, typer.Option("--odds", help="Draw poor and good years on the larder tide.")
    ] = False,
) -> None:
    """Print the newest plan: bed sheets, strips, larder tide, shopping list, calendar, tables."""
    path = exchange.notebook_here(notebook)
    with show.working("Drawing the sheets"):
        made = plans.kept_plan(path)
        stores = stores_lived.lived(made, stores_lived.SEASONS, 1).stores if odds else None
        day = show.day_of(on, made.garden)
        written = sheets.print_plan(made, out, paper_of(paper, made.garden.units), day, stores)
    show.aside(made.since)
    for file in written:
        show.line(f"Wrote {file}")


@app.command()
def crops(
    name: Annotated[str | None, typer.Argument(help=crops_help)] = None,
    garden: Annotated[
        Path | None,
        typer.Option("--garden", help="A notebook or garden.toml, with figures of its own."),
    ] = None,
    names: Annotated[
        bool, typer.Option("--names", help="Name each figure as garden.toml does.")
    ] = False,
    gaps: Annotated[
        bool, typer.Option("--gaps", help="List what is weakest, and what would mend it.")
    ] = False,
    as_json: AsJson = False,
) -> None:
    """Show the catalogue: every figure with its source and basis."""
    if gaps:
        show.data(catalogue_gaps()) if as_json else show_gaps.gaps(catalogue_gaps())
        return
    catalogue, found = answers.crops_named(name, garden)
    if as_json:
        show.data(found)
    elif names and name is not None:
        show_crops.names(catalogue, found)
    else:
        show_crops.crops(catalogue, found, whole=name is not None)


@app.command()
def serve(  # noqa: PLR0913, PLR0917 - each option is a parameter
    garden: Annotated[
        Path | None,
        typer.Argument(help="The notebook; by default the one in this folder, new if need be."),
    ] = None,
    port: Annotated[int | None, typer.Option("--port", help="The port to serve on.")] = None,
    address: Annotated[
        str | None,
        typer.Option(
            "--address",
            help="Whom to listen to: this machine alone, or an address of it; with --phone, the "
            "address for phones.",
        ),
    ] = None,
    on: On = None,
    no_browser: Annotated[
        bool, typer.Option("--no-browser", help="Do not open a browser.")
    ] = False,
    phone: Annotated[
        bool, typer.Option("--phone", help="Let phones of your own network write in the diary.")
    ] = False,
    phone_port: Annotated[
        int, typer.Option("--phone-port", help="The port for phones; keep to one.")
    ] = PORT,
) -> None:
    """Open the garden's pages in a browser; nothing leaves this machine unless you ask for it."""
    notebook = notebook_to_serve(garden)
    wish = Wish(
        notebook, port, address, show.day_of(on) if on else None, phone=phone, phone_port=phone_port
    )
    try:
        serve_garden(wish, show.line, None if no_browser else webbrowser.open)
    except KeyboardInterrupt:
        show.line("Stopped.")


in_panels(app)


@cache
def leave_imports_alone() -> None:
    """Keep Python from looking through what was imported, again and again, for what can go.

    None of it can before the end; with a long diary in memory that took a third of the time.
    """
    gc.freeze()


def run() -> None:
    """Run the command line; what haulm refuses is told as findings and leaves exit code 1."""
    leave_imports_alone()
    try:
        app(standalone_mode=True)
    except HaulmError as error:
        show.refusal(error, as_json="--json" in sys.argv)
        sys.exit(1)
    except SystemExit as end:
        # An interrupt comes out of typer as this code, without a word.
        if end.code == INTERRUPTED:
            Console(stderr=True).print("Stopped. The notebook is as it was.")
        raise
