"""What records teach: a little at first, much in time, and intervals that hold as often as told."""

from math import log

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from haulm.season.learning import Prior, Seen, learn
from haulm.season.rules import season_rules

MEANS = np.linspace(-4, 6, 20_001)
YIELD = Prior(mean=log(3.0), between=0.25, within=0.25, year_share=0.4)


def records(values: list[float], *, a_year: int = 1) -> list[Seen]:
    """Make records, so many of each year."""
    return [Seen(value, 2027 + n // a_year, f"e{n}") for n, value in enumerate(values)]


def test_without_records_the_usual_figure_stands() -> None:
    """Who has weighed nothing is told the catalogue's figure, and that it is no one else's."""
    learnt = learn(YIELD, [])
    assert (learnt.mean, learnt.prior_weight, learnt.records) == (log(3.0), 1.0, 0)


def test_three_records_move_a_figure_a_little_thirty_a_lot() -> None:
    """Three years of half as much again move it some way, thirty nearly all the way."""
    better = log(3.0) + 0.3
    few, many = (learn(YIELD, records([better] * n)) for n in (3, 30))
    assert log(3.0) < few.mean < many.mean < better
    assert few.prior_weight == pytest.approx(0.25)
    assert many.prior_weight < 0.04
    assert better - many.mean < 0.02


def test_five_beds_of_one_year_tell_less_than_five_years() -> None:
    """A good year for all beds alike is not taken for a good garden."""
    better = [log(3.0) + 0.3] * 5
    assert learn(YIELD, records(better, a_year=5)).mean < learn(YIELD, records(better)).mean


def test_a_slip_of_the_pen_is_asked_about() -> None:
    """Thirty kilograms where three were usual does not count until somebody says it is right."""
    values = [log(3.0), log(2.8), log(3.3), log(30.0)]
    learnt = learn(YIELD, records(values))
    assert [one.entry for one in learnt.asked] == ["e3"]
    assert learnt.records == 3
    told = learn(YIELD, records(values), confirmed=frozenset({"e3"}))
    assert "e3" not in [one.entry for one in told.asked]
    assert told.mean > learnt.mean


@given(
    values=st.lists(st.floats(0.2, 2.0), min_size=1, max_size=6),
    years=st.lists(st.integers(2027, 2029), min_size=6, max_size=6),
)
def test_the_mean_is_that_of_the_whole_posterior(values: list[float], years: list[int]) -> None:
    """The closed form agrees with adding up prior × likelihood over every possible mean."""
    seen = [Seen(v, y, f"e{n}") for n, (v, y) in enumerate(zip(values, years, strict=False))]
    everything = frozenset(one.entry for one in seen)
    within = YIELD.within
    at = np.array([one.value for one in seen])
    same = np.equal.outer([one.year for one in seen], [one.year for one in seen])
    sigma = within**2 * (0.6 * np.eye(len(seen)) + 0.4 * same)
    off = at - MEANS[:, None]
    weight = norm.logpdf(MEANS, YIELD.mean, YIELD.between)
    weight -= 0.5 * ((off @ np.linalg.inv(sigma)) * off).sum(axis=1)
    chance = np.exp(weight - weight.max())
    mean = (MEANS * chance).sum() / chance.sum()
    assert learn(YIELD, seen, everything).mean == pytest.approx(mean, abs=1e-6)


@pytest.mark.parametrize("years", [1, 3, 10])
def test_intervals_hold_as_often_as_told(years: int) -> None:
    """In simulated gardens whose truth is known, 8 in 10 of the intervals hold it, and 8 in 10 of
    the next year's yields lie where they were told to.
    """
    draw = np.random.default_rng(years)
    gardens, held, next_held = 1500, 0, 0
    share = YIELD.year_share
    for _ in range(gardens):
        truth = draw.normal(YIELD.mean, YIELD.between)

        def yields(year: int, truth: float = truth) -> list[Seen]:
            common = draw.normal(0, YIELD.within * share**0.5)
            own = draw.normal(0, YIELD.within * (1 - share) ** 0.5, 2)
            return [Seen(truth + common + float(o), year, f"{year}-{n}") for n, o in enumerate(own)]

        seen = [one for year in range(years) for one in yields(year)]
        learnt = learn(YIELD, seen, frozenset(one.entry for one in seen))
        held += learnt.low <= truth <= learnt.high
        next_held += learnt.next_low <= yields(years)[0].value <= learnt.next_high
    error = 3 * (0.8 * 0.2 / gardens) ** 0.5
    assert held / gardens == pytest.approx(0.8, abs=error)
    assert next_held / gardens == pytest.approx(0.8, abs=error)


def test_estimates_converge_on_a_gardens_truth() -> None:
    """A garden that yields twice the usual is known to do so after thirty years."""
    draw = np.random.default_rng(3)
    truth = log(6.0)
    values = list(draw.normal(truth, YIELD.within, 30))
    learnt = learn(YIELD, records([float(v) for v in values]), frozenset())
    assert learnt.mean == pytest.approx(truth, abs=0.15)


def test_true_records_are_asked_about_as_often_as_told() -> None:
    """Of a thousand honest records some three are asked about for nothing, whatever their year."""
    draw = np.random.default_rng(5)
    gardens, asked = 2500, 0
    for _ in range(gardens):
        truth = draw.normal(YIELD.mean, YIELD.between)
        year = draw.normal(0, YIELD.within * 0.4**0.5, 3)
        own = draw.normal(0, YIELD.within * 0.6**0.5, 6)
        values = [float(truth + year[n // 2] + one) for n, one in enumerate(own)]
        asked += len(learn(YIELD, records(values, a_year=2)).asked)
    told = 2 * float(norm.sf(season_rules().ask_beyond.value))
    number = 6 * gardens
    assert asked / number == pytest.approx(told, abs=3 * (told / number) ** 0.5 + 0.1 * told)


def test_a_bed_that_differs_from_its_neighbours_of_the_year_is_odder() -> None:
    """Against four beds of its own year that agree, a bed stands out more than against others'."""
    likely = [log(3.0)] * 4
    odd = log(3.0) + 0.75
    alone = [*records(likely), Seen(odd, 2040, "odd")]
    among = [*(Seen(value, 2040, f"e{n}") for n, value in enumerate(likely)), alone[-1]]
    asked = [len(learn(YIELD, some).asked) for some in (alone, among)]
    assert asked == [0, 1]


def test_the_records_of_a_year_are_weighed_as_the_matrix_has_it() -> None:
    """Summed up by year, records tell what the whole matrix of their covariances tells."""
    draw = np.random.default_rng(8)
    years = [2027, 2027, 2027, 2028, 2030, 2030]
    values = draw.normal(YIELD.mean, 0.3, len(years))
    seen = [Seen(float(v), y, f"e{n}") for n, (v, y) in enumerate(zip(values, years, strict=True))]
    learnt = learn(YIELD, seen, frozenset(one.entry for one in seen))
    same = np.equal.outer(years, years)
    sigma = YIELD.within**2 * (0.6 * np.eye(len(years)) + 0.4 * same)
    joint = YIELD.between**2 + sigma
    cross = np.full(len(years), YIELD.between**2)
    mean = YIELD.mean + cross @ np.linalg.solve(joint, values - YIELD.mean)
    variance = YIELD.between**2 - cross @ np.linalg.solve(joint, cross)
    assert learnt.mean == pytest.approx(mean)
    assert (learnt.high - learnt.low) / 2 == pytest.approx(norm.ppf(0.9) * variance**0.5)


def test_ready_days_and_minutes_are_covered_as_told() -> None:
    """The days a garden is late, and a household's pace, lie where told in 8 cases of 10."""
    rules = season_rules()
    days = Prior(0.0, rules.ready_own_days.value, rules.ready_year_days.value)
    own, job = rules.work_own_spread.value, rules.work_job_spread.value
    pace = Prior(-(own**2 + job**2) / 2, own, job)
    draw = np.random.default_rng(21)
    for prior in (days, pace):
        gardens, held = 1500, 0
        for _ in range(gardens):
            truth = draw.normal(prior.mean, prior.between)
            seen = records([float(v) for v in draw.normal(truth, prior.within, 4)])
            learnt = learn(prior, seen, frozenset(one.entry for one in seen))
            held += learnt.low <= truth <= learnt.high
        assert held / gardens == pytest.approx(0.8, abs=3 * (0.8 * 0.2 / gardens) ** 0.5)
