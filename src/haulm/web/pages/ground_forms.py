"""The form of a bed, read from what was sent: its fields, and the lines of its lists."""

from itertools import zip_longest
from typing import Any

from haulm.desk.garden.bed_editing import BedTyped, Lines, StandingTyped
from haulm.desk.garden.outlining import OutlineTyped, Way
from haulm.web.forms import Form

MOST_LINES = 200
"""No outline or list needs more lines; what is sent beyond them is not read."""
STANDS = ("seen", "kind", "method", "started", "area")


def outline_in(form: Form) -> OutlineTyped:
    """Read an outline as typed; a way that is not known falls back to corners."""
    way = form.text("way")
    return OutlineTyped(
        Way(way) if way in set(Way) else Way.CORNERS,
        form.text("width"),
        form.text("length"),
        form.text("diameter"),
        _pairs(form, "east", "north"),
        _pairs(form, "side", "turn"),
    )


def bed_in(form: Form) -> BedTyped:
    """Read a bed as typed."""
    columns = [_column(form, f"stands_{key}") for key in STANDS]
    return BedTyped(
        form.text("name"),
        outline_in(form),
        form.text("cover"),
        form.text("sun"),
        form.text("spot"),
        _pairs(form, "past_crop", "past_year"),
        _pairs(form, "found_disease", "found_year"),
        tuple(StandingTyped(*line) for line in _filled(list(zip_longest(*columns, fillvalue="")))),
        form.text("ph"),
        form.text("soil"),
        form.text("mulch"),
        form.text("watered"),
    )


def _pairs(form: Form, first: str, second: str) -> Lines:
    columns = (_column(form, first), _column(form, second))
    return tuple(_filled(list(zip_longest(*columns, fillvalue=""))))


def _filled(lines: list[tuple[str, ...]]) -> list[Any]:
    """Leave out the empty lines at the end of a list."""
    last = max((number for number, line in enumerate(lines, 1) if any(line)), default=0)
    return lines[:last]


def _column(form: Form, name: str) -> list[str]:
    """Give every line's text of one field, empty ones too, so that lines keep their numbers."""
    values = form.typed.getlist(name)[:MOST_LINES]
    return [value.strip() if isinstance(value, str) else "" for value in values]
