"""In which units a garden is written, and degrees in sentences as its grower reads them."""

import re

from haulm.measure.unit_words import UNITS
from haulm.measure.units import Units, show_temperature

_CELSIUS = re.compile(r"(?<![\d.,+-])(−?\d+(?:\.\d+)?) °C(?! d\b)")


def units_written(text: str) -> Units:
    """Say in which units a length was written: US where any of it is in yards, feet or inches."""
    words = re.findall(r"[^\d\s.,×*/]+", text.lower())
    customary = {UNITS["length"].get(word) for word in words} & {"yard", "foot", "inch"}
    return "us" if customary else "metric"


def show_temperatures(sentence: str, units: Units) -> str:
    """Give a sentence with each temperature in it [°C] as ``show_temperature`` writes it.

    A number behind a plus or a hyphen tells a difference, and a sum of warmth no temperature: both
    are left as they are.
    """
    if units == "metric":
        return sentence
    return _CELSIUS.sub(
        lambda told: show_temperature(float(told.group(1).replace("−", "-")), units), sentence
    )
