"""Figures of one kind standing in for those that nobody has of another.

A table of a kind may say ``stands_in = "crop/kind"``: what it does not give itself is then taken
from the same table of that kind, which may borrow in its turn. What is borrowed keeps the name of
the kind whose own it is, so that nobody takes it for a figure of the borrower.
"""

from collections.abc import Mapping
from typing import Any

from haulm.catalogue.placed import Placed
from haulm.measure.findings import Finding
from haulm.measure.near import near_names

STANDS_IN = "stands_in"

Path = tuple[str, ...]


def fill_from_kin(kinds: Mapping[str, Placed]) -> tuple[dict[str, Placed], tuple[Finding, ...]]:
    """Fill the tables of every kind that name another kind to stand in.

    Parameters
    ----------
    kinds
        The table of each kind by its id, filled already from what its crop shares.

    Returns
    -------
    The same with what is borrowed put in, and what could not be borrowed: a kind that nobody
    knows, a kind that has no such table, or kinds that stand in for one another in a ring.
    """
    lender = _Lender(kinds)
    filled = {id_: lender.filled(id_) for id_ in kinds}
    return filled, tuple(dict.fromkeys(lender.findings))


class _Lender:
    def __init__(self, kinds: Mapping[str, Placed]) -> None:
        self._kinds = kinds
        self.findings: list[Finding] = []

    def filled(self, kind: str) -> Placed:
        """Fill every table of a kind; one that cannot be filled stays as it is, with a finding."""
        return self._deep(self._kinds[kind], kind, (), (kind,))

    def _deep(self, table: Placed, kind: str, path: Path, trail: tuple[str, ...]) -> Placed:
        """Fill the tables within a table."""
        inner = dict(table)
        for key, entry in table.items():
            if _may_borrow(entry):
                way = (*path, key)
                inner[key] = self._deep(self._filled(entry, kind, way, trail), kind, way, trail)
        return Placed(inner, table.place, (table,), table.whose)

    def _filled(self, table: Placed, kind: str, path: Path, trail: tuple[str, ...]) -> Placed:
        """Fill a table from its kin, those within it left as they are."""
        if STANDS_IN not in table:
            return table
        other, own = table[STANDS_IN], _without(table)
        fault = self._fault_with(other, trail)
        lent = None if fault else self._at(other, path, (*trail, other))
        if fault is None and lent is None:
            remedy = "Name a kind that has, or give figures."
            fault = (f"{other} has no {', '.join(path)} to lend.", remedy)
        if fault is not None:
            where = f"{', '.join((kind, *path, STANDS_IN))} ({table.key_places[STANDS_IN]})"
            self.findings.append(Finding(where, *fault))
            return own
        return own if lent is None else _laid_over(_lent(lent, other), own)

    def _fault_with(self, other: object, trail: tuple[str, ...]) -> tuple[str, str] | None:
        """Say what is wrong with a kind named to stand in, and how to mend it."""
        if not isinstance(other, str):
            return f"“{other}” is no kind.", f'Name one, as in {STANDS_IN} = "onion/sets".'
        if other not in self._kinds:
            near = near_names(other, self._kinds)
            remedy = f"Did you mean {' or '.join(near)}?" if near else "Name a kind there is."
            return f"no kind “{other}” is known.", remedy
        if other in trail:
            ring = " → ".join((*trail, other))
            what = f"kinds stand in for one another in a ring: {ring}."
            return what, "Give one of them figures of its own."
        return None

    def _at(self, kind: str, path: Path, trail: tuple[str, ...]) -> Placed | None:
        """Find a table of a kind, whole, whatever it borrows itself put in; None without one."""
        table = self._kinds[kind]
        for depth, key in enumerate(path, start=1):
            entry = table.get(key)
            if not isinstance(entry, Placed):
                return None
            table = self._filled(entry, kind, path[:depth], trail)
        return self._deep(table, kind, path, trail)


def _laid_over(base: Placed, own: Placed) -> Placed:
    """Lay a kind's own figures over borrowed ones, a figure whole, tables within one by one."""
    inner = dict(own)
    for key, entry in own.items():
        below = base.get(key)
        if isinstance(below, Placed) and _may_borrow(entry) and _may_borrow(below):
            inner[key] = _laid_over(below, entry)
    return Placed({**base, **inner}, own.place, (base, own))


def _lent(table: Placed, kind: str) -> Placed:
    """Mark every figure of a table as another kind's, where it is not marked already."""
    inner = {
        key: _lent(entry, kind) if isinstance(entry, Placed) else entry
        for key, entry in table.items()
        if key != STANDS_IN
    }
    return Placed(inner, table.place, (table,), table.whose or kind)


def _may_borrow(entry: Any) -> bool:  # noqa: ANN401 -- a TOML value may be anything
    return isinstance(entry, Placed) and "value" not in entry and "absent" not in entry


def _without(table: Placed) -> Placed:
    inner = {key: entry for key, entry in table.items() if key != STANDS_IN}
    return Placed(inner, table.place, (table,), table.whose)
