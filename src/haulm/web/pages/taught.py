"""What the year taught: each figure the diary moves, what it rests on, and planning by it."""

from collections.abc import Mapping
from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.season.diary_words import words_of
from haulm.desk.season.learning import keep_lessons, say_of, take_lessons_back
from haulm.desk.season.lesson_records import Moved, Taught
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.units import Units, show_yield
from haulm.notebook.odd_records import SaidOfRecord
from haulm.season.records import Entry
from haulm.web.forms import Form, with_form
from haulm.web.reader import Reader
from haulm.web.show import go, page, reader_of, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import ngettext, noted

HERE = "/taught"
MARGIN, ACROSS = 4.0, 92.0
"""How far from a bar's ends its scale begins, and how long it is, of 100."""
GROUPS: Mapping[Taught, str] = {
    Taught.YIELD: noted("Yields"),
    Taught.COMES_UP: noted("Seed and sets that come up"),
    Taught.LIVES: noted("Plants that live to be lifted"),
    Taught.READY: noted("Days till ready"),
    Taught.KEEPS: noted("Keeping"),
    Taught.MINUTES: noted("Minutes of work"),
}
SAID: Mapping[SaidOfRecord, str] = {
    SaidOfRecord.RIGHT: noted("It counts from now on: %(entry)s"),
    SaidOfRecord.ASIDE: noted("It teaches nothing from now on: %(entry)s"),
    SaidOfRecord.NOTHING: noted("It is asked about again: %(entry)s"),
}


@dataclass(frozen=True, slots=True)
class Bar:
    """A figure drawn: places from 0 to 100 of the usual, of ours and what that lies between.

    ``next_low`` and ``next_high`` are where the next planting lies between; None where not told.
    """

    usual: float
    value: float
    low: float
    high: float
    next_low: float | None
    next_high: float | None


def show(request: Request) -> Response:
    """Show what the year taught."""
    return _shown(request)


def keep(request: Request, form: Form) -> Response:
    """Plan by figures from now on, one or all that there is enough of; or by the usual again."""
    shelf = shelf_of(request)
    garden = shelf.garden
    lessons, now = garden.lessons, shelf.now()
    key = form.text("key")
    chosen = [one for one in lessons.moved if one.key == key]
    try:
        if form.text("do") == "back":
            only = [part for one in chosen for part in one.writes] if key else None
            take_lessons_back(garden.path, now, only)
            told = _(
                "Plans are made by the usual figures again. Plan again to see what it changes."
            )
        else:
            number = keep_lessons(garden.path, lessons, now, [key] if key else None)
            told = ngettext(
                "%(num)d figure is your own from now on. Plan again to see what it changes.",
                "%(num)d figures are your own from now on. Plan again to see what they change.",
                number,
            ) % {"num": number}
    except FaultsFoundError as error:
        return _shown(request, error.findings)
    return go(HERE, told, undo=True)


def say(request: Request, form: Form) -> Response:
    """Say of an odd record that it is right, or teaches nothing, or neither after all."""
    shelf = shelf_of(request)
    word = form.text("said")
    if word not in set(SaidOfRecord):
        return _shown(request)
    said = SaidOfRecord(word)
    try:
        entry = say_of(shelf.garden.path, form.text("entry"), said, shelf.now())
    except FaultsFoundError as error:
        return _shown(request, error.findings)
    return go(HERE, _(SAID[said]) % {"entry": _sentences(request).get(entry, entry)})


def _shown(request: Request, faults: tuple[Finding, ...] = ()) -> Response:
    shelf = shelf_of(request)
    lessons = shelf.garden.lessons
    reader = reader_of(request)
    groups = {
        taught: [one for one in lessons.moved if one.taught is taught]
        for taught in GROUPS
        if any(one.taught is taught for one in lessons.moved)
    }
    return page(
        request,
        "taught.html",
        status=422 if faults else 200,
        faults=faults,
        lessons=lessons,
        groups=groups,
        group_words=GROUPS,
        enough=sum(one.may_be_kept and not one.few for one in lessons.moved),
        kept=sum(one.now is not None for one in lessons.moved),
        sentences=_sentences(request),
        bar=bar_of,
        amount=lambda one, value: figure_words(one, value, reader, shelf.units),
        right=SaidOfRecord.RIGHT.value,
        aside=SaidOfRecord.ASIDE.value,
        nothing=SaidOfRecord.NOTHING.value,
    )


def _sentences(request: Request) -> Mapping[str, str]:
    """Read out the entries that lessons name."""
    shelf = shelf_of(request)
    lessons = shelf.garden.lessons
    named = {id_ for one in lessons.moved for id_ in (*one.counted, *one.asked)}
    named |= {id_ for some in lessons.said.values() for id_ in some}
    entries: Mapping[str, Entry] = {entry.id: entry for entry in shelf.garden.diary.entries}
    words, reader = words_of(shelf.garden.opened), reader_of(request)
    there = {id_: entries[id_] for id_ in named if id_ in entries}
    return {id_: words.sentence(one, reader.day) for id_, one in there.items()}


def bar_of(one: Moved) -> Bar:
    """Place a figure, the usual one and their spreads on a scale that holds them all."""
    ends = [one.usual, one.value, one.low, one.high, one.next_low, one.next_high]
    told = [end for end in ends if end is not None]
    least, most = min(told), max(told)
    width = (most - least) or 1.0

    def at(value: float) -> float:
        return round(MARGIN + ACROSS * (value - least) / width, 1)

    spread = one.next_low is not None and one.next_high is not None
    return Bar(
        usual=at(one.usual),
        value=at(one.value),
        low=at(one.low),
        high=at(one.high),
        next_low=at(one.next_low) if spread and one.next_low is not None else None,
        next_high=at(one.next_high) if spread and one.next_high is not None else None,
    )


def figure_words(one: Moved, value: float, reader: Reader, units: Units) -> str:
    """Write a value of a figure as this reader likes it."""
    if one.taught is Taught.YIELD:
        return reader.said(show_yield(value, units))
    if one.taught in {Taught.COMES_UP, Taught.LIVES}:
        return reader.share(value)
    if one.taught is Taught.READY:
        days = round(value)
        if days == 0:
            return _("as reckoned")
        number = reader.number(abs(days))
        later = ngettext("%(num)s day later", "%(num)s days later", abs(days))
        earlier = ngettext("%(num)s day earlier", "%(num)s days earlier", abs(days))
        return (later if days > 0 else earlier) % {"num": number}
    if one.taught is Taught.KEEPS:
        return _("%(number)s weeks") % {"number": reader.number(value, 1)}
    return _("%(number)s × the usual") % {"number": reader.number(value, 2)}


routes = [
    Route(HERE, show, methods=["GET"]),
    Route(HERE, with_form(keep), methods=["POST"]),
    Route(f"{HERE}/record", with_form(say), methods=["POST"]),
]
