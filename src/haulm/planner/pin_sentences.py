"""Pins in words: what was settled by hand, as a grower would say it."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from haulm.measure.sentences import listed
from haulm.measure.units import Units
from haulm.plan.pins import MEASURED, Pin, PinRule
from haulm.planner.words import MONTHS, pegged


def settled_words(pin: Pin, names: Mapping[str, str], units: Units) -> str:
    """Say what a pin settles: *at least 12.0 m² of potato in Abacus*, *no leek, winter*.

    Parameters
    ----------
    pin
        The pin.
    names
        Display names by id.
    units
        Metric or us.
    """
    what = spoken_of(replace(pin, area_m2=None), names, units)
    if pin.rule in MEASURED:
        return f"{pin.rule.value} {pegged(units, pin.area_m2 or 0.0)} of {what}"
    if pin.rule is PinRule.FORBID:
        return f"no {what}"
    if pin.rule is PinRule.ONLY_IN:
        return f"{what} only in {listed([names.get(bed, bed) for bed in pin.beds])}"
    if pin.rule is PinRule.APART:
        other = names.get(pin.apart_from or "", pin.apart_from)
        return f"{what} never in one bed with {other} at one time"
    return spoken_of(pin, names, units)


def spoken_of(pin: Pin, names: Mapping[str, str], units: Units) -> str:
    """Name what a pin speaks of: *leek, winter, in Abacus on 6.00 m²*."""
    words = names.get(pin.what, pin.what)
    if pin.method is not None:
        words += f", {names.get(pin.method, pin.method)},"
    if pin.bed is not None:
        words += f" in {names.get(pin.bed, pin.bed)}"
    if pin.sow_on is not None:
        words += f" sown in the week of {day_words(pin.sow_on)}"
    if pin.year is not None:
        words += f" sown or set in {pin.year}"
    if pin.area_m2 is not None:
        words += f" on {pegged(units, pin.area_m2)}"
    return words


def day_words(day: date) -> str:
    """Write a day: *14 March 2027*."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"
