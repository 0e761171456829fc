"""The diary at the desk: write an entry, put it right, take it back, take in what phones sent."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from haulm.desk.garden.opening import open_garden
from haulm.desk.season.diary_typed import TypedEntry, Written, read_entry
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade
from haulm.measure.near import near_names
from haulm.notebook.diary import Taken, Wanted, read_diary, write_entries
from haulm.notebook.file import open_notebook
from haulm.notebook.notebook import Notebook
from haulm.season.grammar import check_entry
from haulm.season.records import Diary, Entry
from haulm.season.slips import slips_in

CLOCK_APART = timedelta(minutes=10)
"""A device whose clock differs more than this is told of."""


@dataclass(frozen=True, slots=True)
class Received:
    """What became of entries that a device sent, with what is worth knowing of them."""

    taken: Taken
    told: tuple[Finding, ...]


def diary_of(path: Path, first: date | None = None) -> Diary:
    """Give a notebook's diary with corrections worked in, from a day on where one is given.

    Raises
    ------
    FaultsFoundError
        When the path is no notebook.
    """
    with open_notebook(path) as notebook:
        return read_diary(notebook, Wanted(first))


def write_entry(path: Path, typed: TypedEntry, written: Written, today: date) -> Entry:
    """Write an entry into a notebook's diary, and give it as it was understood.

    Raises
    ------
    FaultsFoundError
        With everything in it that does not fit; nothing is written then.
    """
    opened = open_garden(path)
    with open_notebook(path, writing=True) as notebook:
        entry = read_entry(typed, written, today, opened, notebook.newest_plan())
        _insist(write_entries(notebook, [entry]))
    return entry


def put_right(path: Path, wrong: str, typed: TypedEntry, written: Written, today: date) -> Entry:
    """Write what an entry should have said; what it said is kept behind it.

    Raises
    ------
    FaultsFoundError
        When there is no such entry, or what was typed does not fit; nothing is written then.
    """
    opened = open_garden(path)
    with open_notebook(path, writing=True) as notebook:
        earlier = entry_named(notebook, wrong)
        entry = read_entry(typed, written, today, opened, notebook.newest_plan())
        right = replace(entry, replaces=earlier.id)
        _insist(write_entries(notebook, [right]))
    return right


def slips_of(path: Path, entry: Entry) -> tuple[Finding, ...]:
    """Ask about figures of an entry just written that are hardly meant so.

    Raises
    ------
    FaultsFoundError
        When the garden has faults.
    """
    opened = open_garden(path)
    with open_notebook(path) as notebook:
        return slips_in([entry], notebook.newest_plan(), opened.garden.units)


def take_back(path: Path, wrong: str, written: Written) -> Entry:
    """Take an entry back, and give it; it stays in the notebook as taken back.

    Raises
    ------
    FaultsFoundError
        When there is no such entry.
    """
    with open_notebook(path, writing=True) as notebook:
        earlier = entry_named(notebook, wrong)
        back = replace(
            earlier,
            id=written.id,
            written_at=written.at,
            device=written.device,
            replaces=earlier.id,
            taken_back=True,
        )
        _insist(write_entries(notebook, [back]))
    return earlier


def receive(
    path: Path,
    entries: Sequence[Entry],
    sent_at: datetime,
    now: datetime,
    today: date | None = None,
) -> Received:
    """Take in entries that another device wrote, each once however often it is sent.

    Parameters
    ----------
    path
        The notebook.
    entries
        What the device wrote.
    sent_at, now
        What the device's clock and this machine's say at this moment, both with their zone.
    today
        The garden's day, where it has one of its own; else that of ``now``.

    Entries are taken as they are, also those of a device whose clock is wrong: that is told, with
    the days they name, for the grower to look at. One that does not fit its kind is not taken.
    """
    latest = max(today or now.date(), sent_at.date())
    told: list[Finding] = []
    fit = []
    for entry in entries:
        faults = check_entry(entry, latest)
        told.extend(faults)
        if not faults:
            fit.append(entry)
    apart = sent_at.astimezone(UTC) - now.astimezone(UTC)
    if abs(apart) > CLOCK_APART and fit:
        told.append(_wrong_clock(fit, apart))
    with open_notebook(path, writing=True) as notebook:
        taken = write_entries(notebook, fit)
    return Received(taken, (*told, *taken.differ))


def entry_named(notebook: Notebook, wanted: str) -> Entry:
    """Find an entry that holds in a notebook, by its name or the start of it.

    Raises
    ------
    FaultsFoundError
        When there is none, or there are several.
    """
    some = read_diary(notebook, Wanted(named=wanted)) if wanted else None
    if some is not None and some.entries:
        return find_entry(some, wanted)
    return find_entry(read_diary(notebook), wanted)


def find_entry(diary: Diary, wanted: str) -> Entry:
    """Find an entry that holds, by its name or the start of it.

    Raises
    ------
    FaultsFoundError
        When there is none, or there are several.
    """
    found = [entry for entry in diary.entries if entry.id.startswith(wanted)] if wanted else []
    if len(found) == 1:
        return found[0]
    if found:
        what = f"{len(found)} entries begin with {wanted}."
        raise FaultsFoundError([Finding("the diary", what, "Write more of its name.")])
    near = near_names(wanted, [entry.id for entry in diary.entries])
    remedy = f"Did you mean {' or '.join(near)}?" if near else "haulm diary list names them."
    raise FaultsFoundError([Finding("the diary", f"it has no entry {wanted}.", remedy)])


def _insist(taken: Taken) -> None:
    if taken.differ:
        raise FaultsFoundError([replace(one, grade=Grade.FAULT) for one in taken.differ])


def _wrong_clock(entries: Sequence[Entry], apart: timedelta) -> Finding:
    minutes = round(abs(apart) / timedelta(minutes=1))
    days, hours = divmod(minutes // 60, 24)
    length = f"{days} d {hours} h" if days else f"{hours} h {minutes % 60} min"
    way = "fast" if apart > timedelta(0) else "slow"
    first, last = min(e.day for e in entries), max(e.day for e in entries)
    device = entries[0].device
    return Finding(
        f"the clock of {device}",
        f"it is {length} {way}; its {len(entries)} entries are of {first} to {last} by it.",
        "Set the clock, and put right the days of entries that are wrong.",
        Grade.WARNING,
    )
