"""The note for whoever looks after the garden, in words, and written as a file."""

from collections.abc import Iterator
from pathlib import Path

from haulm.desk.beds.water_words import cans_text, weekday
from haulm.desk.season.away import visit_lists
from haulm.desk.season.away_records import AwayNote, Chore
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.units import Units, show_rain, show_temperature, show_volume
from haulm.season.away_rules import away_rules
from haulm.sheets.away_note import AwaySheet, NoteRow, NoteShape, draw_away_note
from haulm.sheets.bundle import Paper
from haulm.sheets.paper import to_pdf
from haulm.sheets.week_words import WEEKDAYS
from haulm.sheets.wording import day_text, span_text

Block = tuple[str, tuple[str, ...]]


def write_away_note(note: AwayNote, units: Units, paper: Paper, out: Path) -> Path:
    """Write the note as a PDF, and give its path.

    Raises
    ------
    FaultsFoundError
        When the file cannot be written.
    """
    try:
        out.write_bytes(away_pdf(note, units, paper))
    except OSError as error:
        what = f"it cannot be written: {error.strerror}."
        raise FaultsFoundError([Finding(str(out), what, "Name another file.")]) from None
    return out


def away_pdf(note: AwayNote, units: Units, paper: Paper) -> bytes:
    """Put the note on paper."""
    return to_pdf(draw_away_note(sheet_of(note, units), paper))


def sheet_of(note: AwayNote, units: Units) -> AwaySheet:
    """Give what the note says, in the garden's units."""
    return AwaySheet(
        garden=f"{note.garden}." + (" Invented garden." if note.invented else ""),
        title=f"The garden, {span_text(note.first, note.last)}",
        lead=lead_words(note, units),
        visits=tuple(f"{WEEKDAYS[day.weekday()]} {day_text(day)}" for day in note.visits),
        rows=tuple(_rows(note, units)),
        shapes=tuple(NoteShape(bed.name, bed.outline) for bed in note.beds),
        blocks=tuple(neighbour_words(note, units)),
        household=tuple(household_words(note)),
    )


def lead_words(note: AwayNote, units: Units) -> tuple[str, ...]:
    """Say the first sentences: who, how often, and how rain counts."""
    home = f" {' and '.join(note.at_home)} stays at home." if note.at_home else ""
    every = round(away_rules().visit_days.value)
    thanks = (
        f"Thank you for looking after the garden.{home} {len(note.visits)} visits, one every "
        f"{every} days, are enough; early morning or evening is best."
    )
    cans = (
        f"Figures are cans of {show_volume(note.can_l, units)}, poured slowly at the foot of the "
        "plants. They are for dry days: if more rain has fallen since the last visit than stands "
        "at the end of the row, skip the bed. A straight-sided jar in the open shows it, with a "
        "ruler. "
        f"In a middle year {show_rain(note.rain_mm, units)} fall in this time."
    )
    return thanks, cans


def _rows(note: AwayNote, units: Units) -> Iterator[NoteRow]:
    """Give the table's rows: beds that are likely to want water, the closed ones last."""
    given = {(bed.id, day): water for day, told in visit_lists(note) for bed, water in told}
    for bed in sorted(note.beds, key=lambda one: bool(one.closed_for)):
        waters = [given.get((bed.id, day)) for day in note.visits]
        some = [water for water in waters if water is not None]
        if some:
            rain = max(water.skip_mm for water in some)
            yield NoteRow(
                bed.name,
                "visit last" if bed.closed_for else ", ".join(bed.stands),
                tuple("" if water is None else f"{water.cans}" for water in waters),
                "always water" if bed.covered else show_rain(rain, units),
            )


def neighbour_words(note: AwayNote, units: Units) -> Iterator[Block]:
    """Give the headed lists for the neighbour, those that have something to say."""
    listed = {bed.id for _, told in visit_lists(note) for bed, _ in told}
    dry = [bed for bed in note.beds if bed.visits and bed.id not in listed]
    if dry:
        lines = [
            f"{bed.name}: {cans_text(bed.visits[0].cans)} on {weekday(bed.visits[0].day)}."
            for bed in dry
        ]
        yield "Only if it stays dry the whole time", tuple(lines)
    covered = [bed.name for bed in note.beds if bed.covered]
    if covered:
        yield "Open and close", (_covers(covered, units),)
    if note.pick:
        foods: dict[str, list[str]] = {}
        for one in note.pick:
            foods.setdefault(one.food, []).append(one.bed)
        lines = [f"{food} ({', '.join(dict.fromkeys(beds))})" for food, beds in foods.items()]
        yield "Pick and eat freely: picked often, it goes on giving", ("; ".join(lines) + ".",)
    yield "Please leave", tuple(_leave(note))
    if note.tender:
        frost = (
            f"It comes in {round(10 * note.frost_odds)} years of 10 in these days. If it is "
            f"forecast, cover with fleece or sheets by dusk: {', '.join(note.tender)}."
        )
        yield "Frost", (frost,)
    if note.blight:
        blight = (
            "Brown blotches on leaves, spreading within days in wet weather, are late blight. "
            "Touch nothing else afterwards, and ring us."
        )
        yield "Potatoes and tomatoes", (blight,)


def _covers(covered: list[str], units: Units) -> str:
    """Say when a tunnel or glass is opened and closed."""
    rules = away_rules()
    opened = show_temperature(rules.open_c.value, units)
    closed = show_temperature(rules.close_c.value, units)
    return (
        f"{', '.join(covered)}: no rain falls in here, so water it at every visit that is listed. "
        f"Leave doors open on days over {opened}; close them for nights under {closed}."
    )


def _leave(note: AwayNote) -> Iterator[str]:
    if note.leave:
        yield f"These are for the winter store: {', '.join(note.leave)}."
    yield "Pods and heads left to ripen seed, and anything with a label that says seed."
    for bed in note.beds:
        if bed.closed_for:
            yield (
                f"{bed.name} has {bed.closed_for} in its soil. Visit it last, and clean boots and "
                "tools before the next visit, so that none is carried to other beds."
            )


def household_words(note: AwayNote) -> Iterator[Block]:
    """Give what the household does before it leaves, and what waits."""
    before = [
        "Water every bed full on the evening before: the waterings of this note count from there.",
        *_chores(note.before),
        "Show where cans, tap and beds are; write the names and numbers on this note.",
    ]
    yield "Before we leave", tuple(before)
    after = tuple(_chores(note.after))
    if after:
        yield "When we are back", after


def _chores(chores: tuple[Chore, ...]) -> Iterator[str]:
    """Write chores, those of one sort in one sentence."""
    together: dict[str, dict[str, list[str]]] = {}
    for one in chores:
        by = f" by {day_text(one.by)}" if one.by else ""
        beds = together.setdefault(one.what, {}).setdefault(one.crop + by, [])
        beds.append(one.bed)
    for what, crops in together.items():
        told = [f"{crop} ({', '.join(dict.fromkeys(beds))})" for crop, beds in crops.items()]
        yield f"{what[0].upper()}{what[1:]}: {', '.join(told)}."
