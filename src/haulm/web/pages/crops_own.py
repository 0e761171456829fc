"""Crops: the household's own figures and kinds, given and taken back."""

from urllib.parse import quote

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.catalogue.records import Catalogue, Crop
from haulm.desk.garden.editing import Change, faults_by_place
from haulm.desk.garden.owning import (
    FIGURE,
    KIND,
    Whose,
    add_kind,
    give_figure,
    take_back,
    take_kind_out,
)
from haulm.measure.errors import ChangedElsewhereError, FaultsFoundError
from haulm.web.forms import Form, with_form
from haulm.web.pages.crops import HERE, TYPED, Giving, crop_shown
from haulm.web.show import changed_elsewhere, go, shelf_of
from haulm.web.words import gettext as _


def figure(request: Request, form: Form) -> Response:
    """Put the figure that was typed in the place of the catalogue's, or take it back."""
    shelf = shelf_of(request)
    garden, crop = shelf.garden, _crop(request, form)
    whose = Whose(form.text("of"), form.text("figure"))
    typed = {name: form.text(name) for name in TYPED}
    seen = form.text("seen")
    back = f"{HERE}/{quote(crop.id, safe='')}?of={quote(whose.of, safe='')}"
    try:
        if form.text("act") == "back":
            take_back(garden.path, FIGURE, seen, shelf.now())
            told = _("The catalogue's figure counts again. Plan again to see what it changes.")
            return go(back, told, undo=True)
        give_figure(garden.path, whose, typed, seen, shelf.now())
    except ChangedElsewhereError as error:
        return changed_elsewhere(request, error, back)
    except FaultsFoundError as error:
        change = Change(FIGURE, seen, {"of": whose.of, "figure": whose.figure} | typed)
        faults, others = faults_by_place(error, garden.parts, change)
        return crop_shown(request, crop, others, Giving(whose, typed, seen, faults))
    told = _("Your figure counts from now on. Plan again to see what it changes.")
    return go(back, told, undo=True)


def kind(request: Request, form: Form) -> Response:
    """Add a kind of the household's own, or take one out with its figures."""
    shelf = shelf_of(request)
    garden, crop = shelf.garden, _crop(request, form)
    here = f"{HERE}/{quote(crop.id, safe='')}"
    try:
        if form.text("act") == "out":
            take_kind_out(garden.path, garden.parts, form.text("kind"), shelf.now())
            return go(here, _("The kind is taken out, and its figures with it."), undo=True)
        typed = {name: form.text(name) for name in ("like", "name")}
        id_ = add_kind(garden.path, garden.parts, crop, typed, shelf.now())
    except ChangedElsewhereError as error:
        return changed_elsewhere(request, error, here)
    except FaultsFoundError as error:
        return crop_shown(request, crop, error.findings)
    told = _("The kind is yours. Give it figures of its own below.")
    return go(f"{here}?of={quote(id_, safe='')}", told, undo=True)


def out(request: Request, form: Form) -> Response:
    """Take one thing of the garden's own out, sound or not."""
    shelf = shelf_of(request)
    part = form.text("part")
    if part not in {KIND, FIGURE}:
        raise HTTPException(404)
    try:
        take_back(shelf.garden.path, part, form.text("seen"), shelf.now())
    except ChangedElsewhereError as error:
        return changed_elsewhere(request, error, HERE)
    return go(HERE, _("It is taken out."), undo=True)


def _crop(request: Request, form: Form) -> Crop:
    """Find the crop whose page a form stands on."""
    catalogue: Catalogue = shelf_of(request).garden.catalogue
    crop = catalogue.crops.get(form.text("crop"))
    if crop is None:
        raise HTTPException(404)
    return crop


routes = [
    Route("/own/figure", with_form(figure), methods=["POST"]),
    Route("/own/kind", with_form(kind), methods=["POST"]),
    Route("/own/out", with_form(out), methods=["POST"]),
]
