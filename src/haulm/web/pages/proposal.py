"""A proposed plan held against the one that is kept: what would change, to be kept or left."""

from collections.abc import Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.planning.differences import settled_first
from haulm.desk.planning.plans import Made, changes_between, drop_proposal, keep_proposal
from haulm.desk.planning.reasons import Change as Became
from haulm.desk.planning.reasons import Difference
from haulm.desk.showing.year_drawings import (
    Change,
    LineSum,
    families_in,
    key_marks,
    line_sums,
    now_px,
    strips,
)
from haulm.measure.errors import FaultsFoundError
from haulm.sheets.bundle import SheetBundle
from haulm.web.forms import Form, with_form
from haulm.web.pages.year_words import PREFIX, headline, key_words, planting_rows
from haulm.web.reader import Reader
from haulm.web.show import go, page, reader_of, shelf_of
from haulm.web.words import gettext as _

MARKS = {Became.NEW: Change.NEW, Became.GONE: Change.GONE}


def show(request: Request) -> Response:
    """Show what would change with the plan that waits to be kept."""
    garden = shelf_of(request).garden
    try:
        proposed, bundle = garden.proposed, garden.proposed_bundle
    except FaultsFoundError as error:
        # The garden no longer has what the proposal stands on: it can only be left.
        return page(request, "proposal.html", outgrown=error.findings)
    if proposed is None or bundle is None:
        return page(request, "proposal.html", outgrown=(), bundle=None)
    kept, kept_bundle = garden.made, garden.bundle
    told: tuple[Difference, ...] = ()
    if kept is not None:
        told = changes_between(kept, proposed)
        told = settled_first(told, kept.plan, proposed.plan, proposed.garden.pins)
    return page(
        request,
        "proposal.html",
        outgrown=(),
        bundle=bundle,
        number=proposed.number,
        since=bool(proposed.since),
        **_compared(kept, proposed, told, reader_of(request)),
        **_drawn(bundle, kept_bundle, told),
        rows=_rows(bundle, told, reader_of(request)),
    )


def keep(request: Request, form: Form) -> Response:
    """Keep the plan that was looked at, if it is still the one that waits."""
    number = form.text("number")
    keep_proposal(shelf_of(request).garden.path, int(number) if number.isdecimal() else 0)
    return go("/year", _("The new plan is kept."))


def leave(request: Request, _form: Form) -> Response:
    """Leave the plan that waits; the one before goes on holding."""
    drop_proposal(shelf_of(request).garden.path)
    return go("/year", _("The new plan was left. The plan you had goes on holding."))


def _compared(
    kept: Made | None, proposed: Made, told: tuple[Difference, ...], reader: Reader
) -> Mapping[str, Any]:
    """Put both plans side by side in words and sums."""
    sums = line_sums(kept.plan, proposed.plan) if kept else ()
    return {
        "new_headline": headline(proposed.plan, reader),
        "old_headline": headline(kept.plan, reader) if kept else None,
        "plantings": [reader.said(one.sentence) for one in told if one.kind is not Became.TABLE],
        "table": [reader.said(one.sentence) for one in told if one.kind is Became.TABLE],
        "sums": [_row(one, proposed.names, reader) for one in sums],
    }


def _row(line: LineSum, names: Mapping[str, str], reader: Reader) -> tuple[str, ...]:
    """Write one line of the table: wanted, short before, short after, and what that changes."""
    figures = [
        reader.mass(kg) if kg is not None else _("not on the table")
        for kg in (line.wanted_kg, line.short_before_kg, line.short_kg)
    ]
    return (names.get(line.line, line.line), *figures)


def _drawn(
    bundle: SheetBundle, kept: SheetBundle | None, told: tuple[Difference, ...]
) -> Mapping[str, Any]:
    """Draw the proposed strips with what is new or changed, and the beds that something leaves."""
    changed = {
        one.after: MARKS.get(one.kind, Change.CHANGED) for one in told if one.after is not None
    }
    gone = {
        one.before: Change.GONE
        for one in told
        if one.before is not None and one.kind in {Became.GONE, Became.MOVED}
    }
    leaves = (
        {planting.bed for planting in kept.plan.plantings if planting.id in gone} if kept else ()
    )
    return {
        "drawn": strips(bundle, "#now-", changed=changed),
        "left": strips(kept, PREFIX, changed=gone) if kept and leaves else None,
        "leaves": leaves,
        "now_px": now_px(bundle),
        "key": [(svg, key_words(name)) for name, svg in key_marks(bundle).items()],
        "families": families_in(bundle),
    }


def _rows(
    bundle: SheetBundle, told: tuple[Difference, ...], reader: Reader
) -> list[dict[str, Any]]:
    """Give the proposed plantings as rows of texts, those new or changed marked in words."""
    became = {one.after: one.kind for one in told if one.after is not None}
    words = {
        Became.NEW: _("new"),
        Became.MOVED: _("moved"),
        Became.RESIZED: _("of another size"),
        Became.SHIFTED: _("at another time"),
    }
    return [
        row | {"change": words.get(became[row["id"]], "") if row["id"] in became else ""}
        for row in planting_rows(bundle, reader)
    ]


routes = [
    Route("/proposal", show),
    Route("/proposal/keep", with_form(keep), methods=["POST"]),
    Route("/proposal/leave", with_form(leave), methods=["POST"]),
]
