"""The larder on paper: the strip for the fridge door."""

from collections.abc import Iterable, Mapping
from datetime import timedelta

from haulm.catalogue.caution_records import Deed
from haulm.catalogue.cautions import cautions_for, told
from haulm.desk.garden.opening import Opened
from haulm.desk.season.larder_books import LarderBooks
from haulm.desk.table.cautions import ages_at_table
from haulm.desk.table.measures_of_food import plural
from haulm.measure.day_words import day_text
from haulm.measure.sentences import capital
from haulm.measure.units import show_mass
from haulm.season.fridge_strip import StripLine
from haulm.season.ledger_records import LedgerLot
from haulm.season.records import Purpose
from haulm.sheets.bundle import Paper
from haulm.sheets.fridge_strip import StripRow, StripSheet, strip_sheets
from haulm.sheets.paper import to_pdf
from haulm.sheets.strip_words import first_text, limit_text

NOTHING_KG = 0.005
SOON = timedelta(weeks=3)
"""What is past keeping so soon is told with its last day."""
_STRIP_CAUTIONS = ("green potatoes", "bitter gourds")
"""What the eye and tongue must know at the fridge door; the rest stands on the pages."""


def strip_of(books: LarderBooks, opened: Opened) -> StripSheet:
    """Gather what the strip for the fridge door shows."""
    foods = [line.food for line in books.strip]
    cautions = cautions_for(
        opened.catalogue, foods, (Deed.EAT,), ages_at_table(opened.garden.household)
    )
    return StripSheet(
        garden=opened.garden.name,
        day=books.day,
        rows=tuple(_row(line, books) for line in books.strip),
        locked=tuple(_locked(books)),
        care=tuple(told(one) for one in cautions if one.id in _STRIP_CAUTIONS),
        invented=opened.garden.invented,
    )


def strip_drawn(books: LarderBooks, opened: Opened, paper: Paper) -> tuple[str, ...]:
    """Draw the strip's pages."""
    return strip_sheets(strip_of(books, opened), paper)


def strip_pdf(books: LarderBooks, opened: Opened, paper: Paper) -> bytes:
    """Put the strip on paper."""
    return to_pdf(strip_drawn(books, opened, paper))


def limit_of(line: StripLine, books: LarderBooks) -> str:
    """Say what a week may take of a food."""
    piece = books.pieces[line.food]
    return limit_text(line, piece, plural(piece), books.units)


def _row(line: StripLine, books: LarderBooks) -> StripRow:
    return StripRow(capital(books.name(line.food)), limit_of(line, books), first_of(line, books))


def first_of(line: StripLine, books: LarderBooks) -> str:
    """Say what of a food to take first, and where it lies."""
    return "; ".join(filter(None, (first_text(line, books.units), _where(line, books))))


def _where(line: StripLine, books: LarderBooks) -> str:
    """Say where the first lot of a food lies, and by when it is past keeping if that is soon."""
    first = line.lots[0]
    said = books.name(first.store)
    if len(line.lots) > 1:
        said += f", put by {day_text(first.put_by)}, first"
    past = next((one.past_on for one in books.order if one.lot.id == first.id), None)
    if past is not None and past - books.day <= SOON:
        said += f"; past keeping {day_text(past)}"
    return said


def _locked(books: LarderBooks) -> Iterable[str]:
    """Say what of the store is seed or meant to be given, by food and place."""
    kg: dict[tuple[str, str, str], float] = {}
    for one in books.lots:
        lot, locked = one.lot, one.kept_kg
        why = "seed the plan keeps back"
        if lot.purpose is not Purpose.EAT:
            locked, why = one.sound_kg, _WHY[lot.purpose]
        if locked > NOTHING_KG:
            key = (books.name(lot.food), why, books.name(lot.store))
            kg[key] = kg.get(key, 0.0) + locked
    for (food, why, store), amount in kg.items():
        yield f"{show_mass(amount, books.units)} {food}, {why} ({store})."


_WHY: Mapping[Purpose, str] = {Purpose.PLANT: "seed", Purpose.GIVE: "to be given"}
"""Why a lot is not for the kitchen."""


def lot_name(lot: LedgerLot, books: LarderBooks) -> str:
    """Name a lot by food, kind where it is known, and the day it was put by."""
    kind = f" ({books.name(lot.kind)})" if lot.kind else ""
    return f"{books.name(lot.food)}{kind}, {day_text(lot.put_by, year=True)}"
