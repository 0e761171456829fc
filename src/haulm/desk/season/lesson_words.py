"""Figures learnt in words: how much one is, and whether plans are made by it."""

from haulm.desk.season.lesson_records import Moved, Taught
from haulm.measure.units import Units, show_yield


def amount(one: Moved, value: float, units: Units) -> str:
    """Write a value of a figure with its unit."""
    if one.taught is Taught.YIELD:
        return show_yield(value, units)
    if one.taught in {Taught.COMES_UP, Taught.LIVES}:
        return f"{value:.0%}"
    if one.taught is Taught.READY:
        days = round(value)
        number = "1 day" if abs(days) == 1 else f"{abs(days)} days"
        return f"{number} {'later' if days > 0 else 'earlier'}" if days else "as reckoned"
    return f"{value:.3g} {one.unit}"


def state(one: Moved, units: Units) -> str:
    """Say in a few words whether plans are made by a figure, or why they are not."""
    if one.by_hand:
        return "yours by hand"
    if one.now is not None:
        return f"planned by: {amount(one, one.now, units)}"
    return "too few to tell" if one.few else ""
