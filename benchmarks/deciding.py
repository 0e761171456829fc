"""How long it takes to tell the last day to decide every choice of the example gardens.

Each garden is planned quickly as of 1 February 2027, and every choice pending on that day is asked
as the command and the page do it. Run with ``python -m benchmarks.deciding`` from the root.
"""

from datetime import date
from importlib.resources import as_file, files
from time import perf_counter, process_time

from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.plans import Made, leave_unlaid
from haulm.desk.planning.question import ask, display_names
from haulm.desk.worth.deciding import Deciding, decide, deciding_for, pending_choices
from haulm.planner.make import make_plan
from haulm.planner.solve import EFFORTS

GARDENS = ("southern", "torrenz")
DAY = date(2027, 2, 1)


def deciding_in(name: str) -> Deciding:
    """Plan an example garden, and gather what its decisions are reckoned from."""
    with as_file(files("haulm.examples") / name / "garden.toml") as toml:
        opened = open_garden(toml)
    garden, catalogue = opened.garden, opened.catalogue
    plan = make_plan(ask(garden, catalogue, DAY, 1).question, EFFORTS["quick"])
    layouts = leave_unlaid(plan, garden.beds, catalogue)
    made = Made(plan, garden, catalogue, layouts, display_names(garden, catalogue))
    return deciding_for(made, DAY)


def main() -> None:
    """Print a row for each garden."""
    print("garden     choices  plans  seconds  of work  of work for the dearest choice")
    for name in GARDENS:
        deciding = deciding_in(name)
        choices = pending_choices(deciding)
        plans, dearest = 0, 0.0
        wall, work = perf_counter(), process_time()
        for pending in choices:
            begun = process_time()
            plans += decide(deciding, pending).solved
            dearest = max(dearest, process_time() - begun)
        wall, work = perf_counter() - wall, process_time() - work
        print(f"{name:10} {len(choices):7} {plans:6} {wall:8.1f} {work:8.1f} {dearest:8.1f}")


if __name__ == "__main__":
    main()
