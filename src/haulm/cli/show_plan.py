"""Show a plan on a terminal: what is planted where, what stays short, and why."""

from collections.abc import Iterable
from datetime import date

from haulm.catalogue.cautions import told as said
from haulm.cli.show import findings, line, table
from haulm.desk.odds.certainty_told import is_short
from haulm.desk.planning.plans import Made
from haulm.desk.table.cautions import care_in_plan
from haulm.measure.sentences import listed
from haulm.measure.units import Units, show_area, show_length, show_mass
from haulm.plan.records import Expects, Plan, Planting, TableWeek
from haulm.planting.records import Layout


def day(when: date) -> str:
    """Write a day as in ``12 Jul 2027``."""
    return f"{when.day} {when:%b %Y}"


def counted(number: int, noun: str) -> str:
    """Write a number of things: 1 plant, 2 plants."""
    return f"{number} {noun}{'' if number == 1 else 's'}"


def plan(made: Made) -> None:
    """Print a plan: every planting by bed and date, then shortages, broken rules and proof."""
    units: Units = made.garden.units
    told = made.plan
    table(
        (
            "bed",
            "planting",
            "kind",
            "sow or set",
            "clear by",
            ">ground",
            ">plants",
            ">gives (8 years in 10)",
        ),
        (planting_row(planting, made, units) for planting in in_order(told)),
        title=f"{told.garden}: {counted(len(told.plantings), 'planting')}",
    )
    line("")
    table(
        ("line", ">wanted", ">fresh", ">from store", ">short"),
        table_rows(told, made, units),
        title=f"At table{'' if told.certainty else ' in a middle year'}, "
        f"{day(told.horizon.first_day)} to {day(told.horizon.last_day)}",
    )
    how_sure(told)
    line("")
    for shortage in told.shortages:
        line(shortage.sentence)
    for broken in told.broken:
        line(broken.sentence)
    changed(made)
    findings(told.findings)
    care(made)
    solver = told.solver
    line(
        f"Proven within {solver.gap:.1%} of the best plan there can be "
        f"(net of what nothing could meet: {solver.net_gap:.1%}), in {solver.seconds:.1f} s."
    )


def changed(made: Made) -> None:
    """Print what changes against the plan that this one carries on, if it carries one on."""
    if made.changes:
        line("")
        line("What changes:")
        for one in made.changes:
            line(f"  {one.sentence}")
        line("")


def how_sure(told: Plan) -> None:
    """Print for how many years of ten a plan's promises were made, and how often they held."""
    if told.certainty is None:
        return
    asked = sorted({share for _line, share in told.certainty.lines})
    sure = dict(told.certainty.lines)
    held = sum(not is_short(one, sure[one.line]) for one in told.certainty.held)
    line(
        f"Made to keep its promises {listed([f'{10 * share:g}' for share in asked])} years in 10: "
        f"in {told.certainty.seasons} seasons it never saw, {held} of {len(told.certainty.held)} "
        "held so often, but for chance."
    )


def care(made: Made) -> None:
    """Print what to take care of with the foods of the plan, and whom to ask."""
    for caution, foods in care_in_plan(made.plan, made.garden, made.catalogue):
        of = f" ({', '.join(made.names[food] for food in foods)})" if foods else ""
        line(f"Take care, {caution.id}{of}: {said(caution)}")


def in_order(told: Plan) -> Iterable[Planting]:
    """Give the plantings bed by bed, in order of date."""
    place = {bed.id: number for number, bed in enumerate(told.beds)}
    return sorted(told.plantings, key=lambda p: (place[p.bed], p.in_ground_from, p.id))


def planting_row(planting: Planting, made: Made, units: Units) -> tuple[str, ...]:
    """Give the cells of one planting's line."""
    stands = "in trays" if planting.in_trays else "stands"
    start = stands if planting.standing else day(planting.sow_on)
    gives = ", ".join(expected(expects, made) for expects in planting.expects)
    return (
        made.names[planting.bed],
        planting.id,
        made.names[planting.kind],
        start,
        "stays" if stays(planting, made) else day(planting.clear_by),
        show_area(planting.area_m2, units),
        str(planting.plants),
        gives,
    )


def stays(planting: Planting, made: Made) -> bool:
    """Say whether a planting stays for years."""
    kind = made.catalogue.kinds.get(planting.kind)
    return kind is not None and kind.perennial is not None


def expected(expects: Expects, made: Made) -> str:
    """Write what a planting gives of a food, with what 8 years in 10 lie between."""
    units: Units = made.garden.units
    middle, low, high = (
        show_mass(kg, units) for kg in (expects.kg, expects.low_kg, expects.high_kg)
    )
    return f"{middle} {made.names[expects.food]} ({low} to {high})"


def table_rows(told: Plan, made: Made, units: Units) -> Iterable[tuple[str, ...]]:
    """Add up each line of the table over the plan's weeks."""
    weeks_of: dict[str, list[TableWeek]] = {}
    for week in told.table:
        weeks_of.setdefault(week.line, []).append(week)
    for name, weeks in weeks_of.items():
        yield (
            made.names[name],
            show_mass(sum(week.wanted_kg for week in weeks), units),
            show_mass(sum(week.fresh_kg for week in weeks), units),
            show_mass(sum(week.stored_kg for week in weeks), units),
            show_mass(sum(week.short_kg for week in weeks), units),
        )


def rows(layout: Layout, units: Units) -> None:
    """Print the measure of one bed, row by row, in the units it was asked in."""
    if not layout.rows:
        line("No plant has room that far from the edge; --edge sets another distance.")
        return
    table(
        (">row", ">from base", ">first hole", ">step", ">holes"),
        (
            (
                row.name,
                show_length(row.from_base_m, units),
                show_length(row.first_m, units),
                show_length(row.step_m, units),
                str(len(row.stations_m)),
            )
            for row in layout.rows
        ),
        title=f"{counted(layout.count, 'plant')} in {layout.pattern} "
        f"({layout.square_count} in square rows)",
    )
