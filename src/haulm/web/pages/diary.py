"""The diary: write what was done and seen, read it again, put it right, take it back."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from uuid import uuid4

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.catalogue.records import Form as KeptForm
from haulm.desk.at_hand import AtHand
from haulm.desk.garden.safekeeping import copies_of, safekeeping_figures
from haulm.desk.season.diary import find_entry, put_right, take_back, write_entry
from haulm.desk.season.diary_asked import (
    Named,
    amount_example,
    asked_of,
    beds_offered,
    plantings_offered,
    stores_offered,
    tanks_offered,
)
from haulm.desk.season.diary_files import as_typed
from haulm.desk.season.diary_photos import keep_photo, photo_of
from haulm.desk.season.diary_typed import TypedEntry, Written, typed_fields
from haulm.desk.season.diary_words import words_of
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.sentences import capital
from haulm.season.pictures import bare_picture
from haulm.season.records import Entry, EntryKind, Purpose, Severity
from haulm.season.slips import slips_in
from haulm.web.forms import Form, with_form
from haulm.web.show import go, page, reader_of, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import noted

HERE = "/diary"
SHOWN_DAYS = 21
"""So many days of the diary are shown before it is opened further."""
LAPTOP = "the garden's pages"
GROUPS: tuple[tuple[str, tuple[EntryKind, ...]], ...] = (
    (noted("Picked and put by"), (EntryKind.PICKED, EntryKind.CURED, EntryKind.PUT_BY)),
    (
        noted("On the ground"),
        (
            EntryKind.SOWN,
            EntryKind.SET,
            EntryKind.SET_OUT,
            EntryKind.WATERED,
            EntryKind.WEEDED,
            EntryKind.THINNED,
            EntryKind.FED,
            EntryKind.CLEARED,
            EntryKind.WORKED,
        ),
    ),
    (
        noted("Seen"),
        (
            EntryKind.EMERGED,
            EntryKind.RAINED,
            EntryKind.TANK_READ,
            EntryKind.FROST,
            EntryKind.TROUBLE,
            EntryKind.LOOKED,
        ),
    ),
    (
        noted("In the larder"),
        (EntryKind.COUNTED, EntryKind.EATEN, EntryKind.GIVEN, EntryKind.THROWN),
    ),
)
WORDS: Mapping[EntryKind, str] = {
    EntryKind.SOWN: noted("Sown"),
    EntryKind.SET: noted("Set or planted"),
    EntryKind.EMERGED: noted("Come up"),
    EntryKind.THINNED: noted("Thinned"),
    EntryKind.SET_OUT: noted("Set out"),
    EntryKind.WATERED: noted("Watered"),
    EntryKind.RAINED: noted("Rain in the gauge"),
    EntryKind.TANK_READ: noted("Rain tank read"),
    EntryKind.FED: noted("Fed or mulched"),
    EntryKind.WEEDED: noted("Weeded"),
    EntryKind.FROST: noted("Frost"),
    EntryKind.TROUBLE: noted("Pest or disease"),
    EntryKind.LOOKED: noted("Looked at: is it ready"),
    EntryKind.PICKED: noted("Picked or lifted"),
    EntryKind.CURED: noted("Cured"),
    EntryKind.PUT_BY: noted("Put by"),
    EntryKind.COUNTED: noted("Counted in store"),
    EntryKind.EATEN: noted("Eaten from store"),
    EntryKind.GIVEN: noted("Given away"),
    EntryKind.THROWN: noted("Thrown out"),
    EntryKind.CLEARED: noted("Bed cleared"),
    EntryKind.WORKED: noted("Hours worked"),
}
LABELS: Mapping[str, str] = {
    "planting": noted("Planting"),
    "bed": noted("Bed"),
    "crop_kind": noted("Kind, where no planting is named"),
    "food": noted("Food"),
    "store": noted("Store"),
    "form": noted("Kept how"),
    "lot": noted("Lot"),
    "trouble": noted("What it is"),
    "severity": noted("How bad"),
    "purpose": noted("What for"),
    "amount": noted("How much"),
    "sound": noted("Sound"),
    "soft": noted("Soft or rotten"),
    "sprouted": noted("Sprouted"),
    "green": noted("Green leaves of a usual plant"),
    "brown": noted("Brown leaves of it"),
    "down": noted("Tops down or dead, per cent"),
    "minutes": noted("Minutes of work"),
    "words": noted("In words"),
    "tank": noted("Rain tank"),
}


def show(request: Request) -> Response:
    """Show the diary, and the form of the kind of entry that is asked for."""
    asked = request.query_params
    typed = {name: asked[name] for name in typed_fields() if name in asked}
    right = asked.get("right", "")
    if right:
        entry = _entry(shelf_of(request).garden, right)
        units = shelf_of(request).garden.opened.garden.units
        typed = {name: getattr(as_typed(entry, units), name) for name in typed_fields()}
    kind = typed.get("kind", "")
    if kind and kind not in set(EntryKind):
        raise HTTPException(404)
    return _shown(request, typed, right)


def write(request: Request, form: Form) -> Response:
    """Write an entry, or put one right; what does not fit is shown beside its field."""
    shelf = shelf_of(request)
    typed = TypedEntry(**{name: form.text(name) for name in typed_fields()})
    picture = form.files.get("photo")
    written = Written(uuid4().hex, shelf.now(), LAPTOP)
    right = form.text("right")
    day = shelf.garden.day
    try:
        if picture:
            # Looked at first, so that an entry is not written without the photo it was to have.
            bare_picture(picture.data)
        if right:
            entry = put_right(shelf.garden.path, right, typed, written, day)
        else:
            entry = write_entry(shelf.garden.path, typed, written, day)
        if picture:
            keep_photo(shelf.garden.path, entry.id, picture.data)
    except FaultsFoundError as error:
        sent = {name: getattr(typed, name) for name in typed_fields()}
        return _shown(request, sent, right, error.findings)
    back = form.text("back")
    told = _("Written: %(entry)s") % {"entry": _read_out(request, entry)}
    return go(back if back.startswith("/week") else HERE, _with_question(request, entry, told))


def photo(request: Request) -> Response:
    """Show the photo of an entry, and nothing that a browser would run."""
    entry = request.path_params["entry"]
    found = photo_of(shelf_of(request).garden.path, entry)
    if found is None:
        raise HTTPException(404)
    headers = {"Content-Security-Policy": "default-src 'none'; sandbox"}
    return Response(found.picture, media_type=found.media_type, headers=headers)


def undo(request: Request, form: Form) -> Response:
    """Take an entry back."""
    shelf = shelf_of(request)
    try:
        entry = take_back(
            shelf.garden.path,
            form.text("entry"),
            Written(uuid4().hex, shelf.now(), LAPTOP),
        )
    except FaultsFoundError as error:
        return _shown(request, {}, "", error.findings)
    return go(HERE, _("Taken back: %(entry)s") % {"entry": _read_out(request, entry)})


def _with_question(request: Request, entry: Entry, told: str) -> str:
    """Ask about what is hardly meant as it was written, behind what is told of it."""
    garden, reader = shelf_of(request).garden, reader_of(request)
    plan = garden.unlaid.plan if garden.unlaid else None
    slips = slips_in([entry], plan, garden.opened.garden.units)
    if not slips:
        return told
    asked = " ".join(f"{capital(one.what)} {one.remedy}" for one in slips)
    return _("%(told)s. Is that right? %(asked)s") % {"told": told, "asked": reader.said(asked)}


def _read_out(request: Request, entry: Entry) -> str:
    """Read an entry out with its day as the reader writes days."""
    words = words_of(shelf_of(request).garden.opened)
    return words.sentence(entry, reader_of(request).day)


def _entry(garden: AtHand, right: str) -> Entry:
    try:
        return find_entry(garden.diary, right)
    except FaultsFoundError:
        raise HTTPException(404) from None


def _shown(
    request: Request,
    typed: Mapping[str, str],
    right: str = "",
    faults: tuple[Finding, ...] = (),
) -> Response:
    garden = shelf_of(request).garden
    kind = typed.get("kind", "")
    first, more = asked_of(EntryKind(kind)) if kind in set(EntryKind) else ((), ())
    fields = {*first, *more, "day", "photo"}
    at_field = {str(f.place[0]): f for f in reversed(faults) if f.place and f.place[0] in fields}
    diary = garden.diary
    month = _month(request)
    words, reader = words_of(garden.opened), reader_of(request)
    return page(
        request,
        "diary.html",
        status=422 if faults else 200,
        garden=garden,
        groups=GROUPS,
        kind_words=WORDS,
        labels=LABELS,
        kind=kind,
        first=first,
        more=more,
        told_more=any(name in at_field or typed.get(name) for name in (*more, "photo")),
        typed={"day": garden.day.isoformat(), **typed},
        example=amount_example(EntryKind(kind)) if first else "",
        offered=_offered(garden) if first else {},
        foods=garden.catalogue.foods.values() if "food" in fields else (),
        faults=at_field,
        others=[fault for fault in faults if fault not in at_field.values()],
        right=right,
        back=request.query_params.get("back", ""),
        diary=diary,
        month=month,
        days=_by_day(diary.entries, garden.day, month),
        months=sorted(Counter(entry.day.replace(day=1) for entry in diary.entries).items())[::-1],
        said=words.undated,
        before=lambda entry: words.sentence(entry, reader.day),
        photo_of=lambda entry: _photo_of(entry, garden),
        copied_days=_copied_days(request),
        copy_old_days=safekeeping_figures()["old_days"].value,
    )


def _month(request: Request) -> date | None:
    """Give the first day of the month that is asked for, as in 2029-05; None where none is."""
    asked = request.query_params.get("month")
    if asked is None:
        return None
    try:
        return date.fromisoformat(f"{asked}-01")
    except ValueError:
        raise HTTPException(404) from None


def _by_day(
    entries: Iterable[Entry], today: date, month: date | None
) -> list[tuple[date, list[Entry]]]:
    """Give the entries of a month, or else of the last weeks, by day, the newest first."""
    since = today - timedelta(days=SHOWN_DAYS)
    days: dict[date, list[Entry]] = defaultdict(list)
    for entry in entries:
        if entry.day >= since if month is None else entry.day.replace(day=1) == month:
            days[entry.day].append(entry)
    return [(day, days[day][::-1]) for day in sorted(days, reverse=True)]


def _copied_days(request: Request) -> int | None:
    """Give the age of the newest copy of the open notebook [d]; None where there is none."""
    shelf = shelf_of(request)
    copies = copies_of(shelf.garden.path)
    return copies[-1].age_days(shelf.now()) if copies else None


def _photo_of(entry: Entry, garden: AtHand) -> str:
    """Give the id under which an entry's photo lies, its own or that of what it put right."""
    ids = (entry.id, *(one.id for one in garden.diary.before.get(entry.id, ())))
    return next((one for one in ids if one in garden.photographed), "")


def _offered(garden: AtHand) -> Mapping[str, tuple[Named, ...]]:
    """Give what each field offers to choose from; a field not named here is typed."""
    opened = garden.opened
    made = garden.unlaid
    return {
        "planting": plantings_offered(made.plan if made else None, opened.catalogue, garden.day),
        "bed": beds_offered(opened.garden),
        "store": stores_offered(opened.garden),
        "tank": tanks_offered(opened.garden),
        "form": tuple((str(form), str(form)) for form in KeptForm),
        "severity": tuple((str(one), str(one)) for one in Severity),
        "purpose": tuple((str(one), str(one)) for one in Purpose),
    }


routes = [
    Route(HERE, show, methods=["GET"]),
    Route(HERE, with_form(write), methods=["POST"]),
    Route("/diary/photo/{entry}", photo),
    Route("/diary/back", with_form(undo), methods=["POST"]),
]
