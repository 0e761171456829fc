"""The note for whoever looks after the garden, in words, in the reader's language."""

from collections.abc import Iterator

from haulm.desk.season.away import visit_lists
from haulm.desk.season.away_records import AwayBed, AwayNote, Chore
from haulm.measure.sentences import capital
from haulm.season.away_rules import away_rules
from haulm.sheets.away_note import AwayHeads, AwaySheet, NoteRow, NoteShape
from haulm.web.reader import Reader
from haulm.web.words import gettext as _
from haulm.web.words import ngettext, noted

Block = tuple[str, tuple[str, ...]]

CHORES = (noted("pick what is ready of"), noted("sow or set"), noted("lift and clear"))
"""What the household does, as the desk calls it; put into the reader's language where shown."""


def sheet_of(note: AwayNote, reader: Reader) -> AwaySheet:
    """Give what the note says, in the reader's language and units."""
    span = {"first": reader.short_day(note.first), "last": reader.day(note.last)}
    garden = {"garden": note.garden}
    return AwaySheet(
        garden=_("%(garden)s. Invented garden.") % garden if note.invented else f"{note.garden}.",
        title=_("The garden, %(first)s to %(last)s") % span,
        lead=tuple(lead_words(note, reader)),
        visits=tuple(reader.weekday(day) for day in note.visits),
        rows=tuple(_rows(note, reader)),
        shapes=tuple(NoteShape(bed.name, bed.outline) for bed in note.beds),
        blocks=tuple(neighbour_words(note, reader)),
        household=tuple(household_words(note, reader)),
        heads=AwayHeads(
            water=_("Water"),
            skip=_("skip if more rain than"),
            ring=_("Whom to ring"),
            ring_lines=(
                _("Ring us on"),
                _("If we cannot be reached"),
                _("The tap and the cans are"),
            ),
            shapes=_("The beds by their shapes, to one scale, north up"),
            page=_("%(title)s, page %(number)s"),
            page_of=_("%(title)s, page %(number)s of %(last)s"),
        ),
    )


def lead_words(note: AwayNote, reader: Reader) -> Iterator[str]:
    """Say the first sentences: who, how often, how rain counts, and what is forecast."""
    yield " ".join(_thanks(note))
    yield _(
        "Figures are cans of %(size)s, poured slowly at the foot of the plants. They are for dry "
        "days: if more rain has fallen since the last visit than stands at the end of the row, "
        "skip the bed. A straight-sided jar in the open shows it, with a ruler."
    ) % {"size": reader.volume(note.can_l)}
    yield _rain(note, reader)


def _thanks(note: AwayNote) -> Iterator[str]:
    home, every = note.at_home, round(away_rules().visit_days.value)
    yield _("Thank you for looking after the garden.")
    if home:
        stays = ngettext("%(names)s stays at home.", "%(names)s stay at home.", len(home))
        yield stays % {"names": ", ".join(home)}
    visits = ngettext(
        "%(num)s visit is enough; early morning or evening is best.",
        "%(num)s visits are enough, one every %(days)s days; early morning or evening is best.",
        len(note.visits),
    )
    yield visits % {"num": len(note.visits), "days": every}


def _rain(note: AwayNote, reader: Reader) -> str:
    """Say what rain is to be expected, and how far that is what was forecast."""
    rain = {"rain": reader.rain(note.rain_mm)}
    if not note.rain_told:
        return _("In a middle year %(rain)s fall in this time.") % rain
    told = {"num": note.rain_told, "rain": rain["rain"]}
    return (
        ngettext(
            "By what is forecast for one of the days, and a middle year for the rest, %(rain)s "
            "fall in this time.",
            "By what is forecast for %(num)s of the days, and a middle year for the rest, %(rain)s "
            "fall in this time.",
            note.rain_told,
        )
        % told
    )


def _rows(note: AwayNote, reader: Reader) -> Iterator[NoteRow]:
    """Give the table's rows: beds that are likely to want water, the closed ones last."""
    given = {(bed.id, day): water for day, told in visit_lists(note) for bed, water in told}
    for bed in sorted(note.beds, key=lambda one: bool(one.closed_for)):
        waters = [given.get((bed.id, day)) for day in note.visits]
        some = [water for water in waters if water is not None]
        if some:
            rain = max(water.skip_mm for water in some)
            yield NoteRow(
                bed.name,
                _("visit last") if bed.closed_for else ", ".join(bed.stands),
                tuple("" if water is None else f"{water.cans}" for water in waters),
                _("always water") if bed.covered else reader.rain(rain),
            )


def neighbour_words(note: AwayNote, reader: Reader) -> Iterator[Block]:
    """Give the headed lists for the neighbour, those that have something to say."""
    listed = {bed.id for _day, told in visit_lists(note) for bed, _water in told}
    dry = [bed for bed in note.beds if bed.visits and bed.id not in listed]
    if dry:
        yield _("Only if it stays dry the whole time"), tuple(_if_dry(bed, reader) for bed in dry)
    covered = [bed.name for bed in note.beds if bed.covered]
    if covered:
        yield _("Open and close"), (_covers(covered, reader),)
    if note.pick:
        foods: dict[str, list[str]] = {}
        for one in note.pick:
            foods.setdefault(one.food, []).append(one.bed)
        lines = [f"{food} ({', '.join(dict.fromkeys(beds))})" for food, beds in foods.items()]
        yield _("Pick and eat freely: picked often, it goes on giving"), ("; ".join(lines) + ".",)
    yield _("Please leave"), tuple(_leave(note))
    if note.tender:
        yield _("Frost"), tuple(_frost(note, reader))
    if note.blight:
        blight = _(
            "Brown blotches on leaves, spreading within days in wet weather, are late blight. "
            "Touch nothing else afterwards, and ring us."
        )
        yield _("Potatoes and tomatoes"), (blight,)


def _if_dry(bed: AwayBed, reader: Reader) -> str:
    first = bed.visits[0]
    told = {"bed": bed.name, "num": first.cans, "day": reader.weekday(first.day)}
    return (
        ngettext(
            "%(bed)s: %(num)s can on %(day)s.", "%(bed)s: %(num)s cans on %(day)s.", first.cans
        )
        % told
    )


def _covers(covered: list[str], reader: Reader) -> str:
    """Say when a tunnel or glass is opened and closed."""
    rules = away_rules()
    return _(
        "%(beds)s: no rain falls in here, so water it at every visit that is listed. Leave doors "
        "open on days over %(open)s; close them for nights under %(close)s."
    ) % {
        "beds": ", ".join(covered),
        "open": reader.temperature(rules.open_c.value),
        "close": reader.temperature(rules.close_c.value),
    }


def _leave(note: AwayNote) -> Iterator[str]:
    """Say what is not to be picked, and which beds are visited last."""
    if note.leave:
        yield _("These are for the winter store: %(foods)s.") % {"foods": ", ".join(note.leave)}
    yield _("Pods and heads left to ripen seed, and anything with a label that says seed.")
    for bed in note.beds:
        if bed.closed_for:
            yield _(
                "%(bed)s has %(disease)s in its soil. Visit it last, and clean boots and tools "
                "before the next visit, so that none is carried to other beds."
            ) % {"bed": bed.name, "disease": bed.closed_for}


def _frost(note: AwayNote, reader: Reader) -> Iterator[str]:
    """Say how likely frost is, in which nights it is forecast, and what to cover."""
    tender = {"crops": ", ".join(note.tender)}
    if note.frost_nights:
        days = [reader.weekday(day) for day in note.frost_nights]
        yield _("Frost may come, by the forecast, in the night that ends on %(days)s.") % {
            "days": ", ".join(days)
        }
    else:
        yield _("Frost comes in %(num)s years of 10 in these days.") % {
            "num": round(10 * note.frost_odds)
        }
    yield _("If it is forecast, cover with fleece or sheets by dusk: %(crops)s.") % tender


def household_words(note: AwayNote, reader: Reader) -> Iterator[Block]:
    """Give what the household does before it leaves, and what waits."""
    before = [
        _(
            "Water every bed full on the evening before: the waterings of this note count from "
            "there."
        ),
        *_chores(note.before, reader),
        _("Show where cans, tap and beds are; write the names and numbers on this note."),
    ]
    yield _("Before we leave"), tuple(before)
    after = tuple(_chores(note.after, reader))
    if after:
        yield _("When we are back"), after


def _chores(chores: tuple[Chore, ...], reader: Reader) -> Iterator[str]:
    """Write chores, those of one sort in one sentence."""
    together: dict[str, dict[str, list[str]]] = {}
    for one in chores:
        told = {"crop": one.crop, "day": reader.short_day(one.by) if one.by else ""}
        crop = _("%(crop)s by %(day)s") % told if one.by else one.crop
        together.setdefault(one.what, {}).setdefault(crop, []).append(one.bed)
    for what, crops in together.items():
        listed = [f"{crop} ({', '.join(dict.fromkeys(beds))})" for crop, beds in crops.items()]
        yield f"{capital(_(what))}: {', '.join(listed)}."
