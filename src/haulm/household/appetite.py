"""Appetite: the kilograms of each line of the table that the household wants, week by week."""

from collections.abc import Mapping, Sequence
from datetime import timedelta

import numpy as np
from numpy.typing import NDArray

from haulm.household.portions import portions_at_home, portions_of, someone_at_home
from haulm.household.records import Appetite, Household, TableLine
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.near import near_names
from haulm.measure.weeks import DAYS_A_WEEK, Horizon

MONTHS = 12


def appetites(
    household: Household, horizon: Horizon, portion_kg: Mapping[str, float]
) -> tuple[Appetite, ...]:
    """Work out what every line of the table wants from the garden in every week.

    Each day counts a seventh of a week. A line told in kilograms is scaled by the share of the
    household's portions at home that day; a line told in portions by the adult portions at home
    and the usual portion of its first food. Days outside the line's season count nothing, and the
    share to grow applies throughout. Kilograms are as lifted or bought: what the kitchen then
    peels away is in them.

    Parameters
    ----------
    household
        Eaters, absences and table.
    horizon
        The weeks looked over.
    portion_kg
        A usual portion by food id, as lifted or bought [kg].

    Raises
    ------
    FaultsFoundError
        With every fault of the table: a line that says its amount in neither way or in both, a
        food without a portion, portions asked for where no eater is listed.
    """
    findings = [
        found for line in household.table for found in _line_faults(line, household, portion_kg)
    ]
    if findings:
        raise FaultsFoundError(findings)
    at_home = portions_at_home(household, horizon)
    share_home = _share_home(household, horizon, at_home)
    calendar = _calendar(horizon)
    wanted = []
    for line in household.table:
        if line.kg_week is not None:
            weekly = line.kg_week * share_home
        else:
            weekly = (line.portions_week or 0.0) * portion_kg[line.foods[0]] * at_home
        daily = weekly * _in_season(line, calendar) * line.share_to_grow
        kg = daily.reshape(horizon.weeks, DAYS_A_WEEK).mean(axis=1)
        sure = household.certainty if line.certainty is None else line.certainty
        told = (line.id, line.name, line.foods, line.wanted, line.priority)
        wanted.append(Appetite(*told, tuple(kg.tolist()), sure))
    return tuple(wanted)


def hours_by_week(household: Household, horizon: Horizon) -> tuple[float, ...]:
    """Give the hours the household can give in each week [h].

    Each day gives a seventh of its month's figure, and none while everybody is away.

    Raises
    ------
    FaultsFoundError
        If there are not twelve figures, each of nothing or more.
    """
    hours = np.array(household.hours_week, dtype=np.float64)
    if hours.shape != (MONTHS,) or not np.all(np.isfinite(hours) & (hours >= 0)):
        what = "twelve figures of nothing or more are wanted, January first."
        raise FaultsFoundError([Finding("hours a week", what, "Give one figure for each month.")])
    months = np.array([month for month, _ in _calendar(horizon)])
    daily = hours[months - 1] * someone_at_home(household, horizon)
    return tuple(daily.reshape(horizon.weeks, DAYS_A_WEEK).mean(axis=1).tolist())


def _share_home(
    household: Household, horizon: Horizon, at_home: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Give the share of the household's portions at home on each day [1]."""
    everybody = sum(portions_of(eater) for eater in household.eaters)
    if everybody > 0:
        return at_home / everybody
    return someone_at_home(household, horizon).astype(np.float64)


def _calendar(horizon: Horizon) -> list[tuple[int, int]]:
    """List (month, day) of every day of the horizon."""
    days = (
        horizon.first_day + timedelta(days=number) for number in range(horizon.weeks * DAYS_A_WEEK)
    )
    return [(day.month, day.day) for day in days]


def _in_season(line: TableLine, calendar: Sequence[tuple[int, int]]) -> NDArray[np.bool_]:
    """Say on which days a line is wanted; a season may run over the year's end."""
    first = (line.first.month, line.first.day) if line.first else (1, 1)
    last = (line.last.month, line.last.day) if line.last else (MONTHS, 31)
    if first <= last:
        return np.array([first <= day <= last for day in calendar])
    return np.array([day >= first or day <= last for day in calendar])


def _line_faults(
    line: TableLine, household: Household, portion_kg: Mapping[str, float]
) -> list[Finding]:
    where = f"table, {line.name}"
    told = [amount for amount in (line.kg_week, line.portions_week) if amount is not None]
    if len(told) != 1:
        how = "in neither" if not told else "both in"
        what = f"it says how much {how} kilograms a week and portions a week."
        return [Finding(where, what, "Give exactly one of the two.")]
    findings = []
    if not np.isfinite(told[0]) or told[0] < 0:
        findings.append(Finding(where, f"the amount is {told[0]:g}.", "Give 0 or more."))
    if line.portions_week is not None and not household.eaters:
        what = "it is told in portions, but no eater is listed."
        findings.append(Finding(where, what, "List who eats, or give kilograms a week."))
    if line.portions_week is not None and line.foods[0] not in portion_kg:
        near = near_names(line.foods[0], portion_kg)
        remedy = f"Is {' or '.join(near)} meant?" if near else "Give kilograms a week instead."
        findings.append(Finding(where, f"no portion is known of “{line.foods[0]}”.", remedy))
    return findings
