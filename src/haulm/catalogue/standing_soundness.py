"""What must hold of kinds that stay for years, and of those that only feed their ground."""

from collections.abc import Iterator

from haulm.catalogue.lasting import GreenManure, Perennial
from haulm.catalogue.records import Basis, Kind, Picking, Role
from haulm.measure.findings import Finding

CARE = ("mulch", "cut down")
"""The yearly jobs that are known by name."""

DAYS_A_YEAR = 366


def standing_at_fault(kind: Kind) -> Iterator[Finding]:
    """Find what does not agree in a kind that stays for years or feeds its ground."""
    if kind.perennial is not None and kind.green_manure is not None:
        what = "it cannot stay for years and be dug in."
        yield Finding(kind.id, what, "Keep one of perennial and green_manure.")
    if kind.perennial is not None:
        yield from _perennial_at_fault(kind, kind.perennial)
    if kind.green_manure is not None:
        yield from _manure_at_fault(kind, kind.green_manure)


def _perennial_at_fault(kind: Kind, perennial: Perennial) -> Iterator[Finding]:
    where = f"{kind.id}, perennial"
    years = [one.year for one in perennial.years]
    if not years or not all(year.isdecimal() and int(year) > 0 for year in years):
        yield Finding(f"{where}, years", "they are not told by number.", "Name them from 1 on.")
    elif [int(year) for year in years] != sorted({int(year) for year in years}):
        yield Finding(f"{where}, years", "they are out of order.", "Begin with the first.")
    elif perennial.stand_years.value < int(years[-1]):
        what = "a stand would be past its life before the last year that is told."
        yield Finding(f"{where}, stand_years", what, "Correct one of the two.")
    for care in perennial.care:
        if care.id not in CARE:
            what = f"no yearly job “{care.id}” is known."
            yield Finding(f"{where}, care", what, f"Use {' or '.join(CARE)}.")
        if not 0 <= care.after_days.value < DAYS_A_YEAR:
            yield Finding(f"{where}, care, {care.id}", "no year is so long.", "Correct it.")
    for giving in kind.givings:
        if giving.picking is Picking.STAND:
            what = "what is picked anew each year cannot wait in the ground at will."
            yield Finding(f"{kind.id}, {giving.food}, picking", what, "Use spread or once.")
        if giving.role is Role.INSTEAD:
            what = "a perennial gives its foods side by side."
            yield Finding(f"{kind.id}, {giving.food}, role", what, "Use main or by-product.")


def _manure_at_fault(kind: Kind, manure: GreenManure) -> Iterator[Finding]:
    where = f"{kind.id}, green_manure"
    if kind.givings:
        yield Finding(f"{where}", "a green manure gives no food.", "Take its givings out.")
    if manure.dig_in_after not in {phase.id for phase in kind.phases}:
        what = f"no phase “{manure.dig_in_after}” is known."
        yield Finding(f"{where}, dig_in_after", what, "Name one of its phases.")
    if (manure.basis is Basis.PUBLISHED) != (manure.source is not None):
        what = "a source is named exactly when the basis is published."
        yield Finding(f"{where}, source", what, "Name it, or give another basis.")
