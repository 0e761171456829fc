"""Settle by hand what is about no single planting: so much of a crop, some beds alone, apart."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from haulm.catalogue.records import Catalogue
from haulm.desk.garden.applying import Change, mark_of
from haulm.desk.garden.editing import change_garden, parts_of
from haulm.desk.garden.opening import names_of, open_garden
from haulm.desk.planning.pinning import PIN
from haulm.desk.planning.question import display_names, kinds_for
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.garden import Garden
from haulm.notebook.names import KnownNames, suggest
from haulm.plan.pins import PinRule
from haulm.planner.pin_sentences import settled_words


@dataclass(frozen=True, slots=True)
class PinWish:
    """A pin as it was asked for, in words and typed values; what is empty was not said.

    ``what`` and ``apart_from`` name a kind, a crop or a family.
    """

    rule: str
    what: str
    area: str = ""
    beds: tuple[str, ...] = ()
    method: str = ""
    week: str = ""
    year: str = ""
    apart_from: str = ""


@dataclass(frozen=True, slots=True)
class SettledPin:
    """A pin of a garden: its number counted from 1, and what it settles, in a sentence."""

    number: int
    rule: str
    sentence: str


@dataclass(frozen=True, slots=True)
class PlantNames:
    """What a pin may name, as (id, name): crops, families and kinds that can serve the table."""

    crops: tuple[tuple[str, str], ...]
    families: tuple[tuple[str, str], ...]
    kinds: tuple[tuple[str, str], ...]


def pins_told(path: Path) -> tuple[SettledPin, ...]:
    """Tell everything that is settled by hand in a garden, in its order.

    Raises
    ------
    FaultsFoundError
        With every fault in the garden at once.
    """
    opened = open_garden(path)
    names = display_names(opened.garden, opened.catalogue)
    return tuple(
        SettledPin(number, pin.rule.value, settled_words(pin, names, opened.garden.units))
        for number, pin in enumerate(opened.garden.pins, start=1)
    )


def settle_pin(path: Path, wish: PinWish, at: datetime) -> tuple[Finding, ...]:
    """Write one more pin into a notebook; it comes last in the grower's order.

    Raises
    ------
    FaultsFoundError
        When nothing is called so, or the rule lacks or cannot have something; nothing is written.
    """
    typed = pin_typed(wish, names_of(open_garden(path).garden))
    return change_garden(path, [Change(PIN, "", typed)], at)


def let_go(path: Path, number: int, at: datetime) -> tuple[Finding, ...]:
    """Take a pin out of a notebook by its number counted from 1.

    Raises
    ------
    FaultsFoundError
        When there is no such pin; nothing is written.
    """
    pins = parts_of(path)[PIN]
    if not 1 <= number <= len(pins):
        what = f"there is no pin {number}; there are {len(pins)}."
        raise FaultsFoundError([Finding("--let-go", what, "Look at their numbers with haulm pin.")])
    return change_garden(path, [Change(PIN, mark_of(pins[number - 1]), None)], at)


def pin_typed(wish: PinWish, known: KnownNames) -> dict[str, object]:
    """Put a wish into the keys of a pin; what is wrong with them is found when it is written.

    Raises
    ------
    FaultsFoundError
        When what is named is no kind, crop or family.
    """
    rule = wish.rule.strip().casefold().replace("-", " ")
    typed: dict[str, object] = {"rule": rule, _key_for(wish.what, known): wish.what}
    if rule == PinRule.ONLY_IN:
        typed["beds"] = list(wish.beds)
    elif wish.beds:
        typed["bed"] = wish.beds[0]
    for key in ("area", "method", "week", "year", "apart_from"):
        if value := getattr(wish, key):
            typed[key] = value
    return typed


def _key_for(word: str, known: KnownNames) -> str:
    """Say which key names a word: a crop's, a kind's or a family's."""
    tables = {"crop": known.crops, "kind": known.kinds, "family": known.families}
    for key, spelled in tables.items():
        if word.casefold() in spelled:
            return key
    everything = [name for spelled in tables.values() for name in spelled]
    remedy = suggest(word, everything, "Look at the names with haulm crops.")
    what = f"haulm knows no kind, crop or family “{word}”."
    raise FaultsFoundError([Finding("the pin", what, remedy)])


def plant_names(garden: Garden, catalogue: Catalogue) -> PlantNames:
    """List what a pin may name, by name: of what can serve the garden's table, and families."""
    kinds = kinds_for(garden, catalogue)
    crops = {catalogue.crops[kind.crop].id: catalogue.crops[kind.crop] for kind in kinds}
    grown = {crop.family for crop in crops.values()}
    families = [family for family in catalogue.families.values() if family.id in grown]
    return PlantNames(
        _by_name((crop.id, crop.name) for crop in crops.values()),
        _by_name((family.id, family.name) for family in families),
        _by_name((kind.id, kind.name) for kind in kinds),
    )


def _by_name(pairs: Iterable[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    return tuple(sorted(pairs, key=lambda pair: pair[1].casefold()))
