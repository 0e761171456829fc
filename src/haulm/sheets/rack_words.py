"""The racks of a week in words: what they hold, what comes, what is lacking or not told."""

from collections.abc import Callable, Sequence

from haulm.measure.sentences import capital
from haulm.measure.units import Units, show_area, show_mass
from haulm.season.racks import OnRack, RackWeek

NOT_TOLD = (
    "nobody has told how much rack there is: tell it with a store on the page Larder, or as racks"
    " in garden.toml"
)
ELSEWHERE, TWO_GOES = "find it room elsewhere", ", or lift it in two goes"


def rack_words(racks: RackWeek, name: Callable[[str], str], told_in: str) -> tuple[str, ...]:
    """Say in sentences whether the racks hold what cures and what is lifted onto them.

    Parameters
    ----------
    racks
        The week's racks.
    name
        Gives a food's display name.
    told_in
        ``metric`` or ``us``.
    """
    units: Units = "us" if told_in == "us" else "metric"
    told = []
    if racks.hanging:
        told.append(f"What hangs takes {_taken(racks.hanging, name, units)}.")
    if racks.coming:
        told.append(f"What is lifted this week takes {_taken(racks.coming, name, units)}.")
    told.append(_verdict(racks, units))
    told += [_untold(one, name) for one in racks.untold]
    bases = dict.fromkeys(
        one.basis.value
        for one in (*racks.hanging, *racks.coming)
        if one.basis is not None and one.m2 is not None
    )
    if bases:
        told.append(f"The load of a rack is {' or '.join(bases)}.")
    return tuple(told)


def _area(m2: float, units: Units) -> str:
    return show_area(round(m2, 2), units)


def _taken(foods: Sequence[OnRack], name: Callable[[str], str], units: Units) -> str:
    """Write the rack that some foods take, and of which foods."""
    known = [one for one in foods if one.m2 is not None]
    if not known:
        return "rack that cannot be reckoned"
    listed = ", ".join(f"{name(one.food)} {show_mass(one.kg or 0.0, units)}" for one in known)
    return f"{_area(sum(one.m2 or 0.0 for one in known), units)} of rack ({listed})"


def _verdict(racks: RackWeek, units: Units) -> str:
    free = racks.free_m2
    if racks.told_m2 is None or free is None:
        return f"Whether that finds room is not known: {NOT_TOLD}."
    there = _area(racks.told_m2, units)
    if racks.lacking_m2:
        lacking = _area(racks.lacking_m2, units)
        goes = TWO_GOES if racks.coming else ""
        return f"There is {there}: {lacking} is lacking; {ELSEWHERE}{goes}."
    as_far = " as far as it is known" if racks.untold else ""
    return f"There is {there}: it finds room{as_far}, and {_area(max(0.0, free), units)} is left."


def _untold(one: OnRack, name: Callable[[str], str]) -> str:
    if one.kg is None:
        return f"{capital(name(one.food))} hangs there unweighed, and is not counted."
    return f"How much {name(one.food)} a rack takes nobody has told; it is not counted."
