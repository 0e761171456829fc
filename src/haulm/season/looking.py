"""What to look for when a store is looked through, read from its data file."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from haulm.catalogue.figures import Basis


@dataclass(frozen=True, slots=True)
class Looking:
    """What to look for in a lot, and what to do with what is found soft.

    ``first`` says that soft or sprouted ones may be told to be eaten before the rest; ``basis`` and
    ``source`` say what that rests on; ``source`` is empty where no text was read.
    """

    look: str
    soft: str
    basis: Basis
    source: str = ""
    first: bool = False


@dataclass(frozen=True, slots=True)
class LookingRules:
    """What to look for by form and by food, and how long each form may go unseen [d]."""

    by_form: Mapping[str, Looking]
    by_food: Mapping[str, Looking]
    most_days: Mapping[str, int]

    def of(self, food: str, form: str) -> Looking:
        """Give what to look for in a food kept in a form; a food speaks for itself when loose."""
        loose = form in _LOOSE or (food, form) in _SAID_OF_FOOD
        if loose and food in self.by_food:
            return self.by_food[food]
        return self.by_form[form]


_LOOSE = frozenset({"fresh", "cured", "cellared", "clamped"})
_SAID_OF_FOOD = frozenset({("dry beans", "dried")})


@cache
def looking_rules() -> LookingRules:
    """Read what to look for."""
    text = files("haulm.season").joinpath("data", "looking.toml").read_text(encoding="utf-8")
    told = tomllib.loads(text)
    return LookingRules(
        by_form={form: _looking(entry) for form, entry in told["form"].items()},
        by_food={food: _looking(entry) for food, entry in told["food"].items()},
        most_days={form: int(entry["most_days"]) for form, entry in told["form"].items()},
    )


def _looking(entry: Mapping[str, str]) -> Looking:
    source, first = entry.get("source", ""), bool(entry.get("first", ""))
    return Looking(entry["look"], entry["soft"], Basis(entry["basis"]), source, first)
