"""Print a plan: gather what its sheets show, and write them all."""

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from haulm.desk.beds.ground import closed_ground
from haulm.desk.planning.plans import Made
from haulm.desk.season.seed import stock_worth
from haulm.desk.table.cautions import ages_at_table
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.plan_json import plan_json
from haulm.sheets.store_odds import StoreOdds
from haulm.sheets.write import write_sheets
from haulm.site.frost import frost_odds

FROST_THRESHOLDS_C = (0.0, -2.2)
"""Air frost, and the hard frost that half-hardy plants do not outlive [°C]."""


def bundle_of(made: Made, printed_on: date, store_odds: StoreOdds | None = None) -> SheetBundle:
    """Gather everything the sheets of a plan show."""
    garden = made.garden
    return SheetBundle(
        plan=made.plan,
        beds=garden.beds,
        layouts=made.layouts,
        catalogue=made.catalogue,
        lines={line.id: line.name for line in garden.household.table},
        stores=garden.stores,
        closures=closed_ground(garden, made.catalogue),
        frost=tuple(
            frost_odds(garden.weather, garden.place, threshold, seed=made.plan.solver.seed)
            for threshold in FROST_THRESHOLDS_C
        ),
        place=garden.place,
        stock_in_hand=stock_worth(garden, made.catalogue, printed_on, made.plan),
        units=garden.units,
        printed_on=printed_on,
        invented=garden.invented,
        ages=ages_at_table(garden.household),
        store_odds=store_odds,
    )


def print_plan(
    made: Made,
    folder: Path,
    paper: Paper,
    printed_on: date,
    store_odds: StoreOdds | None = None,
) -> tuple[Path, ...]:
    """Write every sheet of a plan under a folder and give their paths.

    Where the stores' odds are given, the larder tide shows poor, middle and good years.

    Raises
    ------
    FaultsFoundError
        When the garden has no beds to print, or the folder cannot be written to.
    """
    if not made.garden.beds:
        raise FaultsFoundError(
            [Finding(made.garden.name, "it has no beds, so there are no sheets.", "Add a bed.")]
        )
    refuse_blocked(folder)
    try:
        return write_sheets(bundle_of(made, printed_on, store_odds), folder, paper)
    except OSError as error:
        what = f"it cannot be written to: {error.strerror}."
        remedy = "See that the folder may be written and the disk has room."
        raise FaultsFoundError([Finding(str(folder), what, remedy)]) from None


def refuse_blocked(folder: Path) -> None:
    """Refuse a folder that cannot be made because a file has its name or its parent's.

    Raises
    ------
    FaultsFoundError
        Naming the file that is in the way.
    """
    there = next((place for place in (folder, *folder.parents) if place.exists()), None)
    if there is not None and not there.is_dir():
        what = f"no folder can be made there: {there.name} is a file."
        remedy = "Name another folder, or move that file away."
        raise FaultsFoundError([Finding(str(folder), what, remedy)])


def plan_as_json(made: Made, printed_on: date) -> Mapping[str, Any]:
    """Give a plan in the published form of plan.json."""
    return plan_json(bundle_of(made, printed_on))
