"""What a rotation says of itself: which rest is broken, what is left out, what a stand gives."""

from collections.abc import Sequence

from haulm.measure.units import show_area, show_mass
from haulm.rotation.records import (
    HeldGround,
    RotationQuestion,
    StandChoice,
    StandYearGiven,
)

KG_TOLD = 2
WHOLE = 0.995
"""From this share on all of a thing is left out [1]."""


def named(question: RotationQuestion, label: str) -> str:
    """Give the name shown for an id; the id itself where none was given."""
    return question.names.get(label, label)


def family_words(question: RotationQuestion, family: str) -> str:
    """Name a family within a sentence: *the onion family*."""
    called = named(question, family)
    return f"the {called}" if called.endswith("family") else f"the {called} family"


def years_words(years: int) -> str:
    """Write so many years."""
    return "1 year" if years == 1 else f"{years} years"


def rest_words(
    question: RotationQuestion, what: tuple[str, int, str, float], missing: int, lifted: int
) -> str:
    """Say which rest is broken, by how much, and after what."""
    bed, year, family, area = what
    gap = question.gap_years[family]
    return (
        f"{named(question, bed)}, {year}: {family_words(question, family)} comes back"
        f" {years_words(missing)} too soon on {show_area(area, question.units)}; it was last lifted"
        f" there in {lifted}, and wants {years_words(gap)}"
    )


def going_without_words(
    question: RotationQuestion, year: int, family: str, area: tuple[float, float]
) -> str:
    """Say how much of a family's ground a year has no place for."""
    short, whole = area
    share = short / whole
    told = "all" if share > WHOLE else f"{share:.0%}"
    return (
        f"{year}: {family_words(question, family)} goes without {show_area(short, question.units)}"
        f" of the {show_area(whole, question.units)} it would take ({told})"
    )


def line_left_words(question: RotationQuestion, line: str, year: int, share: float) -> str:
    """Say that a line of the table has no stand to serve it, or one too small, in a year."""
    told = "nothing" if share > WHOLE else f"too little by {share:.0%}"
    return f"{year}: {told} is planted that gives {named(question, line)}"


def stand_words(
    question: RotationQuestion,
    choice: StandChoice,
    where: tuple[str, int, float],
    gives: Sequence[StandYearGiven],
) -> str:
    """Say what a stand holds and until when, from which year on it bears, and how much."""
    bed, year, area = where
    bearing = [one for one in gives if one.kg > 0]
    if bearing:
        first, best = bearing[0], max(bearing, key=lambda one: (round(one.kg, KG_TOLD), -one.age))
        told = f"nothing before {first.year}" if first.age > 1 else "from the first year"
        told += f"; {show_mass(first.kg, question.units)} that year"
        if best.year != first.year:
            told += f", {show_mass(best.kg, question.units)} from {best.year} on"
    else:
        told = "it gives nothing within its life"
    return (
        f"{named(question, choice.kind)} in {named(question, bed)}, planted {year} on"
        f" {show_area(area, question.units)} for {named(question, choice.line)}: {told}; worn out"
        f" after {gives[-1].year}"
    )


def notes(question: RotationQuestion) -> tuple[str, ...]:
    """Tell of what stands for years: until when it holds its ground, and what is worn out."""
    return tuple(_held_words(question, held) for held in question.held if held.lasting)


def _held_words(question: RotationQuestion, held: HeldGround) -> str:
    where = (
        f"{named(question, held.kind)} in {named(question, held.bed)},"
        f" {show_area(held.area_m2, question.units)}"
    )
    if held.worn_out:
        return f"{where}: it is past its life; its ground is counted free after {held.lifted_year}"
    return f"{where}: it holds its ground until the end of {held.lifted_year}"
