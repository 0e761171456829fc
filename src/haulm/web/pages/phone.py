"""The diary on a phone: a page that opens without a network, and takes what it wrote there."""

import json
from collections.abc import Mapping
from dataclasses import asdict
from datetime import date, datetime
from functools import cache
from hashlib import sha256
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from haulm import __version__
from haulm.catalogue.records import Form as KeptForm
from haulm.desk.season.diary_asked import FIELD_OF, asked_of
from haulm.desk.season.diary_photos import keep_photo
from haulm.desk.season.diary_sent import Moment, read_parcel, take_parcel
from haulm.desk.season.phone_carried import carried_by, weeks_carried
from haulm.desk.showing.drawings import FACES
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.units import Units
from haulm.season.grammar import GRAMMARS, AmountRule
from haulm.season.records import EntryKind, Measured, Purpose, Severity
from haulm.web.pages.diary import GROUPS, LABELS
from haulm.web.pages.diary import WORDS as KIND_WORDS
from haulm.web.pages.phone_words import WORDS
from haulm.web.phone_door.guard import AGAIN, COOKIE, PHONE
from haulm.web.reader import Dates, Numbers, Reader
from haulm.web.show import HERE, page, reader_of, shelf_of, static
from haulm.web.words import ENGLISH, language
from haulm.web.words import gettext as _

HOME = "/phone/"
UNITS: Mapping[Units, Mapping[Measured, tuple[str, ...]]] = {
    "metric": {
        Measured.KG: ("kg", "g"),
        Measured.PIECES: ("pieces",),
        Measured.LITRES: ("l",),
        Measured.MINUTES: ("min", "h"),
        Measured.MILLIMETRES: ("mm",),
        Measured.CELSIUS: ("°C",),
        Measured.SQUARE_METRES: ("m²",),
    },
    "us": {
        Measured.KG: ("lb", "oz"),
        Measured.PIECES: ("pieces",),
        Measured.LITRES: ("US gal",),
        Measured.MINUTES: ("min", "h"),
        Measured.MILLIMETRES: ("in",),
        Measured.CELSIUS: ("°F",),
        Measured.SQUARE_METRES: ("sq ft",),
    },
}
"""The units that the amount's keys offer, the likelier first; all are understood by the reader."""
DATES: Mapping[Dates, str] = {
    Dates.DAY_FIRST: "en-GB",
    Dates.MONTH_FIRST: "en-US",
    Dates.YEAR_FIRST: "en-CA",
}
"""The order of a date as browsers name it."""
FILES = (
    "almanac.css",
    "phone.css",
    "phone.js",
    "phone_store.js",
    "phone_send.js",
    "phone_photo.js",
    "haulm.svg",
)
ICONS = (
    ("haulm-192.png", "192x192", "any"),
    ("haulm-512.png", "512x512", "any"),
    ("haulm-cut-512.png", "512x512", "maskable"),
)
"""The icon; the last one may be cut to a circle by the phone."""


def show(request: Request) -> Response:
    """Show the phone's page, which holds nothing but words and kinds, and fetches the rest."""
    return page(
        request,
        "phone.html",
        setup=_setup(reader_of(request)),
        files={name: static(name) for name in FILES},
    )


def carried(request: Request) -> Response:
    """Hand over what a phone carries to the plot."""
    garden = shelf_of(request).garden
    return _json(asdict(carried_by(garden)) | {"now": shelf_of(request).now()})


def weeks(request: Request) -> Response:
    """Hand over the jobs of this week and the next; the first time it takes a moment to reckon."""
    reader = reader_of(request)
    found = [asdict(week) for week in weeks_carried(shelf_of(request).garden)]
    for job in (job for week in found for job in week["jobs"]):
        job["amount"], job["waits"] = reader.said(job["amount"]), reader.said(job["waits"])
    return _json({"weeks": found})


async def send(request: Request) -> Response:
    """Take in what a phone wrote, and answer for each entry."""
    data = await request.body()
    return await run_in_threadpool(_taken, request, data)


def _taken(request: Request, data: bytes) -> Response:
    shelf = shelf_of(request)
    try:
        parcel = read_parcel(data, _phone(request))
    except FaultsFoundError as error:
        return _json({"told": _findings(error.findings)}, 400)
    now = shelf.now()
    answered = take_parcel(shelf.garden.path, parcel, Moment(now, shelf.garden.day))
    answer = {
        "taken": answered.taken,
        "refused": {name: _findings(found) for name, found in answered.refused.items()},
        "told": _findings(answered.told),
        "now": now,
    }
    return _json(answer)


async def photo(request: Request) -> Response:
    """Take in the photo of an entry."""
    data = await request.body()
    return await run_in_threadpool(_kept, request, data)


def _kept(request: Request, data: bytes) -> Response:
    try:
        keep_photo(shelf_of(request).garden.path, request.path_params["entry"], data)
    except FaultsFoundError as error:
        return _json({"told": _findings(error.findings)}, 422)
    return _json({"kept": True})


def manifest(request: Request) -> Response:
    """Serve what a phone needs to put haulm among its programs.

    A phone that was let in starts by its own key: some systems give an installed page a store of
    its own, without the cookies of the browser it was installed from.
    """
    start = f"{AGAIN}{request.cookies.get(COOKIE, '')}" if _phone(request) else HOME
    icons = [
        {"src": static(name), "sizes": sizes, "type": "image/png", "purpose": purpose}
        for name, sizes, purpose in ICONS
    ]
    content = {
        "name": _("haulm diary"),
        "short_name": _("Diary"),
        "description": _("The garden's diary, also without a network"),
        "id": HOME,
        "start_url": start,
        "scope": HOME,
        "display": "standalone",
        "background_color": "#ffffff",
        "theme_color": "#000000",
        "lang": language(),
        "icons": icons,
    }
    return Response(json.dumps(content), media_type="application/manifest+json")


def worker(_request: Request) -> Response:
    """Serve what keeps the page on the phone; it is another as soon as any of its files is."""
    return Response(_worker(), media_type="text/javascript")


@cache
def _worker() -> str:
    files = [static(name) for name in (*FILES, ICONS[0][0])]
    kept = [HOME, *files, f"/type.css?{__version__}"]
    kept += [f"/type/{name}?{__version__}" for name in FACES]
    script = (HERE / "static" / "phone_worker.js").read_text(encoding="utf-8")
    name = sha256((json.dumps(kept) + script).encode()).hexdigest()[:12]
    return f"const NAME = 'haulm-{name}';\nconst KEPT = {json.dumps(kept)};\n{script}"


def _setup(reader: Reader) -> Mapping[str, Any]:
    """Give the page all that does not change from day to day: kinds, fields, units and words."""
    kinds = {kind.value: _kind(kind, reader.units) for kind in EntryKind}
    return {
        "kinds": kinds,
        "groups": [[_(name), [kind.value for kind in kinds]] for name, kinds in GROUPS],
        "labels": {name: _(label) for name, label in LABELS.items()},
        "choices": {
            "form": [str(one) for one in KeptForm],
            "severity": [str(one) for one in Severity],
            "purpose": [str(one) for one in Purpose],
        },
        "words": {name: _(words) for name, words in WORDS.items()},
        "dates": DATES[reader.dates] if language() == ENGLISH else language(),
        "mark": "." if reader.numbers is Numbers.POINT else ",",
    }


def _kind(kind: EntryKind, units: Units) -> Mapping[str, Any]:
    first, more = asked_of(kind)
    grammar = GRAMMARS[kind]
    told = [one for one in Measured if one in grammar.measures]
    return {
        "word": _(KIND_WORDS[kind]),
        "first": first,
        "more": more,
        "units": [unit for one in told for unit in UNITS[units][one]],
        "needs": [sorted(FIELD_OF.get(one, one) for one in group) for group in grammar.needs],
        "must": grammar.amount is AmountRule.MUST,
    }


def _phone(request: Request) -> str:
    """Give the name under which a phone was let in; empty at the laptop's own door."""
    return str(request.scope.get(PHONE, ""))


def _findings(found: tuple[Finding, ...]) -> list[Mapping[str, Any]]:
    return [{"where": one.where, "what": one.what, "remedy": one.remedy} for one in found]


def _json(content: Mapping[str, Any], status: int = 200) -> Response:
    text = json.dumps(content, default=_day, ensure_ascii=False)
    return Response(text, status, media_type="application/json")


def _day(value: object) -> str:
    if isinstance(value, date | datetime):
        return value.isoformat()
    raise TypeError(value)


def _in(_request: Request) -> Response:
    """Lead to the page: what keeps it on the phone answers for addresses under it alone."""
    return RedirectResponse(HOME, 308)


routes = [
    Route("/phone", _in),
    Route(HOME, show),
    Route("/phone/carried", carried),
    Route("/phone/weeks", weeks),
    Route("/phone/send", send, methods=["POST"]),
    Route("/phone/photo/{entry}", photo, methods=["POST"]),
    Route("/phone/manifest.webmanifest", manifest),
    Route("/phone/worker.js", worker),
]
