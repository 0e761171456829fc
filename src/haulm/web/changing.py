"""A change of one part of the garden, sent by one of a page's forms: written, or given back."""

from collections.abc import Mapping
from dataclasses import dataclass

from starlette.datastructures import FormData

from haulm.desk.garden.editing import Change, change_garden, faults_by_place
from haulm.measure.errors import ChangedElsewhereError, FaultsFoundError
from haulm.measure.findings import Finding
from haulm.web.forms import Form
from haulm.web.shelf import Shelf
from haulm.web.words import gettext as _


@dataclass(frozen=True, slots=True)
class Refused:
    """What was typed and not taken.

    Attributes
    ----------
    form, sent
        Which form of the page, and what was typed into it.
    faults, others
        What is wrong: in the part itself by field, and elsewhere.
    status
        With which the page answers.
    """

    form: str
    sent: Form
    faults: Mapping[str, Finding]
    others: tuple[Finding, ...]
    status: int


NOTHING_REFUSED = Refused("", Form(FormData(), {}), {}, (), 200)


def write_down(shelf: Shelf, change: Change, form: str, sent: Form) -> Refused | None:
    """Write a change into the garden that is open; give back what was typed where it can't be."""
    garden = shelf.garden
    try:
        change_garden(garden.path, [change], shelf.now())
    except ChangedElsewhereError as error:
        elsewhere = Finding(_("Changed elsewhere"), f"{error}")
        return Refused(form, sent, {}, (elsewhere,), 409)
    except FaultsFoundError as error:
        if change.typed is None:
            # What is to be taken out has no fields for a fault to stand at.
            return Refused(form, sent, {}, error.findings, 422)
        here, others = faults_by_place(error, garden.parts, change)
        return Refused(form, sent, here, others, 422)
    return None
