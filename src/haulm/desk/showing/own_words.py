"""A garden's own figures in words, with their units, for readers who see no tables."""

from collections.abc import Mapping

from haulm.catalogue.own import OwnFigure
from haulm.desk.showing.crop_pages import worded
from haulm.measure.units import Units, show_yield
from haulm.sheets.wording import figure

UNITS = {
    "_days": " days",
    "_weeks": " weeks",
    "_years": " years",
    "_m": " m",
    "_c": " °C",
    "_h": " h",
}
"""How a unit at the end of a figure's name is written behind it."""

SOUND = {"sound_90_weeks": "nine tenths sound", "sound_50_weeks": "half sound"}


def own_figure_text(own: OwnFigure, names: Mapping[str, str], units: Units) -> str:
    """Write an own figure: *yield of leek 2.8 kg/m²*, *cured garlic half sound after 20 weeks*.

    Parameters
    ----------
    own
        The figure.
    names
        Display names by id.
    units
        The garden's units.
    """
    *path, last = own.figure.split(".")
    if isinstance(own.value, str):
        return f"{worded(last)} {own.value}"
    value, whose = figure(own.value), [names.get(one, one) for one in path[1:]]
    if last == "yield_kg_m2" and whose:
        return f"yield of {whose[0]} {show_yield(own.value, units)}"
    if last in SOUND and len(whose) > 2:  # noqa: PLR2004 - a food, “keeping” and a form
        return f"{whose[2]} {whose[0]} {SOUND[last]} after {figure(own.value, 2)} weeks"
    if last == "later_days":
        days = round(own.value)
        if not days:
            return "ready as is usual"
        return f"ready {abs(days)} days {'later' if days > 0 else 'earlier'} than usual"
    of = f" ({', '.join(whose)})" if whose else ""
    unit = next((written for end, written in UNITS.items() if last.endswith(end)), "")
    return f"{worded(last)}{of} {value}{unit}"
