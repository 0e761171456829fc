"""Show on a terminal how much land a table takes, and what less would feed."""

from haulm.cli.show import line, table
from haulm.cli.show_money import amount_text, sums_text
from haulm.cli.show_plan import day
from haulm.desk.sizing.land import Land
from haulm.desk.sizing.land_steps import LandStep
from haulm.desk.sizing.land_told import headline, remarks
from haulm.measure.units import show_area

NONE = "–"


def land(found: Land) -> None:
    """Print what is enough, what it asks, and the steps up to it with what comes in at each."""
    line(f"{found.garden}. {headline(found)}")
    line("")
    for sentence in _asks(found):
        line(sentence)
    for sentence in remarks(found):
        line(sentence)
    line("")
    table(
        (
            "ground in the open",
            ">of the kilograms",
            ">of the helpings, by priority",
            ">of the energy needed",
            ">hours a year",
            ">busiest week",
            ">proven within",
        ),
        (_row(step, found) for step in found.steps),
        title="What so much ground feeds",
    )
    line("")
    line("What comes in when (half of what the most ground gives it, or more):")
    for step, come in zip(found.steps, found.comes_in, strict=True):
        if come:
            line(f"  {show_area(step.open_m2, found.units)}: {', '.join(come)}")


def _asks(found: Land) -> tuple[str, ...]:
    """Say what hours and money the ground that is enough asks and brings."""
    step = found.enough
    money = step.money
    work = (
        f"Work: {step.work_h:,.0f} hours in the year, of {step.given_h:,.0f} that you give;"
        f" {step.busiest_h:.1f} in the busiest week, that of {day(step.busiest_on)}, of"
        f" {step.busiest_given_h:.1f}."
    )
    sums = (
        f"Money: {sums_text(money.spent)} for planting stock;"
        f" the food would cost {sums_text(money.worth)} at the shop."
    )
    told = [work, sums if money.spent or money.worth else "Money: no price is told."]
    if money.unpriced:
        without = (
            f"{found.names.get(one.what, one.what)}"
            f" ({amount_text(one.amount, one.unit, found.units)})"
            for one in money.unpriced
        )
        told.append(f"Not in the sums, for want of a price: {', '.join(without)}.")
    return tuple(told)


def _row(step: LandStep, found: Land) -> tuple[str, ...]:
    mark = ""
    if step.open_m2 == found.enough.open_m2:
        mark = ", enough"
    elif step.open_m2 == found.own_m2:
        mark = ", your beds"
    energy = NONE if step.share_energy is None else f"{step.share_energy:.0%}"
    return (
        f"{show_area(step.open_m2, found.units)}{mark}",
        f"{step.share_kg:.0%}",
        f"{step.share_helpings:.0%}",
        energy,
        f"{step.work_h:,.0f}",
        f"{step.busiest_h:.1f} h",
        f"{step.plan.solver.gap:.1%}",
    )
