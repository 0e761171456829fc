"""What the look-out goes by, asked for once or kept in the garden."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from haulm.desk.garden.editing import Change, change_garden, mark_of, parts_of
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.watch_parts import WALLIN_ALONE, fleece_m2
from haulm.season.blight_rules import BlightBy
from haulm.season.watch_records import WatchMeans


def means_asked(kept: WatchMeans, blight: Sequence[BlightBy], fleece: Sequence[str]) -> WatchMeans:
    """Give what to go by: what is asked for, and the garden's own where nothing is.

    Raises
    ------
    FaultsFoundError
        When a piece of fleece cannot be read, or the rules warn of nothing.
    """
    if set(blight) == {BlightBy.WALLIN}:
        raise FaultsFoundError([Finding("--blight", *WALLIN_ALONE)])
    by = replace(kept, blight=tuple(blight)) if blight else kept
    if not fleece:
        return by
    return replace(by, fleece_m2=sum(fleece_m2(piece, "--fleece") for piece in fleece))


def keep_means(path: Path, blight: Sequence[BlightBy], fleece: Sequence[str], at: datetime) -> None:
    """Keep rules on blight and fleece in the garden; what is empty stays as it is.

    Raises
    ------
    FaultsFoundError
        When they do not fit; the garden is as it was then.
    """
    told = dict(next(iter(parts_of(path)["lookout"]), {}))
    more: dict[str, object] = {"blight": [str(one) for one in blight], "fleece": list(fleece)}
    new = told | {key: value for key, value in more.items() if value}
    if new != told:
        change_garden(path, [Change("lookout", mark_of(told) if told else "", new)], at)
