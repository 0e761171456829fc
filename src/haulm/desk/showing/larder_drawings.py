"""The larder's page: the tide as it is drawn, and when each food put by runs out."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from haulm.catalogue.caution_records import Caution, Deed
from haulm.catalogue.cautions import cautions_for
from haulm.catalogue.records import Catalogue, Form
from haulm.desk.garden.opening import Opened
from haulm.desk.planning.plans import Made
from haulm.desk.planning.question import display_names
from haulm.desk.showing.sheets import bundle_of
from haulm.measure.weeks import DAYS_A_WEEK
from haulm.plan.records import Lot, Plan
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.page.drawing import ChartTable
from haulm.sheets.page.tide import (
    HungryGap,
    hungry_gap,
    page_tide,
    page_tide_names,
    tide_key,
    tide_table,
)
from haulm.sheets.page.view import LAPTOP_WEEKS, YearView
from haulm.sheets.store_odds import StoreOdds, run_out_days

__all__ = ["HungryGap", "Laid", "TideDrawn", "hungry_gap", "laid_by", "tide_drawn", "unlaid"]

NOTHING_KG = 0.005
NARROW_NAMES_PX = 88.0


@dataclass(frozen=True, slots=True)
class TideDrawn:
    """The larder tide of some lines: names at its side, the field of time, the figures.

    ``narrow_names`` are the names for a phone; ``key`` says what each hatch stands for.
    """

    names: str
    narrow_names: str
    field: str
    table: ChartTable
    key: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Laid:
    """All that is put by of one food in one form, over the whole plan.

    Attributes
    ----------
    food, food_id, form, places
        What, by its name and id, how, and the names of the stores.
    put_by_kg, eaten_kg, kept_back_kg, lost_kg, left_kg
        What went in; came out sound; was kept back to plant; rots, sprouts or is past keeping;
        still lies sound at the plan's end [kg].
    runs
        Each stretch in which some of it is eaten: first and last day.
    in_hand
        Whether some of it lay in store when the plan was made.
    run_out
        Of each year, the days by which the food has run out early and late, one year in ten each;
        None: not by the plan's end. Empty where no odds were reckoned.
    """

    food: str
    food_id: str
    form: Form
    places: tuple[str, ...]
    put_by_kg: float
    eaten_kg: float
    kept_back_kg: float
    lost_kg: float
    left_kg: float
    runs: tuple[tuple[date, date], ...]
    in_hand: bool
    run_out: tuple[tuple[date | None, date | None], ...] = ()


def unlaid(
    opened: Opened, plan: Plan, day: date, store_odds: StoreOdds | None = None
) -> SheetBundle:
    """Gather what the larder's charts need of a plan, without laying out its beds: that is slow."""
    names = display_names(opened.garden, opened.catalogue)
    return bundle_of(Made(plan, opened.garden, opened.catalogue, {}, names), day, store_odds)


def tide_drawn(bundle: SheetBundle, lines: Sequence[str], first_week: int) -> TideDrawn:
    """Draw the tide of some lines of the table, of all where none is named.

    Raises
    ------
    LabelsDifferError
        If the table has no line of an id that is asked for.
    """
    chosen = tuple(lines) or None
    view = YearView(first_week=first_week, weeks=LAPTOP_WEEKS)
    return TideDrawn(
        page_tide_names(bundle, chosen),
        page_tide_names(bundle, chosen, NARROW_NAMES_PX),
        page_tide(bundle, chosen, view),
        tide_table(bundle, chosen),
        tide_key(bundle, chosen),
    )


def laid_by(bundle: SheetBundle) -> tuple[Laid, ...]:
    """Add up what is put by, food by food and form by form, the most first."""
    by_food: dict[tuple[str, str], list[Lot]] = defaultdict(list)
    for lot in bundle.plan.lots:
        by_food[lot.food, lot.form].append(lot)
    found = [_laid(bundle, food, form, lots) for (food, form), lots in by_food.items()]
    return tuple(sorted(found, key=lambda one: (-one.put_by_kg, one.food)))


def _laid(bundle: SheetBundle, food: str, form: str, lots: Sequence[Lot]) -> Laid:
    names = {store.id: store.name for store in bundle.stores}
    known = bundle.catalogue.foods.get(food)
    places = dict.fromkeys(names.get(lot.place, lot.place) for lot in lots)
    return Laid(
        food=known.name if known else food,
        food_id=food,
        form=Form(form),
        places=tuple(places),
        put_by_kg=sum(lot.kg_in for lot in lots),
        eaten_kg=sum(kg for lot in lots for _, kg in lot.eaten),
        kept_back_kg=sum(lot.seed_kg for lot in lots),
        lost_kg=sum(lot.lost_kg for lot in lots),
        left_kg=sum(lot.left_kg for lot in lots),
        runs=_runs(bundle.plan, lots),
        in_hand=any(lot.in_hand for lot in lots),
        run_out=tuple(
            run_out_days(bundle.plan, out)
            for out in (bundle.store_odds.run_out if bundle.store_odds else ())
            if out.food == food
        ),
    )


def _runs(plan: Plan, lots: Sequence[Lot]) -> tuple[tuple[date, date], ...]:
    """Give the stretches of weeks in which lots are eaten; a week's pause does not end one."""
    weeks = sorted({week for lot in lots for week, kg in lot.eaten if kg > NOTHING_KG})
    runs: list[list[int]] = []
    for week in weeks:
        if runs and week - runs[-1][1] <= 2:  # noqa: PLR2004 - one week between
            runs[-1][1] = week
        else:
            runs.append([week, week])
    monday = plan.horizon.monday
    return tuple(
        (monday(first), monday(last) + timedelta(days=DAYS_A_WEEK - 1)) for first, last in runs
    )


def care_of(bundle: SheetBundle, catalogue: Catalogue) -> tuple[Caution, ...]:
    """Gather the cautions of all foods that are put by, each once."""
    foods = dict.fromkeys(lot.food for lot in bundle.plan.lots)
    return cautions_for(catalogue, foods, (Deed.PUT_BY,), bundle.ages)
