"""The shopping list: planting stock and compost, on paper and as a table."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from haulm.catalogue.caution_records import Deed
from haulm.catalogue.cautions import cautions_at_work, told
from haulm.measure.day_words import day_text
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.draw.canvas import HAIR, Canvas, Pen
from haulm.sheets.draw.type import Face, Style, fitted_size, shortened, wrapped
from haulm.sheets.shopping_sums import CompostLine, StockLine, compost_lines, stock_lines
from haulm.sheets.tables import csv_text
from haulm.sheets.wording import area_text, figure

MARGIN = 12.0
_ROW_MM = 6.6
_TOP, _FOOT = 36.0, 14.0
LITRES_A_CUBIC_FOOT = 28.316846592
GRAMS_AN_OUNCE = 28.349523125


@dataclass(frozen=True, slots=True)
class _Line:
    """A line of the list: a head, or the cells of a row."""

    cells: tuple[str, ...]
    table: str
    head: bool = False


_COLUMNS = {
    "stock": (("", 0.0), ("first needed", 0.40), ("comes up", 0.50), ("needed", 0.59),
              ("in hand", 0.68), ("kept back", 0.77), ("to buy", 0.89), ("weight", 1.0)),
    "compost": (("", 0.0), ("first needed", 0.40), ("ground", 0.68), ("compost", 1.0)),
    "care": (("", 0.0),),
}  # fmt: skip
# The column that is acted on, counted from 0 after the name.
_HEAVY = {"stock": 5, "compost": 2}
_TITLES = {"stock": "Planting stock", "compost": "Compost", "care": "Take care"}
_CARE = Style(Face.NARROW, 3.7)


def shopping_sheets(bundle: SheetBundle, paper: Paper) -> tuple[str, ...]:
    """Draw the list: what to buy of each kind for each year's sowings, and compost for each bed."""
    lines = [_stock_row(bundle, line) for line in stock_lines(bundle)]
    compost = [_compost_row(bundle, line) for line in compost_lines(bundle)]
    width, height = paper.upright
    lines += compost + (_care(bundle, width - 2 * MARGIN) if compost else [])
    pages = _paged(lines, height - _TOP - _FOOT)
    sheets = []
    for number, page in enumerate(pages, start=1):
        canvas = Canvas("list", width, height)
        _draw_head(bundle, canvas, f"sheet {number} of {len(pages)}" if len(pages) > 1 else "")
        y = _TOP
        for line in page:
            y += _draw_line(canvas, line, y)
        what = f"Shopping list of {bundle.plan.garden}"
        sheets.append(canvas.svg(what, "The same figures stand in shopping-list.csv."))
    return tuple(sheets)


def _paged(lines: Sequence[_Line], room: float) -> list[list[_Line]]:
    """Share lines out over sheets; every table and every sheet starts with its column heads."""
    pages: list[list[_Line]] = [[]]
    used = 0.0
    for line in lines:
        new_table = not pages[-1] or pages[-1][-1].table != line.table
        need = _ROW_MM + (_head_mm() if new_table else 0)
        if used + need > room:
            pages.append([])
            used, new_table = 0.0, True
        if new_table:
            pages[-1].append(
                _Line(tuple(name for name, _ in _COLUMNS[line.table]), line.table, head=True)
            )
            used += _head_mm()
        pages[-1].append(line)
        used += _ROW_MM
    return pages


def _head_mm() -> float:
    return 16.0


def _draw_head(bundle: SheetBundle, canvas: Canvas, which: str) -> None:
    right = canvas.width - MARGIN
    canvas.text((MARGIN, 22), "To buy", Style(Face.NAME, 10))
    made = f"plan of {day_text(bundle.plan.made_on, year=True)}"
    canvas.text((right, 17), made, Style(Face.FIRM, 4.0, anchor="end"))
    printed = f"printed {day_text(bundle.printed_on, year=True)}" + (f", {which}" if which else "")
    canvas.text((right, 22), printed, Style(Face.TEXT, 4.0, anchor="end"))
    text = "Losses are divided out: needed = plants / (share that comes up × share that lives)."
    canvas.text((MARGIN, 32.5), text, Style(Face.TEXT, 3.8))
    canvas.line((MARGIN, 26), (right, 26), Pen(0.8))
    foot = f"{bundle.garden_words}."
    foot += " Invented garden." if bundle.invented else ""
    at = (right, canvas.height - 6)
    canvas.text(at, foot, Style(Face.SLANTED, 3.6, anchor="end"))


def _draw_line(canvas: Canvas, line: _Line, y: float) -> float:
    left, right = MARGIN, canvas.width - MARGIN - 8
    ends = [left + share * (right - left) for _, share in _COLUMNS[line.table]]
    if line.head:
        canvas.text((left, y + 9), _TITLES[line.table], Style(Face.NAME, 6))
        for end, words in zip(ends[1:], line.cells[1:], strict=True):
            canvas.text((end, y + 14), words, Style(Face.TEXT, 3.7, anchor="end"))
        canvas.line((left, y + 15.4), (canvas.width - MARGIN, y + 15.4), Pen(0.5))
        return _head_mm()
    if line.table == "care":
        canvas.text((left, y + 4.7), line.cells[0], _CARE)
        return _ROW_MM
    base = y + 4.7
    room = ends[1] - left - 21
    size = max(3.4, fitted_size(line.cells[0], Face.NAME, 4.2, room))
    name = shortened(line.cells[0], Face.NAME, size, room)
    canvas.text((left, base), name, Style(Face.NAME, size))
    for number, (end, words) in enumerate(zip(ends[1:], line.cells[1:], strict=True)):
        heavy = words and number == _HEAVY[line.table]
        face = Face.STRONG if heavy else Face.TEXT
        canvas.text((end, base), words, Style(face, 4.2, anchor="end"))
    box = (canvas.width - MARGIN - 4.6, y + 1.1)
    canvas.rectangle(box, 4.2, 4.2, Pen(0.35, fill="#fff"))
    canvas.line((left, y + _ROW_MM), (canvas.width - MARGIN, y + _ROW_MM), HAIR)
    return _ROW_MM


def _plural(count: float, unit: str) -> str:
    return f"{figure(count)} {unit}" if count == 1 else f"{figure(count)} {unit}s"


def _stock_row(bundle: SheetBundle, line: StockLine) -> _Line:
    # A whole unit and a rounding error are still that unit.
    needed = ceil(line.needed - 1e-6)
    cells = (
        bundle.kind_words(line.kind),
        day_text(line.first_on, year=True),
        "not known" if line.come_up is None else f"{line.come_up:.0%}",
        figure(needed),
        figure(round(line.in_hand)) if line.in_hand else "",
        figure(round(line.kept_back)) if line.kept_back else "",
        _plural(line.to_buy, line.unit) if line.to_buy else "none",
        _weight(line.buy_g, bundle.units),
    )
    return _Line(cells, "stock")


def _weight(grams: float | None, units: str) -> str:
    if grams is None:
        return "not known"
    if not grams:
        return ""
    shown, least, unit, more, many = (
        (grams / GRAMS_AN_OUNCE, 0.01, "oz", "lb", 16.0)
        if units == "us"
        else (grams, 0.1, "g", "kg", 1000.0)
    )
    if shown < least:
        # Lighter than a kitchen balance tells: the count is what is bought.
        return "a pinch"
    if shown >= many:
        return f"{figure(shown / many)} {more}"
    return f"{figure(shown, 2 if shown >= 10 * least else 1)} {unit}"


def _compost_row(bundle: SheetBundle, line: CompostLine) -> _Line:
    volume = f"{figure(line.litres)} litres"
    if bundle.units == "us":
        volume = f"{figure(line.litres / LITRES_A_CUBIC_FOOT)} cubic feet"
    cells = (
        bundle.bed(line.bed).name,
        day_text(line.first_on, year=True),
        area_text(line.area_m2, bundle.units),
        volume,
    )
    return _Line(cells, "compost")


def _care(bundle: SheetBundle, width: float) -> list[_Line]:
    """Give the cautions due where compost is bought, carried and spread, line by line."""
    due = cautions_at_work(bundle.catalogue, (Deed.CARRY,))
    return [
        _Line((text,), "care")
        for caution in due
        for text in wrapped(told(caution), _CARE.face, _CARE.size, width)
    ]


def shopping_csv(bundle: SheetBundle) -> str:
    """Write the list as a table: one row a kind and year, or a bed's compost and year."""
    columns = (
        "what", "item", "methods", "unit", "year", "first_needed", "plants", "needed", "in_hand",
        "kept_back", "to_buy", "buy_g", "share_that_comes_up", "area_m2", "litres",
    )  # fmt: skip
    rows: list[dict[str, object]] = [
        {
            "what": "planting stock",
            "item": line.kind,
            "methods": " and ".join(line.methods),
            "unit": line.unit,
            "year": line.year,
            "first_needed": line.first_on.isoformat(),
            "plants": line.plants,
            "needed": round(line.needed, 3),
            "in_hand": round(line.in_hand, 3),
            "kept_back": round(line.kept_back, 3),
            "to_buy": line.to_buy,
            "buy_g": "" if line.buy_g is None else round(line.buy_g, 3),
            "share_that_comes_up": "" if line.come_up is None else line.come_up,
        }
        for line in stock_lines(bundle)
    ]
    rows += [
        {
            "what": "compost",
            "item": line.bed,
            "year": line.year,
            "first_needed": line.first_on.isoformat(),
            "area_m2": round(line.area_m2, 3),
            "litres": round(line.litres, 1),
        }
        for line in compost_lines(bundle)
    ]
    return csv_text(columns, rows)
