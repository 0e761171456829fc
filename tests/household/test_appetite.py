"""What the table wants week by week."""

from dataclasses import replace
from datetime import date

import pytest

from haulm.household.appetite import appetites, hours_by_week
from haulm.household.records import Away, Eater, Household, MonthDay, TableLine, Wanted
from haulm.measure.errors import FaultsFoundError
from haulm.measure.weeks import Horizon

HORIZON = Horizon(date(2027, 1, 4), 104)
GARLIC = TableLine(
    "garlic", "Garlic", ("garlic",), 0.3, None, None, None, Wanted.EITHER, 3, share_to_grow=1.0
)
SALAD = TableLine(
    "salad",
    "Salad",
    ("lettuce", "spinach"),
    None,
    2.0,
    None,
    None,
    Wanted.FRESH,
    2,
    share_to_grow=0.5,
)


def household(*table: TableLine, away: tuple[Away, ...] = ()) -> Household:
    """Make a household of two adults."""
    return Household((Eater("Aldo"), Eater("Bea")), away, table, (3.0,) * 12)


def test_kilograms_told_are_wanted_in_every_week_at_home() -> None:
    """300 g of garlic a week is 300 g in each of 104 weeks."""
    (garlic,) = appetites(household(GARLIC), HORIZON, {})
    assert garlic.kg == pytest.approx((0.3,) * 104)
    assert (garlic.line, garlic.foods, garlic.wanted) == ("garlic", ("garlic",), Wanted.EITHER)


def test_one_of_two_away_halves_the_kilograms() -> None:
    """With one of two adults away for a week, half is wanted; with both away, nothing."""
    away = (
        Away(date(2027, 1, 11), date(2027, 1, 17), ("Bea",)),
        Away(date(2027, 1, 18), date(2027, 1, 24)),
    )
    (garlic,) = appetites(household(GARLIC, away=away), HORIZON, {})
    assert garlic.kg[:4] == pytest.approx((0.3, 0.15, 0.0, 0.3))


def test_portions_are_those_of_the_first_food() -> None:
    """Two portions a week of 100 g for two adults, half of it home-grown, make 200 g."""
    (salad,) = appetites(household(SALAD), HORIZON, {"lettuce": 0.1, "spinach": 0.2})
    assert salad.kg[0] == pytest.approx(2 * 0.1 * 2 * 0.5)


def test_a_season_counts_by_whole_days_and_may_run_over_new_year() -> None:
    """Wanted from 3 November to 5 January: two of seven days in the first week of January."""
    line = replace(GARLIC, first=MonthDay(11, 3), last=MonthDay(1, 5))
    (garlic,) = appetites(household(line), HORIZON, {})
    assert garlic.kg[0] == pytest.approx(0.3 * 2 / 7)
    assert garlic.kg[1] == 0.0
    november = HORIZON.week_of(date(2027, 11, 3))
    assert garlic.kg[november] == pytest.approx(0.3 * 5 / 7)
    assert garlic.kg[november + 1] == pytest.approx(0.3)
    year = sum(garlic.kg[:52])
    assert year == pytest.approx(0.3 / 7 * (2 + 62 - 2 - 2), abs=0.3)


def test_a_year_wanted_is_the_days_of_the_season() -> None:
    """From 1 June to 31 August there are 92 days: 13 weeks and a day of appetite."""
    line = replace(GARLIC, first=MonthDay(6, 1), last=MonthDay(8, 31))
    (garlic,) = appetites(household(line), HORIZON, {})
    assert sum(garlic.kg[:52]) == pytest.approx(0.3 * 92 / 7)


def test_a_household_without_listed_eaters_eats_its_kilograms() -> None:
    """Kilograms told for the household stand even where nobody is listed by name."""
    alone = replace(household(GARLIC), eaters=())
    (garlic,) = appetites(alone, HORIZON, {})
    assert garlic.kg[0] == pytest.approx(0.3)


def test_every_fault_of_the_table_is_told_at_once() -> None:
    """Neither or both amounts, an unknown portion and an odd amount are told together."""
    lines = (
        replace(GARLIC, name="Neither", kg_week=None),
        replace(GARLIC, name="Both", portions_week=1.0),
        replace(SALAD, name="Unknown", foods=("letuce",)),
        replace(GARLIC, name="Odd", kg_week=-1.0),
    )
    with pytest.raises(FaultsFoundError, match="lettuce") as refused:
        appetites(household(*lines), HORIZON, {"lettuce": 0.1})
    assert [finding.where for finding in refused.value.findings] == [
        "table, Neither",
        "table, Both",
        "table, Unknown",
        "table, Odd",
    ]


def test_portions_for_nobody_are_a_fault() -> None:
    """Portions asked for where no eater is listed are not quietly nothing."""
    with pytest.raises(FaultsFoundError, match="no eater is listed"):
        appetites(replace(household(SALAD), eaters=()), HORIZON, {"lettuce": 0.1})


def test_hours_follow_their_month_and_stop_while_all_are_away() -> None:
    """A week across two months takes days from each; nobody at home works in the garden."""
    hours = tuple(float(month) for month in range(1, 13))
    away = (Away(date(2027, 1, 11), date(2027, 1, 17)),)
    given = hours_by_week(replace(household(away=away), hours_week=hours), HORIZON)
    assert given[:2] == (1.0, 0.0)
    # The week of 29 March 2027 has three days of March and four of April.
    assert given[HORIZON.week_of(date(2027, 3, 29))] == pytest.approx((3 * 3 + 4 * 4) / 7)
    assert len(given) == 104


@pytest.mark.parametrize("hours", [(3.0,) * 11, (3.0,) * 11 + (-1.0,), (float("nan"),) * 12])
def test_hours_need_twelve_figures(hours: tuple[float, ...]) -> None:
    """Eleven months, an hour less than none, or no number are refused."""
    with pytest.raises(FaultsFoundError, match="twelve"):
        hours_by_week(replace(household(), hours_week=hours), HORIZON)
