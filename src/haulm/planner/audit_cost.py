"""The audit of the objective: what a plan costs, re-added from its records."""

from collections.abc import Iterator

from haulm.measure.findings import Finding
from haulm.planner.audit_books import Books

NEAR = 1e-4
"""How near the objective is re-added, as a share of it [1]."""


def check_cost(books: Books) -> Iterator[Finding]:
    """Plans cost what their shortages, work, ground, sowings, breaks and changes come to.

    Glut, bought stock and patches left are only bounded: they are between nothing and all that
    grows, all the stock that is planted, and all that was planted before.
    """
    objective = books.plan.solver.objective
    least = _shortage(books) + _work_and_ground(books) + _sowings(books)
    least += sum(broken.price for broken in books.plan.broken)
    most = least + _glut(books) + _stock(books) + _left(books)
    near = NEAR * max(1.0, objective)
    if not least - near <= objective <= most + near:
        what = (
            f"its objective is {objective:.4f}, and what is priced in it comes to between"
            f" {least:.4f} and {most:.4f}."
        )
        yield books.wrong("how good the plan is", what)


def _shortage(books: Books) -> float:
    """Price what is short of each line in each week, slice by slice."""
    prices = books.question.prices
    weight = {a.line: prices.priority_weight[a.priority - 1] for a in books.question.appetites}
    total = 0.0
    for row in books.plan.table:
        left = row.short_kg
        for share, price in prices.shortage_slices:
            here = min(left, share * row.wanted_kg)
            total += weight.get(row.line, 0.0) * price * here
            left -= here
    return total


def _work_and_ground(books: Books) -> float:
    prices = books.question.prices
    ground = sum(p.area_m2 for p in books.plan.plantings if not p.standing)
    return prices.hour * sum(w.asked_h for w in books.plan.hours) + prices.area_m2 * ground


def _sowings(books: Books) -> float:
    """Price every patch, and every one that is new where there is a plan before."""
    now = _patches(books)
    change = _change(books) * len(now - _before(books))
    return books.question.prices.sowing * len(now) + change


def _left(books: Books) -> float:
    return _change(books) * len(_before(books) - _patches(books))


def _glut(books: Books) -> float:
    grown = sum(each.kg for planting in books.plan.plantings for each in planting.expects)
    return books.question.prices.glut_kg * grown


def _stock(books: Books) -> float:
    dearest: dict[str, float] = {}
    for seed in books.question.seed_back:
        dearest[seed.kind] = max(dearest.get(seed.kind, 0.0), seed.buy_price_unit)
    return sum(dearest.get(p.kind, 0.0) * p.stock for p in books.plan.plantings if not p.standing)


def _change(books: Books) -> float:
    prices = books.question.prices
    return min(prices.change, prices.sowing) if books.question.before else 0.0


def _before(books: Books) -> set[tuple[str, str]]:
    return {(patch.sowing, patch.bed) for patch in books.question.before if patch.area_m2 > 0}


def _patches(books: Books) -> set[tuple[str, str]]:
    return {(p.sowing, p.bed) for p in books.plan.plantings if not p.standing}
