"""The land for the table of the garden at hand, worked out beside the pages."""

import pickle
from datetime import date
from hashlib import sha256

from haulm.desk.at_hand import SEED, AtHand
from haulm.desk.garden.opening import Opened
from haulm.desk.sizing.land import Land, LandWish, sized
from haulm.desk.sizing.land_ground import growing_year
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding


def land_at_hand(garden: AtHand, wish: LandWish) -> Land | tuple[Finding, ...] | None:
    """Give the land for a garden's table, or why it cannot be told; None while it is worked out.

    It rests on the garden and the year, not on plans: a plan made or kept leaves it standing.
    """
    opened = garden.opened
    start = growing_year(garden.day, southern=opened.garden.place.southern)
    rests_on = sha256(pickle.dumps(opened.garden)).hexdigest()
    return garden.begun(f"land {wish}", (rests_on, start), _land, opened, start, wish)


def _land(opened: Opened, day: date, wish: LandWish) -> Land | tuple[Finding, ...]:
    """Size the land for a table, or say what stands against it."""
    try:
        return sized(opened, day, wish, SEED)
    except FaultsFoundError as error:
        return error.findings
