"""Write docs/checks.md: every check with its figure beside ours, from the checks themselves."""

from collections.abc import Iterable, Iterator
from pathlib import Path

from truth.agreements import AGREEMENTS, seen_differences
from truth.all_checks import PUBLISHED, UNPUBLISHED
from truth.published import Check, Section, Table, agrees, as_printed, ours, verdict

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "checks.md"

OPENING = """# Held against the outside

This page is written by the tests (`tests/truth`): every figure printed elsewhere that haulm is held
to, beside what haulm gives for it. `HAULM_WRITE_PAGES=1 pytest tests/truth` writes it anew, and a
test fails when it is stale.

**{count} published figures are checked; {agree} agree and {differ} do not, each with the reason.**
Of them {worked} are worked out by haulm, and {carried} are figures that haulm holds as data, read
against the print field by field. How they were read stands beside each source. What growers know
without a source, and what is only remembered, stands at the end and is not counted.

A check is added in `tests/truth/checks`: a `Table` names the source, the unit, the tolerance and
its reason, and each `Check` one printed figure and how ours is had."""


LIBRARIES = """## Reference libraries

Not counted above. Each is asked about random days of random places, north and south, from the sea
to 2500 m (`tests/truth/agreements.py`), and must keep within its bounds.

| what | library | theirs less ours may be | and is, on 408 days | why |
|---|---|---|---|---|
{rows}"""


def written() -> str:
    """Run every check and write the page."""
    parts = [opening(), disagreements()]
    parts.extend(section(one) for one in PUBLISHED)
    parts.append(libraries())
    parts.append("# Not counted as published")
    parts.extend(section(one) for one in UNPUBLISHED)
    return "\n\n".join(parts) + "\n"


def checks_of(sections: Iterable[Section]) -> Iterator[tuple[Table, Check]]:
    """Go through every check with its table."""
    for one in sections:
        for table in one.tables:
            for check in table.checks:
                yield table, check


def opening() -> str:
    """Say what the page is and what it comes to."""
    all_checks = list(checks_of(PUBLISHED))
    agree = sum(agrees(table, check) for table, check in all_checks)
    carried = sum(table.carried for table, _ in all_checks)
    return OPENING.format(
        count=len(all_checks),
        agree=agree,
        differ=len(all_checks) - agree,
        worked=len(all_checks) - carried,
        carried=carried,
    )


def disagreements() -> str:
    """List first what does not agree."""
    lines = [
        f"| {check.what}: {table.claim} | {as_printed(check.printed)} | {as_printed(ours(check))} "
        f"| {table.unit} | {table.source} | {check.differs} |"
        for table, check in checks_of(PUBLISHED)
        if not agrees(table, check)
    ]
    columns = "| what should hold | printed | ours | unit | source | why it does not |"
    head = f"{columns}\n|---|---|---|---|---|---|"
    return "\n".join(["## What disagrees, and why", "", head, *lines])


def section(one: Section) -> str:
    """Write one subject."""
    if not one.tables:
        return f"## {one.title}\n\nNone."
    return "\n\n".join([f"## {one.title}", *(table_of(table) for table in one.tables)])


def table_of(table: Table) -> str:
    """Write one table of checks."""
    allowed = f", within {table.tolerance:g} {table.unit}" if table.tolerance else ""
    rule = f"{table.rule[0].upper()}{table.rule[1:]}{allowed} ({table.why})."
    held = "Ours is held as data." if table.carried else "Ours is worked out."
    head = f"**{table.claim}** {rule} {held} Source: {table.source}; {table.read}."
    lines = [
        f"| {check.what} | {as_printed(check.printed)} | {as_printed(ours(check))} "
        f"| {verdict(table, check)} |"
        for check in table.checks
    ]
    columns = f"| what | printed, {table.unit} | ours | verdict |\n|---|---|---|---|"
    return "\n".join([head, "", columns, *lines])


def libraries() -> str:
    """Tell how near general reference libraries come."""
    lines = []
    for agreement in AGREEMENTS:
        least, most = seen_differences(agreement)
        unit = agreement.unit
        lines.append(
            f"| {agreement.what} | {agreement.library} | {agreement.least:g} to "
            f"{agreement.most:g} {unit} | {_near(least)} to {_near(most)} {unit} "
            f"| {agreement.why} |"
        )
    return LIBRARIES.format(rows="\n".join(lines))


def _near(difference: float) -> str:
    """Write a difference to three figures; what arithmetic alone brings is nothing."""
    return "0" if abs(difference) < 1e-4 else f"{difference:.3g}"
