"""Say which work the plan's hours leave out because nobody has its minutes."""

from collections.abc import Iterator

from haulm.catalogue.records import Absent, Figure, Kind
from haulm.measure.findings import Finding, Grade


def work_unknown(kind: Kind, food: str | None = None) -> tuple[tuple[str, Absent], ...]:
    """Name each work of a kind whose minutes nobody has, of one food or of all it gives."""
    return tuple(
        (work, figure) for work, figure in _works(kind, food) if isinstance(figure, Absent)
    )


def hours_left_out(kinds: tuple[Kind, ...]) -> tuple[Finding, ...]:
    """Tell of every work that hours are reckoned without."""
    return tuple(
        Finding(
            where=f"hours, {kind.name}",
            what=f"the minutes of {work} are not known, so hours leave them out: {figure.why}.",
            remedy="Take it that the weeks ask for more than they say.",
            grade=Grade.WARNING,
        )
        for kind in kinds
        for work, figure in work_unknown(kind)
    )


def _works(kind: Kind, food: str | None) -> Iterator[tuple[str, Figure | Absent]]:
    yield "making its ground ready and starting it", kind.labour.start_min_m2
    yield "tending it", kind.labour.tend_min_m2_week
    yield "lifting or picking it", kind.labour.pick_min_kg
    for giving in kind.givings:
        if food in {None, giving.food}:
            for keeping in giving.keeping:
                yield f"putting by {giving.food} {keeping.form.value}", keeping.work_min_kg
