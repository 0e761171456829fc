"""The model, read like a page of contents: one line for each rule."""

from dataclasses import dataclass, replace

from haulm.planner.arrays import Flags, Ints
from haulm.planner.assembler import Assembler, LinearModel
from haulm.planner.columns import Columns, lay_columns
from haulm.planner.objective import price_everything
from haulm.planner.rules.allotment import allotment
from haulm.planner.rules.appetite import appetite
from haulm.planner.rules.ground import ground
from haulm.planner.rules.harvest import harvest
from haulm.planner.rules.hours import hours
from haulm.planner.rules.keeping import keeping
from haulm.planner.rules.limit import apart, limit
from haulm.planner.rules.nursery import nursery
from haulm.planner.rules.patch_size import patch_size
from haulm.planner.rules.pin import pin
from haulm.planner.rules.rest import rest
from haulm.planner.rules.rotation import rotation
from haulm.planner.rules.seed_back import seed_back
from haulm.planner.rules.spread import StakeColumns, spread, spread_of
from haulm.planner.rules.store_space import store_space
from haulm.planner.tables import Tables


@dataclass(frozen=True, slots=True)
class Built:
    """A sealed model and where its unknowns stand."""

    model: LinearModel
    columns: Columns


@dataclass(frozen=True, slots=True)
class Chosen(Built):
    """A model that also chooses: ``used`` (P) yes or no, ``broken`` (P) rotation, and spread."""

    used: Ints
    broken: Ints
    stakes: tuple[StakeColumns, ...]


def build_areas(tables: Tables, spread_over: Flags | None = None) -> Built:
    """Build the model in areas alone: the rules that do not depend on which pairs are used.

    Closed beds are kept by leaving their pairs out of the tables.

    Parameters
    ----------
    tables
        The tables.
    spread_over
        (P) the pairs used, where they are known: then *spread* is laid on as well.
    """
    model, columns = lay_areas(tables)
    limit(model, tables, columns)
    if spread_over is not None:
        spread_of(model, tables, columns, spread_over)
    return Built(model.seal(), columns)


def build_choices(tables: Tables) -> Chosen:
    """Build the whole model, every rule in it."""
    model, columns = lay_areas(tables)
    limit(model, tables, columns)
    used = patch_size(model, tables, columns)
    broken = rotation(model, tables, columns, used)
    apart(model, tables, used)
    laid = spread(model, tables, columns, used)
    return Chosen(model.seal(), columns, used, broken, laid)


def pins_unpriced(built: Built) -> Built:
    """Take the price of leaving a pin out of a model whose pins are held otherwise.

    Else ground that a pin fills would be told to be worth that price.
    """
    cost = built.model.cost.copy()
    cost[built.columns.pin_short] = 0.0
    cost[built.columns.pin_over] = 0.0
    return Built(replace(built.model, cost=cost), built.columns)


def lay_areas(tables: Tables) -> tuple[Assembler, Columns]:
    """Lay down the model in areas, still open for more."""
    model = Assembler()
    columns = lay_columns(model, tables)
    appetite(model, tables, columns)
    harvest(model, tables, columns)
    keeping(model, tables, columns)
    ground(model, tables, columns)
    rest(model, tables, columns)
    allotment(model, columns)
    seed_back(model, tables, columns)
    nursery(model, tables, columns)
    hours(model, tables, columns)
    store_space(model, tables, columns)
    pin(model, tables, columns)
    price_everything(model, tables, columns)
    return model, columns
