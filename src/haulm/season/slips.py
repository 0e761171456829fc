"""A slip of the pen: a figure so far from all that is likely that it is asked about when written.

What is asked about counts as it was written: the grower knows better. What teaches next year is
weighed again against all other records, in :mod:`haulm.season.learning`.
"""

from collections.abc import Iterable, Iterator

from haulm.measure.findings import Finding, Grade
from haulm.measure.units import Units, show_mass, show_rain
from haulm.plan.records import Plan
from haulm.season.meant import Meant
from haulm.season.records import Entry, EntryKind, Measured
from haulm.season.rules import season_rules

HOUR_MIN = 60
REMEDY = "It counts as it stands; put it right if it is a slip."


def slips_in(entries: Iterable[Entry], plan: Plan | None, units: Units) -> tuple[Finding, ...]:
    """Ask about every figure that is hardly meant as it was written.

    Parameters
    ----------
    entries
        What was written just now.
    plan
        The plan it may speak of; None where there is none, and then no weight is asked about.
    units
        How quantities are written.
    """
    found = []
    for entry in entries:
        where = f"{entry.day.isoformat()}, {entry.kind}"
        found += [
            Finding(where, what, REMEDY, Grade.WARNING) for what in _slips(entry, plan, units)
        ]
    return tuple(found)


def _slips(entry: Entry, plan: Plan | None, units: Units) -> Iterator[str]:
    rules = season_rules()
    number = entry.amount.number if entry.amount else 0.0
    if entry.kind is EntryKind.RAINED and number > rules.slip_rain_mm.value:
        yield (
            f"{show_rain(number, units)} of rain is more than falls in a day almost anywhere;"
            f" asked about above {show_rain(rules.slip_rain_mm.value, units)}."
        )
    if entry.minutes is not None and entry.minutes > rules.slip_work_h.value * HOUR_MIN:
        yield f"{entry.minutes / HOUR_MIN:.0f} hours of work in one entry is more than a day's."
    if plan is None:
        return
    if entry.kind is EntryKind.WATERED:
        yield from _much_water(entry, plan, units)
    elif entry.kind in {EntryKind.PICKED, EntryKind.PUT_BY}:
        yield from _much_food(entry, plan, units)


def _much_water(entry: Entry, plan: Plan, units: Units) -> Iterator[str]:
    """Ask about water that would stand deeper on its bed than is ever given at once."""
    areas = {bed.id: bed.area_m2 for bed in plan.beds}
    if entry.amount is None or entry.amount.measured is not Measured.LITRES:
        return
    area_m2 = areas.get(entry.about.bed or "")
    most_mm = season_rules().slip_water_mm.value
    if area_m2 and entry.amount.number / area_m2 > most_mm:
        yield (
            f"it is {show_rain(entry.amount.number / area_m2, units)} on the whole bed;"
            f" asked about above {show_rain(most_mm, units)} at once."
        )


def _much_food(entry: Entry, plan: Plan, units: Units) -> Iterator[str]:
    """Ask about more of a food at once than the plan has of it in all, with luck on top."""
    if entry.amount is None or entry.amount.measured is not Measured.KG:
        return
    meant = Meant(plan).of(entry) if entry.kind is EntryKind.PICKED else ()
    plantings = meant or plan.plantings
    in_all_kg = sum(
        one.kg for planting in plantings for one in planting.expects if one.food == entry.about.food
    )
    if in_all_kg and entry.amount.number > season_rules().slip_times.value * in_all_kg:
        whose = "what it speaks of was" if meant else "all plantings of the plan were"
        yield (
            f"{show_mass(entry.amount.number, units)} at once is far more than {whose} to give"
            f" in all ({show_mass(in_all_kg, units)})."
        )
