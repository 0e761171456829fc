"""A rotation as a table: beds down, years across, each family by its mark, name and ground."""

from collections.abc import Iterable
from dataclasses import dataclass

from haulm.catalogue.records import Catalogue
from haulm.desk.beds.rotation import YearsLaid
from haulm.notebook.garden import Garden
from haulm.rotation.records import RotationQuestion
from haulm.rotation.seasons import year_of


@dataclass(frozen=True, slots=True)
class Stood:
    """What stands in a bed in a year.

    Attributes
    ----------
    name, mark
        The family's name and two letters; of what stays for years the kind's name, without a mark.
    area_m2
        Its ground [m²].
    too_soon
        Whether it comes back before its rest is over.
    stays
        Whether it stays for years.
    """

    name: str
    mark: str
    area_m2: float
    too_soon: bool = False
    stays: bool = False


@dataclass(frozen=True, slots=True)
class BedRow:
    """A bed, and what stands in it in each year."""

    bed: str
    name: str
    area_m2: float
    years: tuple[tuple[Stood, ...], ...]


def rows_laid(laid: YearsLaid) -> tuple[BedRow, ...]:
    """Give the table of a rotation that was laid out."""
    question = laid.question
    return tuple(
        BedRow(
            bed.id,
            question.names.get(bed.id, bed.id),
            bed.area_m2,
            tuple(
                (*_families(laid, bed.id, year), *_lasting(laid, bed.id, year))
                for year in question.span
            ),
        )
        for bed in question.beds
    )


def _families(laid: YearsLaid, bed: str, year: int) -> Iterable[Stood]:
    broken = {(one.bed, one.year, one.family) for one in laid.rotation.broken}
    for one in laid.rotation.families:
        if (one.bed, one.year) == (bed, year):
            family = laid.catalogue.families[one.family]
            too_soon = (bed, year, one.family) in broken
            yield Stood(family.name, family.mark, one.area_m2, too_soon)


def _lasting(laid: YearsLaid, bed: str, year: int) -> Iterable[Stood]:
    question: RotationQuestion = laid.question
    for one in laid.rotation.stands:
        if one.bed == bed and one.planted_year <= year <= one.last_year:
            yield Stood(question.names.get(one.kind, one.kind), "", one.area_m2, stays=True)
    for held in question.held:
        if held.bed == bed and held.lasting and year <= year_of(held.until_season - 1):
            yield Stood(question.names.get(held.kind, held.kind), "", held.area_m2, stays=True)


def years_kept(garden: Garden) -> tuple[int, ...]:
    """Give the years in which the garden keeps ground for families, in order."""
    return tuple(sorted({one.year for one in garden.allotments}))


def rows_kept(garden: Garden, catalogue: Catalogue) -> tuple[BedRow, ...]:
    """Give the table of the rotation that a garden keeps: how far each family may spread."""
    return tuple(
        BedRow(
            bed.id,
            bed.name,
            bed.outline.area_m2,
            tuple(
                tuple(
                    Stood(
                        catalogue.families[one.family].name,
                        catalogue.families[one.family].mark,
                        one.area_m2,
                    )
                    for one in garden.allotments
                    if (one.bed, one.year) == (bed.id, year)
                )
                for year in years_kept(garden)
            ),
        )
        for bed in garden.beds
    )
