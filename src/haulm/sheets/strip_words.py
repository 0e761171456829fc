"""What the strip for the fridge door says of a food, in household pieces where it can."""

from math import ceil, floor

from haulm.measure.units import Units, show_mass
from haulm.season.fridge_strip import StripLine

FREELY = "freely"
NONE = "none"
LEAST_KG = 0.001


def limit_text(line: StripLine, piece: str, pieces: str, units: Units) -> str:
    """Say what a week's dinners may take of a food.

    Parameters
    ----------
    line
        The food and what a week may take.
    piece, pieces
        What one piece is called, and several.
    units
        In which weights are told where there are no pieces.
    """
    if line.freely:
        return FREELY
    if line.week_kg < LEAST_KG:
        return NONE
    if line.piece_kg is None:
        return show_mass(line.week_kg, units)
    number = line.week_kg / line.piece_kg
    if number >= 1:
        whole = floor(number + 1e-9)
        return f"{whole} {piece if whole == 1 else pieces}"
    return f"1 {piece} in {ceil(1 / number - 1e-9)} weeks"


def first_text(line: StripLine, units: Units) -> str:
    """Say what of a food is to be eaten before the rest; empty where nothing is."""
    said = []
    for kg, word in ((line.soft_kg, "soft"), (line.sprouted_kg, "sprouted")):
        if kg <= 0:
            continue
        if line.piece_kg is None:
            said.append(f"{show_mass(kg, units)} that is {word}")
            continue
        number = max(1, round(kg / line.piece_kg))
        said.append(f"the {number} {word} ones" if number > 1 else f"the {word} one")
    return f"{' and '.join(said)} first" if said else ""
