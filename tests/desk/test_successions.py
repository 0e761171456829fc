"""Succession asked of a garden: the season of the table, and what cannot be asked."""

from datetime import date
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.desk.dates.successions import Wished, closing_up, kind_named, meets, successions
from haulm.desk.garden.opening import Opened, open_garden
from haulm.measure.errors import FaultsFoundError

DAY = date(2027, 2, 1)


def test_the_table_says_when_it_is_wanted(opened: Opened) -> None:
    """Green beans are wanted from 15 June to 30 September, so sowings are found for those days."""
    kind = kind_named(opened.catalogue, "french bean/dwarf")
    found = successions(opened, kind, Wished(), DAY, seed=1)
    assert (found.wish.first_day, found.wish.last_day) == (date(2027, 6, 15), date(2027, 9, 30))
    assert found.line == "green beans"
    assert found.best.sowings
    assert "days apart in harvest" in closing_up(found.best)
    assert len(meets(found.best)) == len(found.best.sowings)


def test_a_season_over_the_turn_of_the_year_is_the_one_that_goes_on(opened: Opened) -> None:
    """Leeks are wanted from October to March; on 1 February that season still goes on."""
    kind = kind_named(opened.catalogue, "leek/winter")
    found = successions(opened, kind, Wished(), DAY, seed=1)
    assert (found.wish.first_day, found.wish.last_day) == (DAY, date(2027, 3, 31))


def test_a_kind_off_the_table_is_looked_at_for_a_year(opened: Opened) -> None:
    """Nobody here eats radishes; asked for, they are found for a year from today."""
    kind = kind_named(opened.catalogue, "radish/summer")
    found = successions(opened, kind, Wished(), DAY, seed=1)
    assert found.line is None
    assert (found.wish.last_day - found.wish.first_day).days == 364


def test_all_faults_are_told_at_once(opened: Opened) -> None:
    """Days out of order, past, and an interval of nothing are three findings."""
    kind = kind_named(opened.catalogue, "radish/summer")
    wished = Wished(date(2027, 1, 1), date(2026, 12, 1), 1)
    with pytest.raises(FaultsFoundError) as error:
        successions(opened, kind, wished, DAY, seed=1)
    assert [finding.where for finding in error.value.findings] == ["until", "from", "every"]


@pytest.mark.parametrize("name", ["carrot", "rhubarb", "radisch"])
def test_what_is_no_one_kind_is_refused_with_a_way_on(opened: Opened, name: str) -> None:
    """A crop of several kinds, one that stays for years, and a name nobody knows."""
    with pytest.raises(FaultsFoundError) as error:
        kind_named(opened.catalogue, name)
    assert error.value.findings[0].remedy


def test_south_of_the_equator_the_season_is_its_own(tmp_path: Path) -> None:
    """At 47° south, with the months turned round, beans sown in spring are sown in October on."""
    turned = small_garden(
        tmp_path,
        ("latitude = 47.6", "latitude = -47.6"),
        (
            "tmin = [2, 2, 4, 5, 8, 11, 13, 13, 11, 8, 4, 2]",
            "tmin = [13, 13, 11, 8, 4, 2, 2, 2, 4, 5, 8, 11]",
        ),
        (
            "tmax = [8, 10, 12, 15, 19, 21, 25, 25, 22, 16, 11, 8]",
            "tmax = [25, 25, 22, 16, 11, 8, 8, 10, 12, 15, 19, 21]",
        ),
        ('from = "06-15"\nto = "09-30"', 'from = "12-15"\nto = "03-30"'),
    )
    opened = open_garden(turned)
    kind = kind_named(opened.catalogue, "french bean/dwarf")
    found = successions(opened, kind, Wished(), date(2027, 6, 1), seed=1)
    assert found.wish.first_day == date(2027, 12, 15)
    assert found.best.sowings[0].sow_on.month in {9, 10, 11}
