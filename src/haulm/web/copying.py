"""The week's copy: made after a page or a phone wrote in the grower's own notebook."""

from starlette.concurrency import run_in_threadpool
from starlette.types import ASGIApp, Receive, Scope, Send

from haulm.web.shelf import Shelf


class CopiedWeekly:
    """Copies the notebook once an answer is sent, where the request wrote in it and it is time.

    What was written is acknowledged before; a copy that fails is told on the page *Diary*.

    Parameters
    ----------
    app
        What answers.
    shelf
        The gardens within reach.
    """

    def __init__(self, app: ASGIApp, shelf: Shelf) -> None:
        self._app = app
        self._shelf = shelf

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, then copy."""
        writes = scope["type"] == "http" and scope["method"] == "POST"
        before = self._shelf.own_stamp if writes else ""
        await self._app(scope, receive, send)
        if writes:
            await run_in_threadpool(self._shelf.copy_if_due, before)
