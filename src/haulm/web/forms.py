"""What a page sent: typed values, and files dropped on it."""

from collections.abc import Awaitable, Callable
from dataclasses import dataclass

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import Response

from haulm.measure.errors import ChangedElsewhereError

GARDEN = "haulm-garden"
"""The field in which every form says of which garden it was drawn."""
MOST_FIELDS = 2_000
MOST_BYTES = 25_000_000
"""The largest request that is taken [bytes]; a century of daily weather is a tenth of it."""


@dataclass(frozen=True, slots=True)
class Dropped:
    """A file dropped on a page: its name and what it holds."""

    name: str
    data: bytes


@dataclass(frozen=True, slots=True)
class Form:
    """Everything that was typed into a form, by the name of its field."""

    typed: FormData
    files: dict[str, Dropped]

    def text(self, name: str, otherwise: str = "") -> str:
        """Give a field's text without the blanks around it."""
        value = self.typed.get(name)
        return value.strip() if isinstance(value, str) else otherwise

    def texts(self, name: str) -> tuple[str, ...]:
        """Give every value of a field that may be sent more than once, empty ones left out."""
        values = (value.strip() for value in self.typed.getlist(name) if isinstance(value, str))
        return tuple(value for value in values if value)

    def names(self) -> tuple[str, ...]:
        """List the fields that were sent and filled in by the reader."""
        names = dict.fromkeys(name for name, _ in self.typed.multi_items())
        return tuple(name for name in names if name != GARDEN)

    def as_dict(self) -> dict[str, str]:
        """Give every field's last text, to show again what was typed."""
        return {name: self.text(name) for name in self.names()}


def _same_garden(form: Form, mark: str) -> None:
    """Refuse a form that was drawn while another garden was open in this server.

    Raises
    ------
    ChangedElsewhereError
        When the invented garden was opened, or left, since.
    """
    if form.text(GARDEN, mark) != mark:
        what = "another garden was opened in another window since. Neither was changed."
        raise ChangedElsewhereError(what, "garden")


def with_form(
    answer: Callable[[Request, Form], Response],
) -> Callable[[Request], Awaitable[Response]]:
    """Make an endpoint of a function that answers a form; it runs beside the server's own loop."""

    async def endpoint(request: Request) -> Response:
        """Read the form whole, then answer it."""
        async with request.form(max_fields=MOST_FIELDS, max_files=4) as typed:
            files = {
                name: Dropped(value.filename or "", await value.read())
                for name, value in typed.multi_items()
                if isinstance(value, UploadFile) and value.filename
            }
            form = Form(typed, files)
            _same_garden(form, request.app.state.shelf.mark)
            return await run_in_threadpool(answer, request, form)

    endpoint.__name__ = answer.__name__
    return endpoint
