"""How long it takes to size the land for the example gardens, step by step of ground.

Each is sized as the command and the page do it, and the plans behind it are counted, with the
widest gap to the best that any of its steps is proven within. Run with ``python -m
benchmarks.land`` from the root.
"""

from datetime import date
from importlib.resources import as_file, files
from time import perf_counter, process_time

from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.sizing.land import Land, LandWish, sized
from haulm.planner.question import Progress

GARDENS = ("one-food", "southern", "torrenz")
DAY = date(2027, 2, 1)


def timed(opened: Opened) -> tuple[Land, int, float, float]:
    """Size a garden's land: what is found, the plans made, seconds by the wall and of work."""
    plans = 0

    def count(_: Progress) -> None:
        nonlocal plans
        plans += 1

    wall, work = perf_counter(), process_time()
    land = sized(opened, DAY, LandWish(), watch=count)
    # The first thing told is no plan yet.
    return land, plans - 1, perf_counter() - wall, process_time() - work


def main() -> None:
    """Print a row for each garden."""
    print("garden     enough m²  steps  plans  seconds  of work  widest gap")
    for name in GARDENS:
        with as_file(files("haulm.examples") / name / "garden.toml") as toml:
            land, plans, wall, work = timed(open_garden(toml))
        gap = max(step.plan.solver.gap for step in land.steps)
        print(
            f"{name:10} {land.enough.open_m2:9.0f} {len(land.steps):6d} {plans:6d}"
            f" {wall:8.1f} {work:8.1f} {gap:10.1%}"
        )


if __name__ == "__main__":
    main()
