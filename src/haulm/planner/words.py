"""How the planner words things: months, kilograms and names, rounded for reading only."""

from haulm.planner.question import PlanQuestion

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
WHOLE_FROM = 10.0
TENTHS_FROM = 1.0


def amount(value: float) -> str:
    """Write a quantity with about two figures, as one would say it."""
    if value >= WHOLE_FROM:
        return f"{value:.0f}"
    return f"{value:.1f}" if value >= TENTHS_FROM else f"{value:.2g}"


def month(question: PlanQuestion, week: int) -> str:
    """Name the month in which a week begins."""
    return MONTHS[question.horizon.monday(week).month - 1]


def stretch(question: PlanQuestion, first: int, last: int) -> str:
    """Name a run of weeks by its months: *in May*, *from May to July*."""
    one, other = month(question, first), month(question, last)
    if one == other:
        return f"in {one}"
    return f"from {one} to {other}"


def name(question: PlanQuestion, label: str) -> str:
    """Give the name shown for an id; the id itself where none was given."""
    return question.names.get(label, label)
