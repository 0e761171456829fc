"""Portions: what each eater counts for against an adult, and how many are at home in each week."""

import tomllib
from collections.abc import Iterable
from functools import cache
from importlib.resources import files
from typing import Any

import numpy as np
from numpy.typing import NDArray

from haulm.household.records import Away, Eater, Household
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.near import near_names
from haulm.measure.weeks import DAYS_A_WEEK, Horizon

MOST_AGE = 125


def portion_share(age: int) -> float:
    """Give the share of an adult's portion that one of this age eats [1].

    The ratio of mean daily energy needs; an adult of 31 to 50 counts 1. Sources and basis of each
    band stand in ``data/portions.toml``. Valid for ages 0 to 125.

    Raises
    ------
    FaultsFoundError
        If the age is outside that range.
    """
    if not 0 <= age <= MOST_AGE:
        what = f"the age {age} is not between 0 and {MOST_AGE}."
        raise FaultsFoundError([Finding("eaters", what, "Mend the age, or give portions.")])
    bands, adult_kcal = _bands()
    return [kcal for from_age, kcal in bands if from_age <= age][-1] / adult_kcal


def portions_of(eater: Eater) -> float:
    """Give an eater's portions: as told, else from the age, else those of an adult [1]."""
    if eater.portions is not None:
        return eater.portions
    return 1.0 if eater.age is None else portion_share(eater.age)


def adult_energy_kcal() -> float:
    """Give the daily energy need of one adult portion, an adult of 31 to 50 [kcal/day]."""
    return _bands()[1]


def energy_source() -> str:
    """Name the published table that the energy needs are from."""
    return f"{_data()['source'][0]['title']}, {_data()['source'][0]['publisher']}"


def eaters_at_home(household: Household, horizon: Horizon) -> NDArray[np.bool_]:
    """Say which eater is at home on which day, shape (eaters, weeks × 7), eaters as listed.

    Raises
    ------
    FaultsFoundError
        With a finding for each absence that ends before it starts or names no known eater.
    """
    names = [eater.name for eater in household.eaters]
    findings = [found for away in household.away for found in _away_faults(away, names)]
    if findings:
        raise FaultsFoundError(findings)
    present = np.ones((len(names), horizon.weeks * DAYS_A_WEEK), dtype=np.bool_)
    for away in household.away:
        gone = [place for place, name in enumerate(names) if name in away.eaters or not away.eaters]
        present[gone, _days(away, horizon)] = False
    return present


def portions_at_home(household: Household, horizon: Horizon) -> NDArray[np.float64]:
    """Count the adult portions at home on each day, shape (weeks × 7,) [1].

    Days away that overlap are counted once.

    Raises
    ------
    FaultsFoundError
        With a finding for each absence that ends before it starts or names no known eater.
    """
    present = eaters_at_home(household, horizon).T.astype(np.float64)
    return present @ np.array([portions_of(eater) for eater in household.eaters], dtype=np.float64)


def someone_at_home(household: Household, horizon: Horizon) -> NDArray[np.bool_]:
    """Say for each day whether anybody is at home, shape (weeks × 7,).

    A household whose eaters were not listed is at home unless everybody is told to be away.
    """
    if household.eaters:
        return np.asarray(eaters_at_home(household, horizon).any(axis=0))
    home = np.ones(horizon.weeks * DAYS_A_WEEK, dtype=np.bool_)
    for away in household.away:
        home[_days(away, horizon)] = False
    return home


def adult_portions(household: Household, horizon: Horizon) -> NDArray[np.float64]:
    """Count the adult portions at home in each week, the mean of its days, shape (weeks,) [1]."""
    daily = portions_at_home(household, horizon)
    weekly: NDArray[np.float64] = daily.reshape(horizon.weeks, DAYS_A_WEEK).mean(axis=1)
    return weekly


def _days(away: Away, horizon: Horizon) -> slice:
    first = (away.first_day - horizon.first_day).days
    last = (away.last_day - horizon.first_day).days
    return slice(max(first, 0), max(last + 1, 0))


def _away_faults(away: Away, names: Iterable[str]) -> list[Finding]:
    where = f"away from {away.first_day} to {away.last_day}"
    findings = []
    if away.last_day < away.first_day:
        findings.append(Finding(where, "it ends before it starts.", "Swap or mend the two days."))
    for name in away.eaters:
        if name not in names:
            near = near_names(name, names)
            remedy = f"Is {' or '.join(near)} meant?" if near else "Name one of the eaters."
            findings.append(Finding(where, f"nobody at the table is called “{name}”.", remedy))
    return findings


@cache
def _data() -> dict[str, Any]:
    """Read ``data/portions.toml``."""
    text = (files("haulm.household") / "data" / "portions.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@cache
def _bands() -> tuple[tuple[tuple[int, float], ...], float]:
    """Give the bands (from age, kcal/day), youngest first, and an adult's kcal/day."""
    bands = tuple(sorted((band["from_age"], float(band["kcal_day"])) for band in _data()["band"]))
    return bands, dict(bands)[_data()["adult_age"]]
