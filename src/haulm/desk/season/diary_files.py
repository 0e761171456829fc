"""The diary as a table: read from CSV, an old notebook's or a filled-in sheet's, and written."""

import csv
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass, field, replace
from datetime import date, datetime
from hashlib import sha256
from io import StringIO
from pathlib import Path

from haulm.desk.garden.opening import open_garden
from haulm.desk.season.diary_typed import TypedEntry, Written, read_entry, typed_fields
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.units import (
    Units,
    parse_area_m2,
    parse_mass_kg,
    parse_rain_mm,
    parse_volume_l,
)
from haulm.notebook.diary import Taken, known_ids, read_diary, write_entries
from haulm.notebook.file import open_notebook
from haulm.notebook.names import suggest
from haulm.season.records import Entry, Leaves, Measured

NEEDED = ("day", "kind")
LATER = ("green", "brown", "down", "tank")
"""Columns that tables of before do not have."""
WRITTEN_ON = ("day", "amount", "sound", "soft", "sprouted", *LATER, "minutes", "words", "trouble")
"""What of a printed sheet's line is filled in by hand; all else it has from the plan."""
LINE = "line"
"""The column that says which line of a printed sheet a row is; other tables have none."""


@dataclass(frozen=True, slots=True)
class ColumnMap:
    """What a table calls haulm's columns, and its words haulm's kinds of entry.

    ``columns`` is from haulm's name to the table's heading; ``kinds`` from the table's word to
    haulm's. What is not named is called as haulm calls it.
    """

    columns: Mapping[str, str] = field(default_factory=dict)
    kinds: Mapping[str, str] = field(default_factory=dict)


def import_table(path: Path, table: Path, names: ColumnMap, at: datetime, today: date) -> Taken:
    """Take a table's rows into a notebook's diary: all of them, or none where one does not fit.

    A row has the same name each time it is read, so that a table read twice is there once; rows
    that are alike are told apart by their number among those alike.

    Raises
    ------
    FaultsFoundError
        With every fault of every row, its number counted from the heading; nothing is written.
    """
    opened = open_garden(path)
    rows = tuple(_rows(table, names))
    entries: list[Entry] = []
    faults: list[Finding] = []
    alike: Counter[TypedEntry] = Counter()
    with open_notebook(path, writing=True) as notebook:
        plan = notebook.newest_plan()
        for number, typed in rows:
            alike[typed] += 1
            written = Written(row_name(typed, alike[typed]), at, table.name)
            try:
                entries.append(read_entry(typed, written, today, opened, plan))
            except FaultsFoundError as error:
                where = f"{table.name}, row {number}"
                faults.extend(replace(one, where=f"{where}, {one.where}") for one in error.findings)
        if faults:
            raise FaultsFoundError(faults)
        known = known_ids(notebook, [entry.id for entry in entries])
        new = write_entries(notebook, [one for one in entries if one.id not in known])
    return Taken(new.new, len(entries) - new.new)


def diary_csv(path: Path) -> str:
    """Write what holds in a notebook's diary as CSV; :func:`import_table` reads it again."""
    with open_notebook(path) as notebook:
        diary = read_diary(notebook)
    out = StringIO()
    writer = csv.DictWriter(out, typed_fields(), lineterminator="\n")
    writer.writeheader()
    writer.writerows(asdict(as_typed(entry)) for entry in diary.entries)
    return out.getvalue()


_US: Mapping[Measured, tuple[Callable[[str, str], float], str]] = {
    Measured.KG: (parse_mass_kg, "lb"),
    Measured.LITRES: (parse_volume_l, "US gal"),
    Measured.MILLIMETRES: (parse_rain_mm, "in"),
    Measured.SQUARE_METRES: (parse_area_m2, "sq ft"),
}
"""How a garden in US units types an amount: who reads it, and its unit."""


def as_typed(entry: Entry, units: Units = "metric") -> TypedEntry:
    """Write an entry as it would be typed in a garden of such units; a table keeps to metric."""
    about = entry.about
    count = entry.count
    measured = entry.amount.measured if entry.amount else None

    def amount(number: float | None) -> str:
        if number is None or measured is None:
            return ""
        if units == "us" and measured in _US:
            read, unit = _US[measured]
            return f"{number / read(f'1 {unit}', 'unit'):.6g} {unit}"
        return f"{number:g} {measured.value}"

    return TypedEntry(
        kind=entry.kind,
        day=entry.day.isoformat(),
        planting=about.planting or "",
        bed=about.bed or "",
        crop_kind=about.kind or "",
        food=about.food or "",
        store=about.store or "",
        form=about.form or "",
        lot=about.lot or "",
        trouble=about.trouble or "",
        severity=about.severity or "",
        purpose=about.purpose or "",
        amount="" if count else amount(entry.amount.number if entry.amount else None),
        sound=amount(count.sound if count else None),
        soft=amount(count.soft if count else None),
        sprouted=amount(count.sprouted if count else None),
        minutes="" if entry.minutes is None else f"{entry.minutes:g}",
        words=entry.words,
        **_leaves_typed(entry.leaves),
        tank=about.tank or "",
    )


def _leaves_typed(leaves: Leaves | None) -> dict[str, str]:
    if leaves is None:
        return {}
    down = None if leaves.down is None else 100.0 * leaves.down
    told = {"green": leaves.green, "brown": leaves.brown, "down": down}
    return {name: "" if number is None else f"{number:g}" for name, number in told.items()}


def _rows(table: Path, names: ColumnMap) -> Iterator[tuple[int, TypedEntry]]:
    """Give each row as typed, with its number; rows that are empty are passed over."""
    text = _text_of(table)
    reader = csv.DictReader(StringIO(text))
    headings = reader.fieldnames or []
    columns = {key: names.columns.get(key, key) for key in typed_fields()}
    faults = list(_missing(table, headings, columns, names))
    if faults:
        raise FaultsFoundError(faults)
    for row in reader:
        said = {key: (row.get(heading) or "").strip() for key, heading in columns.items()}
        if not any(said.values()) or _left_blank(row, said):
            continue
        said["kind"] = names.kinds.get(said["kind"], said["kind"])
        yield reader.line_num, TypedEntry(**said)


def _left_blank(row: Mapping[str, str | None], said: Mapping[str, str]) -> bool:
    """Say whether a row is a line of a printed sheet that nobody wrote on: nothing was done."""
    return bool(row.get(LINE)) and not any(said[key] for key in WRITTEN_ON)


def _missing(
    table: Path, headings: Iterable[str], columns: Mapping[str, str], names: ColumnMap
) -> Iterator[Finding]:
    there = list(headings)
    for key, heading in names.columns.items():
        if key not in columns:
            what = f"haulm has no column “{key}”."
            yield Finding("the column map", what, suggest(key, columns, "See haulm diary export."))
        elif heading not in there:
            what = f"{table.name} has no column “{heading}”."
            yield Finding("the column map", what, suggest(heading, there, "Name one it has."))
    for key in NEEDED:
        if columns[key] not in there and key not in names.columns:
            what = f"it has no column “{key}”; it has: {', '.join(there) or 'none'}."
            yield Finding(table.name, what, f"Say which it is, with --column {key}=HEADING.")


def _text_of(table: Path) -> str:
    try:
        return table.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        what, remedy = "it is not written in UTF-8.", "Save it as CSV in UTF-8."
    except OSError as error:
        what, remedy = f"it cannot be read: {error.strerror}.", "Name a file you may read."
    raise FaultsFoundError([Finding(str(table), what, remedy)])


def row_name(typed: TypedEntry, number: int) -> str:
    """Name a row by what it says, and by its number among rows that say the same."""
    told = asdict(typed)
    # A column that came later is named only where it is filled in: a row keeps its name.
    first = (value for name, value in told.items() if name not in LATER)
    later = (f"{name}={told[name]}" for name in LATER if told[name])
    said = "\x1f".join((*first, *later, str(number)))
    return f"table-{sha256(said.encode()).hexdigest()[:20]}"
