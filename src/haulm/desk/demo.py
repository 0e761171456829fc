"""The invented garden that shows what haulm does."""

from importlib.resources import as_file, files
from pathlib import Path

from haulm.desk.exchange import import_garden

NAME = "torrenz.haulm"


def demo_notebook(folder: Path) -> Path:
    """Give the demo's notebook in a folder, made from its garden.toml where it is not there."""
    notebook = folder / NAME
    if not notebook.exists():
        with as_file(files("haulm") / "examples" / "torrenz" / "garden.toml") as toml:
            import_garden(toml, notebook)
    return notebook
