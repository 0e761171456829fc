"""Write docs/one-food.md from the plan of src/haulm/examples/one-food, figure by figure."""

from datetime import date
from pathlib import Path

from haulm.cli.show_site import result
from haulm.desk.beds.ground import closed_ground
from haulm.desk.planning.plans import Made, plan_garden
from haulm.desk.table.needs import needs_of
from haulm.plan.records import Lot, Plan, Planting
from haulm.planner.question import Effort

ROOT = Path(__file__).parents[1]
GARDEN = ROOT / "src/haulm/examples" / "one-food" / "garden.toml"
PAGE = ROOT / "docs" / "one-food.md"
DAY = date(2027, 8, 30)


def written() -> str:
    """Plan the garden and write the page."""
    made = plan_garden(GARDEN, DAY, Effort(), seed=1)
    (planting,) = made.plan.plantings
    (lot,) = made.plan.lots
    parts = (
        opening(made),
        wanted(made.plan),
        season(planting),
        need(),
        ground(made, planting),
        store(made.plan, lot),
        short(made.plan),
        bed(made, planting),
        proof(made.plan),
    )
    return "\n\n".join(parts) + "\n"


def day(when: date) -> str:
    """Write a day."""
    return f"{when.day} {when:%B %Y}"


def opening(made: Made) -> str:
    """Say what is followed and how to run it."""
    return f"""# One food, by number

{made.plan.garden} is an invented garden of one bed that grows one food. This page follows that food
from the appetite to the bed sheet. Its figures are written by a test from the garden's own plan, so
they cannot go stale. To see them yourself:

```
haulm plan src/haulm/examples/one-food/garden.toml --on {DAY}
```"""


def wanted(plan: Plan) -> str:
    """Tell the appetite."""
    total = sum(week.wanted_kg for week in plan.table)
    (a_week,) = {round(week.wanted_kg, 6) for week in plan.table}
    return f"""## What is wanted (`household`)

{a_week * 1000:.0f} g of garlic a week, kept. Over the {plan.horizon.weeks} weeks from
{day(plan.horizon.first_day)} that is {a_week:g} × {plan.horizon.weeks} = {total:.1f} kg."""


def season(planting: Planting) -> str:
    """Tell the window and the dates."""
    bulbs = next(ready for ready in planting.ready if ready.food == "garlic")
    green = next(ready for ready in planting.ready if ready.food == "green garlic")
    return f"""## When it may be planted, and when it is ready (`site`, `growing`)

The cloves may go in from {day(planting.earliest_sowing)} (*{planting.earliest_rule}*) to
{day(planting.latest_sowing)} (*{planting.latest_rule}*). Neither end is a month's name: both follow
from the weather of this place and the figures of this kind.

Set on {day(planting.set_on)}, it could be pulled green from about {day(green.middle)}. The bulbs
are ready by {day(bulbs.early)} in 1 year of 10, by {day(bulbs.middle)} in half of years, and by
{day(bulbs.late)} in 9 of 10. The ground is counted free on {day(planting.clear_by)}."""


def need() -> str:
    """Tell the sum for one whole year, as haulm need does."""
    (total,) = needs_of(GARDEN, DAY, seed=1).sums
    steps = "\n".join(
        f"| {step.what} | {step.arithmetic} | {result(step, total.stock_unit)} |"
        for step in total.steps
    )
    return f"""## What a full year would take (`larder`)

Every loss is a division by what survives it.

| step | arithmetic | result |
|---|---|---:|
{steps}"""


def ground(made: Made, planting: Planting) -> str:
    """Tell what the plan made of it."""
    steps = "\n".join(f"- {step}" for step in planting.sum)
    bounds = "\n".join(f"- {bound.sentence}" for bound in planting.bounds)
    (bed_,) = made.plan.beds
    return f"""## What the plan gives it (`planner`)

The plan looks over {made.plan.horizon.weeks} weeks and sees one harvest in time to be eaten.
It sets {planting.area_m2:.2f} m² of the {bed_.area_m2:.1f} m² of {bed_.name}:

{steps}

What bound it:

{bounds}"""


def store(plan: Plan, lot: Lot) -> str:
    """Tell what lies in store until when."""
    first, last = lot.eaten[0][0], lot.eaten[-1][0]
    eaten = sum(kg for _, kg in lot.eaten)
    return f"""## What lies in store (`larder`)

{lot.kg_in:.2f} kg are put by in {plan.horizon.label(lot.put_by_week)} and eaten from
{plan.horizon.label(first)}, once cured, to {plan.horizon.label(last)}. Of them {eaten:.2f} kg reach
the table and {lot.lost_kg:.2f} kg are lost: {eaten:.2f} + {lot.lost_kg:.2f} = {lot.kg_in:.2f}.
At the last meal {lot.sound[last - lot.put_by_week]:.0%} of what was put by is still sound."""


def short(plan: Plan) -> str:
    """Tell what stays short."""
    lines = "\n".join(f"- {shortage.sentence}" for shortage in plan.shortages)
    return f"""## What stays short

Nothing is hidden; what the plan cannot meet is named:

{lines}"""


def bed(made: Made, planting: Planting) -> str:
    """Tell how it stands in the bed."""
    (patch,) = made.layouts[planting.bed]
    (piece,) = patch.pieces
    layout = piece.layout
    rows = "\n".join(
        f"| {row.name} | {row.from_base_m * 100:.0f} | {row.first_m * 100:.0f} "
        f"| {row.step_m * 100:.0f} | {len(row.stations_m)} |"
        for row in layout.rows[:4]
    )
    closed = closed_ground(made.garden, made.catalogue)
    return f"""## How it stands in the bed (`planting`)

{layout.count} stations in {layout.pattern}, {layout.spacing_m * 100:.0f} cm from one another at
least, where square rows would hold {layout.square_count}. The first rows of the measure, in cm:

| row | from base | first hole | step | holes |
|---:|---:|---:|---:|---:|
{rows}

{"No family is kept off the bed." if not closed else "Part of the ground is closed."}"""


def proof(plan: Plan) -> str:
    """Tell how good the plan is known to be."""
    return f"""## How good it is

The plan costs {plan.solver.objective:.2f} in weighted kilograms, and no plan can cost less than
{plan.solver.bound:.2f}. Before it was shown, every square metre, kilogram, date and hour of it was
added up again by code that shares nothing with the model."""
