"""How long it takes to find every window of 150 kinds at a place, and when their foods are ready.

Every kind of the catalogue, and the first ones again up to 150, by every method, in the open and
under cover where it likes that, through 30 runs of weather of a year with sixty weeks on either
side; for every Monday of each window the odds of every food's ready date. The plain way, told
beside it, follows each Monday through each run of weather by itself, for a few kinds, and is
scaled up. Run with ``python -m benchmarks.windows`` from the root.
"""

import resource
from collections.abc import Sequence
from datetime import date, timedelta
from itertools import cycle, islice
from time import perf_counter, process_time

import numpy as np

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Kind, Method
from haulm.growing.timing import course, ready_spread
from haulm.growing.weather import GrowingWeather, growing_weather
from haulm.growing.windows import Starts, starts, windows_among
from haulm.measure.weeks import DAYS_A_WEEK, Horizon
from haulm.site.records import Place, Seasons, Soil

KINDS, RUNS, WEEKS, AROUND = 150, 30, 52, 60
PLAIN_STARTS = 40
AIM_S, AIM_MIB = 5.0, 500
KIB_A_MIB = 1024
PLACE = Place("Torrenz", 46.4, 10.0, 410.0, Soil.LOAM)
HORIZON = Horizon(date(2027, 1, 4), WEEKS)


def invented_runs(seed: int = 1) -> Seasons:
    """Draw runs of weather: a year's wave with spells of warm and cold on it."""
    dice = np.random.default_rng(seed)
    days = DAYS_A_WEEK * (WEEKS + 2 * AROUND)
    first = HORIZON.first_day - timedelta(weeks=AROUND)
    wave = 9.0 - 10.0 * np.cos(2 * np.pi * (np.arange(days) + first.timetuple().tm_yday) / 365.25)
    spells = np.cumsum(dice.normal(0, 1.2, (RUNS, days)), axis=1)
    spells -= np.apply_along_axis(lambda run: np.convolve(run, np.ones(31) / 31, "same"), 1, spells)
    mean = wave + spells
    return Seasons("invented", first, mean - 4.5, mean + 5.5, np.zeros((RUNS, days)))


def ways(kinds: Sequence[Kind]) -> list[tuple[Kind, Method, bool]]:
    """List every way of starting every kind."""
    return [
        (kind, method, cover)
        for kind in kinds
        for method in kind.methods
        for cover in ((False, True) if kind.likes_cover else (False,))
    ]


def look(way: tuple[Kind, Method, bool], weather: GrowingWeather) -> Starts:
    """Follow every Monday of one way of starting a kind."""
    kind, method, cover = way
    return starts(kind, method, under_cover=cover, weather=weather, horizon=HORIZON)


def odds(looked_at: Starts, weather: GrowingWeather) -> tuple[int, int]:
    """Count the windows of a start, and the ready dates worked out on their Mondays."""
    found = windows_among(looked_at, HORIZON)
    spreads = 0
    for window in found:
        first, last = (HORIZON.week_of(day) for day in (window.first_day, window.last_day))
        within = np.flatnonzero((looked_at.weeks >= first) & (looked_at.weeks <= last))
        for giving in looked_at.kind.givings:
            ready = looked_at.fared.phase_ends[giving.after]
            for place in within:
                ready_spread(ready[:, place], weather)
                spreads += 1
    return len(found), spreads


def plain_s(weather: GrowingWeather, all_ways: Sequence[tuple[Kind, Method, bool]]) -> float:
    """Time following single Mondays, and scale up to all of them [s]."""
    column = weather.column_of(HORIZON.first_day)
    chosen = all_ways[:: max(1, len(all_ways) // PLAIN_STARTS)]
    started = process_time()
    for kind, method, cover in chosen:
        course(kind, method, np.array([column + 120]), weather, under_cover=cover)
    return (process_time() - started) / len(chosen) * len(all_ways) * (WEEKS + AROUND)


def main() -> None:
    """Find, time and print."""
    kinds = list(islice(cycle(load_catalogue().kinds.values()), KINDS))
    all_ways = ways(kinds)
    seasons = invented_runs()
    started, busy = perf_counter(), process_time()
    weather = growing_weather(seasons, PLACE)
    counts = [odds(look(way, weather), weather) for way in all_ways]
    took_s, busy_s = perf_counter() - started, process_time() - busy
    peak_mib = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / KIB_A_MIB
    found, spreads = (sum(count[at] for count in counts) for at in (0, 1))
    print(f"{KINDS} kinds, {len(all_ways)} ways of starting, {RUNS} runs of weather")
    print(f"{found} windows and {spreads} ready dates with their odds in {took_s:.2f} s", end="")
    print(f" (aim: under {AIM_S:g} s), of which {busy_s:.2f} s on the processor")
    print(f"memory at its most: {peak_mib:.0f} MiB (aim: under {AIM_MIB})")
    print(f"time against Mondays followed one by one: {busy_s / plain_s(weather, all_ways):.3f}")


if __name__ == "__main__":
    main()
