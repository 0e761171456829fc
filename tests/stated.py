"""Figures that a test takes to be there."""

from haulm.catalogue.records import Absent, Figure, Hardy


def stated(figure: Figure | Absent | Hardy | None) -> Figure:
    """Give a figure that must be stated: absent or hardy would be a failure."""
    assert isinstance(figure, Figure)
    return figure
