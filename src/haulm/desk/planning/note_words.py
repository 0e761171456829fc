"""A note of what went otherwise than planned, in words."""

from collections.abc import Mapping

from haulm.measure.day_words import long_day
from haulm.plan.state import Became, Noted


def note_words(note: Noted, names: Mapping[str, str]) -> str:
    """Say what a note says: *winter leek in North, sown or set on 26 Apr 2027: failed, …*.

    ``names`` gives the name by which each id is spoken of.
    """
    if note.food is not None:
        where = f" in {names.get(note.place, note.place)}" if note.place else ""
        about = f"{names.get(note.food, note.food)}{where}"
    else:
        kind, bed = note.kind or "", note.bed or ""
        about = f"{names.get(kind, kind)} in {names.get(bed, bed)}"
        if note.sown is not None:
            about += f", sown or set on {long_day(note.sown)}"
    said = {
        Became.LATE: f"late by {note.days} days",
        Became.GIVES: f"gives {note.share or 0:.0%} of what was hoped",
    }.get(note.what, note.what.value)
    return f"{about}: {said}, seen on {long_day(note.on)}"
