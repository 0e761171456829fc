"""Give a garden figures and kinds of its own, and take them back."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from haulm.catalogue.records import Catalogue, Crop
from haulm.desk.garden.applying import new_id
from haulm.desk.garden.editing import Change, Parts, change_garden, mark_of
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding

FIGURE, KIND = "own_figure", "own_kind"


@dataclass(frozen=True, slots=True)
class Whose:
    """Which figure is meant: the id of what has it, and the figure's name."""

    of: str
    figure: str


def own_figure(parts: Parts, catalogue: Catalogue, whose: Whose) -> Mapping[str, Any] | None:
    """Give a figure as the household typed it; None where it is not its own."""
    names = {whose.of.casefold(), *_names_of(catalogue, whose.of)}
    return next(
        (
            part
            for part in parts[FIGURE]
            if part["figure"] == whose.figure and str(part["of"]).casefold() in names
        ),
        None,
    )


def give_figure(
    path: Path, whose: Whose, typed: Mapping[str, str], seen: str, at: datetime
) -> None:
    """Put a household's figure in the place of the catalogue's, or of its own before.

    Parameters
    ----------
    path, whose
        The notebook, and which figure.
    typed
        ``value``, ``low``, ``high`` and ``note`` as typed; what is empty is left out.
    seen
        The mark of the figure as it was shown; empty where it was the catalogue's.
    at
        The time of the change.

    Raises
    ------
    ChangedElsewhereError
        When it was changed meanwhile.
    FaultsFoundError
        With all that is wrong with it, and with what comes of it elsewhere.
    """
    given = {key: text for key in ("value", "low", "high", "note") if (text := typed.get(key))}
    part = {"of": whose.of, "figure": whose.figure} | given
    change_garden(path, [Change(FIGURE, seen, part)], at)


def take_back(path: Path, part: str, seen: str, at: datetime) -> None:
    """Take an own figure or kind out by its mark, whatever it is worth.

    Raises
    ------
    ChangedElsewhereError
        When it was changed or taken out meanwhile.
    FaultsFoundError
        When something else in the garden still names it.
    """
    change_garden(path, [Change(part, seen, None)], at)


def add_kind(path: Path, parts: Parts, crop: Crop, typed: Mapping[str, str], at: datetime) -> str:
    """Add a kind to a crop, by its ``name`` and the kind that it is ``like``; give its id.

    Where plans may choose some kinds only, it is one of them.

    Raises
    ------
    FaultsFoundError
        With all that is wrong with it.
    """
    taken = [str(part["id"]).partition("/")[2] for part in parts[KIND]]
    id_ = f"{crop.id}/{new_id(typed.get('name', ''), taken)}"
    given = {key: text for key in ("like", "name") if (text := typed.get(key))}
    changes = [Change(KIND, "", {"id": id_} | given), *_grown(parts, lambda grown: [*grown, id_])]
    change_garden(path, changes, at)
    return id_


def take_kind_out(path: Path, parts: Parts, id_: str, at: datetime) -> None:
    """Take a kind of the household's own out, with its figures.

    Raises
    ------
    ChangedElsewhereError
        When it was taken out meanwhile.
    FaultsFoundError
        When something else in the garden still names it.
    """
    gone = [part for part in parts[KIND] if part["id"] == id_]
    names = {id_.casefold(), *(str(part["name"]).casefold() for part in gone)}
    figures = [part for part in parts[FIGURE] if str(part["of"]).casefold() in names]
    changes = [Change(KIND, mark_of(part), None) for part in gone]
    changes += [Change(FIGURE, mark_of(part), None) for part in figures]
    rest = _grown(parts, lambda grown: [one for one in grown if one != id_])
    change_garden(path, [*changes, *rest], at)


def _grown(parts: Parts, now: Callable[[list[str]], list[str]]) -> Sequence[Change]:
    """Change the kinds that plans may choose, where they may choose some only."""
    garden = parts["garden"][0]
    grown = garden.get("grow")
    if not grown:
        return ()
    kinds = now([grown] if isinstance(grown, str) else [*grown])
    if not kinds:
        what = "no kind of any crop would be left to choose from."
        raise FaultsFoundError([Finding("the kinds", what, "Let another kind in first.")])
    return (Change("garden", mark_of(garden), {**garden, "grow": kinds}),)


def _names_of(catalogue: Catalogue, of: str) -> set[str]:
    """Give the names by which what has a figure goes, in small letters."""
    tables = (catalogue.kinds, catalogue.foods, catalogue.families, catalogue.diseases)
    return {table[of].name.casefold() for table in tables if of in table}
