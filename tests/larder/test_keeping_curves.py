"""Keeping curves, and the ways a household can put food by."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.catalogue.records import Form, StoreKind
from haulm.larder.keeping import keep_rules, keeping_curve, sound_by_week, sound_share
from haulm.larder.records import StorePlace
from haulm.measure.errors import FaultsFoundError
from larder.garlic_by_hand import garlic, keeping

CELLAR = StorePlace("cellar", "Cellar", StoreKind.CELLAR, None)
SHED = StorePlace("shed", "Shed", StoreKind.SHED, 200.0)
LOFT = StorePlace("loft", "Loft", StoreKind.SHED, 100.0)


@settings(max_examples=60, deadline=None)
@given(first=st.floats(0.5, 100), longer=st.floats(1.05, 20))
def test_a_curve_runs_through_its_two_figures(first: float, longer: float) -> None:
    """At the two ages told, 90 % and 50 % are sound; before, between and after it only falls."""
    curve = keeping_curve(first, first * longer)
    assert sound_share(curve, first) == pytest.approx(0.9)
    assert sound_share(curve, first * longer) == pytest.approx(0.5)
    shares = [sound_share(curve, first * step / 3) for step in range(12)]
    assert shares[0] == 1.0
    assert shares == sorted(shares, reverse=True)


@pytest.mark.parametrize("weeks", [(0, 20), (20, 20), (20, 9), (-1, 5), (9, float("inf"))])
def test_figures_that_fit_no_curve_are_refused(weeks: tuple[float, float]) -> None:
    """Half can't spoil before a tenth has."""
    with pytest.raises(FaultsFoundError, match="do not fit"):
        keeping_curve(*weeks)


def test_sound_shares_start_whole_and_end_while_sorting_pays() -> None:
    """The list starts at 1 on the day food is put by and ends before less than 0.3 is sound."""
    curve = keeping_curve(9, 20)
    shares = sound_by_week(curve)
    assert shares[0] == 1.0
    assert shares[-1] >= 0.3 > sound_share(curve, len(shares))
    assert shares[9] == pytest.approx(0.9)


def test_food_goes_to_the_best_kind_of_place_the_household_has() -> None:
    """Garlic that likes a shed best goes to both sheds, and to the cellar only where no shed is."""
    kind = garlic(keeping(Form.CURED, StoreKind.SHED, StoreKind.CELLAR))
    assert [rule.place for rule in keep_rules([kind], [CELLAR, SHED, LOFT])] == ["shed", "loft"]
    assert [rule.place for rule in keep_rules([kind], [CELLAR])] == ["cellar"]
    assert keep_rules([kind], []) == ()


def test_a_rule_carries_the_forms_figures() -> None:
    """Three and a half weeks of curing means four whole weeks until it may be eaten."""
    kind = garlic(keeping(Form.CURED, StoreKind.SHED))
    (rule,) = keep_rules([kind], [SHED])
    assert (rule.food, rule.kind, rule.form) == ("garlic", "garlic/by-hand", Form.CURED)
    assert rule.wait_weeks == 4
    assert (rule.space_l_kg, rule.work_min_kg) == (2.5, 4.0)


def test_of_two_keepings_in_one_place_the_shorter_is_believed() -> None:
    """A household that has only the second-best place gets no keeping from the best one."""
    kind = garlic(
        keeping(Form.CURED, StoreKind.CELLAR, StoreKind.SHED, weeks=(20, 30)),
        keeping(Form.CURED, StoreKind.SHED, weeks=(9, 20)),
    )
    (rule,) = keep_rules([kind], [SHED])
    assert rule.sound[9] == pytest.approx(0.9)
