"""Show how planning comes on, without a word on standard output."""

from collections.abc import Iterator
from contextlib import contextmanager

from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

from haulm.planner.question import Progress as PlanProgress
from haulm.planner.question import Watcher


@contextmanager
def watching(*, quiet: bool) -> Iterator[Watcher | None]:
    """Give a watcher that draws a progress line on standard error; None when quiet."""
    if quiet:
        yield None
        return
    columns = (TextColumn("{task.description}"), BarColumn(bar_width=30), TimeElapsedColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("Working out what this site allows", total=1.0)

        def watch(progress: PlanProgress) -> None:
            bar.update(task, description=said(progress), completed=progress.done)

        yield watch


def said(progress: PlanProgress) -> str:
    """Put a step of planning into words, with how close the plan is known to be to the best."""
    if progress.objective is None or progress.bound is None or progress.objective <= 0:
        return progress.step
    gap = (progress.objective - progress.bound) / progress.objective
    return f"{progress.step}; within {gap:.1%} of the best possible"
