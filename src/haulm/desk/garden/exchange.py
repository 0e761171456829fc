"""Carry a garden between garden.toml and its notebook, and find the notebook that is meant."""

from datetime import datetime
from pathlib import Path

from haulm.desk.garden.opening import usual_names
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.file import create_notebook, open_notebook
from haulm.notebook.history import forget, remember
from haulm.notebook.toml_reader import read_toml
from haulm.notebook.toml_writer import write_garden_toml

NOTEBOOK = ".haulm"


def notebook_here(given: Path | None, folder: Path = Path()) -> Path:
    """Give the notebook named, or else the only one in a folder.

    Raises
    ------
    FaultsFoundError
        When none was named and there is not exactly one.
    """
    if given is not None:
        return given
    found = sorted(folder.glob(f"*{NOTEBOOK}"))
    if len(found) == 1:
        return found[0]
    what = (
        "there are several notebooks here: " + ", ".join(path.name for path in found) + "."
        if found
        else "there is no notebook here."
    )
    remedy = "Name the one you mean." if found else "Make one with haulm import garden.toml."
    raise FaultsFoundError([Finding(where="this folder", what=what, remedy=remedy)])


def import_garden(
    toml: Path, notebook: Path | None, at: datetime | None = None
) -> tuple[Path, tuple[Finding, ...]]:
    """Read garden.toml into a notebook, new or there already; its plans are kept.

    Parameters
    ----------
    toml
        The garden to read.
    notebook
        The notebook to write; beside the garden, named after its folder's file, when None.
    at
        The time, by which a garden there already can be gone back to; it cannot when None, nor
        can those before it.

    Raises
    ------
    FaultsFoundError
        With every fault at once; nothing is written then.
    """
    read = read_toml(toml, usual_names())
    target = notebook or toml.with_suffix(NOTEBOOK)
    if not target.exists():
        with create_notebook(target) as opened:
            opened.write_garden(read.document, read.record)
        return target, read.findings
    with open_notebook(target, writing=True) as opened:
        if at is None:
            forget(opened)
        else:
            remember(opened, opened.parts(), f"{toml.name} imported", at, record_changes=True)
        opened.write_garden(read.document, read.record)
    return target, read.findings


def export_garden(notebook: Path, toml: Path) -> tuple[Path, ...]:
    """Write a notebook's garden as garden.toml, with its daily record beside it.

    Raises
    ------
    FaultsFoundError
        When there is no such notebook, or no file can be written there.
    """
    if not toml.parent.is_dir():
        raise _unwritten(toml, "its folder does not exist.", "Make the folder first.")
    if toml.is_dir():
        raise _unwritten(toml, "this is a folder.", "Name a file in it, as in garden.toml.")
    with open_notebook(notebook) as opened:
        document, record = opened.document(), opened.record()
    try:
        return write_garden_toml(document, record, toml)
    except OSError as error:
        what = f"it cannot be written: {error.strerror}."
        remedy = "See that the folder may be written and the disk has room."
        raise _unwritten(toml, what, remedy) from None


def _unwritten(toml: Path, what: str, remedy: str) -> FaultsFoundError:
    return FaultsFoundError([Finding(str(toml), what, remedy)])
