"""The diary put in order: corrections worked in, whatever was taken back left out.

The diary is a set of entries that only grows. What holds is worked out from the set alone, so that
entries written on two devices, and put together in any order, tell the same.
"""

from bisect import bisect
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace

from haulm.measure.findings import Finding, Grade
from haulm.season.records import Diary, Entry


def in_order(entries: Iterable[Entry]) -> Diary:
    """Work the corrections into a set of entries.

    A chain of corrections counts as its last link. Where one entry was put right twice, apart, the
    correction written last counts, by its device's clock and then by id; the other is told of. A
    correction of an entry that is not there (it has not reached this notebook yet) stands by
    itself.

    Parameters
    ----------
    entries
        Entries in any order; the same one twice counts once.
    """
    by_id = {entry.id: entry for entry in entries}
    corrections: dict[str, list[Entry]] = defaultdict(list)
    for entry in by_id.values():
        if entry.replaces is not None and entry.replaces in by_id:
            corrections[entry.replaces].append(entry)
    holds: list[Entry] = []
    before: dict[str, tuple[Entry, ...]] = {}
    taken_back: dict[str, Entry] = {}
    doubts: list[Finding] = []
    for entry in by_id.values():
        if entry.replaces is None and entry.id not in corrections and not entry.taken_back:
            holds.append(entry)
            continue
        if entry.id != _first_of(entry, by_id):
            continue
        chain = _chain(entry, corrections, doubts)
        last = chain[0]
        if last.taken_back:
            taken_back[last.id] = chain[1] if len(chain) > 1 else last
            continue
        holds.append(last)
        if len(chain) > 1:
            before[last.id] = tuple(chain[1:])
    holds.sort(key=_when)
    return Diary(tuple(holds), before, taken_back, tuple(doubts))


def carried_on(diary: Diary, before: Collection[Entry], new: Sequence[Entry]) -> Diary:
    """Give the diary of entries that came to those it was made of; as :func:`in_order` gives it.

    Parameters
    ----------
    diary, before
        The diary so far, and all entries that it was made of.
    new
        What came to them.
    """
    ids = {entry.id for entry in new}
    stand_alone = not any(entry.replaces or entry.taken_back for entry in new)
    if not stand_alone or any(entry.id in ids or entry.replaces in ids for entry in before):
        return in_order((*before, *new))
    number = bisect(diary.entries, min(map(_when, new)), key=_when) if new else len(diary.entries)
    later = sorted((*diary.entries[number:], *new), key=_when)
    return replace(diary, entries=(*diary.entries[:number], *later))


def _when(entry: Entry) -> tuple[object, ...]:
    """Put entries in order: by day, then as they were written."""
    return entry.day, entry.written_at, entry.id


def _first_of(entry: Entry, by_id: Mapping[str, Entry]) -> str:
    """Give the id of the entry that a correction goes back to; of a ring of them, the least."""
    way = [entry.id]
    while (earlier := by_id[way[-1]].replaces) is not None and earlier in by_id:
        if earlier in way:
            return min(way[way.index(earlier) :])
        way.append(earlier)
    return way[-1]


def _chain(first: Entry, corrections: dict[str, list[Entry]], doubts: list[Finding]) -> list[Entry]:
    """Follow an entry from correction to correction; the newest comes first."""
    chain = [first]
    seen = {first.id}
    while following := [e for e in corrections.get(chain[0].id, ()) if e.id not in seen]:
        following.sort(key=lambda entry: (entry.written_at, entry.id))
        if len(following) > 1:
            doubts.append(_told_twice(chain[0], following))
        chain.insert(0, following[-1])
        seen.add(following[-1].id)
    return chain


def _told_twice(entry: Entry, corrections: list[Entry]) -> Finding:
    devices = " and ".join(dict.fromkeys(one.device for one in corrections))
    return Finding(
        f"the diary of {entry.day.isoformat()}, {entry.kind}",
        f"it was put right more than once, on {devices}; what was written last counts.",
        "Look at the entry, and put it right once more if that is not so.",
        Grade.WARNING,
    )
