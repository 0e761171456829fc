"""The names a garden may use: every id of the catalogue and every way of writing it."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from haulm.catalogue.records import Catalogue, Form, StoreKind
from haulm.measure.near import near_names


@dataclass(frozen=True, slots=True)
class Way:
    """A way a kind's food keeps: in which form, in which kind of store."""

    kind: str
    food: str
    form: Form
    store: StoreKind


@dataclass(frozen=True, slots=True)
class KnownNames:
    """The ids a garden may name, each table from a spelling in small letters to the id.

    ``methods`` gives the methods of each kind, and ``foods_of_kind`` the foods it gives, by the
    kind's id; ``foods_of_crop`` the foods of each crop; ``ways`` lists every way of keeping.
    ``catalogue`` is where they are from; None where a household's own cannot be added to it.
    """

    crops: Mapping[str, str]
    kinds: Mapping[str, str]
    foods: Mapping[str, str]
    diseases: Mapping[str, str]
    methods: Mapping[str, frozenset[str]]
    foods_of_kind: Mapping[str, frozenset[str]]
    foods_of_crop: Mapping[str, frozenset[str]]
    ways: tuple[Way, ...]
    families: Mapping[str, str] = field(default_factory=dict)
    catalogue: Catalogue | None = None


def known_names(catalogue: Catalogue) -> KnownNames:
    """Gather the names of a catalogue: ids, and names that mean one thing only."""
    return KnownNames(
        crops=spellings((crop.id, crop.name) for crop in catalogue.crops.values()),
        kinds=spellings((kind.id, kind.name) for kind in catalogue.kinds.values()),
        foods=spellings((food.id, food.name) for food in catalogue.foods.values()),
        diseases=spellings((found.id, found.name) for found in catalogue.diseases.values()),
        methods={
            kind.id: frozenset(method.id for method in kind.methods)
            for kind in catalogue.kinds.values()
        },
        foods_of_kind={
            kind.id: frozenset(giving.food for giving in kind.givings)
            for kind in catalogue.kinds.values()
        },
        foods_of_crop={
            crop: frozenset(food.id for food in catalogue.foods.values() if food.crop == crop)
            for crop in catalogue.crops
        },
        ways=tuple(
            Way(kind.id, giving.food, keeping.form, store)
            for kind in catalogue.kinds.values()
            for giving in kind.givings
            for keeping in giving.keeping
            for store in keeping.stores
        ),
        families=spellings((one.id, one.name) for one in catalogue.families.values()),
        catalogue=catalogue,
    )


def spellings(ids_and_names: Iterable[tuple[str, str]]) -> dict[str, str]:
    """Map each id and each name that belongs to one id alone, in small letters, to the id."""
    ids_of_name: dict[str, set[str]] = defaultdict(set)
    ids: dict[str, str] = {}
    for id_, name in ids_and_names:
        ids[id_.casefold()] = id_
        ids_of_name[name.casefold()].add(id_)
    unmistakable = {name: min(owners) for name, owners in ids_of_name.items() if len(owners) == 1}
    return unmistakable | ids


def suggest(word: str, known: Iterable[str], otherwise: str) -> str:
    """Ask whether a near name was meant; where none is near, say what to do otherwise."""
    near = near_names(word, known)
    if not near:
        return otherwise
    quoted = [f'"{name}"' for name in near]
    return f"Did you mean {' or '.join(quoted)}?"


def one_of(choices: Iterable[str]) -> str:
    """List choices as a remedy: ``Write "open", "tunnel" or "glass".``."""
    quoted = [f'"{choice}"' for choice in choices]
    start = f"{', '.join(quoted[:-1])} or " if len(quoted) > 1 else ""
    return f"Write {start}{quoted[-1]}."
