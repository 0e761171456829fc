"""Show an answer to *why* on a terminal."""

from haulm.cli.show import line, table
from haulm.desk.worth.why_records import Why


def why(found: Why) -> None:
    """Print an answer: the number and its reason, its parts, and what its figures rest on."""
    line(found.name)
    line(f"  {found.answer}")
    for part in found.parts:
        line(f"\n{part.heading}")
        for said in part.lines:
            line(f"  {said}")
        if part.shown is not None:
            table(part.shown.heads, part.shown.rows)
    if found.figures:
        table(
            ("figure", ">value", "rests on"),
            ((each.name, each.value, each.rests_on) for each in found.figures),
            title="\nThe figures it was reckoned with",
        )
    if found.see:
        line("\nAsk further")
        for other in found.see:
            line(f"  haulm why {_quoted(other.path)}: {other.words}")


def _quoted(path: str) -> str:
    """Put a path with a space in quotes, as a shell wants it."""
    return f'"{path}"' if " " in path else path
