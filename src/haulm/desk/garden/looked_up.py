"""What is looked up in a notebook by one short opening of it."""

from collections.abc import Callable
from pathlib import Path
from typing import ParamSpec, TypeVar

from haulm.desk.garden.editing import parts_of
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.file import open_notebook

T = TypeVar("T")
P = ParamSpec("P")
Findings = tuple[Finding, ...]


def mark_of_file(path: Path) -> str:
    """Mark the garden and the plans that a notebook holds; empty where it cannot be read."""
    if not path.exists():
        return ""
    try:
        with open_notebook(path) as notebook:
            return notebook.mark()
    except FaultsFoundError:
        return ""


def or_findings(make: Callable[P, T], *given: P.args, **named: P.kwargs) -> T | Findings:
    """Make something of a garden, or say what stands against it."""
    try:
        return make(*given, **named)
    except FaultsFoundError as error:
        return error.findings


def plans_in(path: Path) -> tuple[bool, bool]:
    """Say whether a plan is kept, and whether one waits."""
    with open_notebook(path) as notebook:
        return bool(notebook.plans()), notebook.has_proposal


def plain_parts(path: Path) -> dict[str, tuple[dict[str, object], ...]]:
    """Give every part of a garden as it was typed."""
    return {name: tuple(dict(part) for part in parts) for name, parts in parts_of(path).items()}
