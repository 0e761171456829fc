"""The audit of allotments: families on more of a bed than the years ahead leave them."""

from collections.abc import Iterator

from haulm.measure.findings import Finding
from haulm.planner.audit_books import Books, add_up

NEAR_M2 = 0.01
"""How near a family's ground is re-added [m²]."""


def check_allotment(books: Books) -> Iterator[Finding]:
    """In years laid out, a family takes no more of a bed than it was allotted, unless told."""
    question = books.question
    years = {one.year for one in question.allotments}
    allotted = add_up(((one.bed, one.family, one.year), one.area_m2) for one in question.allotments)
    taken = add_up(
        ((p.bed, p.family, p.clear_by.year), p.area_m2)
        for p in books.plan.plantings
        if not p.standing
        and p.clear_by.year in years
        and question.rotation_gap_years.get(p.family, 0) > 1
    )
    for (bed, family, year), area_m2 in sorted(taken.items()):
        over = area_m2 - allotted.get((bed, family, year), 0.0)
        told = books.broken_by("allotment", bed, family, str(year))
        if over > NEAR_M2 and told < over - NEAR_M2:
            what = f"{books.name(family)} takes {over:.2f} m² more in {year} than it was allotted."
            yield books.wrong(f"bed {books.name(bed)}", what)
