"""Say which foods the table wants kept that no place in the garden keeps."""

from haulm.catalogue.records import Kind
from haulm.household.records import TableLine, Wanted
from haulm.measure.findings import Finding, Grade
from haulm.notebook.garden import Garden


def unkept(garden: Garden, kinds: tuple[Kind, ...]) -> tuple[Finding, ...]:
    """Tell of every line that may be served kept for which the garden has no fitting store.

    A warning where it is wanted kept; a note where it may be fresh too.
    """
    here = {store.kind for store in garden.stores}
    findings = []
    for line in garden.household.table:
        ways = keeping_places(line, kinds)
        if line.wanted is Wanted.FRESH or not ways or ways & here:
            continue
        places = " or ".join(sorted(ways))
        findings.append(
            Finding(
                where=f"stores, for {line.name}",
                what=f"the garden names no place where it keeps: it wants a {places}.",
                remedy="Name such a store, or want it fresh in its own season.",
                grade=Grade.WARNING if line.wanted is Wanted.KEPT else Grade.NOTE,
            )
        )
    return tuple(findings)


def keeping_places(line: TableLine, kinds: tuple[Kind, ...]) -> set[str]:
    """Gather the kinds of store in which any food of a line keeps, in any form."""
    return {
        place
        for kind in kinds
        for giving in kind.givings
        if giving.food in line.foods
        for keeping in giving.keeping
        for place in keeping.stores
    }
