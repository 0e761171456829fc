"""Say why nothing can be sown here for a line of the table, where nothing can."""

from haulm.catalogue.records import Kind
from haulm.desk.planning.question import Asked
from haulm.growing.windows import why_no_window
from haulm.measure.findings import Finding, Grade


def windowless(asked: Asked) -> tuple[Finding, ...]:
    """Tell of every line that no sowing can serve, with what keeps the nearest kind from it.

    Lines of foods that only plants kept for years give are told of by `haulm.desk.beds.perennials`.
    """
    question = asked.question
    grown = {food.food for sowing in question.sowings for food in sowing.foods}
    findings = []
    for appetite in question.appetites:
        if set(appetite.foods) <= set(question.lasting_foods):
            continue
        if grown.isdisjoint(appetite.foods) and any(appetite.kg):
            kinds = [kind for kind in asked.kinds if gives(kind, appetite.foods)]
            reasons = [reason for kind in kinds if (reason := why_not(kind, asked))]
            what = "nothing can be sown for it at this place"
            findings.append(
                Finding(
                    where=f"table, {appetite.name}",
                    what=f"{what}: {reasons[0]}." if reasons else f"{what}.",
                    remedy="Grow it under cover, let another food stand in, or buy it.",
                    grade=Grade.WARNING,
                )
            )
    return tuple(findings)


def gives(kind: Kind, foods: tuple[str, ...]) -> bool:
    """Say whether a kind gives any of some foods."""
    return any(giving.food in foods for giving in kind.givings)


def why_not(kind: Kind, asked: Asked) -> str:
    """Say what keeps a kind from being started in the open; empty where something can be."""
    horizon = asked.question.horizon
    in_the_open = False
    reasons = [
        why_no_window(kind, method, in_the_open, asked.weather, horizon) for method in kind.methods
    ]
    return f"{kind.name}, {min(reasons, key=len)}" if all(reasons) else ""
