"""Household measures: how much is eaten in a week, in helpings, pieces and weight.

A helping is the catalogue's usual portion of a food; a piece is its own measure (bulb, head, jar).
Both are weights as lifted or bought, so each can be turned into the others.
"""

import re
from dataclasses import dataclass
from math import ceil, floor

from haulm.catalogue.known import known
from haulm.catalogue.records import Absent, Food
from haulm.household.portions import portions_of
from haulm.household.records import Household, TableLine
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.units import Units, parse_mass_kg

HELPINGS = frozenset({"", "helping", "helpings", "portion", "portions"})
FINE_UP_TO = 40
COARSE_STEP = 5
OUNCES_A_KG = 1 / 0.028349523125
OUNCES_A_POUND = 16
_COUNT = re.compile(r"(\d{1,6}(?:[.,]\d{1,6})?|[.,]\d{1,6})\s*(.*)", re.DOTALL)
_GROUPED = re.compile(r"[1-9]\d{0,2},\d{3}")


@dataclass(frozen=True, slots=True)
class Measure:
    """A line's week for the whole household, everybody at home.

    Attributes
    ----------
    kg
        As lifted or bought [kg].
    helpings, helping_kg
        How many helpings of its first food that is, and what one weighs [kg].
    pieces, piece
        How many pieces that is, None where nobody has the weight of one; and what a piece is
        called, singular or plural as fits.
    """

    kg: float
    helpings: float
    helping_kg: float
    pieces: float | None
    piece: str


def adults_at_table(household: Household) -> float:
    """Count the adult portions at the table when everybody is at home [1]."""
    return sum(portions_of(eater) for eater in household.eaters)


def measure_of(line: TableLine, food: Food, household: Household) -> Measure:
    """Measure a line's week by a food, the first that may serve it."""
    if line.kg_week is not None:
        kg = line.kg_week
    else:
        kg = (line.portions_week or 0.0) * food.portion_kg.value * adults_at_table(household)
    piece_kg = known(food.piece_kg)
    pieces = None if piece_kg is None else kg / piece_kg
    return Measure(
        kg=kg,
        helpings=kg / food.portion_kg.value,
        helping_kg=food.portion_kg.value,
        pieces=pieces,
        piece=food.piece if pieces is not None and round(pieces) == 1 else plural(food.piece),
    )


def plural(piece: str) -> str:
    """Give a measure's plural, as in bunches, potatoes and heads."""
    return piece + ("es" if piece.endswith(("ch", "sh", "s", "x", "to")) else "s")


def read_week_kg(text: str, food: Food, where: str) -> float:
    """Read what a household eats of a food in a week [kg].

    A figure alone counts helpings; it may be followed by the food's own measure (6 heads), or by
    a unit of weight (2.5 kg, 3 lb).

    Raises
    ------
    FaultsFoundError
        When it is none of these, or nothing; or counts pieces of which nobody has the weight.
    """
    remedy = (
        f"Write helpings as a figure, as in 20; or 6 {plural(food.piece)}; or a weight, 2.5 kg."
    )
    found = _COUNT.fullmatch(text.strip())
    if found is None or _GROUPED.fullmatch(found[1]):
        what = f"“{text}” is no amount." if text.strip() else "no amount is written."
        raise FaultsFoundError([Finding(where, what, remedy)])
    count, word = float(found[1].replace(",", ".")), found[2].strip().casefold()
    if word in HELPINGS:
        kg = count * food.portion_kg.value
    elif word in {food.piece, plural(food.piece)}:
        kg = count * _piece_kg(food, where)
    else:
        kg = parse_mass_kg(text, where)
    if kg <= 0:
        what = f"“{text}” is nothing."
        raise FaultsFoundError([Finding(where, what, "Write more, or take the line out.")])
    return kg


def _piece_kg(food: Food, where: str) -> float:
    """Give the weight of a piece, or say that nobody has it."""
    if isinstance(food.piece_kg, Absent):
        what = f"the weight of a {food.piece} is not known: {food.piece_kg.why}."
        raise FaultsFoundError([Finding(where, what, "Write helpings, or a weight, as 2.5 kg.")])
    return food.piece_kg.value


def told_week(text: str, food: Food, where: str, units: Units) -> str:
    """Give a week's amount as a weight to be kept: a weight as typed, counts turned into one.

    Raises
    ------
    FaultsFoundError
        As :func:`read_week_kg`.
    """
    kg = read_week_kg(text, food, where)
    found = _COUNT.fullmatch(text.strip())
    counted = found is not None and found[2].strip().casefold() in {
        *HELPINGS,
        food.piece,
        plural(food.piece),
    }
    return week_text(kg, units) if counted else text.strip()


def stepped(helpings: float, step: int) -> float:
    """Go to the next whole helping up or down; by fives above 40, and never under one."""
    size = COARSE_STEP if helpings + step > FINE_UP_TO else 1
    # What was shown rounded must not take two presses to leave.
    places = helpings / size
    near = round(places)
    if abs(places - near) * size < 0.05:  # noqa: PLR2004 - half of the last figure shown
        places = float(near)
    after = floor(places) + 1 if step > 0 else ceil(places) - 1
    return float(max(1, after * size))


def week_text(kg: float, units: Units) -> str:
    """Write a week's weight as a grower would type it, to a gram or a hundredth of an ounce."""
    if units == "metric":
        return f"{_trimmed(kg, 3)} kg" if kg >= 1 else f"{_trimmed(kg * 1000, 1)} g"
    ounces = kg * OUNCES_A_KG
    if ounces < OUNCES_A_POUND:
        return f"{_trimmed(ounces, 2)} oz"
    return f"{_trimmed(ounces / OUNCES_A_POUND, 3)} lb"


def told_as(
    line: TableLine, kg: float, food: Food, household: Household, units: Units
) -> dict[str, object]:
    """Give the keys of a line of the table that tell a week's weight the way the line told it."""
    adults = adults_at_table(household)
    if line.portions_week is None or adults <= 0:
        return {"amount": week_text(kg, units)}
    return {"portions": float(_trimmed(kg / food.portion_kg.value / adults, 4))}


def _trimmed(number: float, decimals: int) -> str:
    text = f"{number:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
