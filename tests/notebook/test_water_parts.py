"""What a garden tells of its watering."""

from datetime import UTC, date, datetime, time
from pathlib import Path

import pytest

from gardens import SMALL
from haulm.desk.garden.exchange import export_garden, import_garden
from haulm.desk.garden.opening import open_garden
from haulm.ground.records import Watered
from haulm.measure.errors import FaultsFoundError
from haulm.notebook.garden import Garden
from haulm.water.rules import Weekday

RULES = """
[watering]
can = "12 l"
flow = "15 l"
cans_a_day = 20

[[water_rule]]
name = "Summer order"
from = 2027-06-01
to = 2027-09-30
ways = ["hose", "drip"]
weekdays = "tuesday"
hours = ["06:00-09:00", "22:00-24:00"]
exempt = "north"
"""


def opened(folder: Path, more: str) -> Garden:
    """Open the small garden with something more told."""
    (folder / "garden.toml").write_text(SMALL + more, encoding="utf-8")
    return open_garden(folder / "garden.toml").garden


def test_watering_and_rules_are_read(tmp_path: Path) -> None:
    """A can, a flow, the cans of a day and a rule with its days and hours."""
    garden = opened(tmp_path, RULES)
    means = garden.watering
    assert (means.can_l, means.flow_l_min, means.cans_a_day, means.can_told) == (12, 15, 20, True)
    (rule,) = garden.water_rules
    assert (rule.first, rule.last) == (date(2027, 6, 1), date(2027, 9, 30))
    assert rule.ways == {Watered.HOSE, Watered.DRIP}
    assert rule.weekdays == (Weekday.TUESDAY,)
    assert rule.hours == ((time(6), time(9)), (time(22), time.max))
    assert rule.exempt == {"north"}


def test_cans_that_are_no_number_are_a_fault_in_words(tmp_path: Path) -> None:
    """A word where the cans of a day belong is told as a fault, with all the rest still read."""
    with pytest.raises(FaultsFoundError) as caught:
        opened(tmp_path, '[watering]\ncans_a_day = "many"\n')
    assert "[watering], cans_a_day" in str(caught.value)


def test_a_garden_that_tells_nothing_has_usual_cans(tmp_path: Path) -> None:
    """A can of ten litres stands in, or of two gallons in US units; no flow is known."""
    means = opened(tmp_path, "").watering
    assert (means.can_l, means.flow_l_min, means.can_told) == (10.0, None, False)
    us = SMALL.replace("invented = true", 'invented = true\nunits = "us"')
    (tmp_path / "garden.toml").write_text(us, encoding="utf-8")
    can_l = open_garden(tmp_path / "garden.toml").garden.watering.can_l
    assert can_l == pytest.approx(2 * 3.785411784)


def test_a_notebook_keeps_them_as_typed(tmp_path: Path) -> None:
    """Through a notebook and out again every word is as it was typed."""
    garden = opened(tmp_path, RULES)
    notebook, _ = import_garden(tmp_path / "garden.toml", None, datetime(2027, 2, 1, tzinfo=UTC))
    assert open_garden(notebook).garden.water_rules == garden.water_rules
    export_garden(notebook, tmp_path / "again.toml")
    again = (tmp_path / "again.toml").read_text(encoding="utf-8")
    for typed in ('can = "12 l"', 'weekdays = "tuesday"', "06:00-09:00", "from = 2027-06-01"):
        assert typed in again


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (RULES.replace("2027-09-30", "2027-05-30"), "would end"),
        (RULES.replace("06:00-09:00", "six to nine"), "no hours of a day"),
        (RULES.replace('exempt = "north"', 'exempt = "nowhere"'), "no bed “nowhere”"),
        (RULES.replace('weekdays = "tuesday"', 'weekdays = "someday"'), "someday"),
        (RULES.replace('"12 l"', '"0 l"'), "nothing"),
        (RULES.replace("from = 2027-06-01\n", "every_year = true\n"), "first and a last day"),
    ],
)
def test_what_cannot_be_is_refused(tmp_path: Path, typed: str, said: str) -> None:
    """A rule that ends before it begins, hours that are none, a bed that is none: each is told."""
    with pytest.raises(FaultsFoundError) as caught:
        opened(tmp_path, typed)
    assert any(said in f"{fault.what} {fault.remedy}" for fault in caught.value.findings)
