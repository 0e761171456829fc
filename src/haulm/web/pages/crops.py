"""Crops: the catalogue, each figure with what it rests on, and the kinds plans may choose."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.catalogue.records import Catalogue, Crop, Figure
from haulm.desk.garden.editing import mark_of
from haulm.desk.garden.owning import FIGURE, KIND, Whose, own_figure
from haulm.desk.showing.crop_footing import catalogue_gaps, lacking_words
from haulm.desk.showing.crop_pages import (
    CropPage,
    KindsChosen,
    choose_kinds,
    crop_lines,
    crop_page,
    every_kind,
    plain_number,
)
from haulm.desk.showing.seed_told import seed_told
from haulm.desk.table.foods_held import amount_text, held_by
from haulm.measure.errors import ChangedElsewhereError, FaultsFoundError
from haulm.measure.findings import Finding
from haulm.web.forms import Form, with_form
from haulm.web.reader import Reader
from haulm.web.show import changed_elsewhere, go, page, reader_of, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import noted

HERE = "/crops"
TYPED = ("value", "low", "high", "note")
"""What is typed of an own figure."""


@dataclass(frozen=True, slots=True)
class Giving:
    """A figure whose form is open: which, what is typed in it, its mark as shown, its faults."""

    whose: Whose
    typed: Mapping[str, object]
    seen: str
    faults: Mapping[str, Finding] = field(default_factory=dict)


MOST_LETTERS = 60
FOOTING_WORDS = (
    noted("firm"),
    noted("fair"),
    noted("thin"),
    noted("timing"),
    noted("yield"),
    noted("keeping"),
    noted("stand"),
    noted("losses"),
    noted("stock"),
    noted("work"),
    noted("water"),
    noted("kitchen"),
    noted("absent"),
    noted("judged alone"),
    noted("thin footing"),
)
"""Words of footings and gaps, as the catalogue has them."""


def show(request: Request) -> Response:
    """List the crops, those of a name where one was asked for."""
    words = request.query_params.get("name", "").strip()[:MOST_LETTERS]
    catalogue = shelf_of(request).garden.catalogue
    lines, findings = crop_lines(catalogue, words, _wanted(request))
    return page(
        request,
        "crops.html",
        lines=lines,
        gaps=() if words else catalogue_gaps(),
        lacking=lacking_words,
        findings=findings,
        words=words,
        left_out=bool(_wanted(request)),
        own=_own(request),
    )


def open_crop(request: Request) -> Response:
    """Show all that is known of one crop."""
    asked = request.query_params
    garden = shelf_of(request).garden
    if not asked.get("figure") or not garden.there or garden.faulty:
        return _crop(request)
    catalogue, crop = _asked(request)
    whose = Whose(asked.get("of", ""), asked["figure"])
    part = own_figure(garden.parts, catalogue, whose)
    typed = {name: str((part or {}).get(name, "")) for name in TYPED}
    return crop_shown(request, crop, giving=Giving(whose, typed, mark_of(part)))


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
    """Show the crop whose address was asked."""
    return crop_shown(request, _asked(request)[1], findings)


def crop_shown(
    request: Request, crop: Crop, findings: tuple[Finding, ...] = (), giving: Giving | None = None
) -> Response:
    """Show all that is known of a crop, with one figure's form open where it is being given."""
    shelf = shelf_of(request)
    catalogue = shelf.garden.catalogue
    reader = reader_of(request)
    found = crop_page(catalogue, crop, _wanted(request))
    there = shelf.garden.there and not shelf.garden.faulty
    return page(
        request,
        "crops_one.html",
        status=422 if findings or (giving and giving.faults) else 200,
        found=found,
        seed=seed_told(catalogue, crop),
        held=held_by(catalogue, crop),
        amount_text=amount_text,
        findings=findings,
        there=there,
        seen=mark_of(shelf.garden.parts["garden"][0]) if there else "",
        value=lambda figure, number: _value(figure, number, reader),
        rests_on=lambda figure: _rests_on(figure, found),
        giving=giving,
        opened=giving.whose.of if giving else request.query_params.get("of", ""),
        own_kinds={kind.id: kind for kind in shelf.garden.opened.garden.own.kinds} if there else {},
        kind_named=lambda id_: catalogue.kinds[id_].name,
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


def _own(request: Request) -> tuple[tuple[str, str, str], ...]:
    """List what the garden has of its own, sound or not: the part, its words, and its mark."""
    garden = shelf_of(request).garden
    if not garden.there:
        return ()
    kinds, figures = garden.parts[KIND], garden.parts[FIGURE]
    return (
        *((KIND, _("%(name)s, like %(like)s") % part, mark_of(part)) for part in kinds),
        *(
            (FIGURE, f"{part['of']}, {part['figure']}: {part['value']}", mark_of(part))
            for part in figures
        ),
    )


def _value(figure: Figure, number: float, reader: Reader) -> str:
    """Write a number of a figure with its unit: lengths, warmth and weights as the reader does."""
    ways = {"m": reader.length, "°C": reader.temperature, "kg": reader.mass}
    if figure.unit in ways:
        return ways[figure.unit](number)
    plain = reader.said(plain_number(number))
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
