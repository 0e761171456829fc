"""Write docs/checks.md: every check with its figure beside ours, from the checks themselves."""

from collections.abc import Iterable, Iterator
from pathlib import Path

from pages import table
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

{table}"""


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
        for group in one.tables:
            for check in group.checks:
                yield group, check


def opening() -> str:
    """Say what the page is and what it comes to."""
    all_checks = list(checks_of(PUBLISHED))
    agree = sum(agrees(group, check) for group, check in all_checks)
    carried = sum(group.carried for group, _ in all_checks)
    return OPENING.format(
        count=len(all_checks),
        agree=agree,
        differ=len(all_checks) - agree,
        worked=len(all_checks) - carried,
        carried=carried,
    )


def disagreements() -> str:
    """List first what does not agree."""
    heads = ("what should hold", "printed", "ours", "unit", "source", "why it does not")
    rows = [
        (
            f"{check.what}: {group.claim}",
            as_printed(check.printed),
            as_printed(ours(check)),
            group.unit,
            group.source,
            check.differs,
        )
        for group, check in checks_of(PUBLISHED)
        if not agrees(group, check)
    ]
    return f"## What disagrees, and why\n\n{table(heads, rows)}"


def section(one: Section) -> str:
    """Write one subject."""
    if not one.tables:
        return f"## {one.title}\n\nNone."
    return "\n\n".join([f"## {one.title}", *map(table_of, one.tables)])


def table_of(group: Table) -> str:
    """Write one table of checks."""
    allowed = f", within {group.tolerance:g} {group.unit}" if group.tolerance else ""
    rule = f"{group.rule[0].upper()}{group.rule[1:]}{allowed} ({group.why})."
    held = "Ours is held as data." if group.carried else "Ours is worked out."
    head = f"**{group.claim}** {rule} {held} Source: {group.source}; {group.read}."
    rows = [
        (check.what, as_printed(check.printed), as_printed(ours(check)), verdict(group, check))
        for check in group.checks
    ]
    return f"{head}\n\n{table(('what', f'printed, {group.unit}', 'ours', 'verdict'), rows)}"


def libraries() -> str:
    """Tell how near general reference libraries come."""
    heads = ("what", "library", "theirs less ours may be", "and is, on 408 days", "why")
    rows = []
    for agreement in AGREEMENTS:
        least, most = seen_differences(agreement)
        unit = agreement.unit
        allowed = f"{agreement.least:g} to {agreement.most:g} {unit}"
        seen = f"{_near(least)} to {_near(most)} {unit}"
        rows.append((agreement.what, agreement.library, allowed, seen, agreement.why))
    return LIBRARIES.format(table=table(heads, rows))


def _near(difference: float) -> str:
    """Write a difference to three figures; what arithmetic alone brings is nothing."""
    return "0" if abs(difference) < 1e-4 else f"{difference:.3g}"
