"""The verb about phones: which may write in the diary, and shutting one out."""

from datetime import UTC, datetime
from typing import Annotated

import typer

from haulm.cli import show
from haulm.cli.options import AsJson, Notebook
from haulm.desk.garden.exchange import notebook_here
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.names import suggest
from haulm.web.phone_door.door import folder_of
from haulm.web.phone_door.keys import Phone, Phones


def phones(
    notebook: Notebook = None,
    shut_out: Annotated[
        str, typer.Option("--shut-out", metavar="NAME", help="Shut this phone out, from now on.")
    ] = "",
    as_json: AsJson = False,
) -> None:
    """List the phones that may write in the diary, or shut one out; haulm serve --phone lets in."""
    path = notebook_here(notebook)
    known = Phones(folder_of(path), lambda: datetime.now(UTC).astimezone())
    if shut_out:
        named = _named(known.there, shut_out)
        known.shut_out(named.id)
        if not as_json:
            show.line(f"{named.name} is shut out. What it had not sent yet stays on it.")
    there = known.there
    if as_json:
        show.data([{"id": one.id, "name": one.name, "since": one.since} for one in there])
        return
    for one in there:
        show.line(f"{one.name}, since {one.since}")
    if not there:
        show.line("No phone may write in the diary. haulm serve --phone lets one in.")


def _named(there: tuple[Phone, ...], name: str) -> Phone:
    """Find the phone of a name, or of an id.

    Raises
    ------
    FaultsFoundError
        When there is none.
    """
    found = [one for one in there if name.casefold() in {one.name.casefold(), one.id.casefold()}]
    if not found:
        names = [one.name for one in there]
        remedy = suggest(name, names, "haulm phones lists them.")
        raise FaultsFoundError([Finding("phones", f"there is no phone “{name}”.", remedy)])
    return found[0]
