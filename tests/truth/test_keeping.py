"""Keeping curves and the catalogue's keepings against published storage figures."""

import pytest

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Form
from haulm.larder.keeping import keeping_curve, sound_share
from haulm.larder.records import KeepingCurve

WEEKS_A_MONTH = 365.25 / 12 / 7

FORMS = (Form.CURED, Form.CELLARED)

# Storage months at the conditions named, by food.
# - "storage table": printed in a Knox County, Maine, newspaper column of 13 November 2011
#   (knox.villagesoup.com), read there and not in the table it copies.
# - USDA Agriculture Handbook 66, as paraphrased in a Cornell grower blog: garlic at 32 °F.
# - WFLO Commodity Storage Manual, Garlic, 2018: garlic at 0 °C.
# - UC Davis, Onions, Dry: Produce Facts (Suslow): pungent onions at 0 °C.
# - University of Delaware, Weekly Crop Update, Winter Squash for Extended Sales (Johnson):
#   pumpkins 2 to 3 months, hard-shelled squash 3 to 6.
PUBLISHED_MONTHS = [
    ("beetroot", 3, 5, "storage table"),
    ("cabbage", 3, 4, "storage table"),
    ("garlic", 6, 7, "storage table; Handbook 66; WFLO"),
    ("onion", 6, 7, "storage table"),
    ("onion", 6, 9, "UC Davis"),
    ("potato", 4, 9, "storage table"),
    ("pumpkin", 2, 3, "storage table; Delaware"),
    ("sweet potato", 4, 6, "storage table"),
    ("winter squash", 3, 6, "Delaware"),
]


def curves_of(food: str) -> list[KeepingCurve]:
    """Give the curves of every kind whose food keeps cured or cellared."""
    return [
        keeping_curve(keeping.sound_90_weeks.value, keeping.sound_50_weeks.value)
        for kind in load_catalogue().kinds.values()
        for giving in kind.givings
        for keeping in giving.keeping
        if giving.food == food and keeping.form in FORMS
    ]


def test_the_curve_through_two_squash_figures_gives_the_third() -> None:
    """Squash found 90 % sound at 9 weeks and 50 % at 20 is 70 % sound at 15.

    Oregon State University's eight cultivars at 10 to 15 °C: 90, 70 and 50 % still marketable after
    9, 15 and 20 weeks (Cantwell and Suslow, Pumpkin and Winter Squash: Recommendations for
    Maintaining Postharvest Quality, UC Davis). Figures are printed to ten in a hundred, so 1.5 is
    near enough.
    """
    assert sound_share(keeping_curve(9, 20), 15) == pytest.approx(0.70, abs=0.015)


def test_no_single_rate_a_month_fits_squash() -> None:
    """A steady percentage through the first figure would keep far too much at the last.

    Same report: at the rate of the first nine weeks, 79 % would be sound at 20 weeks; 50 % were.
    """
    steady = 0.9 ** (20 / 9)
    assert steady == pytest.approx(0.79, abs=0.005)
    assert sound_share(keeping_curve(9, 20), 20) < steady - 0.25


@pytest.mark.parametrize(("food", "least", "most", "source"), PUBLISHED_MONTHS)
def test_published_months_lie_within_the_kinds_keeping(
    food: str, least: float, most: float, source: str
) -> None:
    """The months a source gives lie between our shortest keeper's first losses and our longest's.

    At the fewest months published, half or more of the longest-keeping kind is still sound; at the
    most months published, the shortest-keeping kind has lost more than a tenth.
    """
    curves = curves_of(food)
    assert curves, f"{food} has no keeping to hold against {source}"
    assert max(sound_share(curve, least * WEEKS_A_MONTH) for curve in curves) >= 0.5
    assert min(sound_share(curve, most * WEEKS_A_MONTH) for curve in curves) <= 0.9


@pytest.mark.parametrize(
    ("kind", "least", "most"), [("garlic/hard-necked", 4, 6), ("garlic/soft-necked", 9, 12)]
)
def test_garlic_keeps_by_its_neck(kind: str, least: float, most: float) -> None:
    """Hard-necked garlic keeps 4 to 6 months, soft-necked 9 to 12 (common practice)."""
    (keeping,) = [
        keeping
        for giving in load_catalogue().kinds[kind].givings
        for keeping in giving.keeping
        if giving.food == "garlic" and keeping.form is Form.CURED
    ]
    curve = keeping_curve(keeping.sound_90_weeks.value, keeping.sound_50_weeks.value)
    assert sound_share(curve, least * WEEKS_A_MONTH) >= 0.85
    assert 0.4 <= sound_share(curve, most * WEEKS_A_MONTH) <= 0.6


def test_every_keeping_of_the_catalogue_makes_a_curve() -> None:
    """No keeping in the catalogue has figures that fit no curve."""
    for kind in load_catalogue().kinds.values():
        for giving in kind.givings:
            for keeping in giving.keeping:
                curve = keeping_curve(keeping.sound_90_weeks.value, keeping.sound_50_weeks.value)
                assert curve.shape > 1, f"{kind.id} {giving.food}: losses must come late"
