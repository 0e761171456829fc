"""What a phone sends of the diary: read, taken once, and answered entry by entry."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Annotated, Any

from pydantic import AwareDatetime, Field, TypeAdapter, ValidationError

from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.season.diary import CLOCK_APART, receive
from haulm.desk.season.diary_typed import TypedEntry, Written, read_entry, typed_fields
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade
from haulm.notebook.diary import entries_there
from haulm.notebook.file import open_notebook
from haulm.plan.records import Plan
from haulm.season.records import Entry
from haulm.season.slips import slips_in

MOST_AT_ONCE = 500
"""So many entries are taken at once; a phone sends a hundred."""
_Id = Annotated[str, Field(pattern=r"^[0-9A-Za-z-]{16,64}$")]
_Text = Annotated[str, Field(max_length=2000)]


@dataclass(frozen=True, slots=True)
class Sent:
    """One entry as a phone sends it.

    Attributes
    ----------
    id
        Made on the phone.
    written_at
        When it was written, by the phone's clock.
    typed
        What was typed, by the names that :class:`TypedEntry` has.
    replaces, taken_back
        The entry that this one puts right, and whether it only takes it back.
    """

    id: _Id
    written_at: AwareDatetime
    typed: dict[str, _Text]
    replaces: _Id | None = None
    taken_back: bool = False


@dataclass(frozen=True, slots=True)
class Parcel:
    """Everything that a phone sends at once; each entry is still to be read."""

    sent_at: AwareDatetime
    device: Annotated[str, Field(max_length=60)]
    entries: Annotated[list[dict[str, Any]], Field(max_length=MOST_AT_ONCE)]


@dataclass(frozen=True, slots=True)
class Answered:
    """What became of a parcel.

    Attributes
    ----------
    taken
        The ids of entries that lie in the notebook now; a phone may forget these, and no others.
    refused
        By id, why an entry was not taken; it stays on the phone.
    told
        What else is worth knowing, as a wrong clock.
    """

    taken: tuple[str, ...]
    refused: Mapping[str, tuple[Finding, ...]]
    told: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Moment:
    """The machine's time with its zone, and the day that counts as today."""

    now: datetime
    today: date


def read_parcel(data: bytes, device: str = "") -> Parcel:
    """Read what a phone sent; its name is the one it was let in under, where it has one.

    Raises
    ------
    FaultsFoundError
        When it is no parcel at all.
    """
    try:
        parcel = _parcels().validate_json(data)
    except ValidationError as error:
        what = f"it cannot be read: {error.errors()[0]['msg']}."
        remedy = "Load the phone's page anew."
        raise FaultsFoundError([Finding("what the phone sent", what, remedy)]) from None
    return replace(parcel, device=device or parcel.device)


def take_parcel(path: Path, parcel: Parcel, moment: Moment) -> Answered:
    """Take in a phone's entries, each once however often it is sent, and answer for each.

    An entry counts as taken only when it was read back from the notebook and says what was sent.
    One that was taken earlier is taken, even if it would not fit any more: a bed may have gone
    since. One that does not fit, or whose id is there with another content, is refused.

    Parameters
    ----------
    path
        The notebook.
    parcel
        What was sent.
    moment
        This machine's time and day.
    """
    opened = open_garden(path)
    with open_notebook(path) as notebook:
        plan = notebook.newest_plan()
        before = entries_there(notebook, _ids(parcel))
    reading = _Reading(opened, plan, parcel.device, max(moment.today, parcel.sent_at.date()))
    entries, refused, settled = reading.all(parcel.entries, before)
    new = [entry for entry in entries if entry.id not in before]
    received = receive(path, new, parcel.sent_at, moment.now, moment.today)
    with open_notebook(path) as notebook:
        there = entries_there(notebook, [entry.id for entry in entries])
    taken = list(settled)
    for entry in entries:
        if entry.id in there and _the_same(entry, there[entry.id]):
            taken.append(entry.id)
        else:
            refused.setdefault(entry.id, _differs(entry))
    slips = slips_in(new, plan, opened.garden.units)
    told = (*received.told, *_ahead_of_itself(new, parcel.sent_at), *slips)
    return Answered(tuple(dict.fromkeys(taken)), refused, told)


@dataclass(frozen=True, slots=True)
class _Reading:
    """Reads what a phone sent against the garden as it is."""

    opened: Opened
    plan: Plan | None
    device: str
    latest: date

    def all(
        self, sent: Iterable[Mapping[str, Any]], before: Mapping[str, Entry]
    ) -> tuple[list[Entry], dict[str, tuple[Finding, ...]], list[str]]:
        """Read all: entries that fit, what is refused, and what was taken earlier."""
        entries: list[Entry] = []
        refused: dict[str, tuple[Finding, ...]] = {}
        settled: list[str] = []
        for name, raw in {str(raw.get("id", "")): raw for raw in sent}.items():
            try:
                entries.append(self._entry(_sent(raw)))
            except FaultsFoundError as error:
                if name in before:
                    settled.append(name)
                else:
                    refused[name] = error.findings
        return entries, refused, settled

    def _entry(self, sent: Sent) -> Entry:
        typed = TypedEntry(**({"kind": "", "day": ""} | sent.typed))
        written = Written(sent.id, sent.written_at, self.device)
        entry = read_entry(typed, written, self.latest, self.opened, self.plan)
        return replace(entry, replaces=sent.replaces, taken_back=sent.taken_back)


def _sent(raw: Mapping[str, Any]) -> Sent:
    """Read one entry.

    Raises
    ------
    FaultsFoundError
        When it is none.
    """
    try:
        sent = _one().validate_python(raw)
    except ValidationError as error:
        first = error.errors()[0]
        where = ".".join(str(part) for part in first["loc"]) or "entry"
        what = f"its {where} cannot be read: {first['msg']}."
        raise _unread(what) from None
    unknown = sorted(set(sent.typed) - set(typed_fields()))
    if unknown:
        what = f"haulm knows no “{unknown[0]}” of an entry."
        raise _unread(what)
    return sent


def _unread(what: str) -> FaultsFoundError:
    finding = Finding("the entry", what, "Load the phone's page anew, and write it again.")
    return FaultsFoundError([finding])


def _ids(parcel: Parcel) -> tuple[str, ...]:
    return tuple(str(raw.get("id", "")) for raw in parcel.entries)


def _the_same(one: Entry, other: Entry) -> bool:
    """Say whether two entries tell the same; a phone may have got another name since."""
    return replace(one, device=other.device) == other


def _differs(entry: Entry) -> tuple[Finding, ...]:
    what = "an entry of this name is in the notebook already and says something else."
    return (Finding(f"{entry.day.isoformat()}, {entry.kind}", what, "Write it once more."),)


def _ahead_of_itself(entries: Sequence[Entry], sent_at: datetime) -> tuple[Finding, ...]:
    """Tell of entries that were written later than they were sent: the clock was set between."""
    wrong = [entry for entry in entries if entry.written_at > sent_at + CLOCK_APART]
    if not wrong:
        return ()
    first, last = min(e.day for e in wrong), max(e.day for e in wrong)
    ahead = max(entry.written_at for entry in wrong) - sent_at
    finding = Finding(
        f"the clock of {wrong[0].device}",
        f"it was set back since: {len(wrong)} entries of {first} to {last} were written up to "
        f"{_length(ahead)} later than they were sent.",
        "Look at their days, and put right those that are wrong.",
        Grade.WARNING,
    )
    return (finding,)


def _length(apart: timedelta) -> str:
    hours = apart / timedelta(hours=1)
    return f"{hours / 24:.0f} days" if hours >= 48 else f"{hours:.1f} hours"  # noqa: PLR2004


@cache
def _parcels() -> TypeAdapter[Parcel]:
    """Make the adapter on first use: it takes a moment."""
    return TypeAdapter(Parcel)


@cache
def _one() -> TypeAdapter[Sent]:
    return TypeAdapter(Sent)
