"""What a job loses by waiting: the figures, read from their data file."""

from functools import cache

from haulm.catalogue.records import Figure
from haulm.catalogue.room_figures import room_figures

USUAL = "usual"


@cache
def waiting_figures() -> dict[str, Figure]:
    """Read the figures of ``data/waiting.toml`` by name."""
    return room_figures("haulm.season", "waiting.toml")


def waiting_figure(name: str, *of: str) -> Figure:
    """Give a figure: of the first of several names that has one of its own, else the usual one.

    ``holds`` of ``garlic`` is *holds.garlic*, else *holds.usual*; without ``of`` the figure itself.

    Raises
    ------
    KeyError
        Where there is no such figure.
    """
    figures = waiting_figures()
    if not of:
        return figures[name]
    own = (figures.get(f"{name}.{one}") for one in of)
    return next((figure for figure in own if figure is not None), figures[f"{name}.{USUAL}"])
