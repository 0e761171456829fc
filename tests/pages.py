"""Pages and files that tests write from haulm's own answers, and hold to them."""

import os
from collections.abc import Iterable, Sequence
from pathlib import Path


def kept(path: Path, text: str) -> str:
    """Give what a file says, written anew from its text first where HAULM_WRITE_PAGES is set."""
    if os.environ.get("HAULM_WRITE_PAGES"):
        path.write_text(text, encoding="utf-8")
    return path.read_text(encoding="utf-8")


def table(heads: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Write a table; a stroke within a cell would end it, so none is let through."""
    lines = ["| " + " | ".join(heads) + " |", "|" + "---|" * len(heads)]
    lines += ["| " + " | ".join(str(c).replace("|", "/") for c in row) + " |" for row in rows]
    return "\n".join(lines)
