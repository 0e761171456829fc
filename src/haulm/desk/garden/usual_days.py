"""Days of the year as a grower types them, and as they are shown again."""

import re
from calendar import month_abbr, month_name
from datetime import date

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding

_LEAP_YEAR = 2000
_NUMBERED = re.compile(r"(\d{1,2})-(\d{1,2})")
_DAY_FIRST = re.compile(r"(\d{1,2})\.?\s+([A-Za-z]{3,9})\.?")
_MONTH_FIRST = re.compile(r"([A-Za-z]{3,9})\.?\s+(\d{1,2})")
_MONTHS = {
    name.lower(): number
    for names in (month_abbr, month_name)
    for number, name in enumerate(names)
    if name
} | {"sept": 9}


def month_day_from(text: str, spoken: str, place: tuple[str, str]) -> str | None:
    """Read a day such as ``10 May``, ``May 10`` or ``05-10`` as month and day, ``05-10``.

    Nothing typed is None. A day in figures alone is month first; ``10.5.`` and ``5/10`` are not
    read, for they mean different days to different people.

    Raises
    ------
    FaultsFoundError
        When it is no day of the year; its finding has the place given.
    """
    typed = text.strip()
    if not typed:
        return None
    try:
        month, day = _parts(typed)
        return date(_LEAP_YEAR, month, day).strftime("%m-%d")
    except ValueError:
        what = f"“{text}” is no day of the year."
        finding = Finding(spoken, what, "Write it as in 10 May.", place=place)
        raise FaultsFoundError([finding]) from None


def written_day(month_day: str) -> str:
    """Write ``05-10`` as ``10 May``; what is no such day is given as it is."""
    try:
        when = date.fromisoformat(f"{_LEAP_YEAR}-{month_day}")
    except ValueError:
        return month_day
    return f"{when.day} {month_name[when.month]}"


def _parts(typed: str) -> tuple[int, int]:
    """Give month and day; 0 for a month that is none."""
    if found := _NUMBERED.fullmatch(typed):
        return int(found[1]), int(found[2])
    if found := _DAY_FIRST.fullmatch(typed):
        return _MONTHS.get(found[2].lower(), 0), int(found[1])
    if found := _MONTH_FIRST.fullmatch(typed):
        return _MONTHS.get(found[1].lower(), 0), int(found[2])
    return 0, 0
