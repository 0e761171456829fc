"""What to do about a trouble that was seen, read from its data file."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from haulm.season.records import Severity


@dataclass(frozen=True, slots=True)
class Trouble:
    """What to do about one trouble.

    Attributes
    ----------
    name
        Its name.
    words
        How it may be written down, in small letters.
    soil
        The disease of the catalogue whose clock closes the bed; empty where none does.
    last
        How late its bed is visited on a round: 2 for what lives in soil, 1 for the rest.
    basis
        What the advice rests on.
    slight, bad
        What to do where it is slight, and where it is bad.
    eat
        What is still good to eat.
    never
        What to leave undone.
    """

    name: str
    words: tuple[str, ...]
    soil: str
    last: int
    basis: str
    slight: str
    bad: str
    eat: str
    never: str

    def advice(self, severity: Severity | None) -> str:
        """Give what to do; what nobody judged is taken as slight."""
        return self.bad if severity in {Severity.BAD, Severity.LOST} else self.slight


@cache
def troubles() -> Mapping[str, Trouble]:
    """Read every trouble, by each of the words that it may be written down by."""
    text = files("haulm.season").joinpath("data", "troubles.toml").read_text(encoding="utf-8")
    found: dict[str, Trouble] = {}
    for name, entry in tomllib.loads(text).items():
        trouble = Trouble(**(entry | {"name": name, "words": tuple(entry["words"])}))
        found |= dict.fromkeys((name, *trouble.words), trouble)
    return found


def soil_disease(words: str) -> str:
    """Give the disease of the soil that was written down, by the catalogue's id.

    A word that is in no list is given as it is: the catalogue may know it.
    """
    found = trouble_named(words)
    return found.soil if found else words.strip().casefold()


def trouble_named(words: str) -> Trouble | None:
    """Find a trouble by what was written down; None for one nobody has put in."""
    return troubles().get(words.strip().casefold())
