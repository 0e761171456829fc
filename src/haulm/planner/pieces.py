"""How much one more is: the planner's own figures, read from their data file."""

from dataclasses import dataclass
from functools import cache

from haulm.catalogue.records import Figure
from haulm.catalogue.room_figures import room_figures


@dataclass(frozen=True, slots=True)
class Pieces:
    """How much more of each thing is asked about.

    Each field is a figure of ``data/pieces.toml``, where its unit, basis and meaning stand.
    """

    ground_m2: Figure
    ground_us_m2: Figure
    hours: Figure
    shelf_l: Figure
    freezer_drawer_l: Figure
    tray_cells: Figure
    tunnel_m2: Figure
    most_times: Figure


@cache
def pieces() -> Pieces:
    """Read the figures."""
    return Pieces(**room_figures("haulm.planner", "pieces.toml"))
