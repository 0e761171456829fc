"""The last day to decide: what may wait, until when, and what waiting costs the table."""

from dataclasses import dataclass

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.at_hand import AtHand
from haulm.desk.worth.deciding import Deciding, Decision, Pending
from haulm.desk.worth.deciding_at_hand import (
    choices_at_hand,
    decision_at_hand,
    known,
    left_out_at_hand,
)
from haulm.web.show import page, shelf_of

HERE = "/week/decide"
SOON_WEEKS = 13
"""Choices planned to be made within so many weeks are asked first."""


@dataclass(frozen=True, slots=True)
class Row:
    """A choice, with its decision where that is reckoned already."""

    pending: Pending
    decision: Decision | None

    @property
    def address(self) -> str:
        """Where it is reckoned."""
        return f"{HERE}/{self.pending.weeks[0]}/{self.pending.kind}"

    @property
    def id(self) -> str:
        """Its place on the page."""
        return f"choice-{self.pending.weeks[0]}-{self.pending.kind}".replace("/", "-").replace(
            " ", "-"
        )


def show(request: Request) -> Response:
    """List every choice still open; those reckoned already with what waiting costs."""
    garden = shelf_of(request).garden
    deciding = garden.deciding
    if not isinstance(deciding, Deciding):
        return page(request, "decide.html", garden=garden, refused=deciding or (), rows=None)
    rows = [_row(garden, pending) for pending in choices_at_hand(garden, deciding)]
    soon = deciding.now + SOON_WEEKS
    planned = [row for row in rows if row.pending.planned_on is not None]
    week_of = deciding.plan.horizon.week_of
    return page(
        request,
        "decide.html",
        garden=garden,
        refused=(),
        rows=rows,
        soon=[r for r in planned if week_of(r.pending.planned_on or deciding.day) < soon],
        later=[r for r in planned if week_of(r.pending.planned_on or deciding.day) >= soon],
        left=[row for row in rows if row.pending.planned_on is None],
        monday=deciding.monday,
        alone=[row for row in planned if row.decision and row.decision.can_wait(deciding.monday)],
        names=_counted(rows),
    )


def one(request: Request) -> Response:
    """Reckon one choice and show it."""
    garden = shelf_of(request).garden
    deciding = garden.deciding
    if not isinstance(deciding, Deciding):
        raise HTTPException(404)
    kind, week = request.path_params["kind"], request.path_params["week"]
    choices = choices_at_hand(garden, deciding)
    pending = next((c for c in choices if (c.kind, c.weeks[0]) == (kind, week)), None)
    if pending is None:
        raise HTTPException(404)
    decision = decision_at_hand(garden, deciding, pending)
    row = Row(pending, decision)
    anew = "anew" in request.query_params and decision.decide_by is not None
    names = _counted([Row(choice, None) for choice in choices])
    return page(
        request,
        "decide_one.html",
        garden=garden,
        row=row,
        names=names,
        monday=deciding.monday,
        anew=left_out_at_hand(garden, deciding, decision) if anew else None,
    )


def _row(garden: AtHand, pending: Pending) -> Row:
    return Row(pending, known(garden).get((pending.kind, pending.weeks[0])))


def _counted(rows: list[Row]) -> dict[str, int]:
    """Count how often each kind is to be decided about, season by season."""
    kinds = [row.pending.kind for row in rows]
    return {kind: kinds.count(kind) for kind in kinds}


routes = [Route(HERE, show), Route(f"{HERE}/{{week:int}}/{{kind:path}}", one)]
