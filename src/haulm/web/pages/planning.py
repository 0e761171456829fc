"""A plan in the making: begin it, watch it come closer, stop it, give it up."""

import asyncio
import json
from collections.abc import AsyncIterator

from starlette.requests import Request
from starlette.responses import Response, StreamingResponse
from starlette.routing import Route

from haulm.web.forms import Form, with_form
from haulm.web.planning import Making, State, Step
from haulm.web.reader import Reader
from haulm.web.show import go, page, reader_of, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import noted

LOOK_AGAIN_S = 0.2
WIDE_PX, HIGH_PX, MOST_GAP = 400.0, 95.0, 0.5
"""The chart of the closing distance: its size [px], and the distance at its upper edge [1]."""
EFFORTS = ("quick", "usual", "thorough")


def begin(request: Request, form: Form) -> Response:
    """Begin to plan the open garden."""
    effort = form.text("effort", "usual")
    shelf_of(request).plan(effort if effort in EFFORTS else "usual")
    return go("/planning")


def watch(request: Request) -> Response:
    """Show how planning comes on; where it has ended, go on to what came of it."""
    shelf = shelf_of(request)
    making = shelf.planner.making
    # Looked at once: it may end while this page is written.
    state = making.state if making else State.GIVEN_UP
    here = making is not None and making.order.notebook == shelf.garden.path
    running = state is State.RUNNING
    if making is None or state is State.GIVEN_UP or not (here or running):
        return page(request, "planning.html", making=None)
    if state is State.MADE:
        return go("/proposal" if making.order.propose else "/year")
    steps = [told(step, reader_of(request)) for step in making.steps]
    return page(
        request,
        "planning.html",
        making=making,
        steps=steps,
        curve=" ".join(str(step["at"]) for step in steps if step["at"]),
        running=running,
        elsewhere="" if here else making.order.notebook.stem,
    )


def stop(request: Request, _form: Form) -> Response:
    """Stop looking, and keep the best plan so far."""
    shelf_of(request).planner.stop()
    return go("/planning")


def give_up(request: Request, _form: Form) -> Response:
    """End planning; the garden and its plan stay as they were."""
    shelf_of(request).planner.give_up()
    return go("/year", _("Planning was given up. Everything is as it was."))


async def events(request: Request) -> Response:
    """Stream how planning comes on, as server-sent events."""
    making = shelf_of(request).planner.making
    reader = reader_of(request)
    return StreamingResponse(_stream(request, making, reader), media_type="text/event-stream")


async def _stream(request: Request, making: Making | None, reader: Reader) -> AsyncIterator[str]:
    sent = 0
    while making is not None and not await request.is_disconnected():
        # Looked at before the steps: none comes after the end, but some while others are sent.
        ended, steps = making.state is not State.RUNNING, making.steps[sent:]
        for step in steps:
            yield f"data: {json.dumps(told(step, reader))}\n\n"
        sent += len(steps)
        if ended:
            break
        await asyncio.sleep(LOOK_AGAIN_S)
    yield "event: ended\ndata: {}\n\n"


def told(step: Step, reader: Reader) -> dict[str, str | float | None]:
    """Put a step into words: what is done, how close to the best it is known to be.

    ``at`` is its place on the chart of the closing distance; empty where none is known yet.
    """
    close, at = "", ""
    if step.gap is not None:
        gap = min(1.0, max(0.0, step.gap))
        close = _("within %(gap)s of the best there can be") % {"gap": reader.share(gap, 1)}
        at = f"{WIDE_PX * step.done:.1f},{HIGH_PX * (1 - min(1.0, gap / MOST_GAP)):.1f}"
    words = _(STEPS[step.words]) if step.words in STEPS else step.words
    return {"words": words, "close": close, "at": at, "done": step.done}


STEPS = {
    "reading the garden": noted("Working out what this site allows"),
    "a first plan": noted("Making a first plan"),
    "improving": noted("Looking for better"),
    "how good it could be": noted("Proving how good it could be"),
    "finding how much may be counted on": noted("Finding how much of each food may be counted on"),
    "writing the plan": noted("Writing the plan and adding it up again"),
}
"""The planner's steps, as the pages say them."""

routes = [
    Route("/planning", watch),
    Route("/planning", with_form(begin), methods=["POST"]),
    Route("/planning/events", events),
    Route("/planning/stop", with_form(stop), methods=["POST"]),
    Route("/planning/give-up", with_form(give_up), methods=["POST"]),
]
