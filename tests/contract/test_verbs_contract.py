"""What the verbs print as data: the keys that other programs may count on."""

import json
from math import dist
from pathlib import Path
from typing import Any

import pytest

from gardens import small_garden
from shell import Haulm

ON = ("--on", "2027-02-01")
BED = ("rows", "1.2 x 4.8 m", "--spacing", "15 cm", "--edge", "7.5 cm")


@pytest.fixture
def book(haulm: Haulm, tmp_path: Path) -> Path:
    """Give the small garden's notebook with a plan in it."""
    haulm("import", small_garden(tmp_path))
    haulm("plan", tmp_path / "garden.haulm", *ON, "--effort", "quick")
    return tmp_path / "garden.haulm"


def read(haulm: Haulm, *words: object) -> Any:  # noqa: ANN401  # whatever the verb prints
    """Run a verb for its data."""
    ran = haulm(*words, "--json")
    assert ran.code == 0
    assert ran.err == ""
    return json.loads(ran.out)


def test_rows_give_what_they_promise(haulm: Haulm) -> None:
    """Count, pattern, the count in squares beside it, and each row with its stations, all at least
    the spacing apart, to the half centimetre that rows are measured to.
    """
    told = read(haulm, *BED)
    assert {"count", "rows", "pattern", "square_count"} <= set(told)
    stations = [station for row in told["rows"] for station in row["stations_m"]]
    assert told["count"] == len(stations)
    near = min(dist(a, b) for i, a in enumerate(stations) for b in stations[:i])
    assert near >= 0.15 - 0.0051
    for x, y in stations:
        assert 0.07 <= x <= 1.2 - 0.07
        assert 0.07 <= y <= 4.8 - 0.07


def test_rows_are_shown_as_they_are_told(haulm: Haulm) -> None:
    """The table on the terminal has a line for each row, and the same counts."""
    told = read(haulm, *BED)
    shown = haulm(*BED).out.splitlines()
    assert shown[0].startswith(f"{told['count']} plants in {told['pattern']}")
    assert str(told["square_count"]) in shown[0]
    assert len(shown) == 2 + len(told["rows"])


def test_why_tells_of_one_planting(haulm: Haulm, book: Path) -> None:
    """As data and on the terminal, why answers for the planting that was named."""
    told = read(haulm, "why", "garlic-1", book)
    assert told["id"] == "garlic-1"
    assert {"serves", "sum", "bounds", "ready", "earliest_rule", "latest_rule"} <= set(told)
    shown = haulm("why", "garlic-1", book).out
    assert shown.startswith("garlic-1: ")
    assert all(step in shown for step in told["sum"])
    assert told["earliest_rule"] in shown


def test_need_gives_every_step_as_data(haulm: Haulm, book: Path) -> None:
    """Each sum has its steps, from kilograms at table to planting stock."""
    for total in read(haulm, "need", book, *ON):
        assert {"line", "kind", "plants", "area_m2", "stock", "stock_unit"} <= set(total)
        assert all({"what", "arithmetic", "value", "unit"} == set(s) for s in total["steps"])


def test_check_gives_findings_as_data(haulm: Haulm, book: Path) -> None:
    """Each finding has its grade, its place in words and as a path, what was found and how to mend
    it.
    """
    for finding in read(haulm, "check", book):
        assert {"grade", "where", "what", "remedy", "place"} == set(finding)


def test_climate_gives_odds_with_what_they_rest_on(haulm: Haulm, book: Path) -> None:
    """Frost odds come with the years they rest on, and twelve months with their spread."""
    told = read(haulm, "climate", book)
    assert told["origin"]
    assert len(told["months"]) == 12
    assert len(told["frost"]["odds"]) == len(told["frost"]["last_spring"])


def test_crops_give_every_kind_as_data(haulm: Haulm) -> None:
    """The catalogue comes whole: each crop with its kinds, every figure with what it rests on."""
    told = read(haulm, "crops")
    assert len(told) >= 28
    for _, kinds in told:
        for kind in kinds:
            assert kind["stand"]["spacing_offset_m"]["basis"]


def test_nourish_gives_the_year_and_its_months_as_data(haulm: Haulm, book: Path) -> None:
    """Every nutrient of the year and of each month, with what is not known; the terminal shows the
    same nutrients.
    """
    told = read(haulm, "nourish", book)
    assert {"year", "months", "unknown", "uncounted", "ageless", "sources"} <= set(told)
    assert len(told["months"]) == 12
    names = [total["nutrient"] for total in told["year"]]
    assert names[0] == "energy"
    shown = haulm("nourish", book).out
    assert all(name in shown for name in names)
    assert "What keeping and cooking take away is not counted" in shown


def test_money_gives_sums_by_currency_and_what_no_sum_holds(haulm: Haulm, book: Path) -> None:
    """Sums by currency, what they are made of, and all that has no price; a garden without prices
    is told that no sum can be, not a sum of nothing.
    """
    told = read(haulm, "money", book)
    keys = {"spent", "worth", "stock", "food", "stock_unpriced", "food_unpriced"}
    assert keys == set(told)
    assert told["spent"] == told["worth"] == {}
    assert told["food_unpriced"]
    shown = haulm("money", book).out
    assert shown.count("no sum can be told") == 2
    assert "Compost, tools, water" in shown


def test_water_today_is_data(haulm: Haulm, book: Path) -> None:
    """Beds and crops in order of need, past days with their sources, tanks and the dry spell."""
    told = read(haulm, "water", book, *ON)
    assert {"day", "beds", "order", "quiet_until", "cans_wanted", "past", "dry"} <= set(told)
    for one in told["past"]:
        assert {"day", "rain_mm", "rain_from", "use_mm", "use_from", "given_l"} == set(one)


def test_water_of_the_year_gives_its_odds_as_data(haulm: Haulm, book: Path) -> None:
    """Beds with their weeks, the order of need, the tanks, and what it rests on; or one bed."""
    told = read(haulm, "water", book, *ON, "--year")
    assert {"day", "true_until", "rests_on", "beds", "order", "tanks"} == set(told)
    for bed in told["beds"]:
        assert {"id", "name", "area_m2", "weeks", "year_l", "stood_in"} == set(bed)
        assert {"low", "middle", "high"} == set(bed["year_l"])
    one = read(haulm, "water", book, *ON, "--year", "--bed", told["beds"][0]["id"])
    assert one == told["beds"][0]


def test_succession_gives_every_way_as_data(haulm: Haulm, book: Path) -> None:
    """Each way of starting comes with its sowings, how they meet, and the days without one."""
    told = read(haulm, "succession", book, "french bean/dwarf", *ON)
    assert {"kind", "wish", "line", "ways"} == set(told)
    for way in told["ways"]:
        assert {"method", "under_cover", "sowings", "between", "none_ready"} <= set(way)
        for one in way["sowings"]:
            assert {"wanted_on", "sow_on", "set_on", "ready", "picked_until"} == set(one)


def test_rotation_gives_its_years_as_data(haulm: Haulm, book: Path) -> None:
    """Families by bed and year with their ground, what is broken with its price, and the bound."""
    told = read(haulm, "rotation", book, *ON, "--years", "3")
    assert {"first_year", "years", "objective", "bound", "gap"} <= set(told)
    assert {"bed", "year", "family", "area_m2", "room_m2", "seasons"} == set(told["families"][0])
    for broken in told["broken"]:
        assert {"bed", "year", "family", "years_missing", "price", "sentence"} <= set(broken)


def test_decide_gives_every_choice_as_data(haulm: Haulm, book: Path) -> None:
    """Each choice comes with its days, and with what each delay costs."""
    told = read(haulm, "decide", book, *ON)
    for one in told:
        assert {"pending", "decide_by", "free_until", "delays", "solved", "anew"} == set(one)
        assert {"until", "kg", "portions", "lines"} == set(one["delays"][-1])
        assert one["delays"][-1]["kg"] >= one["delays"][0]["kg"] >= 0


def test_follow_gives_what_a_bed_could_take_as_data(haulm: Haulm, book: Path) -> None:
    """The ground that comes free, and each kind that could follow, with its dates."""
    told = read(haulm, "follow", book, "north", "--free", "2027-07-05", *ON)
    assert {"freed", "followers", "kept_off"} == set(told)
    assert {"kind", "start", "reaches_kg", "free_again"} <= set(told["followers"][0])
    shown = haulm("follow", book, "north", "--free", "2027-07-05", *ON).out
    assert told["followers"][0]["name"] in shown


def test_winter_gives_its_sums_as_data(haulm: Haulm, book: Path) -> None:
    """The dark weeks, and for each line what could stand for it."""
    told = read(haulm, "winter", book, *ON)
    assert {"dark", "certainty", "lines"} == set(told)
    ways = [way for line in told["lines"] for way in line["ways"]]
    assert ways
    assert {"plants", "area_m2", "need_kg", "stands", "sum"} <= set(ways[0])
    assert "under ten hours" in haulm("winter", book, *ON).out
