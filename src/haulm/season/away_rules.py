"""What the note for whoever looks after the garden goes by, read from its data file."""

from dataclasses import dataclass
from functools import cache

from haulm.catalogue.records import Figure
from haulm.catalogue.room_figures import room_figures


@dataclass(frozen=True, slots=True)
class AwayRules:
    """Visits, and when frost, blight and covers are spoken of.

    Each field is a figure of ``data/away.toml``, where its unit, basis and meaning stand.
    """

    visit_days: Figure
    likely: Figure
    frost_odds: Figure
    open_c: Figure
    close_c: Figure
    blight_night_c: Figure
    tender_c: Figure
    skip_can_share: Figure


@cache
def away_rules() -> AwayRules:
    """Read the figures; read once, then kept."""
    return AwayRules(**room_figures("haulm.season", "away.toml"))
