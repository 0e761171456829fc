"""The look-out of a day, put together: frost, blight, what was seen, not up, or is ready."""

from collections.abc import Callable, Iterable, Iterator
from datetime import date, timedelta

from haulm.desk.at_hand import AtHand
from haulm.desk.garden.editing import stamp
from haulm.desk.planning.plans import Made
from haulm.desk.season.ahead import ahead_of, hours_of
from haulm.desk.season.watch_asked import Asking
from haulm.desk.season.watch_blight import blight_lines, untold_blight
from haulm.desk.season.watch_frost import frost_lines, untold_frost
from haulm.desk.season.watch_ready import ready_lines
from haulm.desk.season.watch_seen import seen_lines
from haulm.desk.season.watch_sown import sown_lines
from haulm.desk.season.watch_standing import known_weather, standing, told_of, weather_lived
from haulm.season.watch_figures import watch_figures
from haulm.season.watch_records import LookOut, Watch, WatchMeans

BACK_DAYS = 40
"""What was told of so many days before today is looked at."""

LINES: tuple[Callable[[Asking], Iterable[LookOut]], ...] = (
    frost_lines,
    blight_lines,
    seen_lines,
    sown_lines,
    ready_lines,
)
"""What makes lines, in the order in which they are told."""

UNTOLD: tuple[Callable[[Asking], Iterator[str]], ...] = (untold_frost, untold_blight)


def watch_of(garden: AtHand, day: date, means: WatchMeans | None = None) -> Watch | None:
    """Give what to look out for on a day, worked out once; None without a plan.

    Parameters
    ----------
    garden
        The garden at hand.
    day
        The day that counts as today.
    means
        The rules on blight and the fleece to go by this time; None for the garden's own.
    """
    made = garden.unlaid
    if made is None:
        return None
    by = means or made.garden.watch
    key = (stamp(garden.path), day, by)
    return garden.once("watch", key, lambda: _watch(asking_of(garden, made, day, by)))


def _watch(asking: Asking) -> Watch:
    lines = tuple(line for make in LINES for line in make(asking))
    return Watch(asking.day, lines, tuple(words for say in UNTOLD for words in say(asking)))


def asking_of(garden: AtHand, made: Made, day: date, means: WatchMeans) -> Asking:
    """Gather what the look-out is worked out from."""
    lasts = round(watch_figures().told_lasts_days.value)
    first, year = day - timedelta(days=BACK_DAYS), day - timedelta(days=lasts)
    entries = tuple(entry for entry in garden.diary.entries if year <= entry.day <= day)
    ahead = ahead_of(garden.path, first)
    plan, catalogue = made.plan, made.catalogue
    told = told_of(plan, entries, day)
    began = [of.started or of.out for of in told.values()]
    starts = [start for start in began if start is not None and start <= day]
    starts += [p.sow_on for p in plan.plantings if p.sow_on <= day < p.clear_by]
    known = known_weather(made.garden, ahead, entries)
    earliest = max(min(starts, default=day), year)
    # It changes with the days that are known, which a plan does not: held apart from the rest.
    recent = tuple(one for one in known if one.day >= earliest - timedelta(days=BACK_DAYS))
    weather = garden.once(
        "weather lived",
        (earliest, day, recent),
        lambda: weather_lived(made.garden, recent, earliest, day),
    )
    return Asking(
        garden=made.garden,
        catalogue=catalogue,
        plan=plan,
        names=made.names,
        day=day,
        entries=entries,
        told=told,
        stands=standing(plan, catalogue, told, weather, day),
        ahead=ahead,
        hours=hours_of(garden.path, first),
        known=recent,
        weather=weather,
        means=means,
    )
