"""Check a garden after a change against what it was, and write it, the one before remembered."""

import re
from collections import Counter
from datetime import datetime

from haulm.desk.garden.applying import Applied, mark_of
from haulm.desk.garden.opening import usual_names
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, faults
from haulm.notebook.checked import check_record, garden_from
from haulm.notebook.draft import document_from
from haulm.notebook.faults import Gathered
from haulm.notebook.history import remember
from haulm.notebook.notebook import Notebook
from haulm.notebook.parts import MODELS, Parts, plain, raw_from
from haulm.site.records import DailyRecord


def checked(
    name: str, before: Parts, applied: Applied, *, record: DailyRecord | None
) -> tuple[Finding, ...]:
    """Check a garden after a change; give what does not stand in its way.

    Raises
    ------
    FaultsFoundError
        With the faults in what was changed, and those elsewhere that came of it.
    """
    found = _findings(name, applied.parts, record)
    there_before: Counter[object] = Counter()
    if faults(found):
        there_before.update(_alike(one, before) for one in faults(_findings(name, before, record)))
    blocking = []
    for fault in faults(found):
        alike = _alike(fault, applied.parts)
        if _part_at(fault) in applied.places or not there_before[alike]:
            blocking.append(fault)
        there_before[alike] -= 1
    if blocking:
        raise FaultsFoundError(blocking)
    return found


def _findings(name: str, parts: Parts, record: DailyRecord | None) -> tuple[Finding, ...]:
    """Give everything that can be said of a garden, faults among it."""
    gathered = Gathered(name, usual_names())
    document = document_from(raw_from(parts), gathered)
    check_record(document, gathered, there=record is not None)
    try:
        garden_from(document, record, gathered)
    except FaultsFoundError as error:
        return error.findings
    return tuple(gathered.findings)


def _part_at(finding: Finding) -> tuple[str, int]:
    """Say in which part a finding lies, and at which number of its list."""
    part, *rest = finding.place or ("",)
    number = rest[0] if rest and isinstance(rest[0], int) else 0
    return str(part), number


def _alike(fault: Finding, parts: Parts) -> object:
    """Give what a fault has in common with the same fault before other parts moved up or down."""
    part, number = _part_at(fault)
    listed = parts.get(part, ())
    mark = mark_of(listed[number]) if number < len(listed) else ""
    rest = within(fault, part, number)
    return part, mark, rest, re.sub(r"[0-9]+", "", fault.what)


def normal(applied: Applied) -> Parts:
    """Give the parts, those changed with numbers and days where texts were typed for them."""
    return {
        name: tuple(
            plain(MODELS[name].model_validate(part).model_dump(by_alias=True))
            if (name, number) in applied.places
            else part
            for number, part in enumerate(listed)
        )
        for name, listed in applied.parts.items()
    }


def write(notebook: Notebook, before: Parts, parts: Parts, what: str, at: datetime) -> None:
    """Write a garden into its notebook, remembering the one before, if it is another."""
    if parts == before:
        return
    had_record = notebook.record_origin() is not None
    loses_record = had_record and not any("record" in part for part in parts["weather"])
    remember(notebook, before, what, at, record_changes=loses_record)
    notebook.write_parts(parts, before)
    if loses_record:
        notebook.write_record(None)


def within(finding: Finding, part: str, index: int) -> tuple[str | int, ...] | None:
    """Give what is left of a finding's place within a part; None where it lies elsewhere."""
    place = finding.place
    if not place or place[0] != part:
        return None
    if len(place) > 1 and isinstance(place[1], int):
        return place[2:] if place[1] == index else None
    return place[1:]
