"""The block at the foot of a bed sheet: stock, dates, odds, what it gives, whom it serves."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil

from haulm.catalogue.caution_records import Deed
from haulm.catalogue.cautions import cautions_at_work, cautions_for, told
from haulm.catalogue.soil import WHEN, Lime, lime_for, lime_sentence, soil_aims
from haulm.measure.day_words import day_text, short_month, span_text
from haulm.plan.records import Planting
from haulm.sheets.bed_detail import Bedding
from haulm.sheets.bed_names import Older, OlderName
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.draw.canvas import HAIR, Canvas, Pen, Point
from haulm.sheets.draw.hump import draw_hump
from haulm.sheets.draw.type import Face, Style, fitted_size, wrapped
from haulm.sheets.frost import frost_still_to_come
from haulm.sheets.moments import doing
from haulm.sheets.wording import (
    figure,
    food_name,
    from_trays,
    main_ready,
    measure_figure,
    measure_unit,
    weight_text,
)

# Size and leading of the facts: of one or two plantings, and of more.
_WIDE, _CLOSE = (Face.FIRM, 4.3, 5.2), (Face.NARROW, 3.8, 4.2)
_MOST_WIDE = 2
_ROW_PAD = 1.5
_WORDS_MM = 24.0
_HUMP_MM, _HUMP_CLOSE_MM = 26.0, 14.0
# A row that draws odds holds the bar beneath them.
_HUMP_ROW_MM = 6.9
_CAUTION_SIZE, _CAUTION_LEADING = 3.7, 4.2
_ROUNDING = 1e-6
AT_BED = (Deed.SOW, Deed.LIFT, Deed.EAT, Deed.CARRY)
# Seed this near the surface lies on it; no seed in a tray lies deeper than the other [m].
_SURFACE_M, _DEEPEST_IN_TRAYS_M = 0.003, 0.06


@dataclass(frozen=True, slots=True)
class Fact:
    """One row of the block: its word, what it says of each planting, the odds it draws."""

    word: str
    says: tuple[str, ...]
    odds: tuple[tuple[date, date, date] | None, ...] = ()


def facts_of(bundle: SheetBundle, fresh: Sequence[Planting]) -> tuple[Fact, ...]:
    """Say all that is worth knowing of the plantings of one sheet."""
    ready = [main_ready(planting) for planting in fresh]
    dates = tuple((one.early, one.middle, one.late) if one else None for one in ready)
    rows = [
        Fact("stock", tuple(stock_sum(bundle, planting) for planting in fresh)),
        Fact("sow", tuple(_sow_text(planting) for planting in fresh)),
        Fact(_into_ground(fresh), tuple(_set_text(bundle, planting) for planting in fresh)),
        Fact("soil", tuple(_soil_text(bundle, planting) for planting in fresh)),
        Fact("depth", tuple(_depth_text(bundle, planting) for planting in fresh)),
        Fact("ready", tuple(_ready_text(planting) for planting in fresh), dates),
        Fact("gives", tuple(_gives_text(bundle, planting) for planting in fresh)),
        Fact("serves", tuple(_serves_text(bundle, planting) for planting in fresh)),
        Fact("clear by", tuple(_day(planting, planting.clear_by) for planting in fresh)),
    ]
    return tuple(row for row in rows if any(row.says))


def stock_sum(bundle: SheetBundle, planting: Planting) -> str:
    """Write planting stock as a division by survival, as in 32 / (0.70 × 0.90) = 51 seeds.

    The sum is of whole plants, so it may lie a plant's worth under the plan's stock, which was
    reckoned by area. Where the catalogue's figures come to anything else, the plan's stock stands
    alone.
    """
    method = bundle.method_of(planting)
    each = method.units_per_station.value if method else 1.0
    survival = method.germination.value * method.survival.value if method else 1.0
    stock = planting.plants * each / survival
    if method is None or abs(stock - planting.stock) > each / survival + 1:
        return _units(planting.stock, planting.stock_unit)
    top = f"{planting.plants}" if each == 1 else f"{planting.plants} × {figure(each)}"
    below = f"({method.germination.value:.2f} × {method.survival.value:.2f})"
    cells = f" in {_whole(stock / each):.0f} cells" if from_trays(planting) else ""
    return f"{top} / {below} = {_units(stock, planting.stock_unit)}{cells}"


def _units(count: float, unit: str) -> str:
    whole = _whole(count)
    return f"{figure(whole)} {unit}" if whole == 1 else f"{figure(whole)} {unit}s"


def _whole(count: float) -> int:
    # A whole unit and a rounding error are still that unit.
    return ceil(count - _ROUNDING)


def _day(planting: Planting, day: date) -> str:
    # The sheet's head names the year; only another year is named again.
    return day_text(day, year=day.year != planting.in_ground_from.year)


def _into_ground(fresh: Sequence[Planting]) -> str:
    doings = {doing(planting) for planting in fresh} - {"sow"}
    return doings.pop() if len(doings) == 1 else "goes in"


def _sow_text(planting: Planting) -> str:
    if doing(planting) == "plant":
        return ""
    where = "in trays " if from_trays(planting) else "in place "
    window = span_text(planting.earliest_sowing, planting.latest_sowing, year=False)
    return f"{where}{_day(planting, planting.sow_on)}; window {window}"


def _set_text(bundle: SheetBundle, planting: Planting) -> str:
    if doing(planting) == "sow":
        return ""
    text = _day(planting, planting.set_on)
    if not from_trays(planting):
        window = span_text(planting.earliest_sowing, planting.latest_sowing, year=False)
        return f"{text}; window {window}"
    season = planting.set_on.month in ((9, 10, 11, 12) if bundle.place.southern else (3, 4, 5, 6))
    if not bundle.frost or not season:
        return text
    still = frost_still_to_come(bundle.frost[0], planting.set_on, southern=bundle.place.southern)
    if still is None:
        return text
    past = round(10 * (1 - still))
    words = {0: "frost still to come", 10: "frost past"}.get(past, f"frost past, {past} in 10")
    return f"{text}; {words}"


def depth_text(bundle: SheetBundle, planting: Planting) -> tuple[str, str]:
    """Say how deep seed or stock goes, and how deep plants from trays are set; empty for neither.

    The catalogue gives a kind one depth. No seed in a tray is sown deeper than 6 cm (common
    practice), so a greater one is that at which its plants are set: leeks, in dibbled holes.
    """
    depth = bundle.kind_of(planting).stand.depth_m.value
    words = f"{measure_figure(depth, bundle.units)} {measure_unit(bundle.units)}"
    if not from_trays(planting):
        shallow = planting.stock_unit == "seed" and depth <= _SURFACE_M
        return "on the surface" if shallow else f"{words} deep", ""
    if depth > _DEEPEST_IN_TRAYS_M:
        return "", f"{words} deep"
    return "on the surface" if depth <= _SURFACE_M else f"{words} deep", "as in the tray"


def _depth_text(bundle: SheetBundle, planting: Planting) -> str:
    stock, plants = depth_text(bundle, planting)
    if from_trays(planting):
        parts = (f"seed {stock.removesuffix(' deep')}" if stock else "", f"plants {plants}")
        return "; ".join(part for part in parts if part)
    if planting.stock_unit == "seed":
        return f"seed {stock.removesuffix(' deep')}"
    return f"{planting.stock_unit} {stock}"


def _ready_text(planting: Planting) -> str:
    ready = main_ready(planting)
    if ready is None:
        return ""
    other = ready.late.year != planting.in_ground_from.year
    return f"{span_text(ready.early, ready.late, year=other)}, 8 in 10"


def _gives_text(bundle: SheetBundle, planting: Planting) -> str:
    parts = []
    for expects in planting.expects:
        name = f"{food_name(bundle.catalogue, expects.food)} " if len(planting.expects) > 1 else ""
        low, high = (
            weight_text(expects.low_kg, bundle.units),
            weight_text(expects.high_kg, bundle.units),
        )
        low = low.rsplit(" ", 1)[0]
        parts.append(
            f"{name}{weight_text(expects.kg, bundle.units)}; 8 years in 10 from {low} to {high}"
        )
    return ". ".join(parts)


def _ph(bundle: SheetBundle, planting: Planting) -> float | None:
    return next((bed.ph for bed in bundle.beds if bed.id == planting.bed), None)


def _soil_text(bundle: SheetBundle, planting: Planting) -> str:
    """Say what the bed's soil test means for a planting; nothing where it was never tested."""
    ph, crop = _ph(bundle, planting), bundle.catalogue.crops.get(planting.crop)
    if ph is None or crop is None:
        return ""
    sentence = lime_sentence(soil_aims().of(crop), ph, crop.name)
    return f"{sentence} {WHEN}" if _wants_lime(bundle, planting) else sentence


def _wants_lime(bundle: SheetBundle, planting: Planting) -> bool:
    ph, crop = _ph(bundle, planting), bundle.catalogue.crops.get(planting.crop)
    wanted = ph is not None and crop is not None and lime_for(soil_aims().of(crop), ph)
    return wanted is Lime.WANTED


def _serves_text(bundle: SheetBundle, planting: Planting) -> str:
    horizon = bundle.plan.horizon
    parts = []
    for serves in planting.serves:
        first, last = horizon.monday(serves.first_week), horizon.monday(serves.last_week)
        start = f"{short_month(first.month)} {first.year}"
        end = f"{short_month(last.month)} {last.year}"
        when = start if start == end else f"{start} to {end}"
        line = bundle.lines.get(serves.line, serves.line)
        parts.append(f"{weight_text(serves.kg, bundle.units)} of {line}, {when}")
    return "; ".join(parts)


def cautions_of(bundle: SheetBundle, fresh: Sequence[Planting]) -> list[str]:
    """Give every caution that is due where the plantings of a sheet are sown, lifted and eaten."""
    foods = dict.fromkeys(expects.food for planting in fresh for expects in planting.expects)
    crops = dict.fromkeys(planting.crop for planting in fresh)
    found = cautions_for(bundle.catalogue, foods, AT_BED, bundle.ages, crops)
    if any(_wants_lime(bundle, planting) for planting in fresh):
        found += cautions_at_work(bundle.catalogue, (Deed.LIME,))
    return [told(caution) for caution in dict.fromkeys(found)]


class FactsBlock:
    """The block set for a width: its height is known before it is drawn."""

    def __init__(
        self,
        bundle: SheetBundle,
        fresh: Sequence[Planting],
        place: Bedding,
        width: float,
        guide: Sequence[str] = (),
    ) -> None:
        self._width = width
        self._column = (width - _WORDS_MM) / len(fresh)
        close = len(fresh) > _MOST_WIDE
        self._face, self._size, self._leading = _CLOSE if close else _WIDE
        self._hump = _HUMP_CLOSE_MM if close else _HUMP_MM
        self._facts = facts_of(bundle, fresh)
        letters = "ABCD"
        self._heads = tuple(
            (letters[number], bundle.full_name(planting)) for number, planting in enumerate(fresh)
        )
        # Until the drawing is laid out, any of them may yet need a letter.
        self._standing = len(self._standing_lines([f"m {_words(one)}" for one in place.older]))
        bare = [measure for _, measure in place.fresh if not measure.rows]
        notes = [f"{one.letter}: this ground holds 0 of the {one.planned} plants." for one in bare]
        cautions = [f"Caution: {caution}" for caution in cautions_of(bundle, fresh)]
        self._cautions = [
            line
            for text in (*([" ".join(guide)] if guide else []), *notes, *cautions)
            for line in wrapped(text, Face.NARROW, _CAUTION_SIZE, width)
        ]

    def _lines(self, fact: Fact, number: int) -> list[str]:
        room = self._column - (self._hump + 3 if fact.odds and fact.odds[number] else 0) - 5
        return wrapped(fact.says[number], self._face, self._size, room)

    def _row_height(self, fact: Fact) -> float:
        most = max(len(self._lines(fact, number)) for number in range(len(fact.says)))
        return max(max(1, most) * self._leading + _ROW_PAD, _HUMP_ROW_MM if fact.odds else 0.0)

    @property
    def height(self) -> float:
        """How much of the sheet the block takes [mm]."""
        rows = sum(self._row_height(fact) for fact in self._facts)
        cautions = len(self._cautions) * _CAUTION_LEADING + (1.5 if self._cautions else 0)
        return 8.4 + rows + self._standing_height + cautions

    @property
    def _standing_height(self) -> float:
        return self._standing * _CLOSE[2] + _ROW_PAD if self._standing else 0.0

    def _standing_lines(self, names: Sequence[str]) -> list[str]:
        room = self._width - _WORDS_MM
        return wrapped("; ".join(names), *_CLOSE[:2], room) if names else []

    def draw(self, canvas: Canvas, corner: Point, older: Sequence[OlderName]) -> None:
        """Draw the block from its upper left corner, and say what the letters used stand for."""
        left, top = corner
        right = left + self._width
        canvas.line((left, top), (right, top), Pen(0.8))
        y = top + 8.4
        columns = [left + _WORDS_MM + number * self._column for number in range(len(self._heads))]
        for x, (letter, name) in zip(columns, self._heads, strict=True):
            size = fitted_size(f"{letter} {name}", Face.NAME, 5.0, self._column - 6)
            canvas.text((x, top + 5.8), f"{letter} {name}", Style(Face.NAME, size))
        for fact in self._facts:
            height = self._row_height(fact)
            canvas.text((left, y + 4.3), fact.word, Style(Face.TEXT, 4.2))
            for number, x in enumerate(columns):
                odds = fact.odds[number] if fact.odds else None
                if odds:
                    draw_hump(canvas, (x, y + 4.6), self._hump, 4.2, odds)
                shift = self._hump + 3 if odds else 0
                for order, line in enumerate(self._lines(fact, number)):
                    at = (x + shift, y + 4.3 + order * self._leading)
                    canvas.text(at, line, Style(self._face, self._size))
            y += height
            canvas.line((left, y - 0.4), (right, y - 0.4), HAIR)
        for x in columns[1:]:
            canvas.line((x - 3.4, top), (x - 3.4, y - 0.4), HAIR)
        if self._standing:
            self._draw_standing(canvas, (left, y), older)
            y += self._standing_height
        y += 1.5
        for line in self._cautions:
            canvas.text((left, y + 3.2), line, Style(Face.NARROW, _CAUTION_SIZE))
            y += _CAUTION_LEADING

    def _draw_standing(self, canvas: Canvas, corner: Point, older: Sequence[OlderName]) -> None:
        left, y = corner
        canvas.text((left, y + 4.3), "standing", Style(Face.TEXT, 4.2))
        names = [f"{one.letter} {_words(one.older)}".strip() for one in older]
        for order, line in enumerate(self._standing_lines(names)):
            at = (left + _WORDS_MM, y + 4.2 + order * _CLOSE[2])
            canvas.text(at, line, Style(*_CLOSE[:2]))
        y += self._standing_height - 0.4
        canvas.line((left, y), (left + self._width, y), HAIR)


def _words(older: Older) -> str:
    return f"{older.name} {older.until}"
