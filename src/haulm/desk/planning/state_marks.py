"""By what mark a plan knows again what a garden told when it was made."""

from haulm.desk.garden.applying import mark_of


def mark(told: object) -> str:
    """Give a mark that is the same for all that is told alike."""
    return mark_of({"told": repr(told)})
