"""Ask why by name: of a planting, bed, store, lot, line of the table, week, or stock to buy."""

from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass, replace
from datetime import date

from haulm.desk.planning.plans import Made
from haulm.desk.showing.sheets import bundle_of
from haulm.desk.worth.why_ground import why_bed
from haulm.desk.worth.why_planting import why_bought, why_planting
from haulm.desk.worth.why_records import Grounds, See, Why
from haulm.desk.worth.why_store import why_kept, why_lot, why_store
from haulm.desk.worth.why_table import why_line, why_week
from haulm.desk.worth.worths import Others, Worths, others_of, with_left_out, worths_of
from haulm.measure.day_words import long_day
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.near import near_names
from haulm.measure.weeks import monday_of
from haulm.plan.records import Planting
from haulm.sheets.shopping_sums import StockLine, stock_lines

WEEK_SIGN = "-W"


@dataclass(frozen=True, slots=True)
class Means:
    """By whom the long parts of an answer are reckoned: here, unless someone keeps them."""

    worths: Callable[[Made], Worths] = worths_of
    left_out: Callable[[Worths, Made, str], Worths] = with_left_out
    others: Callable[[Made, Planting], Others] = others_of


HERE = Means()


def answer(what: str, made: Made, day: date, means: Means = HERE) -> Why:
    """Say why: of a thing by its name, its id, or its path.

    Parameters
    ----------
    what
        As in ``garlic-1``, ``leek``, ``Cellar``, ``2027-05-03``, ``line/onion``.
    made, day
        The plan, and the day that counts as today.
    means
        By whom the long parts are reckoned.

    Raises
    ------
    FaultsFoundError
        When nothing on the plan has that name, near names suggested; or when the garden has changed
        so that the plan no longer fits it.
    """
    path = path_of(what, made)
    sort, _, label = path.partition("/")
    plan = made.plan
    grounds = Grounds(made, means.worths(made))
    if sort == "planting":
        planting = next(p for p in plan.plantings if p.id == label)
        return why_planting(planting, grounds, means.others(made, planting))
    if sort == "line":
        return why_line(label, replace(grounds, worths=means.left_out(grounds.worths, made, label)))
    if sort == "week":
        return why_week(plan.horizon.week_of(date.fromisoformat(label)), grounds)
    if sort == "buy":
        return why_bought(label, [one for one in _stock(made, day) if one.kind == label], grounds)
    return _place(sort, label, grounds)


def _place(sort: str, label: str, grounds: Grounds) -> Why:
    """Say why of a bed, a store, a lot, or all lots of a food in one form."""
    plan = grounds.made.plan
    if sort == "bed":
        return why_bed(next(bed for bed in plan.beds if bed.id == label), grounds)
    if sort == "store":
        stores = grounds.made.garden.stores
        return why_store(next(store for store in stores if store.id == label), grounds)
    if sort == "kept":
        food, _, form = label.rpartition("/")
        return why_kept(food, form, grounds)
    return why_lot(next(lot for lot in plan.lots if lot.id == label), grounds)


def path_of(what: str, made: Made) -> str:
    """Find the path of a thing by its name, its id or its path.

    Raises
    ------
    FaultsFoundError
        When nothing on the plan has that name; near names are suggested.
    """
    things = list(things_in(made))
    known = {thing.path: thing.path for thing in reversed(things)}
    known |= {name.casefold(): thing.path for thing in reversed(things) for name in _names(thing)}
    wanted = what.strip()
    if wanted in known:
        return known[wanted]
    if wanted.casefold() in known:
        return known[wanted.casefold()]
    week = _week(wanted.removeprefix("week/"), made)
    if week is not None:
        return f"week/{week.isoformat()}"
    near = near_names(wanted, [name for thing in things for name in _names(thing)])
    plantings = ", ".join(sorted(planting.id for planting in made.plan.plantings)[:8])
    raise FaultsFoundError(
        [
            Finding(
                where="why",
                what=f"the plan has nothing called {wanted}.",
                remedy=f"Did you mean {', '.join(near)}?"
                if near
                else "Name a planting, bed, store, lot, line of the table, kind to buy, or a day of"
                f" the plan's weeks, as in {plantings}.",
            )
        ]
    )


def things_in(made: Made) -> Iterator[See]:
    """List everything on a plan that may be asked about but its weeks, by its path and name."""
    plan, names = made.plan, made.names
    for planting in plan.plantings:
        yield See(f"planting/{planting.id}", planting.id)
    for bed in plan.beds:
        yield See(f"bed/{bed.id}", bed.name)
    for store in made.garden.stores:
        yield See(f"store/{store.id}", store.name)
    for lot in plan.lots:
        yield See(f"lot/{lot.id}", lot.id)
    for food, form in dict.fromkeys((lot.food, lot.form) for lot in plan.lots):
        yield See(f"kept/{food}/{form}", f"{names.get(food, food)}, {form}")
    for line in dict.fromkeys(row.line for row in plan.table):
        yield See(f"line/{line}", names.get(line, line))
    for kind in dict.fromkeys(p.kind for p in plan.plantings if not p.standing):
        yield See(f"buy/{kind}", names.get(kind, kind))


def weeks_in(made: Made) -> Iterator[See]:
    """List the weeks of a plan."""
    horizon = made.plan.horizon
    for week in range(horizon.weeks):
        monday = horizon.monday(week)
        yield See(f"week/{monday.isoformat()}", long_day(monday))


def _names(thing: See) -> tuple[str, str]:
    """Give what a thing may be called: its id, and its name."""
    return thing.path.partition("/")[2], thing.words


def _week(text: str, made: Made) -> date | None:
    """Read a day or an ISO week of the plan's weeks; None where it is neither."""
    try:
        day = date.fromisoformat(text.replace(WEEK_SIGN, "W") if WEEK_SIGN in text else text)
    except ValueError:
        return None
    horizon = made.plan.horizon
    return monday_of(day) if 0 <= horizon.week_of(day) < horizon.weeks else None


def _stock(made: Made, day: date) -> tuple[StockLine, ...]:
    """Add up the planting stock to buy."""
    return stock_lines(bundle_of(replace(made, layouts={}), day))


def as_data(found: Why, made: Made) -> dict[str, object]:
    """Give an answer as plain data; with all of a planting's own record where it is of one."""
    planting = next((p for p in made.plan.plantings if f"planting/{p.id}" == found.path), None)
    own = {} if planting is None else asdict(planting)
    return own | {"why": asdict(found)}
