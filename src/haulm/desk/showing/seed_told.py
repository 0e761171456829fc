"""How soon a crop's seed shows and how much of it does, for pages and the terminal."""

from dataclasses import dataclass

from haulm.catalogue.emergence import Emergence, emergence_of
from haulm.catalogue.records import Basis, Catalogue, Crop, Source


@dataclass(frozen=True, slots=True)
class SeedLine:
    """What seed does in moist soil held at one temperature [°C].

    ``days`` to show [d], 0 where little or none comes up, None where that was not tried; ``share``
    that makes seedlings [1], None likewise.
    """

    soil_c: float
    days: float | None
    share: float | None


@dataclass(frozen=True, slots=True)
class SeedTold:
    """A crop's seed by the soil's warmth, what that rests on, and the texts it was read in."""

    lines: tuple[SeedLine, ...]
    rests_on: str
    sources: tuple[Source, ...]


def seed_told(catalogue: Catalogue, crop: Crop) -> SeedTold | None:
    """Tell how a crop's seed comes up; None where no table is known."""
    table = emergence_of(crop.id)
    if table is None:
        return None
    days = dict.fromkeys(table.none_at_c, 0.0) | dict(zip(table.at_c, table.days, strict=True))
    shares = dict(zip(table.share_at_c, table.share, strict=True))
    lines = tuple(
        SeedLine(soil_c, days.get(soil_c), shares.get(soil_c))
        for soil_c in sorted(days.keys() | shares.keys())
    )
    return SeedTold(lines, _rests_on(table), tuple(catalogue.sources[id_] for id_ in table.sources))


def _rests_on(table: Emergence) -> str:
    own = table.basis is Basis.PUBLISHED
    rests_on = "published, of its own seed" if own else f"judged, by the table of {table.table}"
    return f"{rests_on}; {table.note}" if table.note else rests_on
