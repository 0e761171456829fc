"""Why a number on a plan is what it is: one answer to one thing asked about."""

from collections.abc import Sequence
from dataclasses import dataclass

from haulm.catalogue.records import Catalogue, Figure
from haulm.desk.planning.plans import Made
from haulm.desk.showing.crop_pages import plain_number
from haulm.desk.worth.figures_told import rests_on
from haulm.desk.worth.worths import Worths
from haulm.measure.units import Units, show_area, show_length, show_mass, show_volume
from haulm.planner.question import PlanQuestion

POUND_KG = 0.45359237
"""The international pound, exactly [kg]."""


@dataclass(frozen=True, slots=True)
class Shown:
    """Rows of figures under heads; heads that start with ``>`` are ranged right."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Part:
    """One part of an answer: sentences, rows of figures, or both, under a heading.

    ``folded`` says that a page may leave its rows folded away until they are asked for.
    """

    heading: str
    lines: tuple[str, ...] = ()
    shown: Shown | None = None
    folded: bool = False


@dataclass(frozen=True, slots=True)
class Reckoned:
    """A figure that an answer was reckoned with: its name, its value, and what it rests on."""

    name: str
    value: str
    rests_on: str


@dataclass(frozen=True, slots=True)
class See:
    """Something else that may be asked about: its path, and what to call it."""

    path: str
    words: str


@dataclass(frozen=True, slots=True)
class Why:
    """An answer.

    Attributes
    ----------
    path
        What was asked about, as in ``planting/garlic-1`` or ``week/2027-05-03``.
    name
        What to call it.
    answer
        The number and its reason in a sentence or two.
    parts
        The parts of the answer, the sum last.
    figures
        The figures it was reckoned with, each with what it rests on.
    see
        What else to ask about.
    """

    path: str
    name: str
    answer: str
    parts: tuple[Part, ...]
    figures: tuple[Reckoned, ...] = ()
    see: tuple[See, ...] = ()


@dataclass(frozen=True, slots=True)
class Grounds:
    """What answers are made from: a plan with its garden, and what is told beside it."""

    made: Made
    worths: Worths

    @property
    def question(self) -> PlanQuestion:
        """What the plan answers, its sowings left out."""
        return self.worths.question

    @property
    def units(self) -> Units:
        """Metric or us."""
        return self.made.garden.units

    def name(self, label: str) -> str:
        """Give the name shown for an id."""
        return self.made.names.get(label, label)

    def mass(self, kg: float) -> str:
        """Write a mass."""
        return show_mass(kg, self.units)

    def area(self, m2: float) -> str:
        """Write an area."""
        return show_area(m2, self.units)

    def length(self, m: float) -> str:
        """Write a length."""
        return show_length(m, self.units)

    def room(self, l_kg: float) -> str:
        """Write what room a weight takes: *2.6 l a kg*, *0.31 gal a lb*."""
        if self.units == "us":
            return f"{show_volume(l_kg * POUND_KG, 'us')} a lb"
        return f"{show_volume(l_kg, 'metric')} a kg"

    def volume(self, litres: float) -> str:
        """Write a volume."""
        return show_volume(litres, self.units)


def parts_of_use(*parts: Part) -> tuple[Part, ...]:
    """Keep the parts that say something."""
    return tuple(part for part in parts if part.lines or part.shown)


def reckoned(name: str, figure: object, catalogue: Catalogue) -> Reckoned:
    """Tell a figure of the catalogue with its unit and what it rests on, or that nobody has one."""
    if not isinstance(figure, Figure):
        why = getattr(figure, "why", "")
        return Reckoned(name, "not known", f"{why}" if why else "nobody has told it")
    unit = "" if figure.unit == "1" else f" {figure.unit}"
    return Reckoned(name, f"{plain_number(figure.value)}{unit}", rests_on(figure, catalogue))


def once_each(figures: Sequence[Reckoned]) -> tuple[Reckoned, ...]:
    """Give each figure once."""
    return tuple(dict.fromkeys(figures))
