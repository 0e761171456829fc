"""Sowings: every start a kind could have in a plan, and what each gives, holds and asks."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

import numpy as np

from haulm.catalogue.known import counted, known
from haulm.catalogue.records import Kind, Method, Picking
from haulm.catalogue.stand import plants_m2
from haulm.growing.days import Days, day_in_share_of_runs
from haulm.growing.harvest import Gathering, OneStart, food_of, gatherings, one_start
from haulm.growing.perennials import STANDS_ALREADY, PerennialStand, standing_perennial
from haulm.growing.records import Sowing, Window
from haulm.growing.rules import growing_rules
from haulm.growing.timing import course, main_giving, module_weeks, span_weeks, worth_after
from haulm.growing.weather import GrowingWeather
from haulm.growing.windows import starts, windows_among
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.weeks import DAYS_A_WEEK, WEEKS_A_YEAR, Horizon, monday_of

Planned = frozenset[tuple[str, str, date]]
"""Kind, method and Monday of sowings that a plan has chosen already."""


@dataclass(frozen=True, slots=True)
class SowingChoice:
    """How many sowings to offer.

    Attributes
    ----------
    most_per_window
        Most Mondays offered in a year of a window; quick kinds get up to twice as many.
    covers
        Grow in the open (False), under cover (True), or both; cover is used only for kinds that
        like it.
    ground_free_weeks
        Weeks in which ground is known to fall free: a start that is in its ground in such a week
        is offered as well, where its window allows.
    planned
        Sowings that a plan has chosen already: they are offered again where their window allows.
    """

    most_per_window: int = 6
    covers: tuple[bool, ...] = (False,)
    ground_free_weeks: tuple[int, ...] = ()
    planned: Planned = frozenset()


@dataclass(frozen=True, slots=True)
class Way:
    """What is started and how: a kind of a family, by a method, under cover or not."""

    kind: Kind
    family: str
    method: Method
    under_cover: bool


def sowings(
    kind: Kind,
    crop_family: str,
    weather: GrowingWeather,
    horizon: Horizon,
    choice: SowingChoice,
) -> tuple[Sowing, ...]:
    """Work out the sowings of a kind that a plan may choose from.

    Parameters
    ----------
    kind, crop_family
        The kind and the id of its crop's family.
    weather
        Many runs of weather, reaching well past the horizon's end.
    horizon
        The weeks planned.
    choice
        How many sowings to offer, and under which covers.

    Returns
    -------
    tuple of Sowing
        By method, cover and day. A sowing none of whose food falls inside the horizon is left
        out; food that falls partly outside keeps its weeks inside. None of what stays for years,
        which a plan of two seasons could not make pay, nor of what is only dug in.

    Notes
    -----
    Losses are divided out once. The catalogue's yield is what a full stand of a square metre gives
    as lifted, field losses included; ``stock_m2`` is stations × units per station / (germination ×
    survival), so that the stand is full in the mean.
    """
    if kind.perennial is not None or kind.green_manure is not None:
        return ()
    made: list[Sowing] = []
    for method in kind.methods:
        for under_cover in choice.covers:
            if not under_cover or kind.likes_cover:
                way = Way(kind, crop_family, method, under_cover)
                made.extend(_sowings_of(way, weather, horizon, choice))
    return tuple(made)


def _sowings_of(
    way: Way, weather: GrowingWeather, horizon: Horizon, choice: SowingChoice
) -> Iterable[Sowing]:
    looked_at = starts(
        way.kind, way.method, under_cover=way.under_cover, weather=weather, horizon=horizon
    )
    for window in windows_among(looked_at, horizon):
        for week in chosen_weeks(way.kind, way.method, window, horizon, choice):
            place = week - int(looked_at.weeks[0])
            start = one_start(way.kind, looked_at.fared, place, weather, horizon)
            sowing = _sowing(way, horizon.monday(week), start, window)
            if sowing.foods:
                yield sowing


def chosen_weeks(
    kind: Kind, method: Method, window: Window, horizon: Horizon, choice: SowingChoice
) -> tuple[int, ...]:
    """Choose the weeks of a window in which to offer a sowing, first and last included.

    They lie evenly, half the picking span apart within bounds; a kind lifted once and stored is
    offered less often, a quick fresh one more (figures in ``data/rules.toml``).
    """
    first = max(0, horizon.week_of(window.first_day))
    last = min(horizon.weeks - 1, horizon.week_of(window.last_day))
    if first > last:
        return ()
    rules, main = growing_rules(), main_giving(kind)
    most = choice.most_per_window
    if main.keeping and main.picking is Picking.ONCE:
        most = min(most, round(rules.storer_sowings.value))
    elif not main.keeping and span_weeks(main) <= rules.quick_span_weeks.value:
        most = 2 * most
    spacing = float(
        np.clip(
            span_weeks(main) / 2,
            rules.sowing_spacing_least_weeks.value,
            rules.sowing_spacing_most_weeks.value,
        )
    )
    count = min(most * ceil((last - first + 1) / WEEKS_A_YEAR), ceil((last - first) / spacing) + 1)
    even = np.linspace(first, last, count).round().astype(int).tolist()
    after_others = (week - module_weeks(method) for week in choice.ground_free_weeks)
    planned = (
        horizon.week_of(monday)
        for kind_id, method_id, monday in choice.planned
        if (kind_id, method_id) == (kind.id, method.id)
    )
    others = (*after_others, *planned)
    return tuple(sorted({*even, *(week for week in others if first <= week <= last)}))


def standing_sowing(  # noqa: PLR0913, PLR0917 - seven plain facts say what stands
    kind: Kind,
    family: str,
    method: Method,
    started_on: date,
    under_cover: bool,  # noqa: FBT001 - the caller gives the facts in this order
    weather: GrowingWeather,
    horizon: Horizon,
) -> Sowing:
    """Work out what a planting that stands already will still give, hold and ask.

    Parameters
    ----------
    kind, family, method, under_cover
        What stands.
    started_on
        The day it was sown, or set out from the tray, into its ground.
    weather, horizon
        The runs of weather and the weeks planned.

    Returns
    -------
    Sowing
        Its weeks may be negative. Frosts before week 0 did not end it, since it stands. Food and
        work before week 0 are left out: of a *spread* food the shares gone by are lost; a *stand*
        food is assumed whole, however much of it was taken already; a food lifted once whose week
        has gone by is lifted in week 0. What stays for years is told by `standing_perennial`.

    Raises
    ------
    FaultsFoundError
        If it was started before the weather on hand begins.
    """
    if kind.perennial is not None:
        stood = PerennialStand(kind, family, method, started_on, under_cover)
        return standing_perennial(stood, weather, horizon)
    column = weather.column_of(started_on)
    if not 0 <= column < weather.seasons.days:
        weeks = weather.column_of(horizon.first_day) // DAYS_A_WEEK
        raise FaultsFoundError(
            [
                Finding(
                    where=kind.id,
                    what=f"was started on {started_on:%Y-%m-%d}; weather is at hand for the"
                    f" {weeks} weeks before the plan only.",
                    remedy="Give the day it went into this ground, or leave it out if it is gone.",
                )
            ]
        )
    begins = np.array([column], dtype=np.int64)
    today = weather.column_of(horizon.first_day)
    fared = course(kind, method, begins, weather, under_cover=under_cover, alive_on=today)
    start = one_start(kind, fared, 0, weather, horizon, stands=True)
    sown_on = started_on - timedelta(weeks=module_weeks(method))
    window = Window(
        kind.id, method.id, under_cover, sown_on, sown_on, STANDS_ALREADY, STANDS_ALREADY
    )
    return _sowing(Way(kind, family, method, under_cover), sown_on, start, window)


def _sowing(way: Way, sow_on: date, start: OneStart, window: Window) -> Sowing:
    kind, method, horizon = way.kind, way.method, start.horizon
    gathered = gatherings(start)
    set_on = sow_on + timedelta(weeks=module_weeks(method))
    from_week, until_week = horizon.week_of(set_on), _until_week(start, gathered, set_on)
    stations = plants_m2(kind.stand)
    stock = stations * method.units_per_station.value
    stock /= method.germination.value * method.survival.value
    # A seed that brings several plants, as a beet's cluster does, still takes a cell of its own.
    units_a_cell = max(1.0, method.units_per_station.value)
    cells = stock / units_a_cell if module_weeks(method) else 0.0
    foods = (food_of(start, gathering) for gathering in gathered)
    year, iso_week, _ = monday_of(sow_on).isocalendar()
    return Sowing(
        id=f"{kind.id}:{method.id}:{year}-W{iso_week:02d}" + (":cover" if way.under_cover else ""),
        kind=kind.id,
        crop=kind.crop,
        family=way.family,
        method=method.id,
        under_cover=way.under_cover,
        sow_on=sow_on,
        set_on=set_on,
        ground_from_week=from_week,
        ground_until_week=until_week,
        plants_m2=stations,
        stock_m2=stock,
        stock_unit=method.unit,
        stock_units_per_kg=known(method.units_per_kg),
        tray_weeks=(horizon.week_of(sow_on), from_week),
        cells_m2=cells,
        work_min_m2=_work(kind, horizon, horizon.week_of(sow_on), from_week, until_week),
        foods=tuple(food for food in foods if food is not None),
        window=window,
    )


def _until_week(start: OneStart, gathered: tuple[Gathering, ...], set_on: date) -> int:
    """Give the first week in which the ground is free; what stands holds week 0 at least."""
    least = max(1, start.horizon.week_of(set_on) + 1) if start.stands else 0
    if start.kind.green_manure is not None:
        grown = start.phase_ends[worth_after(start.kind)]
        return max(least, start.week_of(_late(grown)) + 1)
    return max([least, *(gathering.until_week for gathering in gathered)])


def _late(days: Days) -> int:
    """Give the day by which something has happened in as many years as are counted on."""
    share = growing_rules().certainty_ready.value
    return int(day_in_share_of_runs(days[:, None], share)[0])


def _work(
    kind: Kind, horizon: Horizon, sow_week: int, from_week: int, until_week: int
) -> tuple[tuple[int, float], ...]:
    """Share out the minutes for each square metre over the weeks of the horizon."""
    start, tend = counted(kind.labour.start_min_m2), counted(kind.labour.tend_min_m2_week)
    in_tray = growing_rules().tray_share_of_start_work.value if sow_week < from_week else 0.0
    minutes = dict.fromkeys(range(from_week, until_week), tend)
    minutes[from_week] = minutes.get(from_week, 0.0) + start * (1 - in_tray)
    if in_tray:
        minutes[sow_week] = start * in_tray
    return tuple((week, minutes[week]) for week in sorted(minutes) if 0 <= week < horizon.weeks)
