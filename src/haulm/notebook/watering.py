"""With what a garden is watered and by which rules, from garden.toml."""

import re
from collections.abc import Sequence
from datetime import time

from haulm.ground.records import Watered
from haulm.measure.units import parse_volume_l
from haulm.notebook.document import GardenDocument, Units
from haulm.notebook.faults import Gathered, Place
from haulm.notebook.water_parts import WaterRulePart
from haulm.water.figures import usual_means
from haulm.water.records import WateringMeans
from haulm.water.rules import Hours, WaterRule

_HOURS = re.compile(r"([01]?\d|2[0-3])[:.]([0-5]\d)\s*[-–]\s*([01]?\d|2[0-4])[:.]([0-5]\d)")
DAY_END = 24


def means_from(document: GardenDocument, gathered: Gathered) -> WateringMeans:
    """Make what the garden is watered with; a can is the usual one where none was told."""
    part = document.watering
    usual = usual_means(us=document.garden.units is Units.US)
    if part is None:
        return usual
    can_l = gathered.above_nothing(("watering", "can"), part.can, parse_volume_l)
    flow_l_min = gathered.above_nothing(("watering", "flow"), part.flow, parse_volume_l)
    return WateringMeans(
        can_l or usual.can_l, flow_l_min, part.cans_a_day, can_told=can_l is not None
    )


def rules_from(document: GardenDocument, gathered: Gathered) -> tuple[WaterRule, ...]:
    """Make the rules on watering."""
    beds = [bed.id for bed in document.bed]
    gathered.once_each("water_rule", [part.name for part in document.water_rule], "name")
    return tuple(
        _rule(part, number, beds, gathered) for number, part in enumerate(document.water_rule)
    )


def _rule(part: WaterRulePart, number: int, beds: Sequence[str], gathered: Gathered) -> WaterRule:
    place = ("water_rule", number)
    if part.first is not None and part.last is not None:
        if part.last < part.first and not part.every_year:
            what = f"it would end on {part.last}, before it begins on {part.first}."
            gathered.fault((*place, "to"), what, "Change one of the two days.")
    elif part.every_year:
        what = "a rule of every year needs both a first and a last day."
        gathered.fault((*place, "every_year"), what, "Give from and to, or leave it out.")
    for bed in part.exempt:
        gathered.one_of_ours((*place, "exempt"), bed, beds, "bed")
    return WaterRule(
        part.name,
        part.first,
        part.last,
        bool(part.every_year),
        frozenset(part.ways or (Watered.HOSE,)),
        part.weekdays,
        part.dates,
        tuple(one for text in part.hours for one in _hours(text, (*place, "hours"), gathered)),
        frozenset(part.exempt),
    )


def _hours(text: str, place: Place, gathered: Gathered) -> tuple[Hours, ...]:
    """Read hours; those over midnight are two stretches of one day."""
    found = _HOURS.fullmatch(text.strip())
    if found is None or (int(found[3]) == DAY_END and found[4] != "00"):
        what = f"“{text}” are no hours of a day."
        gathered.fault(place, what, "Write from and to, as in 06:00-09:00.")
        return ()
    first = time(int(found[1]), int(found[2]))
    last = time.max if int(found[3]) == DAY_END else time(int(found[3]), int(found[4]))
    if first == last:
        gathered.fault(place, f"“{text}” is no time at all.", "Write from and to.")
        return ()
    return ((first, last),) if first < last else ((first, time.max), (time.min, last))
