"""The diary on paper: the coming days' jobs as lines to fill in, and the table of those lines."""

import csv
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass, replace
from datetime import date, timedelta
from io import StringIO

from haulm.catalogue.records import Form
from haulm.desk.season.diary_asked import amount_example, entry_for
from haulm.desk.season.diary_files import LINE
from haulm.desk.season.diary_typed import TypedEntry, typed_fields
from haulm.season.records import EntryKind
from haulm.sheets.acts import JobKind
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.diary_sheet import FREE_LINES, DiarySheet
from haulm.sheets.week_jobs import Job, jobs_between

DAYS = 14


@dataclass(frozen=True, slots=True)
class PaperDiary:
    """The sheet, and the rows of its table: each with its line's number, as far as it is known."""

    sheet: DiarySheet
    rows: tuple[TypedEntry, ...]


def paper_diary(bundle: SheetBundle, names: Mapping[str, str], day: date) -> PaperDiary:
    """Give the diary sheet for the fortnight from a day on, with the table of the same lines.

    ``names`` gives display names by id. Neither day nor amount nor minutes are filled in: what is
    left without them was not done.
    """
    last = day + timedelta(days=DAYS - 1)
    jobs = [job for job in jobs_between(bundle, day, last) if job.kind is not JobKind.TEND]
    rows = [
        replace(entry_for(job, bundle.plan, names, day), day="", minutes="", amount="")
        for job in jobs
    ]
    sheet = DiarySheet(
        garden=bundle.garden_words,
        invented=bundle.invented,
        first=day,
        last=last,
        jobs=tuple(_words(job) for job in jobs),
        key=tuple(_key(bundle)),
    )
    return PaperDiary(sheet, (*rows, *([TypedEntry("", "")] * FREE_LINES)))


def paper_csv(paper: PaperDiary) -> str:
    """Write the table of the same lines: one row a line, to be filled in as the sheet was."""
    out = StringIO()
    writer = csv.DictWriter(out, (LINE, *typed_fields()), lineterminator="\n")
    writer.writeheader()
    for number, row in enumerate(paper.rows, start=1):
        writer.writerow({LINE: number} | asdict(row))
    return out.getvalue()


def _words(job: Job) -> str:
    return f"{job.what}, {job.place}" if job.place else job.what


def _key(bundle: SheetBundle) -> Iterator[str]:
    """Say what may be written on a free line, as the table takes it."""
    kinds = []
    for kind in EntryKind:
        example = amount_example(kind)
        kinds.append(f"{kind.value} ({example})" if example else kind.value)
    yield "Kinds: " + ", ".join(kinds) + "."
    yield "Beds: " + ", ".join(_coded(bed.id, bed.name) for bed in bundle.beds) + "."
    if bundle.stores:
        stores = ", ".join(_coded(store.id, store.name) for store in bundle.stores)
        yield f"Stores: {stores}. Forms: {', '.join(form.value for form in Form)}."


def _coded(code: str, name: str) -> str:
    return code if code.casefold() == name.casefold() else f"{code} ({name})"
