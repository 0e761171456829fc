"""Place: where the garden lies, its climate as charts, and the weather record it rests on."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from secrets import token_hex

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.garden.editing import choices_of, mark_of
from haulm.desk.garden.fetching import fetch_record, years_to_fetch
from haulm.desk.garden.place_editing import (
    Sample,
    columns_from,
    guess_of,
    place_as_stored,
    place_faults,
    place_sent_by,
    sample_of,
    save_place,
    use_grid,
)
from haulm.desk.garden.uploads import load_record
from haulm.desk.showing.place_drawings import PlaceChart, degree_days, place_charts, rests_on
from haulm.measure.errors import ChangedElsewhereError, FaultsFoundError
from haulm.measure.findings import Finding
from haulm.site.summary import SiteSummary
from haulm.web.forms import Dropped, Form, with_form
from haulm.web.show import changed_elsewhere, go, page, reader_of, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import noted

HERE = "/place"
TOLD_HERE = ("weather", "place")
COLUMNS = {
    "date": noted("Day"),
    "tmin": noted("Lowest temperature"),
    "tmax": noted("Highest temperature"),
    "rain": noted("Rain"),
}


@dataclass(frozen=True, slots=True)
class Loading:
    """How far a record has come: what was found in it, and what is asked about its columns."""

    findings: tuple[Finding, ...] = ()
    refused: bool = False
    asks: bool = False
    sample: Sample | None = None
    key: str = ""
    chosen: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Held:
    """The file dropped last, kept while its columns are asked about."""

    key: str
    file: Dropped


def show(request: Request) -> Response:
    """Show the place and its climate."""
    return _shown(request)


def change(request: Request, form: Form) -> Response:
    """Write the name, the units and the place as typed."""
    shelf = shelf_of(request)
    garden = shelf.garden
    typed = place_as_stored(garden.parts) | form.as_dict()
    try:
        save_place(garden.path, garden.parts, typed, shelf.now())
    except ChangedElsewhereError as error:
        return changed_elsewhere(request, error, HERE)
    except FaultsFoundError as error:
        return _shown(request, typed=typed, error=error)
    return go(HERE, _("The place is changed. Plan again to plan by its climate."), undo=True)


def load(request: Request, form: Form) -> Response:
    """Take in the file that was dropped; ask about its columns where they are not recognised."""
    file = form.files.get("record")
    if file is None:
        nothing = Finding(_("the record"), _("no file was chosen."), _("Choose or drop one."))
        return _shown(request, loading=Loading((nothing,), refused=True))
    guess = guess_of(file.name, file.data)
    if guess is not None:
        chosen, asked = guess
        key = token_hex(8)
        request.app.state.record_held = Held(key, file)
        sample = sample_of(file.name, file.data)
        return _shown(
            request, loading=Loading((asked,), asks=True, sample=sample, key=key, chosen=chosen)
        )
    return _loaded(request, file, None, "")


def load_by_columns(request: Request, form: Form) -> Response:
    """Take in the file that was dropped before, by the columns that were chosen."""
    held: Held | None = getattr(request.app.state, "record_held", None)
    if held is None or held.key != form.text("key"):
        gone = Finding(_("the record"), _("the file is not here any more."), _("Drop it again."))
        return _shown(request, loading=Loading((gone,), refused=True))
    return _loaded(request, held.file, form.as_dict(), held.key)


def fetch(request: Request, form: Form) -> Response:
    """Fetch a daily record from the public service, once the grower has agreed to what is sent."""
    shelf = shelf_of(request)
    path = shelf.garden.path
    if form.text("agreed") != "yes":
        what = _("nothing was sent, for the box is not ticked.")
        refused = Finding(_("the record"), what, _("Tick it to have the coordinates sent."))
        return _shown(request, loading=Loading((refused,), refused=True))
    try:
        years = years_to_fetch(None, None, shelf.today())
        fetched = fetch_record(path, years, shelf.network, shelf.now())
    except FaultsFoundError as error:
        return _shown(request, loading=Loading(error.findings, refused=True))
    told = _("The record of %(first)s to %(last)s is the garden's weather now. Plan again.")
    said = told % {"first": fetched.first, "last": fetched.last}
    return _shown(request, loading=Loading(fetched.findings), told=said)


def to_grid(request: Request, form: Form) -> Response:
    """Go back to the climate of the world's grid."""
    shelf = shelf_of(request)
    try:
        use_grid(shelf.garden.path, form.text("seen"), shelf.now())
    except ChangedElsewhereError as error:
        return changed_elsewhere(request, error, HERE)
    except FaultsFoundError as error:
        return _shown(request, loading=Loading(error.findings, refused=True))
    return go(HERE, _("The climate is that of the world's grid now."), undo=True)


def _loaded(
    request: Request, file: Dropped, chosen: Mapping[str, str] | None, key: str
) -> Response:
    shelf = shelf_of(request)
    columns = columns_from(chosen) if chosen is not None else None
    try:
        findings = load_record(shelf.garden.path, file.name, file.data, columns, shelf.now())
    except FaultsFoundError as error:
        sample = sample_of(file.name, file.data)
        if sample is not None:
            key = key or token_hex(8)
            request.app.state.record_held = Held(key, file)
        asked = Loading(error.findings, refused=True, sample=sample, key=key, chosen=chosen or {})
        return _shown(request, loading=asked)
    request.app.state.record_held = None
    told = _("The record “%(name)s” is the garden's weather now. Plan again to plan by it.")
    return _shown(request, loading=Loading(findings), told=told % {"name": file.name})


def _shown(
    request: Request,
    *,
    typed: Mapping[str, str] | None = None,
    error: FaultsFoundError | None = None,
    loading: Loading | None = None,
    told: str = "",
) -> Response:
    garden = shelf_of(request).garden
    weather = garden.parts["weather"][0] if garden.parts["weather"] else {}
    summary, unclear = _climate(request)
    faults = place_faults(error) if error else {}
    elsewhere = [one for one in (error.findings if error else ()) if one not in faults.values()]
    loading = loading or Loading()
    more = {"told": {"words": told, "undo": True}} if told else {}
    return page(
        request,
        "place.html",
        here=HERE,
        status=422 if error or loading.refused else 200,
        typed=typed or place_as_stored(garden.parts),
        faults=faults,
        elsewhere=elsewhere,
        soils=[(soil, soil) for soil in choices_of("place", "soil")],
        summary=summary,
        unclear=unclear,
        rests_on=rests_on(summary) if summary else "",
        charts=_charts(request, summary),
        degree_days=degree_days,
        weather=weather,
        seen_weather=mark_of(weather),
        limits=[one for one in garden.opened.findings if one.place[:1] in _PARTS],
        loading=loading,
        sent=place_sent_by(garden.parts),
        columns=COLUMNS,
        named_columns=[(name, name) for name in loading.sample.columns] if loading.sample else [],
        **more,
    )


_PARTS = tuple((part,) for part in TOLD_HERE)


def _charts(
    request: Request, summary: SiteSummary | None
) -> list[tuple[PlaceChart, list[list[str]]]]:
    """Draw the climate's charts, each with the rows of its table as this reader writes figures."""
    if summary is None:
        return []
    garden, reader = shelf_of(request).garden, reader_of(request)
    drawn = garden.once("place charts", (), lambda: place_charts(summary, garden.opened.garden))
    return [(one, [[reader.said(cell) for cell in row] for row in one.table.rows]) for one in drawn]


def _climate(request: Request) -> tuple[SiteSummary | None, tuple[Finding, ...]]:
    """Give the climate, or why none can be told."""
    try:
        return shelf_of(request).garden.climate, ()
    except FaultsFoundError as error:
        return None, error.findings


routes = [
    Route(HERE, show),
    Route(HERE, with_form(change), methods=["POST"]),
    Route(f"{HERE}/record", with_form(load), methods=["POST"]),
    Route(f"{HERE}/columns", with_form(load_by_columns), methods=["POST"]),
    Route(f"{HERE}/fetch", with_form(fetch), methods=["POST"]),
    Route(f"{HERE}/grid", with_form(to_grid), methods=["POST"]),
]
