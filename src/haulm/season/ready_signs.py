"""Whether a crop is ready to lift, by what its leaves were seen to say, and the dry days for it."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from functools import cache
from importlib.resources import files

from haulm.season.ahead import DayAhead
from haulm.season.records import Leaves
from haulm.season.watch_figures import watch_figures


class Far(StrEnum):
    """How far a crop is by its leaves."""

    NOT_YET = "not yet"
    READY = "ready"
    LATE = "late"


@dataclass(frozen=True, slots=True)
class ReadySign:
    """What the leaves of some crops say.

    Attributes
    ----------
    sign
        *leaves* by green leaves left, *tops* by the share down, *dead* by days since haulm died.
    first, last
        From where on it is ready, and where it is late.
    share_first, share_last
        For leaves, the same by the share that is brown [1]; None where the sign is another.
    unit, basis, source, note, look
        Its unit, what it rests on, and what to look at besides.
    """

    crops: tuple[str, ...]
    sign: str
    first: float
    last: float
    unit: str
    basis: str
    source: str
    note: str
    look: str
    share_first: float | None = None
    share_last: float | None = None


@dataclass(frozen=True, slots=True)
class Looked:
    """What leaves said on a day."""

    day: date
    leaves: Leaves


@cache
def ready_signs() -> Mapping[str, ReadySign]:
    """Read the signs, by crop."""
    text = files("haulm.season").joinpath("data", "ready_signs.toml").read_text(encoding="utf-8")
    found: dict[str, ReadySign] = {}
    for entry in tomllib.loads(text).values():
        sign = ReadySign(
            crops=tuple(entry["crops"]),
            sign=entry["sign"],
            first=float(entry["from"]),
            last=float(entry["to"]),
            unit=entry["unit"],
            basis=entry["basis"],
            source=entry["source"],
            note=" ".join(filter(None, (entry["note"], entry.get("share_note", "")))),
            look=entry["look"],
            share_first=entry.get("share_from"),
            share_last=entry.get("share_to"),
        )
        found |= dict.fromkeys(sign.crops, sign)
    return found


def how_far(sign: ReadySign, looked: Sequence[Looked], day: date) -> Far | None:
    """Say how far a crop is by what was seen of it; None where its sign was not looked at.

    Parameters
    ----------
    sign
        The sign of its crop.
    looked
        What was seen, by day.
    day
        The day that counts as today.
    """
    if sign.sign == "leaves":
        return _by_leaves(sign, looked)
    if sign.sign == "tops":
        down = [one.leaves.down for one in looked if one.leaves.down is not None]
        return _rising(down[-1], sign.first, sign.last) if down else None
    down_days = [one for one in looked if one.leaves.down is not None]
    all_dead = watch_figures().haulm_dead.value
    dead = [one.day for one in down_days if (one.leaves.down or 0.0) >= all_dead]
    if dead:
        return _rising((day - dead[0]).days, sign.first, sign.last)
    return Far.NOT_YET if down_days else None


def _by_leaves(sign: ReadySign, looked: Sequence[Looked]) -> Far | None:
    """By green leaves left, or by the share that is brown, whichever is further."""
    counted = [one.leaves for one in looked if one.leaves.green is not None]
    if not counted:
        return None
    leaves = counted[-1]
    green, brown = leaves.green or 0.0, leaves.brown
    by_green = _rising(-green, -sign.first, -sign.last)
    # So few green leaves on a plant that has none brown are a small plant, not a ripe one.
    if brown is None:
        return by_green
    if brown == 0:
        return Far.NOT_YET
    share = brown / (green + brown)
    if sign.share_first is None or sign.share_last is None:
        return by_green
    by_share = _rising(share, sign.share_first, sign.share_last)
    return max(by_green, by_share, key=list(Far).index)


def _rising(value: float, first: float, last: float) -> Far:
    """Say how far something is that rises: before the first, up to the last, beyond it."""
    if value < first:
        return Far.NOT_YET
    return Far.READY if value <= last else Far.LATE


def is_dry(told: DayAhead) -> bool | None:
    """Whether a day that was told is dry; None where neither rain nor its odds were told."""
    figures = watch_figures()
    if told.rain_mm is not None:
        return told.rain_mm <= figures.dry_day_mm.value
    if told.rain_odds is not None:
        return told.rain_odds <= figures.dry_day_odds.value
    return None


def dry_window(ahead: Sequence[DayAhead], first: date, until: date) -> tuple[date, date] | None:
    """Find the first dry days in a row that are enough, from a day on; None where there are none.

    A day that was not told ends a run: it is not taken for dry.
    """
    wanted = round(watch_figures().dry_window_days.value)
    dry = {one.day for one in ahead if is_dry(one)}
    day = first
    while day <= until:
        end = day
        while end in dry:
            end += timedelta(days=1)
        if (end - day).days >= wanted:
            return day, end - timedelta(days=1)
        day = max(end, day) + timedelta(days=1)
    return None


def first_rain(ahead: Sequence[DayAhead], first: date) -> date | None:
    """Find the first day told to be wet; None where none is."""
    wet = [one.day for one in ahead if one.day >= first and is_dry(one) is False]
    return min(wet, default=None)
