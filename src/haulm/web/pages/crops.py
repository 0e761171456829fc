"""Crops: the catalogue, each figure with what it rests on, and the kinds plans may choose."""

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.catalogue.records import Catalogue, Crop, Figure
from haulm.desk.crop_pages import (
    CropPage,
    KindsChosen,
    choose_kinds,
    crop_lines,
    crop_page,
    every_kind,
)
from haulm.desk.editing import mark_of
from haulm.desk.foods_held import amount_text, held_by
from haulm.measure.errors import ChangedElsewhereError, FaultsFoundError
from haulm.measure.findings import Finding
from haulm.web.forms import Form, with_form
from haulm.web.reader import Reader
from haulm.web.show import changed_elsewhere, go, page, reader_of, shelf_of
from haulm.web.words import gettext as _

HERE = "/crops"
MOST_LETTERS = 60


def show(request: Request) -> Response:
    """List the crops, those of a name where one was asked for."""
    words = request.query_params.get("name", "").strip()[:MOST_LETTERS]
    catalogue = shelf_of(request).garden.catalogue
    lines, findings = crop_lines(catalogue, words, _wanted(request))
    return page(
        request,
        "crops.html",
        lines=lines,
        findings=findings,
        words=words,
        left_out=bool(_wanted(request)),
    )


def open_crop(request: Request) -> Response:
    """Show all that is known of one crop."""
    return _crop(request)


def choose(request: Request, form: Form) -> Response:
    """Let plans choose only the kinds that were left ticked."""
    shelf = shelf_of(request)
    garden = shelf.garden
    catalogue, crop = _asked(request)
    chosen = KindsChosen(crop, form.texts("kind"), form.text("seen"))
    try:
        choose_kinds(garden.path, garden.parts, catalogue, chosen, shelf.now())
    except ChangedElsewhereError as error:
        return changed_elsewhere(request, error, request.url.path)
    except FaultsFoundError as error:
        return _crop(request, error.findings)
    told = _("Plans choose among these kinds from now on. Plan again to see what it changes.")
    return go(request.url.path, told, undo=True)


def let_in(request: Request, _form: Form) -> Response:
    """Let plans choose any kind again."""
    shelf = shelf_of(request)
    every_kind(shelf.garden.path, shelf.garden.parts, shelf.now())
    return go(HERE, _("Plans may choose any kind again."), undo=True)


def _crop(request: Request, findings: tuple[Finding, ...] = ()) -> Response:
    shelf = shelf_of(request)
    catalogue, crop = _asked(request)
    reader = reader_of(request)
    found = crop_page(catalogue, crop, _wanted(request))
    there = shelf.garden.there and not shelf.garden.faulty
    return page(
        request,
        "crops_one.html",
        status=422 if findings else 200,
        found=found,
        held=held_by(catalogue, crop),
        amount_text=amount_text,
        findings=findings,
        there=there,
        seen=mark_of(shelf.garden.parts["garden"][0]) if there else "",
        value=lambda figure, number: _value(figure, number, reader),
        rests_on=lambda figure: _rests_on(figure, found),
    )


def _asked(request: Request) -> tuple[Catalogue, Crop]:
    catalogue = shelf_of(request).garden.catalogue
    crop = catalogue.crops.get(request.path_params["crop"])
    if crop is None:
        raise HTTPException(404)
    return catalogue, crop


def _wanted(request: Request) -> tuple[str, ...]:
    """Name the kinds that plans may choose; none where any may be, or there is no garden."""
    garden = shelf_of(request).garden
    return tuple(garden.opened.garden.kinds_wanted) if garden.there and not garden.faulty else ()


def _value(figure: Figure, number: float, reader: Reader) -> str:
    """Write a number of a figure with its unit: lengths, warmth and weights as the reader does."""
    ways = {"m": reader.length, "°C": reader.temperature, "kg": reader.mass}
    if figure.unit in ways:
        return ways[figure.unit](number)
    plain = reader.said(f"{number:g}".replace("-", "−"))
    return plain if figure.unit == "1" else f"{plain} {figure.unit}"


def _rests_on(figure: Figure, found: CropPage) -> tuple[str, int | None]:
    """Say what a figure rests on, and the number of its source on this page."""
    ids = [source.id for source in found.sources]
    number = ids.index(figure.source) + 1 if figure.source is not None else None
    return figure.basis.value, number


routes = [
    Route(HERE, show),
    Route(HERE, with_form(let_in), methods=["POST"]),
    Route(f"{HERE}/{{crop:path}}", open_crop),
    Route(f"{HERE}/{{crop:path}}", with_form(choose), methods=["POST"]),
]
