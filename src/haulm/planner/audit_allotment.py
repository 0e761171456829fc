"""The audit of allotments: families that spend a rest which a later year waits for."""

from collections.abc import Iterator

from haulm.measure.findings import Finding
from haulm.planner.audit_books import Books, add_up

NEAR_M2 = 0.01
"""How near a family's ground is re-added [m²]."""


def check_allotment(books: Books) -> Iterator[Finding]:
    """Before a year in which a family has ground in a bed, it takes no more there, unless told."""
    question = books.question
    given = {(one.bed, one.family, one.year) for one in question.allotments}
    allotted = add_up(((one.bed, one.family, one.year), one.area_m2) for one in question.allotments)
    taken = add_up(
        ((p.bed, p.family, p.clear_by.year), p.area_m2)
        for p in books.plan.plantings
        if not p.standing
    )
    for (bed, family, year), area_m2 in sorted(taken.items()):
        rest = range(year + 1, year + question.rotation_gap_years.get(family, 0))
        over = area_m2 - allotted.get((bed, family, year), 0.0)
        waited_for = any((bed, family, later) in given for later in rest)
        told = books.broken_by("allotment", bed, family, str(year))
        if waited_for and over > NEAR_M2 and told < over - NEAR_M2:
            what = f"{books.name(family)} takes {over:.2f} m² more in {year} than it was allotted."
            yield books.wrong(f"bed {books.name(bed)}", what)
