"""A household's own figures and kinds, put into the catalogue for its garden alone."""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from graphlib import CycleError, TopologicalSorter
from typing import TypeVar

from haulm.catalogue.naming import FigureAt, figures_by_name, with_figures
from haulm.catalogue.own_pace import OwnPace, paces_at_fault, with_paces
from haulm.catalogue.records import Basis, Catalogue, Disease, Family, Figure, Food, Kind
from haulm.catalogue.soundness import MAY_BE_NOTHING, SHARES, kind_at_fault
from haulm.measure.errors import FaultsFoundError
from haulm.measure.figure_units import parse_figure
from haulm.measure.findings import Finding
from haulm.measure.near import near_names

KIND, FIGURE = "own_kind", "own_figure"
"""The parts of a garden that findings are placed in."""

Typed = int | float | str
Holder = Kind | Food | Family | Disease
T = TypeVar("T", Kind, Food, Family, Disease)


@dataclass(frozen=True, slots=True)
class OwnKind:
    """A kind of the household's own: like another in all that is not said of it otherwise."""

    id: str
    like: str
    name: str


@dataclass(frozen=True, slots=True)
class OwnFigure:
    """A household's own figure, as typed.

    Attributes
    ----------
    of
        The id or name of a kind, food, family or disease.
    figure
        The figure's name, as in ``stand.depth_m``: see `haulm.catalogue.naming`.
    value, low, high
        In the figure's unit, or with a unit that fits it; both ends of the spread or neither.
    note
        What the household knows of it.
    """

    of: str
    figure: str
    value: Typed
    low: Typed | None = None
    high: Typed | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Own:
    """All that a household puts in place of the catalogue, or beside it."""

    kinds: tuple[OwnKind, ...] = ()
    figures: tuple[OwnFigure, ...] = ()
    paces: tuple[OwnPace, ...] = ()


_Key = tuple[type, str]
"""By what a record with figures is known: its sort and id."""


class _Places:
    """Every record of a catalogue that has figures, by id and by name; each is walked once."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._records: dict[_Key, Holder] = {}
        self._called: dict[str, list[_Key]] = {}
        self._figures: dict[_Key, dict[str, FigureAt]] = {}
        shelves = (catalogue.kinds, catalogue.foods, catalogue.families, catalogue.diseases)
        for record in (record for shelf in shelves for record in shelf.values()):
            key = (type(record), record.id)
            self._records[key] = record
            for word in {record.id.casefold(), record.name.casefold()}:
                self._called.setdefault(word, []).append(key)

    @property
    def ids(self) -> list[str]:
        """Every id."""
        return [id_ for _, id_ in self._records]

    def called(self, word: str) -> Sequence[_Key]:
        """Give what goes by a word."""
        return self._called.get(word.casefold(), ())

    def of(self, key: _Key) -> Mapping[str, FigureAt]:
        """Give every place for a figure in a record, by name."""
        if key not in self._figures:
            self._figures[key] = figures_by_name(self._records[key])
        return self._figures[key]


@dataclass(frozen=True, slots=True)
class _Named:
    """An own figure whose place in the catalogue is known: its number, holder, name and value."""

    number: int
    holder: _Key
    name: str
    figure: Figure


def with_own(catalogue: Catalogue, own: Own) -> tuple[Catalogue, tuple[Finding, ...]]:
    """Put a household's own kinds and figures into the catalogue.

    An own kind is added after the catalogue's, with its like's figures as they stand in this
    garden. An own figure's basis is *own*, and the figure of the catalogue stays within it.

    Returns
    -------
    The garden's catalogue, without whatever was at fault, and every fault, placed by part and
    number. With nothing of its own, the very catalogue that was given.
    """
    if own == Own():
        return catalogue, ()
    faults: list[Finding] = []
    sound = _sound_kinds(catalogue, own.kinds, faults)
    likes = {kind.id: kind for kind in sound}
    base = {one.id: _copy(catalogue, one, likes) for one in sound}
    widened = replace(catalogue, kinds={**catalogue.kinds, **base})
    lost = {one.id for one in own.kinds} - widened.kinds.keys()
    places = _Places(widened)
    named = _named(places, own.figures, lost, faults)
    put = partial(_with, named=_by_holder(named), places=places)
    kinds = {id_: put(kind) for id_, kind in catalogue.kinds.items()}
    for one in sound:
        kinds[one.id] = put(replace(kinds[one.like], id=one.id, name=one.name))
    faults.extend(slow := paces_at_fault(own.paces))
    paces = () if slow else own.paces
    made = replace(
        catalogue,
        kinds={id_: with_paces(kind, paces) for id_, kind in kinds.items()},
        foods={id_: put(food) for id_, food in catalogue.foods.items()},
        families={id_: put(family) for id_, family in catalogue.families.items()},
        diseases={id_: put(disease) for id_, disease in catalogue.diseases.items()},
    )
    faults.extend(_at_odds(made, sound, own, named))
    return made, tuple(faults)


def _sound_kinds(
    catalogue: Catalogue, kinds: tuple[OwnKind, ...], faults: list[Finding]
) -> list[OwnKind]:
    """Give the own kinds that can be made, each after the one that it is like."""
    known = {*catalogue.kinds, *(one.id for one in kinds)}
    numbers = {one.id: number for number, one in enumerate(kinds)}
    left = {one.id: one for one in kinds}
    for number, one in enumerate(kinds):
        for key, what, remedy in _wrong_with_kind(catalogue, one, kinds, known):
            faults.append(_fault((KIND, number, key), one.name, what, remedy))
            left.pop(one.id, None)
    order = _likes_first(left)
    while isinstance(order, set):
        first = min(order & left.keys(), key=numbers.__getitem__)
        what = f"kinds are like one another in a ring: {', '.join(sorted(order & left.keys()))}."
        remedy = "Let one of them be like a kind of the catalogue."
        faults.append(_fault((KIND, numbers[first], "like"), left[first].name, what, remedy))
        left = {id_: one for id_, one in left.items() if id_ not in order}
        order = _likes_first(left)
    made = set(catalogue.kinds)
    sound = [left[id_] for id_ in order if id_ in left]
    for one in [*sound]:
        if one.like in made:
            made.add(one.id)
        else:
            sound.remove(one)
    return sound


def _likes_first(kinds: Mapping[str, OwnKind]) -> tuple[str, ...] | set[str]:
    """Order ids so that each comes after its like; the ids of a ring where there is one."""
    try:
        order = TopologicalSorter({id_: {one.like} for id_, one in kinds.items()}).static_order()
        return tuple(order)
    except CycleError as error:
        return set(error.args[1])


def _wrong_with_kind(
    catalogue: Catalogue, one: OwnKind, kinds: tuple[OwnKind, ...], known: Collection[str]
) -> Iterator[tuple[str, str, str]]:
    """Say what is wrong with one own kind by itself: the key, what, and the remedy."""
    crop, _, rest = one.id.partition("/")
    if one.like not in known:
        near = near_names(one.like, known)
        remedy = f"Did you mean {' or '.join(near)}?" if near else "haulm crops lists every kind."
        yield "like", f"no kind “{one.like}” is known.", remedy
    elif crop != one.like.partition("/")[0] or not rest or "/" in rest:
        example = f"{one.like.partition('/')[0]}/{rest or crop}"
        yield "id", f"“{one.id}” does not say whose kind it is.", f"Write it as in {example}."
    if one.id in catalogue.kinds:
        yield "id", f"“{one.id}” is a kind of the catalogue.", "Give yours another id."
    if sum(other.id == one.id for other in kinds) > 1:
        yield "id", f"“{one.id}” is used twice.", "Change one of them."
    names = [kind.name.casefold() for kind in catalogue.kinds.values()]
    names += [other.name.casefold() for other in kinds if other is not one]
    if one.name.casefold() in names:
        yield "name", f"another kind is called “{one.name}”.", "Give yours another name."


def _copy(catalogue: Catalogue, one: OwnKind, likes: Mapping[str, OwnKind]) -> Kind:
    """Make an own kind as the catalogue's it goes back to, no own figures counted."""
    root = one
    while root.like in likes:
        root = likes[root.like]
    return replace(catalogue.kinds[root.like], id=one.id, name=one.name)


def _named(
    places: _Places,
    figures: tuple[OwnFigure, ...],
    lost: Collection[str],
    faults: list[Finding],
) -> list[_Named]:
    """Find every own figure's place in the catalogue and read it; collect what is at fault.

    A figure of a kind that was lost to a fault of its own is passed over.
    """
    named: list[_Named] = []
    for number, one in enumerate(figures):
        if one.of in lost:
            continue
        found = _place_of(places, number, one, faults)
        if found is None:
            continue
        holder, at = found
        figure = _read(number, one, at, faults)
        if any(before.holder == holder and before.name == at.name for before in named):
            what, remedy = "you have given this figure already.", "Take one of them out."
            faults.append(_fault((FIGURE, number, "figure"), one.of, what, remedy))
        elif figure is not None:
            named.append(_Named(number, holder, at.name, figure))
    return named


def _place_of(
    places: _Places, number: int, one: OwnFigure, faults: list[Finding]
) -> tuple[_Key, FigureAt] | None:
    """Find the one record that goes by a name and has the figure named."""
    holders = places.called(one.of)
    if not holders:
        near = near_names(one.of, places.ids)
        remedy = (
            f"Did you mean {' or '.join(near)}?"
            if near
            else "Name a kind, a food, a family or a disease as haulm crops does."
        )
        what = f"nothing called “{one.of}” has figures."
        faults.append(_fault((FIGURE, number, "of"), one.of, what, remedy))
        return None
    there = {holder: places.of(holder) for holder in holders}
    fitting = {key: names[one.figure] for key, names in there.items() if one.figure in names}
    if len(fitting) == 1:
        return fitting.popitem()
    if fitting:
        ids = " or ".join(sorted(id_ for _, id_ in fitting))
        what, remedy = f"“{one.of}” may be {ids}.", "Name it by its id."
        faults.append(_fault((FIGURE, number, "of"), one.of, what, remedy))
        return None
    every = [name for names in there.values() for name in names]
    near = near_names(one.figure, every) or _alike(one.figure, every)
    remedy = f"haulm crops “{one.of}” --names lists its figures."
    remedy = f"Did you mean {' or '.join(near)}?" if near else remedy
    what = f"{one.of} has no figure “{one.figure}”."
    faults.append(_fault((FIGURE, number, "figure"), one.of, what, remedy))
    return None


def _alike(word: str, names: Iterable[str]) -> tuple[str, ...]:
    """Give names of figures whose last part is like a word's, or begins with it."""
    last = {name.rpartition(".")[2]: name for name in names}
    sought = word.rpartition(".")[2].casefold()
    begun = [name for part, name in last.items() if part.startswith(sought)]
    return (*(last[near] for near in near_names(sought, last)), *begun)[:3]


def _read(number: int, one: OwnFigure, at: FigureAt, faults: list[Finding]) -> Figure | None:
    """Read an own figure in the unit of its place; None, with the faults, where it cannot be."""
    read: dict[str, float] = {}
    wrong = []
    for key in ("value", "low", "high"):
        typed = getattr(one, key)
        if typed is None:
            continue
        try:
            read[key] = parse_figure(typed, at.unit, one.of)
            wrong += [(key, *words) for words in _impossible(read[key], at.name)]
        except FaultsFoundError as error:
            wrong += [(key, found.what, found.remedy) for found in error.findings]
    if ("low" in read) != ("high" in read) and not wrong:
        lacking = "high" if "low" in read else "low"
        wrong.append((lacking, "one end of its spread is missing.", "Give both ends or neither."))
    in_order = [read[key] for key in ("low", "value", "high") if key in read]
    if not wrong and in_order != sorted(in_order):
        what = "its low, value and high are out of order."
        wrong.append(("value", what, "Give the lowest as low and the highest as high."))
    faults.extend(
        _fault((FIGURE, number, key), one.of, what, remedy) for key, what, remedy in wrong
    )
    if wrong:
        return None
    return Figure(
        value=read["value"],
        unit=at.unit,
        basis=Basis.OWN,
        low=read.get("low"),
        high=read.get("high"),
        note=one.note,
    )


def _impossible(value: float, name: str) -> Iterator[tuple[str, str]]:
    """Say what a figure of this name cannot be."""
    field = name.rpartition(".")[2]
    if field in SHARES and not 0 < value <= 1:
        yield f"{value:g} is no share.", "Give it above 0 and at most 1, or as in 80 %."
    elif field not in MAY_BE_NOTHING and value <= 0:
        yield f"{value:g} cannot be.", "Give it above 0."


def _by_holder(named: Iterable[_Named]) -> Mapping[_Key, Sequence[_Named]]:
    """Gather own figures by the record they are of."""
    held: dict[_Key, list[_Named]] = {}
    for one in named:
        held.setdefault(one.holder, []).append(one)
    return held


def _with(record: T, named: Mapping[_Key, Sequence[_Named]], places: _Places) -> T:
    """Put the own figures of a record into it, those of the catalogue within them."""
    key = (type(record), record.id)
    if key not in named:
        return record
    there = places.of(key)
    own = {one.name: replace(one.figure, replaced=there[one.name].figure) for one in named[key]}
    return with_figures(record, own)


def _at_odds(
    made: Catalogue, sound: Iterable[OwnKind], own: Own, named: Iterable[_Named]
) -> Iterator[Finding]:
    """Find kinds whose figures no longer agree with one another, once for the figure given last."""
    last = {one.holder[1]: one.number for one in named if one.holder[0] is Kind}
    likes = {one.id: one.like for one in sound}
    told: Counter[tuple[int, str]] = Counter()
    for kind in made.kinds.values():
        whose = kind.id
        while whose not in last and whose in likes:
            whose = likes[whose]
        if whose not in last:
            continue
        for fault in kind_at_fault(kind):
            number = last[whose]
            told[number, fault.what] += 1
            if told[number, fault.what] == 1:
                of = own.figures[number].of
                yield _fault((FIGURE, number, "value"), of, fault.what, fault.remedy)


def _fault(place: tuple[str, int, str], where: str, what: str, remedy: str) -> Finding:
    """Make one fault in a household's own kinds or figures."""
    return Finding(f"your own of {where}", what, remedy, place=place)
