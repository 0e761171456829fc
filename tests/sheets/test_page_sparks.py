"""Sparklines and tallies: small, but true, and told in words."""

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.sheets.page.sparks import WEEK_PX, spark_axis, sparkline, tally
from sheets.page_reading import of_name, parsed, told

KG = st.floats(min_value=0, max_value=1e4, allow_nan=False)
WEEKS = st.lists(st.tuples(KG, KG, KG), min_size=0, max_size=52)


@settings(max_examples=40, deadline=None)
@given(WEEKS)
def test_any_year_can_be_drawn(weeks: list[tuple[float, float, float]]) -> None:
    """Whatever a line gives, its sparkline stays inside its row and 5 px a week."""
    fresh, stored, short = ([week[part] for week in weeks] for part in range(3))
    root = parsed(sparkline(fresh, stored, short))
    assert float(root.get("width", "nan")) == max(1.0, WEEK_PX * len(weeks))
    assert float(root.get("height", "nan")) == 36


def test_a_sparkline_says_in_words_what_it_shows() -> None:
    """Fresh in July and August, from store until October, then short: so it is told."""
    first = date(2027, 7, 5)
    fresh, stored = [1.0] * 8 + [0.0] * 12, [0.0] * 8 + [1.0] * 8 + [0.0] * 4
    short = [0.0] * 16 + [1.0] * 4
    title, _ = told(sparkline(fresh, stored, short, first))
    assert title == "Fresh July to Aug; from store Sept to Oct; short Oct to Nov"
    assert told(sparkline(fresh, stored, short))[0] == (
        "Fresh 8 weeks; from store 8 weeks; short 4 weeks"
    )
    assert told(sparkline([0.0], [0.0], [0.0]))[0] == "Nothing wanted"


def test_fresh_and_short_share_one_scale() -> None:
    """A kilogram short hangs as deep as a kilogram fresh stands high."""
    _, fresh, _, short, foot = of_name(
        parsed(sparkline([2.0, 0.0], [0.0, 2.0], [0.0, 2.0])), "path"
    )
    high = float((fresh.get("d") or "").split("v-")[1].split("h")[0])
    deep = float((foot.get("d") or "").split()[1].split("h")[0]) - 21
    assert high == pytest.approx(deep, abs=0.11)
    assert short.get("stroke") == "var(--now)"


def test_weeks_of_differing_number_are_refused() -> None:
    """Three rows of weeks belong together or are not drawn."""
    with pytest.raises(ValueError, match="shorter"):
        sparkline([1.0, 2.0], [1.0], [1.0])


def test_the_edge_of_time_is_as_long_as_the_sparklines() -> None:
    """A year's edge has 52 cells of 5 px."""
    assert parsed(spark_axis(date(2027, 7, 5))).get("width") == "260"


@pytest.mark.parametrize("years", range(11))
def test_a_tally_has_ten_strokes(years: int) -> None:
    """As many strokes are tall as there are years in ten, and the words say so."""
    strokes = [path.get("d") or "" for path in of_name(parsed(tally(years)), "path")]
    assert len(strokes) == 10
    tall = [one for one in strokes if one.split()[1].startswith("2L")]
    assert len(tall) == years
    assert told(tally(years))[0] == ("1 year in 10" if years == 1 else f"{years} years in 10")


def test_what_nobody_knows_is_no_nought() -> None:
    """Years not known are a dash and said to be unknown; eleven in ten are refused."""
    assert told(tally(None))[0] == "not known"
    with pytest.raises(ValueError, match="Of ten years"):
        tally(11)
