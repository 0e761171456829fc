"""What counts in store teach: how fast a kind ages here, from pieces found sound and lost."""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import norm

from haulm.larder.keeping import keeping_curve, sound_share
from haulm.season.keeping_learning import LotSeen, PaceLearnt, Stretch, learn_pace
from haulm.season.rules import season_rules

SPREAD = 0.2
CURVE = keeping_curve(16, 28)
SOUND = tuple(sound_share(CURVE, week) for week in range(160))
BETWEEN = SPREAD * season_rules().keeping_own_share.value ** 0.5
WITHIN = SPREAD * (1 - season_rules().keeping_own_share.value) ** 0.5


def lot(draw: np.random.Generator, log_pace: float, entry: str, *, eats: bool = False) -> LotSeen:
    """Draw what four counts find of sixty pieces that age at a pace; some eaten in between."""
    pace, left, before = float(np.exp(log_pace)), 60, 0
    found = []
    for now in (6, 12, 18, 24):
        middle = (before + now) / 2
        at_middle, at_now = (
            sound_share(CURVE, age * pace) / sound_share(CURVE, before * pace)
            for age in (middle, now)
        )
        still = int(draw.binomial(left, at_middle))
        eaten = min(8, still) if eats else 0
        later = int(draw.binomial(still - eaten, at_now / at_middle))
        found.append(Stretch(before, now, later, left - eaten - later))
        found.append(Stretch(before, middle, eaten, 0))
        left, before = later, now
    return LotSeen(SOUND, tuple(found), entry)


def households(draw: np.random.Generator, lots: int, *, eats: bool) -> tuple[float, list[LotSeen]]:
    """Draw a household's own log pace, and lots of it."""
    truth = draw.normal(0, BETWEEN)
    return truth, [lot(draw, draw.normal(truth, WITHIN), f"e{n}", eats=eats) for n in range(lots)]


def all_right(lots: list[LotSeen]) -> PaceLearnt:
    """Learn of lots that the grower has said are right."""
    return learn_pace(lots, SPREAD, frozenset(one.entry for one in lots))


@pytest.mark.parametrize("eats", [False, True])
@pytest.mark.parametrize("lots", [1, 3, 8])
def test_paces_are_covered_as_told(lots: int, *, eats: bool) -> None:
    """In simulated stores whose pace is known it lies in the interval in 8 cases of 10, whether
    the household eats the sound ones meanwhile or not.
    """
    draw = np.random.default_rng(lots)
    stores, held = 500, 0
    for _ in range(stores):
        truth, seen = households(draw, lots, eats=eats)
        learnt = all_right(seen)
        held += learnt.low <= np.exp(truth) <= learnt.high
    assert held / stores == pytest.approx(0.8, abs=3 * (0.8 * 0.2 / stores) ** 0.5)


def test_a_pace_converges_on_the_truth() -> None:
    """A cellar in which all ages a third faster is known to be one after thirty lots."""
    draw = np.random.default_rng(4)
    fast = float(np.log(4 / 3))
    seen = [lot(draw, draw.normal(fast, WITHIN), f"e{n}") for n in range(30)]
    few, many = all_right(seen[:3]), all_right(seen)
    assert few.pace > 1
    assert many.pace == pytest.approx(4 / 3, rel=0.08)
    assert many.prior_weight < 0.06 < few.prior_weight


def test_one_lot_moves_the_pace_as_two_integrals_say() -> None:
    """The grid agrees with integrating over the lot's pace, and then over the household's."""
    seen = LotSeen(SOUND, (Stretch(0, 12, 40, 10),), "e1")

    def likely(log_pace: float) -> float:
        share = sound_share(CURVE, 12 * float(np.exp(log_pace)))
        return share**40 * (1 - share) ** 10 * 1e10

    def weight(own: float) -> float:
        over = quad(lambda one: likely(one) * norm.pdf(one, own, WITHIN), own - 1, own + 1)[0]
        return float(over * norm.pdf(own, 0, BETWEEN))

    whole = quad(weight, -0.8, 0.8)[0]
    mean = quad(lambda own: own * weight(own), -0.8, 0.8)[0] / whole
    assert np.log(all_right([seen]).pace) == pytest.approx(mean, abs=2e-3)


def test_true_lots_are_seldom_asked_about() -> None:
    """Of honest lots no more than a handful in a thousand are asked about for nothing."""
    draw = np.random.default_rng(6)
    stores, asked = 700, 0
    for _ in range(stores):
        asked += len(learn_pace(households(draw, 3, eats=False)[1], SPREAD).asked)
    told, number = 2 * float(norm.sf(season_rules().ask_beyond.value)), 3 * stores
    assert asked / number < told + 3 * (told / number) ** 0.5


def test_a_lot_that_froze_is_asked_about() -> None:
    """All soft after six weeks, where a tenth would be after sixteen, waits to be confirmed."""
    draw = np.random.default_rng(9)
    fine = [lot(draw, 0.0, f"e{n}") for n in range(3)]
    frozen = LotSeen(SOUND, (Stretch(0, 6, 1, 59),), "frozen")
    learnt = learn_pace([*fine, frozen], SPREAD)
    assert learnt.asked == ("frozen",)
    assert all_right([*fine, frozen]).pace > learnt.pace


def test_nothing_counted_leaves_the_pace_as_usual() -> None:
    """Without a lot looked through, all keeps as the catalogue says."""
    learnt = learn_pace([], SPREAD)
    assert learnt.pace == pytest.approx(1.0)
    assert learnt.prior_weight == pytest.approx(1.0, abs=1e-6)
