"""How sure the small garden's plan is, from the desk down."""

import json
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from gardens import small_garden
from haulm.desk.odds.forecasting import Forecasted, as_data, forecast_of, odds_for
from haulm.desk.odds.living import odds_in, setting_in
from haulm.desk.planning.plans import Made, plan_garden
from haulm.forecast.coming import comings
from haulm.measure.errors import FaultsFoundError
from haulm.planner.question import Effort
from lasting_gardens import hedge_end
from shell import Haulm

SEASONS = 400
QUICK = Effort("quick", rounds=0, target_gap=0.05)


def test_every_line_that_is_promised_anything_has_its_odds(made: Made) -> None:
    """What the plan means to serve is what the forecast weighs, line by line and year by year."""
    odds = odds_for(made, SEASONS, 1)
    promised = {
        line: sum(row.fresh_kg + row.stored_kg for row in made.plan.table if row.line == line)
        for line in {row.line for row in made.plan.table}
    }
    for line, kg in promised.items():
        told = [promise for promise in odds.promises if promise.line == line]
        assert sum(promise.promised_kg for promise in told) == pytest.approx(kg)
        assert all(0 <= promise.held <= 1 for promise in told)
        assert all(list(promise.eaten_kg) == sorted(promise.eaten_kg) for promise in told)
        assert all(promise.eaten_kg[2] <= 2 * promise.wanted_kg for promise in told)


def test_a_mean_plan_comes_near_its_promise_on_average(made: Made) -> None:
    """In a middle season a plan of means serves most of what it promises, and no line twice; over
    both years, of which a late crop may be eaten in the other, no more than a fifth off.
    """
    promises = odds_for(made, SEASONS, 2).promises
    for promise in promises:
        assert 0.5 * promise.promised_kg <= promise.eaten_kg[1] <= 2.0 * promise.promised_kg
    for line in {promise.line for promise in promises}:
        mine = [promise for promise in promises if promise.line == line]
        promised, eaten = (
            sum(kg) for kg in zip(*((p.promised_kg, p.eaten_kg[1]) for p in mine), strict=True)
        )
        assert 0.8 * promised <= eaten <= 1.2 * promised


def test_the_same_seed_gives_the_same_odds(made: Made) -> None:
    """Asked again with the same seed, the forecast says the same."""
    one, again = (odds_for(made, SEASONS, 3) for _ in range(2))
    assert one.promises == again.promises
    assert all(np.array_equal(fan, again.short_kg[line]) for line, fan in one.short_kg.items())


def test_too_few_seasons_are_refused(tmp_path: Path) -> None:
    """Ten seasons say nothing of one year in ten, and haulm says so."""
    with pytest.raises(FaultsFoundError, match="few"):
        forecast_of(tmp_path / "none.haulm", 10)


def test_the_command_tells_odds_run_outs_and_data(tmp_path: Path, haulm: Haulm) -> None:
    """`haulm forecast` says how sure a kept plan is; as data it gives the fans beside."""
    toml = small_garden(tmp_path)
    haulm("import", str(toml), str(tmp_path / "small.haulm"))
    none = haulm("forecast", str(tmp_path / "small.haulm"))
    assert none.code == 1
    haulm("plan", str(tmp_path / "small.haulm"), "--on", "2027-02-01", "--effort", "quick")
    told = haulm("forecast", str(tmp_path / "small.haulm"), "--seasons", "200")
    assert told.code == 0
    for words in ("years in 10", "runs out early", "garlic", "200 seasons"):
        assert words in told.out
    data = haulm("forecast", str(tmp_path / "small.haulm"), "--seasons", "200", "--json")
    fans = json.loads(data.out)["short_kg"]
    assert {len(fan) for fan in fans.values()} == {3}


def test_the_data_hold_plain_lists(made: Made) -> None:
    """The fans are told week by week for 1, 5 and 9 seasons of 10."""
    data = as_data(Forecasted(made, odds_for(made, SEASONS, 1)))
    fans = data["in_store_kg"]
    assert isinstance(fans, dict)
    assert {len(fan) for fan in fans.values()} <= {3}


def test_a_stand_that_stays_gives_its_mean_in_the_mean_of_seasons(tmp_path: Path) -> None:
    """Asparagus and strawberries are lived through year by year: on average they give, in the
    weeks of the plan, what the plan expects of them.
    """
    made = plan_garden(hedge_end(tmp_path), date(2026, 11, 26), QUICK, seed=1)
    setting = setting_in(made.garden, made.catalogue, made.plan, 1)
    come = comings(made.plan, setting.kinds, setting.weather)
    lasting = [p for p in made.plan.plantings if p.standing]
    assert {p.crop for p in lasting} == {"asparagus", "strawberry"}
    for planting in lasting:
        for expects in planting.expects:
            inside = sum(
                coming.kg
                * np.mean(
                    [
                        0 <= week < made.plan.horizon.weeks
                        for week in range(int(coming.first_week[0]), int(coming.until_week[0]))
                    ]
                )
                for coming in come
                if coming.planting == planting.id and coming.food == expects.food
            )
            assert inside == pytest.approx(expects.kg)
    odds = odds_in(setting, made.plan, SEASONS, 1)
    assert {promise.line for promise in odds.promises} >= {"asparagus", "strawberry"}


def test_a_stand_is_picked_early_where_spring_is_early(tmp_path: Path) -> None:
    """Asparagus begins in different weeks of different springs, never for longer than the plan
    picks it, and ends on the day on which picking stops, however late it began.
    """
    made = plan_garden(hedge_end(tmp_path), date(2026, 11, 26), QUICK, seed=1)
    setting = setting_in(made.garden, made.catalogue, made.plan, 1)
    come = comings(made.plan, setting.kinds, setting.weather)
    spears = [coming for coming in come if coming.crop == "asparagus"]
    assert spears
    for coming in spears:
        assert np.ptp(coming.first_week) >= 2
        span = coming.until_week - coming.first_week
        assert np.all((span >= 0) & (span <= coming.span_weeks))
        late = coming.first_week > np.median(coming.first_week)
        assert span[late].mean() <= span[~late].mean()
