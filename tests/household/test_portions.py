"""What each eater counts for, and who is at home."""

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.household.portions import (
    adult_portions,
    portion_share,
    portions_at_home,
    portions_of,
    someone_at_home,
)
from haulm.household.records import Away, Eater, Household
from haulm.measure.errors import FaultsFoundError
from haulm.measure.weeks import Horizon

HORIZON = Horizon(date(2027, 1, 4), 52)
EATERS = (Eater("Aldo", 71), Eater("Bea", 9), Eater("Cora"), Eater("Dino", 3, portions=0.7))


def household(*away: Away, eaters: tuple[Eater, ...] = EATERS) -> Household:
    """Make a household with nothing on the table yet."""
    return Household(eaters, away, (), (3.0,) * 12)


def test_an_adult_in_middle_life_counts_one() -> None:
    """Portions are counted against an adult of 31 to 50."""
    assert portion_share(31) == portion_share(50) == 1.0


def test_children_eat_less_and_the_nearly_grown_more() -> None:
    """Need rises with age up to the twenties, and falls again after 50."""
    rising = [portion_share(age) for age in range(20)]
    assert rising == sorted(rising)
    assert portion_share(20) > 1.0 > portion_share(70)


def test_portions_told_outrank_those_from_age() -> None:
    """What the household says of an eater is used as said; an eater of no known age is an adult."""
    assert portions_of(EATERS[3]) == 0.7
    assert portions_of(EATERS[2]) == 1.0
    assert portions_of(Eater("Nobody's plate", 40, portions=0.0)) == 0.0


@pytest.mark.parametrize("age", [-1, 126])
def test_an_age_nobody_has_is_refused(age: int) -> None:
    """An age under 0 or over 125 is a slip."""
    with pytest.raises(FaultsFoundError, match=str(age)):
        portion_share(age)


def test_a_day_away_takes_a_seventh_of_a_week() -> None:
    """Cora away on one day of a week leaves six sevenths of her portion in that week."""
    away = Away(date(2027, 1, 13), date(2027, 1, 13), ("Cora",))
    weekly = adult_portions(household(away), HORIZON)
    assert weekly[0] == pytest.approx(sum(portions_of(eater) for eater in EATERS))
    assert weekly[0] - weekly[1] == pytest.approx(1 / 7)
    assert weekly[2] == pytest.approx(weekly[0])


def test_both_ends_of_an_absence_count() -> None:
    """Away from Monday to Sunday is away for the whole week, whoever is away when none is named."""
    away = Away(date(2027, 1, 11), date(2027, 1, 17))
    weekly = adult_portions(household(away), HORIZON)
    assert weekly[1] == 0.0
    assert weekly[0] == weekly[2] > 0.0
    assert not someone_at_home(household(away), HORIZON)[7:14].any()


def test_a_household_not_listed_by_name_can_be_away_too() -> None:
    """Where no eater is listed, an absence still empties the house."""
    away = Away(date(2027, 1, 11), date(2027, 1, 17))
    home = someone_at_home(household(away, eaters=()), HORIZON)
    assert home.sum() == 52 * 7 - 7


@settings(max_examples=40, deadline=None)
@given(
    first=st.dates(date(2026, 12, 1), date(2028, 2, 1)),
    days=st.integers(0, 60),
    second=st.dates(date(2026, 12, 1), date(2028, 2, 1)),
)
def test_absences_that_overlap_count_once(first: date, days: int, second: date) -> None:
    """Telling an absence twice, or in parts that overlap, takes nobody from the table twice."""
    one = Away(first, date.fromordinal(first.toordinal() + days), ("Bea",))
    other = Away(second, date.fromordinal(second.toordinal() + days))
    once = portions_at_home(household(one, other), HORIZON)
    twice = portions_at_home(household(one, other, one), HORIZON)
    assert (once == twice).all()
    assert (once >= 0).all()


def test_faults_of_absences_are_told_together() -> None:
    """An absence that ends before it starts, and one for a name nobody bears, are both told."""
    backwards = Away(date(2027, 3, 2), date(2027, 3, 1))
    stranger = Away(date(2027, 3, 1), date(2027, 3, 2), ("Corra",))
    with pytest.raises(FaultsFoundError, match="Cora") as refused:
        adult_portions(household(backwards, stranger), HORIZON)
    assert len(refused.value.findings) == 2


@pytest.mark.parametrize(
    ("age", "women_kcal", "men_kcal"),
    [
        (2, 1200, 1200),
        (6, 1500, 1500),
        (10, 1800, 2000),
        (16, 2000, 2600),
        (25, 2100, 2700),
        (40, 2000, 2500),
        (65, 1800, 2300),
    ],
)
def test_shares_are_those_of_published_energy_needs(
    age: int, women_kcal: float, men_kcal: float
) -> None:
    """A child's share of an adult's portion is the share of an adult's need of energy.

    Estimated calorie needs per day by age, gender and physical activity level, moderately active,
    middle of each range: Dietary Guidelines for Americans, U.S. Departments of Agriculture and of
    Health and Human Services (reprinted in Pediatrics as Table 5-2; adults as on nhlbi.nih.gov).
    """
    adult = (2000 + 2500) / 2
    assert portion_share(age) == pytest.approx((women_kcal + men_kcal) / 2 / adult)
