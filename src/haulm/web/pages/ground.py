"""Ground: the beds side by side, and one bed's drawing board and form."""

from collections.abc import Mapping
from dataclasses import replace
from urllib.parse import quote

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from haulm.catalogue.caution_records import Deed
from haulm.catalogue.cautions import cautions_at_work
from haulm.desk.beds.bed_cards import BedCard, bed_cards, ground_sums
from haulm.desk.garden.bed_editing import (
    BedTyped,
    bed_as_typed,
    like,
    move_bed,
    new_bed,
    remove_bed,
    save_bed,
    stands_on,
    with_every_way,
)
from haulm.desk.garden.editing import choices_of, mark_of
from haulm.desk.garden.outlining import (
    Measured,
    OutlineTyped,
    Way,
    measure_outline,
    side_texts,
    with_corner_after,
    without_corner,
)
from haulm.desk.showing.ground_drawings import (
    bed_drawing,
    board_drawing,
    common_scale,
    scale_bar,
    size_m,
)
from haulm.measure.errors import ChangedElsewhereError, FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.units import Units
from haulm.web.forms import Form, with_form
from haulm.web.pages.ground_forms import bed_in, outline_in
from haulm.web.reader import Reader
from haulm.web.show import changed_elsewhere, go, page, reader_of, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import noted

SPARE_LINES = 2
MORE_LINES = 5
WAYS = {
    Way.RECTANGLE: noted("Rectangle"),
    Way.ROUND: noted("Round"),
    Way.CORNERS: noted("Any outline, by its corners"),
    Way.SIDES: noted("Any outline, by walking round it"),
}
NEW_WAYS = {
    Way.RECTANGLE: noted("A rectangle"),
    Way.ROUND: noted("A round bed"),
    Way.CORNERS: noted("Any outline"),
}
COVERS = {"open": noted("Open"), "tunnel": noted("Tunnel"), "glass": noted("Glass")}
SUNS = {
    "full": noted("Full: six hours or more in summer"),
    "part": noted("Part: three to six hours"),
    "shade": noted("Shade: under three hours"),
}
STEPS = {
    "metric": (("0.1", noted("10 cm")), ("0.05", noted("5 cm")), ("0", noted("Off"))),
    "us": (("0.1524", noted("6 in")), ("0.0254", noted("1 in")), ("0", noted("Off"))),
}
"""To which step [m] a corner goes, and its name."""
WATERINGS = {"": noted("Can"), "hose": noted("Hose"), "drip": noted("Drip lines")}
SPOTS = {
    "": noted("As the garden's"),
    "frost hollow": noted("Colder: a frost hollow"),
    "warm wall": noted("Warmer: by a warm wall"),
    "fleece": noted("Warmer: under fleece"),
    "frost hollow, fleece": noted("A frost hollow, under fleece"),
    "warm wall, fleece": noted("By a warm wall, under fleece"),
}
SUN_WORDS = {"full": noted("full sun"), "part": noted("part sun"), "shade": noted("shade")}


def address_of(bed: str) -> str:
    """Give the address of a bed's page; an id may hold any sign."""
    return f"/ground/{quote(bed, safe='')}"


def cards_of(request: Request) -> tuple[BedCard, ...]:
    """Give every bed at a glance, reckoned once."""
    garden = shelf_of(request).garden

    def make() -> tuple[BedCard, ...]:
        bundle = garden.bundle if garden.has_plan else None
        return bed_cards(garden.opened.garden, garden.catalogue, bundle, garden.day)

    return garden.once("bed cards", garden.day, make)


def beds(request: Request) -> Response:
    """Show every bed to one scale; or, where a bed is to be added, its form."""
    if "add" in request.query_params:
        return _form(request, None, _new(request))
    garden = shelf_of(request).garden
    cards = cards_of(request)
    units = garden.opened.garden.units
    scale = common_scale([card.bed for card in cards])
    bundle, day = garden.bundle if garden.has_plan else None, garden.day
    drawings = garden.once(
        "beds drawn",
        day,
        lambda: {card.bed.id: bed_drawing(card.bed, scale, bundle, day) for card in cards},
    )
    return page(
        request,
        "ground.html",
        cards=cards,
        drawings=drawings,
        bar=scale_bar(scale, units),
        sums=ground_sums(cards),
        marks_of={part["id"]: mark_of(part) for part in garden.parts["bed"]},
        size_m=size_m,
        address_of=address_of,
        covers=COVERS,
        sun_words=SUN_WORDS,
        new_ways=NEW_WAYS,
    )


def change_beds(request: Request, form: Form) -> Response:
    """Move a bed up or down the list, or add the one that was typed."""
    if form.text("act") in {"up", "down"}:
        shelf, by = shelf_of(request), -1 if form.text("act") == "up" else 1
        try:
            move_bed(shelf.garden.path, form.text("seen"), by, shelf.now())
        except ChangedElsewhereError as error:
            return changed_elsewhere(request, error, "/ground")
        return go("/ground", _("The beds are in another order."), undo=True)
    return _acted(request, form, None)


def bed(request: Request) -> Response:
    """Show one bed: its board, its form, what is kept off it."""
    part = _part(request)
    return _form(request, part, _as_stored(request, part))


def change_bed(request: Request, form: Form) -> Response:
    """Write one bed as typed, take it out, or give its form more lines."""
    return _acted(request, form, _part(request))


def outline(request: Request, form: Form) -> Response:
    """Measure an outline as it stands in the form, for the board: figures, words, faults."""
    units = shelf_of(request).garden.opened.garden.units
    typed = outline_in(form)
    measured = measure_outline(typed, units)
    filled = with_every_way(typed, measured, units)
    reader = reader_of(request)
    return JSONResponse(
        {
            "corners": measured.corners_m,
            "lines": measured.lines,
            "across": measured.outline.diameter_m if measured.outline else None,
            "filled": {
                "width": filled.width,
                "length": filled.length,
                "diameter": filled.diameter,
                "corners": filled.corners,
            },
            "sides": side_texts(measured.sides, units),
            "lengths": [reader.length(side.length_m) for side in measured.sides],
            "said": _said(measured, reader),
            "faults": {key: _told(fault, reader) for key, fault in measured.faults.items()},
        }
    )


def _said(measured: Measured, reader: Reader) -> str:
    """Say what an outline measures; nothing where it is to be mended."""
    if measured.outline is None:
        return ""
    area = reader.area(measured.outline.area_m2)
    if not measured.sides:
        return area
    lengths = ", ".join(reader.length(side.length_m) for side in measured.sides)
    return _("%(area)s; sides %(lengths)s") % {"area": area, "lengths": lengths}


def _told(fault: Finding, reader: Reader) -> str:
    return reader.said(f"{fault.what} {fault.remedy}".strip())


def _acted(request: Request, form: Form, part: Mapping[str, object] | None) -> Response:
    """Do what a bed's form asks: save, take out, or show itself again with other lines."""
    act, _rest, line = form.text("act", "save").partition("-")
    typed = bed_in(form)
    if act == "out" and part is not None:
        return _taken_out(request, form, part)
    if act == "save":
        return _saved(request, form, part, typed)
    units = shelf_of(request).garden.opened.garden.units
    at = int(line) if line.isdecimal() and line.isascii() else 0
    if act == "after":
        typed = replace(typed, outline=with_corner_after(typed.outline, at, units))
    elif act == "drop":
        typed = replace(typed, outline=without_corner(typed.outline, at))
    return _form(request, part, typed, seen=form.text("seen"), spare=MORE_LINES)


def _saved(
    request: Request, form: Form, part: Mapping[str, object] | None, typed: BedTyped
) -> Response:
    """Write a bed; on faults its form stands again as it was typed."""
    shelf = shelf_of(request)
    units = shelf.garden.opened.garden.units
    try:
        bed_id = save_bed(shelf.garden.path, form.text("seen"), typed, units, shelf.now())
    except ChangedElsewhereError as error:
        if part is None:
            return changed_elsewhere(request, error, "/ground")
        return _form(request, part, typed, status=409, changed=error)
    except FaultsFoundError as error:
        return _form(request, part, typed, seen=form.text("seen"), found=error, status=422)
    told = _("%(bed)s is written.") if part else _("%(bed)s is added.")
    return go(address_of(bed_id), told % {"bed": typed.name}, undo=True)


def _taken_out(request: Request, form: Form, part: Mapping[str, object]) -> Response:
    """Take a bed out, or say why it can't be."""
    shelf, typed = shelf_of(request), _as_stored(request, part)
    try:
        remove_bed(shelf.garden.path, form.text("seen"), shelf.now())
    except ChangedElsewhereError as error:
        return _form(request, part, typed, status=409, changed=error)
    except FaultsFoundError as error:
        whole = [replace(fault, place=()) for fault in error.findings]
        return _form(request, part, typed, found=FaultsFoundError(whole), status=422)
    name = str(part.get("name", part["id"]))
    return go("/ground", _("%(bed)s is taken out.") % {"bed": name}, undo=True)


def _part(request: Request) -> Mapping[str, object]:
    """Give the bed that the address names, as typed; there is no such page without it."""
    wanted = request.path_params["bed"]
    for part in shelf_of(request).garden.parts["bed"]:
        if part["id"] == wanted:
            return part
    raise HTTPException(404)


def _as_stored(request: Request, part: Mapping[str, object]) -> BedTyped:
    """Give a bed's form as it is stored."""
    garden = shelf_of(request).garden
    stands = stands_on(garden.parts, str(part["id"]))
    return bed_as_typed(part, stands, garden.opened.garden.units)


def _new(request: Request) -> BedTyped:
    """Give the form of a new bed: of the shape asked, or like another."""
    garden = shelf_of(request).garden
    units = garden.opened.garden.units
    asked, wanted = request.query_params["add"], request.query_params.get("like")
    for part in garden.parts["bed"]:
        if part["id"] == wanted:
            return like(bed_as_typed(part, (), units))
    typed = new_bed(Way(asked) if asked in set(NEW_WAYS) else Way.RECTANGLE, units)
    measured = measure_outline(typed.outline, units)
    return replace(typed, outline=with_every_way(typed.outline, measured, units))


def _form(  # noqa: PLR0913
    request: Request,
    part: Mapping[str, object] | None,
    typed: BedTyped,
    *,
    seen: str | None = None,
    spare: int = SPARE_LINES,
    found: FaultsFoundError | None = None,
    changed: ChangedElsewhereError | None = None,
    status: int = 200,
) -> Response:
    """Show a bed's form, as stored or as it was typed."""
    garden = shelf_of(request).garden
    units = garden.opened.garden.units
    measured = measure_outline(typed.outline, units)
    typed = replace(typed, outline=with_every_way(typed.outline, measured, units))
    findings = found.findings if found else ()
    faults = {".".join(map(str, finding.place)): finding for finding in reversed(findings)}
    faults.pop("", None)
    cards = {card.bed.id: card for card in cards_of(request)}
    return page(
        request,
        "ground_bed.html",
        status=status,
        part=part,
        typed=typed,
        card=cards.get(str(part["id"])) if part else None,
        cards=tuple(cards.values()),
        seen=mark_of(part) if seen is None else seen,
        faults=faults,
        elsewhere=[finding for finding in findings if not finding.place],
        changed=changed,
        measured=measured,
        said=_said(measured, reader_of(request)),
        units=units,
        steps=STEPS[units],
        drawing=board_drawing(measured),
        lines=_lines(typed.outline, measured, units, spare),
        spare=spare,
        ways=WAYS,
        covers=[(cover, _(words)) for cover, words in COVERS.items()],
        suns=[(sun, _(words)) for sun, words in SUNS.items()],
        spots=[(spot, _(words)) for spot, words in SPOTS.items()],
        soils=[("", _("The place's")), *((soil, soil) for soil in choices_of("place", "soil"))],
        waterings=[(way, _(words)) for way, words in WATERINGS.items()],
        catalogue=garden.catalogue,
        lime_cautions=cautions_at_work(garden.catalogue, (Deed.LIME,)),
        methods=sorted({m.id for kind in garden.catalogue.kinds.values() for m in kind.methods}),
        address_of=address_of,
    )


def _lines(
    typed: OutlineTyped, measured: Measured, units: Units, spare: int
) -> list[dict[str, object]]:
    """Give the lines of an outline's list: corner, side, which one closes, which are to spare."""
    filled = max(len(typed.corners), len(typed.sides))
    closing = measured.lines[-1] if measured.outline and measured.lines else None
    lines: list[dict[str, object]] = []
    for number in range(filled + spare):
        east, north = typed.corners[number] if number < len(typed.corners) else ("", "")
        side, turn = typed.sides[number] if number < len(typed.sides) else ("", "")
        closes = number == closing and not (typed.way is Way.SIDES and side)
        if closes:
            side, turn = side_texts(measured.sides[-1:], units)[0]
        spares = number >= filled
        lines.append(
            {
                "east": east,
                "north": north,
                "side": side,
                "turn": turn,
                "closes": closes,
                "spare": spares,
            }
        )
    return lines


routes = [
    Route("/ground", beds),
    Route("/ground", with_form(change_beds), methods=["POST"]),
    Route("/ground/{bed:path}", bed),
    Route("/ground/{bed:path}", with_form(change_bed), methods=["POST"]),
    Route("/outline", with_form(outline), methods=["POST"]),
]
