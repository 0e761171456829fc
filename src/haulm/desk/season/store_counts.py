"""Looking a store through at the desk: its check sheet, and what was found typed all at once."""

import csv
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from hashlib import sha256
from io import StringIO
from pathlib import Path

from haulm.catalogue.caution_records import Deed
from haulm.catalogue.cautions import cautions_for, told
from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.season.diary_typed import TypedEntry, Written, read_entry
from haulm.desk.season.larder_books import LarderBooks
from haulm.desk.season.larder_papers import lot_name, strip_pdf
from haulm.desk.table.cautions import ages_at_table
from haulm.desk.table.measures_of_food import plural
from haulm.measure.day_words import day_text
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.sentences import capital
from haulm.measure.units import show_mass
from haulm.notebook.diary import known_ids, write_entries
from haulm.notebook.file import open_notebook
from haulm.season.fridge_strip import LOOSE
from haulm.season.looking import looking_rules
from haulm.season.records import Entry
from haulm.season.store_check import CheckLine, StoreCheck, store_checks
from haulm.sheets.bundle import Paper
from haulm.sheets.check_sheet import CheckRow, CheckSheet, check_sheets
from haulm.sheets.paper import to_pdf

FOUND = ("sound", "soft", "sprouted")
COLUMNS = ("lot", "what", "put_by", "day", *FOUND, "words")
MARK = 8
"""So much of a lot's name tells it from others on paper."""


@dataclass(frozen=True, slots=True)
class FoundLot:
    """What was typed of one lot: the day, sound, soft, sprouted, and whatever else to say."""

    lot: str
    day: str
    sound: str = ""
    soft: str = ""
    sprouted: str = ""
    words: str = ""

    @property
    def blank(self) -> bool:
        """Whether nobody looked: a blank is not a nought."""
        return not (self.sound or self.soft or self.sprouted)


def checks_of(books: LarderBooks) -> tuple[StoreCheck, ...]:
    """Say when each store is to be looked through, and what is likely to be found."""
    return store_checks(books.ledger.lots, books.day, looking_rules().most_days)


def check_of(books: LarderBooks, store: str) -> StoreCheck | None:
    """Give the check of one store; None where nothing lies there."""
    return next((one for one in checks_of(books) if one.store == store), None)


def sheet_of(check: StoreCheck, books: LarderBooks, opened: Opened) -> CheckSheet:
    """Gather what a store's check sheet shows."""
    foods = dict.fromkeys(line.lot.food for line in check.lines)
    cautions = cautions_for(
        opened.catalogue, foods, (Deed.EAT,), ages_at_table(opened.garden.household)
    )
    return CheckSheet(
        garden=opened.garden.name,
        store=books.name(check.store),
        due=check.due,
        printed_on=books.day,
        rows=tuple(_row(line, books) for line in check.lines),
        care=tuple(told(one) for one in cautions),
        invented=opened.garden.invented,
    )


def sheets_pdf(
    checks: tuple[StoreCheck, ...], books: LarderBooks, opened: Opened, paper: Paper
) -> bytes:
    """Put the check sheets of some stores on paper."""
    return to_pdf(
        [page for one in checks for page in check_sheets(sheet_of(one, books, opened), paper)]
    )


def files_of(books: LarderBooks, opened: Opened, paper: Paper) -> Mapping[str, bytes]:
    """Give the strip for the fridge door, and each store's check sheet and table, by file name."""
    made = {"fridge-strip.pdf": strip_pdf(books, opened, paper)}
    for check in checks_of(books):
        made[f"check-{check.store}.pdf"] = sheets_pdf((check,), books, opened, paper)
        made[f"check-{check.store}.csv"] = check_csv(check, books).encode()
    return made


def counted_in(line: CheckLine, books: LarderBooks) -> str:
    """Say in what a lot is counted: its pieces where the weight of one is known, else weight."""
    lot = line.lot
    if lot.form in LOOSE and lot.keeps.piece_kg is not None:
        return plural(books.pieces[lot.food])
    return "lb" if books.units == "us" else "kg"


def likely_text(line: CheckLine, books: LarderBooks) -> str:
    """Say what is likely to be found of a lot."""
    return f"{_much(line, line.sound_kg, books)} sound, {_much(line, line.lost_kg, books)} not"


def _much(line: CheckLine, kg: float, books: LarderBooks) -> str:
    piece = line.lot.keeps.piece_kg
    if line.lot.form in LOOSE and piece is not None:
        number = round(kg / piece)
        word = books.pieces[line.lot.food]
        return f"{number} {word if number == 1 else plural(word)}"
    return show_mass(kg, books.units)


def _row(line: CheckLine, books: LarderBooks) -> CheckRow:
    lot = line.lot
    looking = looking_rules().of(lot.food, lot.form)
    kind = f" ({books.name(lot.kind)})" if lot.kind else ""
    what = "" if lot.purpose == "eat" else f", to {lot.purpose}"
    return CheckRow(
        mark=lot.id[:MARK],
        name=f"{capital(books.name(lot.food))}{kind}",
        put_by=f"{lot.form}, put by {day_text(lot.put_by, year=True)}{what}",
        likely=likely_text(line, books),
        unit=counted_in(line, books),
        look=looking.look,
        soft=looking.soft,
    )


def check_csv(check: StoreCheck, books: LarderBooks) -> str:
    """Write a store's check sheet as a table to fill in; :func:`read_counts` reads it."""
    out = StringIO()
    writer = csv.DictWriter(out, COLUMNS, lineterminator="\n", restval="")
    writer.writeheader()
    for line in check.lines:
        row = {"lot": line.lot.id, "what": lot_name(line.lot, books)}
        writer.writerow(row | {"put_by": line.lot.put_by.isoformat()})
    return out.getvalue()


def write_counts(
    path: Path, found: tuple[FoundLot, ...], written: Written, today: date
) -> tuple[Entry, ...]:
    """Write what was found of several lots, all of it or nothing.

    A lot whose line was left blank was not looked at, and has no entry. A bare number counts what
    the sheet counts: pieces where the weight of one is known, else kilograms or pounds.

    Parameters
    ----------
    path
        The notebook.
    found
        What was typed, lot by lot.
    written
        Under what name it is written; sent twice it is written once.
    today
        No entry tells of a day after it.

    Raises
    ------
    FaultsFoundError
        With everything that does not fit, each with its lot and field.
    """
    opened = open_garden(path)
    entries: list[Entry] = []
    faults: list[Finding] = []
    with open_notebook(path, writing=True) as notebook:
        plan = notebook.newest_plan()
        for one in found:
            if one.blank:
                continue
            typed = TypedEntry(
                "counted",
                one.day,
                lot=one.lot,
                sound=one.sound,
                soft=one.soft,
                sprouted=one.sprouted,
                words=one.words,
            )
            mine = replace(written, id=f"{written.id}-{one.lot}")
            try:
                entries.append(read_entry(typed, mine, today, opened, plan))
            except FaultsFoundError as error:
                faults.extend(_of_lot(fault, one.lot) for fault in error.findings)
        if faults:
            raise FaultsFoundError(faults)
        known = known_ids(notebook, [entry.id for entry in entries])
        write_entries(notebook, [entry for entry in entries if entry.id not in known])
    return tuple(entries)


def in_words(found: FoundLot, line: CheckLine, books: LarderBooks) -> FoundLot:
    """Put the measure that the sheet counts in behind bare numbers; what has a unit keeps it."""
    measure = counted_in(line, books)
    if line.lot.form in LOOSE and line.lot.keeps.piece_kg is not None:
        measure = "pieces"
    return replace(found, **{name: _with_measure(getattr(found, name), measure) for name in FOUND})


def _with_measure(text: str, measure: str) -> str:
    bare = text.replace(",", ".", 1)
    return f"{text} {measure}" if bare.replace(".", "", 1).isdigit() else text


def read_counts(table: str, where: str) -> tuple[FoundLot, ...]:
    """Read a filled-in table: what was found of each lot.

    Raises
    ------
    FaultsFoundError
        When a column is missing.
    """
    reader = csv.DictReader(StringIO(table.removeprefix("\ufeff")))
    there = reader.fieldnames or ()
    missing = [name for name in ("lot", "day", *FOUND) if name not in there]
    if missing:
        what = f"it has no column {' or '.join(missing)}."
        remedy = "Fill in the table that haulm writes, and leave its headings."
        raise FaultsFoundError([Finding(where, what, remedy)])
    rows = [{key: (row.get(key) or "").strip() for key in COLUMNS} for row in reader]
    return tuple(
        FoundLot(**{key: row[key] for key in ("lot", "day", *FOUND, "words")})
        for row in rows
        if row["lot"]
    )


def take_counts(path: Path, table: Path, books: LarderBooks, at: datetime) -> tuple[Entry, ...]:
    """Take a filled-in check table into the diary: all of it or nothing, and once however often.

    Raises
    ------
    FaultsFoundError
        With everything that does not fit.
    """
    try:
        text = table.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        what = f"it cannot be read: {error}."
        raise FaultsFoundError([Finding(str(table), what, "Name a CSV file in UTF-8.")]) from None
    lines = {line.lot.id: line for check in checks_of(books) for line in check.lines}
    found = [one for one in read_counts(text, table.name) if not one.blank]
    unknown = [one.lot for one in found if one.lot not in lines]
    if unknown:
        what = f"the books have no lot {' or '.join(unknown)}."
        raise FaultsFoundError([Finding(table.name, what, "Write a new table.")])
    told = tuple(
        in_words(replace(one, day=one.day or books.day.isoformat()), lines[one.lot], books)
        for one in found
    )
    name = sha256("\x1f".join(map(repr, told)).encode()).hexdigest()[:20]
    return write_counts(path, told, Written(f"check-{name}", at, table.name), books.day)


def by_lot(faults: tuple[Finding, ...]) -> Mapping[tuple[str, str], Finding]:
    """Sort faults by the lot and field they lie in."""
    placed = [one for one in reversed(faults) if len(one.place) > 1]
    return {(str(one.place[0]), str(one.place[1])): one for one in placed}


def _of_lot(fault: Finding, lot: str) -> Finding:
    field = str(fault.place[0]) if fault.place else "sound"
    return replace(fault, place=(lot, field))
