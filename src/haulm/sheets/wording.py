"""Figures and measures as they stand on a sheet."""

import math

from haulm.catalogue.records import Catalogue, Form
from haulm.plan.records import Expects, Planting, Ready

LB_A_KG = 1 / 0.45359237  # the international pound, exactly
INCH_M = 0.0254
_QUARTERS = ("", "¼", "½", "¾")


def figure(value: float, most_digits: int = 3) -> str:
    """Write a figure to so many digits that count: whole from 10 on, no trailing noughts.

    A figure that is not 0 is never written as 0.
    """
    if value == 0:
        return "0"
    size = math.floor(math.log10(abs(value)))
    decimals = 0 if size >= 1 else most_digits - 1 - size
    text = f"{value:,.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return text.replace(",", "\u202f").replace("-", "\u2212")


def shown_a_kg(units: str) -> float:
    """Give how many of the units shown make a kilogram."""
    return LB_A_KG if units == "us" else 1.0


def weight_text(kg: float, units: str) -> str:
    """Write a weight: kilograms, or pounds in US units."""
    return f"{weight_figure(kg, units)} {weight_unit(units)}"


def weight_figure(kg: float, units: str) -> str:
    """Write a weight's figure alone; its unit stands in the column's head."""
    # Under half a gram is a solver's rounding, not food.
    shown = round(kg * shown_a_kg(units), 3)
    return figure(shown, 2 if shown >= 1 else 1)


def weight_unit(units: str) -> str:
    """Give the unit in which weights are written."""
    return "lb" if units == "us" else "kg"


def area_text(area_m2: float, units: str) -> str:
    """Write an area: square metres, or square feet in US units."""
    if units == "us":
        return f"{figure(area_m2 / (12 * INCH_M) ** 2, 2)} sq ft"
    if area_m2 >= 100:  # noqa: PLR2004 - a decimetre more or less is not seen
        return f"{figure(area_m2)} m²"
    return f"{figure(area_m2)} m²" if area_m2 < 1 else f"{area_m2:.1f} m²".replace(".0 ", " ")


def measure_figure(length_m: float, units: str) -> str:
    """Write a length as a tape shows it: centimetres to the millimetre, or quarter inches.

    The unit is left out; it stands once on the sheet.
    """
    if units == "us":
        quarters = round(length_m / INCH_M * 4)
        whole, part = divmod(quarters, 4)
        return _QUARTERS[part] if part and not whole else f"{whole}{_QUARTERS[part]}"
    text = f"{length_m * 100:.1f}"
    return text.removesuffix(".0")


def length_text(length_m: float, units: str) -> str:
    """Write a length of a bed: whole centimetres, or feet and inches."""
    if units == "us":
        feet, inches = divmod(round(length_m / INCH_M * 4), 48)
        rest = measure_figure(inches / 4 * INCH_M, units)
        return f"{feet} ft {rest} in" if inches else f"{feet} ft"
    return f"{measure_figure(length_m, units)} cm"


def measure_unit(units: str) -> str:
    """Give the unit in which lengths are written."""
    return "in" if units == "us" else "cm"


def main_expects(planting: Planting) -> Expects | None:
    """Give what a planting is chiefly grown for: the food it gives most of; None gives none."""
    return max(planting.expects, key=lambda expects: expects.kg, default=None)


def main_ready(planting: Planting) -> Ready | None:
    """Give when the food that a planting gives most of is ready."""
    chief = main_expects(planting)
    for ready in planting.ready:
        if chief is not None and ready.food == chief.food:
            return ready
    return planting.ready[0] if planting.ready else None


def from_trays(planting: Planting) -> bool:
    """Whether a planting is raised in trays and set out, rather than started in place."""
    return planting.tray_cells > 0


# A form of keeping belongs to one of four layers, by the place it lies in.
LAYER_OF_FORM = {
    Form.CELLARED: "cellar and clamp",
    Form.CLAMPED: "cellar and clamp",
    Form.CURED: "cured and hung",
    Form.BOTTLED: "jars and dry goods",
    Form.DRIED: "jars and dry goods",
    Form.FERMENTED: "jars and dry goods",
    Form.FROZEN: "frozen",
}
LAYERS = ("cellar and clamp", "cured and hung", "jars and dry goods", "frozen")


def food_name(catalogue: Catalogue, food: str) -> str:
    """Give a food's name; its id where the catalogue no longer lists it."""
    entry = catalogue.foods.get(food)
    return entry.name if entry else food


def ticks(most: float, about: int) -> list[float]:
    """Give round figures from 0 to ``most``, about so many: steps of 1, 2 or 5 times a ten."""
    if most <= 0:
        return [0.0]
    rough = most / about
    ten = 10 ** math.floor(math.log10(rough))
    step = next(ten * by for by in (1, 2, 5, 10) if ten * by >= rough)
    return [step * number for number in range(int(most / step + 1e-9) + 1)]
