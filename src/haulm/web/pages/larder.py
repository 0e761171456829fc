"""Larder: what lies in store week by week, which weeks run short, and the stores themselves."""

from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.catalogue.caution_records import Caution, Deed
from haulm.catalogue.cautions import cautions_for
from haulm.catalogue.records import Catalogue, Form, StoreKind
from haulm.desk.at_hand import AtHand
from haulm.desk.garden.editing import Change, mark_of
from haulm.desk.showing.larder_drawings import (
    HungryGap,
    Laid,
    TideDrawn,
    care_of,
    hungry_gap,
    laid_by,
    tide_drawn,
    unlaid,
)
from haulm.desk.table.cautions import ages_at_table, care_for_the_young
from haulm.desk.table.closing_gaps import GapLine, closing
from haulm.plan.records import Plan
from haulm.web.changing import NOTHING_REFUSED, Refused, write_down
from haulm.web.forms import Form as Sent
from haulm.web.forms import with_form
from haulm.web.pages.table_rows import plan_at_hand
from haulm.web.show import go, page, shelf_of
from haulm.web.words import gettext as _

FIELDS = {
    "in_store": ("food", "kind", "form", "place", "amount", "put_by"),
    "store": ("name", "kind", "room", "jars", "jar", "racks"),
}
LATER_WEEKS = 26
"""The later view starts so far on, so that both views hold 78 of 104 weeks."""


@dataclass(frozen=True, slots=True)
class Larder:
    """What the plan says of the larder; ``sure`` where many seasons were lived through for it."""

    tide: TideDrawn
    gaps: tuple[tuple[HungryGap, tuple[GapLine, ...]], ...]
    laid: tuple[Laid, ...]
    cautions: tuple[Caution, ...]
    lines: tuple[tuple[str, str], ...]
    sure: bool


def show(request: Request) -> Response:
    """Show the larder, of all lines of the table or of those asked for."""
    return _shown(request)


def change(request: Request, sent: Sent) -> Response:
    """Change, add or take out food in store, or a store."""
    shelf = shelf_of(request)
    part = sent.text("part")
    if part not in FIELDS:
        return go("/larder")
    removed = sent.text("do") == "remove"
    typed = None if removed else _typed(part, sent, shelf.garden)
    changed = Change(part, sent.text("seen"), typed)
    refused = write_down(shelf, changed, sent.text("which"), sent)
    if refused is not None:
        return _shown(request, refused)
    told = _("Taken out.") if removed else _("Written down.")
    return go("/larder", told, undo=True)


def _typed(part: str, sent: Sent, garden: AtHand) -> dict[str, object]:
    """Make a part's keys of what was typed; a store keeps the id by which lots name it."""
    typed: dict[str, object] = {name: sent.text(name) for name in FIELDS[part] if sent.text(name)}
    before = next((p for p in garden.parts[part] if mark_of(p) == sent.text("seen")), {})
    return typed | ({"id": before["id"]} if "id" in before else {})


def _shown(request: Request, refused: Refused = NOTHING_REFUSED) -> Response:
    garden = shelf_of(request).garden
    plan = plan_at_hand(garden)
    chosen = tuple(dict.fromkeys(request.query_params.getlist("line")))
    asked = request.query_params.get("weeks")
    # Once the first view's beginning is half a year past, what is to come is looked for.
    now = plan.horizon.week_of(garden.day) if plan else 0
    later = asked == "later" or (asked != "first" and now >= LATER_WEEKS)
    parts = garden.parts
    return page(
        request,
        "larder.html",
        status=refused.status,
        larder=_larder(garden, plan, chosen, later=later) if plan else None,
        chosen=chosen,
        later=later,
        lots=[(mark_of(part), part) for part in parts["in_store"]],
        stores=[(mark_of(part), part) for part in parts["store"]],
        forms=[form.value for form in Form],
        store_kinds=[kind.value for kind in StoreKind],
        foods=garden.catalogue.foods.values(),
        kinds=garden.catalogue.kinds,
        young_cautions=care_for_the_young(garden.opened.garden.household, garden.catalogue),
        lot_cautions=_of_lots(garden.catalogue, garden),
        refused=refused,
    )


def _larder(garden: AtHand, plan: Plan, chosen: tuple[str, ...], *, later: bool) -> Larder:
    """Draw and reckon the larder, once for what is asked."""
    opened, day, asked = garden.opened, garden.day, garden.asked
    odds = garden.store_odds
    sure = odds is not None
    bundle = garden.once("larder bundle", (day, sure), lambda: unlaid(opened, plan, day, odds))
    gaps = [gap for gap in hungry_gap(bundle) if gap.last_day >= day]
    told = garden.once(
        "larder gaps", day, lambda: tuple((gap, closing(gap, plan, asked)) for gap in gaps)
    )
    known = tuple(line for line in chosen if line in bundle.lines)
    week = LATER_WEEKS if later else 0
    return Larder(
        tide=garden.once("tide", (day, known, week, sure), lambda: tide_drawn(bundle, known, week)),
        gaps=told,
        laid=laid_by(bundle),
        cautions=care_of(bundle, opened.catalogue),
        lines=tuple(bundle.lines.items()),
        sure=sure,
    )


def _of_lots(catalogue: Catalogue, garden: AtHand) -> tuple[Caution, ...]:
    """Gather the cautions of what lies in store now."""
    opened = garden.opened.garden
    foods = dict.fromkeys(lot.food for lot in opened.lots)
    return cautions_for(catalogue, foods, (Deed.PUT_BY,), ages_at_table(opened.household))


routes = [
    Route("/larder", show, methods=["GET"]),
    Route("/larder", with_form(change), methods=["POST"]),
]
