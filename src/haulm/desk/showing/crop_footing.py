"""How firmly crops stand, and what is weakest, in words."""

from functools import cache

from haulm.catalogue.footing import Weighed
from haulm.catalogue.gaps import CatalogueGap, gaps_of
from haulm.catalogue.loader import load_with_places
from haulm.desk.showing.crop_pages import worded


@cache
def catalogue_gaps() -> tuple[CatalogueGap, ...]:
    """List what is weakest in the catalogue that comes with haulm, the gravest first."""
    return gaps_of(load_with_places())


def footing_words(stands: Weighed) -> str:
    """Say a footing with the two matters that cost it most, as in *fair, least in timing*."""
    return f"{stands.footing.value}; least firm in {' and '.join(stands.least_firm)}"


def lacking_words(gap: CatalogueGap) -> str:
    """Name what a gap is about: some figures of a crop, or the crop."""
    return ", ".join(worded(field) for field in gap.figures) or "most of its figures"


def counted_gaps(gaps: tuple[CatalogueGap, ...]) -> dict[str, int]:
    """Count gaps by their sort."""
    counts: dict[str, int] = {}
    for gap in gaps:
        counts[gap.sort.value] = counts.get(gap.sort.value, 0) + 1
    return counts
