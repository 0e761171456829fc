"""The Year: every bed through the seasons, a planting opened, and what is settled by hand."""

from collections.abc import Mapping, Sequence
from datetime import date
from math import inf
from typing import Any
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.garden.editing import Change, change_garden
from haulm.desk.planning.noting import NOTED, NoteWish, note, notes_about
from haulm.desk.planning.pinning import (
    PIN,
    BedOffer,
    Choice,
    beds_on_offer,
    same_as_seen,
    seen_mark,
    settle,
    speaking_of,
    spots_taken,
    weeks_on_offer,
)
from haulm.desk.planning.plans import Made, find_planting
from haulm.desk.planning.settling import PinWish, plant_names, settle_pin
from haulm.desk.showing.year_drawings import WEEK_PX, families_in, key_marks, now_px, opened, strips
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade
from haulm.plan.records import Planting
from haulm.sheets.bundle import SheetBundle
from haulm.web.forms import Form, with_form
from haulm.web.pages.year_words import (
    PREFIX,
    about_planting,
    became_words,
    bed_against,
    bed_offered,
    headline,
    key_words,
    pin_rows,
    planting_rows,
    said,
    week_offered,
)
from haulm.web.show import go, page, reader_of, shelf_of
from haulm.web.words import gettext as _

WINDOW = "window"
"""The cookie that tells a window's height; the scale of the strips follows it."""
AROUND_PX = 400
"""What stands above and below the strips on the page [px]."""


def show(request: Request) -> Response:
    """Show the year in the ground."""
    return _shown(request)


def open_planting(request: Request) -> Response:
    """Show the year with one planting opened beneath its bed."""
    made = shelf_of(request).garden.made
    if made is None:
        return go("/year")
    try:
        return _shown(request, find_planting(made.plan, request.path_params["planting"]))
    except FaultsFoundError as error:
        return _not_there(request, error)


def settle_by_hand(request: Request, form: Form) -> Response:
    """Settle something about a planting by hand: write it down as pins of the garden."""
    shelf = shelf_of(request)
    garden, made = shelf.garden, shelf.garden.made
    if made is None:
        return go("/year")
    try:
        planting = find_planting(made.plan, request.path_params["planting"])
    except FaultsFoundError as error:
        return _not_there(request, error)
    pins, plantings = garden.parts[PIN], made.plan.plantings
    same_as_seen(form.text("seen"), planting, pins, plantings)
    rooms = {bed.id: bed.outline.area_m2 for bed in made.garden.beds}
    try:
        choice, value = _chosen(request, planting, form)
        room_m2 = rooms.get(value, inf)
        changes = settle(planting, choice, value, pins, plantings, room_m2=room_m2)
        change_garden(garden.path, changes, shelf.now())
    except FaultsFoundError as error:
        return _shown(request, planting, typed=form, found=error.findings)
    told = _("Settled. It holds for every plan made from now on: plan again around it.")
    return go(PREFIX + quote(planting.id), told, undo=True)


def note_down(request: Request, form: Form) -> Response:
    """Write down what went otherwise with a planting."""
    shelf = shelf_of(request)
    garden, made = shelf.garden, shelf.garden.made
    if made is None:
        return go("/year")
    try:
        planting = find_planting(made.plan, request.path_params["planting"])
    except FaultsFoundError as error:
        return _not_there(request, error)
    try:
        on = day_typed(form.text("on"), garden.day)
        wish = NoteWish(form.text("what"), on, form.text("days"), form.text("share"))
        note(garden.path, planting.id, wish, shelf.now())
    except FaultsFoundError as error:
        return _shown(request, planting, typed=form, found=error.findings)
    told = _("Noted. Plan again: what is still to come is made anew around it.")
    return go(PREFIX + quote(planting.id), told, undo=True)


def day_typed(text: str, today: date) -> date:
    """Read the day of a note; today where none was typed.

    Raises
    ------
    FaultsFoundError
        When it is no day of the calendar.
    """
    try:
        return date.fromisoformat(text) if text else today
    except ValueError:
        what = f"“{text}” is no day of the calendar."
        remedy = "Write it as in 2027-06-18."
        raise FaultsFoundError([Finding("the day", what, remedy, place=("noted", "on"))]) from None


def take_back(request: Request, form: Form) -> Response:
    """Take out one note."""
    shelf = shelf_of(request)
    change_garden(shelf.garden.path, [Change(NOTED, form.text("seen"), None)], shelf.now())
    return go("/year", _("Taken back. The next plan does not count it."), undo=True)


def let_go(request: Request, form: Form) -> Response:
    """Take out one thing that was settled by hand."""
    shelf = shelf_of(request)
    change_garden(shelf.garden.path, [Change(PIN, form.text("seen"), None)], shelf.now())
    return go("/year", _("Let go. The next plan is free to choose there."), undo=True)


def settle_more(request: Request, form: Form) -> Response:
    """Settle by hand what is about no single planting: so much of a crop, some beds alone."""
    shelf = shelf_of(request)
    wish = PinWish(
        rule=form.text("rule"),
        what=form.text("what"),
        area=form.text("area"),
        beds=form.texts("beds"),
        year=form.text("year"),
        apart_from=form.text("apart_from"),
    )
    try:
        settle_pin(shelf.garden.path, wish, shelf.now())
    except FaultsFoundError as error:
        return _shown(request, typed=form, found=error.findings)
    told = _("Settled. It holds for every plan made from now on: plan again around it.")
    return go("/year", told, undo=True)


def _chosen(request: Request, planting: Planting, form: Form) -> tuple[Choice, str]:
    """Read what was chosen, and hold it to what is on offer.

    Raises
    ------
    FaultsFoundError
        When it is not on offer.
    """
    choice, value = form.text("choice"), form.text("value")
    weeks, beds, _against = _offers(request, planting)
    on_offer: dict[str, list[str]] = {str(key): [""] for key in Choice}
    on_offer[Choice.WEEK] = [week for week, _words in weeks]
    on_offer[Choice.BED] = [bed for bed, _words in beds]
    on_offer[Choice.AREA] = [value]
    if planting.standing or value not in on_offer.get(choice, ()):
        what = _("that is not among the choices for it now.")
        raise FaultsFoundError([Finding(planting.id, what, _("Choose again."))])
    return Choice(choice), value


def _offers(
    request: Request, planting: Planting
) -> tuple[list[tuple[str, str]], list[tuple[str, str]], list[str]]:
    """List the other weeks and beds for a planting, and say which beds can't take it and why."""
    garden, reader = shelf_of(request).garden, reader_of(request)
    bundle = garden.bundle
    if planting.standing or bundle is None:
        return [], [], []
    try:
        question = garden.asked.question
    except FaultsFoundError:
        # What was started or put by since can't be asked about as of this day; no plan can be made.
        return [], [], []
    taken = spots_taken(planting, garden.parts[PIN], bundle.plan.plantings)
    beds = beds_on_offer(planting, question, taken)
    return (
        [week_offered(sowing, reader) for sowing in weeks_on_offer(planting, question, taken)],
        [bed_offered(offer, planting, reader) for offer in beds if offer.against is None],
        [
            bed_against(offer, _kept_off(bundle, planting, offer), reader)
            for offer in beds
            if offer.against is not None
        ],
    )


def _kept_off(bundle: SheetBundle, planting: Planting, offer: BedOffer) -> str:
    """Name what a closed bed is closed to: the crop by itself, or its family."""
    if offer.crop_alone:
        return bundle.catalogue.crops[planting.crop].name
    return _("the %(family)s") % {"family": bundle.family_of(planting).name}


def _shown(
    request: Request,
    planting: Planting | None = None,
    typed: Form | None = None,
    found: Sequence[Finding] = (),
) -> Response:
    garden, reader = shelf_of(request).garden, reader_of(request)
    bundle, made = garden.bundle, garden.made
    if bundle is None or made is None:
        return page(request, "year.html", planned=False)
    height = _window_px(request)
    chosen = planting.id if planting else None
    drawn = garden.once(
        "year strips",
        (chosen, height, garden.day),
        lambda: strips(bundle, PREFIX, chosen, height_px=height),
    )
    return page(
        request,
        "year.html",
        status=422 if found else 200,
        planned=True,
        bundle=bundle,
        plan=bundle.plan,
        note=Grade.NOTE,
        headline=headline(bundle.plan, reader),
        since=bool(made.since),
        drawn=drawn,
        now_px=now_px(bundle),
        week_px=WEEK_PX,
        short_paths=[
            f"line/{shortage.line}"
            for shortage in sorted(bundle.plan.shortages, key=lambda one: -one.kg)
        ],
        shortages=[
            said(shortage.sentence, reader)
            for shortage in sorted(bundle.plan.shortages, key=lambda one: -one.kg)
        ],
        broken=[said(rule.sentence, reader) for rule in bundle.plan.broken],
        key=[(svg, key_words(name)) for name, svg in key_marks(bundle).items()],
        families=families_in(bundle),
        shown_bed=_shown_bed(request, bundle, planting),
        rows=planting_rows(bundle, reader),
        pins=pin_rows(garden.opened.garden.pins, garden.parts[PIN], made, reader),
        more=_more(request, typed, found) if planting is None else None,
        opened=_opened(request, bundle, made, planting, (typed, found)) if planting else None,
        typed=typed.text("value") if typed and typed.text("choice") == Choice.AREA else None,
    )


def _more(request: Request, typed: Form | None, found: Sequence[Finding]) -> Mapping[str, Any]:
    """Gather what the forms show that settle more than one planting."""
    opened = shelf_of(request).garden.opened
    return {
        "plants": plant_names(opened.garden, opened.catalogue),
        "beds": [(bed.id, bed.name) for bed in opened.garden.beds],
        "typed": typed.as_dict() if typed else {},
        "ticked": typed.texts("beds") if typed else (),
        "faults": found,
    }


def _opened(
    request: Request,
    bundle: SheetBundle,
    made: Made,
    planting: Planting,
    sent: tuple[Form | None, Sequence[Finding]],
) -> Mapping[str, Any]:
    """Gather what the fold-out of a planting shows; ``sent`` is what was typed, with its faults."""
    typed, found = sent
    garden, reader = shelf_of(request).garden, reader_of(request)
    pins, plantings = garden.parts[PIN], bundle.plan.plantings
    own = speaking_of(planting, pins, plantings)
    weeks, beds, against = _offers(request, planting)
    at_area = [finding for finding in found if finding.place[-1:] == ("area",)]
    drawing = opened(bundle, planting.id)
    return about_planting(bundle, planting, reader) | {
        "drawing": drawing.drawing,
        "table": drawing.table,
        "address": PREFIX + quote(planting.id),
        "seen": seen_mark(planting, pins, plantings),
        "pins": [
            row
            for row, pin in zip(
                pin_rows(garden.opened.garden.pins, pins, made, reader), pins, strict=True
            )
            if pin in own
        ],
        "weeks": weeks,
        "beds": beds,
        "against": against,
        "area_fault": at_area[0] if at_area else None,
        "notes": notes_about(planting, garden.path),
        "today": garden.day.isoformat(),
        "what_became": became_words(),
        "at_note": typed.as_dict() if typed and "what" in typed.names() else {},
        "faults": [finding for finding in found if finding not in at_area[:1]],
    }


def _shown_bed(request: Request, bundle: SheetBundle, planting: Planting | None) -> str:
    """Give the bed that a narrow window shows: the planting's, the one chosen, or the first."""
    ids = [bed.id for bed in bundle.beds]
    asked = planting.bed if planting else request.query_params.get("bed", "")
    return asked if asked in ids else next(iter(ids), "")


def _window_px(request: Request) -> float | None:
    """Give the room a window leaves for the strips, where the browser told its height [px]."""
    told = request.cookies.get(WINDOW, "")
    return float(told) - AROUND_PX if told.isdecimal() and len(told) <= len("9999") else None


def _not_there(request: Request, error: FaultsFoundError) -> Response:
    title = _("No such planting")
    return page(request, "refused.html", status=404, findings=error.findings, title=title)


routes = [
    Route("/year", show),
    Route("/year/by-hand", with_form(settle_more), methods=["POST"]),
    Route("/year/take-back", with_form(take_back), methods=["POST"]),
    Route("/year/let-go", with_form(let_go), methods=["POST"]),
    Route("/year/{planting}", open_planting),
    Route("/year/{planting}/note", with_form(note_down), methods=["POST"]),
    Route("/year/{planting}/settle", with_form(settle_by_hand), methods=["POST"]),
]
