"""The invented garden that shows what haulm does."""

from importlib.resources import as_file, files
from pathlib import Path

from haulm.desk.garden.exchange import NOTEBOOK, import_garden, notebook_here

NAME = "torrenz.haulm"


def demo_notebook(folder: Path) -> Path:
    """Give the demo's notebook in a folder, made from its garden.toml where it is not there."""
    notebook = folder / NAME
    if not notebook.exists():
        with as_file(files("haulm") / "examples" / "torrenz" / "garden.toml") as toml:
            import_garden(toml, notebook)
    return notebook


def notebook_to_serve(given: Path | None, folder: Path = Path()) -> Path:
    """Give the notebook named; else the only one in a folder, the demo aside; else a new one.

    Raises
    ------
    FaultsFoundError
        When none was named and there are several.
    """
    found = [path for path in folder.glob(f"*{NOTEBOOK}") if path.name != NAME]
    if given is None and not found:
        return folder / f"garden{NOTEBOOK}"
    return notebook_here(given or (found[0] if len(found) == 1 else None), folder)
