"""Figures that a test takes to be there."""

from haulm.catalogue.records import Absent, Figure, Hardy


def stated(figure: Figure | Absent | Hardy | None) -> Figure:
    """Give a figure that must be stated: absent or hardy would be a failure."""
    assert isinstance(figure, Figure)
    return figure


def spread(figure: Figure) -> tuple[float, float]:
    """Give a figure's lowest and highest; itself for an end that it does not give."""
    low = figure.value if figure.low is None else figure.low
    return low, figure.value if figure.high is None else figure.high
