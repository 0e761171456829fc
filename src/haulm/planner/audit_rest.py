"""The audit of rest: families that hold more of undivided ground than their years of rest leave."""

from collections.abc import Iterator

from haulm.measure.findings import Finding
from haulm.planner.audit_books import Books, add_up

NEAR_M2 = 0.01
"""How near a family's ground is re-added [m²]."""


def check_rest(books: Books) -> Iterator[Finding]:
    """Of undivided ground a family takes no more in a year than its share of it, unless told."""
    room = add_up((bed.under_cover, bed.area_m2) for bed in books.question.beds)
    taken = add_up(
        ((p.family, p.clear_by.year, p.under_cover), p.area_m2) for p in books.plan.plantings
    )
    untold = {family: books.broken_by("rest", family) for family in books.question.most_of_family}
    for (family, year, covered), area_m2 in sorted(taken.items()):
        share = books.question.most_of_family.get(family)
        if share is None:
            continue
        over = area_m2 - share * room[covered]
        if over > NEAR_M2 and untold[family] < over - NEAR_M2:
            what = f"it takes {over:.2f} m² more than its {share:.0%} of the ground, untold."
            yield books.wrong(f"{books.name(family)}, {year}", what)
