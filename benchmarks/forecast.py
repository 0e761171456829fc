"""Time 10,000 seasons of the large example's plan, and what memory they take.

The plan is made quickly first; only living through the seasons is timed, the weather of the place
included. Processor seconds and seconds by the clock, in one process.
Run with ``python -m benchmarks.forecast`` from the root.
"""

import resource
from datetime import date
from importlib.resources import as_file, files
from time import perf_counter, process_time

from haulm.desk.garden.opening import open_garden
from haulm.desk.odds.living import odds_in, setting_for
from haulm.desk.planning.question import ask
from haulm.planner.make import make_plan
from haulm.planner.solve import EFFORTS

DAY, SEED = date(2027, 2, 1), 1
COUNTS = (1_000, 10_000)
AIM_S = 10.0


def main() -> None:
    """Plan, live, time and print."""
    with as_file(files("haulm.examples") / "torrenz" / "garden.toml") as path:
        opened = open_garden(path)
    question = ask(opened.garden, opened.catalogue, DAY, SEED).question
    plan = make_plan(question, EFFORTS["quick"])
    print(f"torrenz: {len(plan.plantings)} plantings, {len(question.appetites)} lines, 104 weeks")
    for seasons in COUNTS:
        clock, processor = perf_counter(), process_time()
        odds_in(setting_for(question, opened, SEED), plan, seasons, SEED)
        mib = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(
            f"{seasons:6} seasons: {process_time() - processor:.1f} s of the processor, "
            f"{perf_counter() - clock:.1f} s by the clock, at most {mib:.0f} MiB"
        )
    print(f"Aim: 10,000 seasons within {AIM_S:.0f} s.")


if __name__ == "__main__":
    main()
