"""Three answers make a garden that can be planned."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from itertools import pairwise
from pathlib import Path

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.catalogue.loader import load_catalogue
from haulm.desk.first.first_garden import FirstAnswers, first_garden, first_notes
from haulm.desk.first.first_seasons import longest_season
from haulm.desk.planning.plans import plan_garden
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Grade, faults
from haulm.measure.units import Units, parse_length_m
from haulm.notebook.garden import Garden
from haulm.notebook.names import known_names
from haulm.notebook.parts import Parts
from haulm.notebook.toml_reader import read_garden_toml
from haulm.planner.question import Effort

ONE_OF_A_KIND = {"garden", "place", "weather", "hours"}
LEEDS = FirstAnswers("Leeds", 53.8, -1.5, 2, 1, 40.0, "metric")
DAY = date(2027, 2, 1)
QUICK = Effort("quick", rounds=0, target_gap=0.05)


def written(parts: Parts, folder: Path) -> Path:
    """Write the parts as a garden.toml."""
    document = {
        part: dict(entries[0]) if part in ONE_OF_A_KIND else [dict(entry) for entry in entries]
        for part, entries in parts.items()
    }
    path = folder / "garden.toml"
    path.write_text(tomli_w.dumps(document), encoding="utf-8")
    return path


def read_back(answers: FirstAnswers, folder: Path) -> Garden:
    """Make a first garden and read it through the notebook's checks, which raise any fault."""
    garden, findings = read_garden_toml(
        written(first_garden(answers), folder), known_names(load_catalogue())
    )
    assert not faults(findings)
    return garden


def foods_asked(answers: FirstAnswers) -> set[str]:
    """Gather all foods of a first table."""
    foods: set[str] = set()
    for line in first_garden(answers)["table"]:
        eat = line["eat"]
        foods |= {eat} if isinstance(eat, str) else set(eat if isinstance(eat, list) else [])
    return foods


@pytest.mark.parametrize(
    "answers",
    [
        LEEDS,
        FirstAnswers("", -37.8, 145.0, 1, 0, 1.0, "metric", height_m=31.0),
        FirstAnswers("Ames", 42.0, -93.6, 4, 3, 120.0, "us", height_m=287.0),
        FirstAnswers("Quito", -0.2, -78.5, 0, 2, 10.0, "us"),
        FirstAnswers("Tromsø", 69.65, 18.95, 15, 15, 2000.0, "metric"),
    ],
)
def test_a_first_garden_passes_every_check(answers: FirstAnswers, tmp_path: Path) -> None:
    """What three answers make is read without a fault, with everybody at the table and ground
    that adds up to what was said within one part in a hundred.
    """
    garden = read_back(answers, tmp_path)
    assert len(garden.household.eaters) == answers.adults + answers.children
    ground_m2 = sum(bed.outline.area_m2 for bed in garden.beds)
    assert ground_m2 == pytest.approx(answers.ground_m2, rel=0.01)
    assert garden.household.table
    assert min(bed.outline.area_m2 for bed in garden.beds) >= garden.least_patch_m2


@settings(max_examples=40, deadline=None)
@given(ground_m2=st.floats(1.0, 2000.0), units=st.sampled_from(["metric", "us"]))
def test_beds_add_up_to_the_ground(ground_m2: float, units: Units) -> None:
    """Beds are alike but for the last, which is no longer, and add up to the ground."""
    beds = first_garden(replace(LEEDS, ground_m2=ground_m2, units=units))["bed"]
    lengths_m = [parse_length_m(str(bed["length"]), "a bed") for bed in beds]
    widths_m = {parse_length_m(str(bed["width"]), "a bed") for bed in beds}
    assert len(widths_m) == 1
    assert sum(lengths_m) * widths_m.pop() == pytest.approx(ground_m2, rel=0.01)
    assert len(set(lengths_m[:-1])) <= 1
    assert lengths_m[-1] <= lengths_m[0] + 1e-9
    assert [bed["id"] for bed in beds] == [f"bed-{number + 1}" for number in range(len(beds))]


def test_a_small_plot_is_not_asked_for_potatoes() -> None:
    """Ten square metres for four are asked for salad, not for the family's potatoes, and that is
    said; five hundred are asked for potatoes as well.
    """
    small = replace(LEEDS, adults=4, ground_m2=10.0)
    assert "lettuce" in foods_asked(small)
    assert "potato" not in foods_asked(small)
    assert any(
        "too small for" in note.what and "potatoes" in note.what for note in first_notes(small)
    )
    assert "potato" in foods_asked(replace(small, ground_m2=500.0))


def test_more_ground_asks_for_more_foods() -> None:
    """A larger ground is asked for more foods than a smaller one."""
    grounds_m2 = (10.0, 50.0, 250.0)
    asked = [foods_asked(replace(LEEDS, ground_m2=ground_m2)) for ground_m2 in grounds_m2]
    for smaller, larger in pairwise(asked):
        assert len(smaller) < len(larger)


def test_seasons_turn_with_the_hemisphere() -> None:
    """Tomatoes are asked for in the northern summer north of the equator, and half a year later
    south of it; hours are most in each one's own growing season.
    """

    def tomatoes(latitude_deg: float, longitude_deg: float) -> Mapping[str, object]:
        """Give the line of tomatoes at a place."""
        answers = replace(
            LEEDS, latitude_deg=latitude_deg, longitude_deg=longitude_deg, ground_m2=200.0
        )
        table = first_garden(answers)["table"]
        return next(line for line in table if line["eat"] == "tomato")

    north, south = tomatoes(45.0, 5.0), tomatoes(-38.0, 146.0)
    assert "06" <= str(north["from"])[:2] <= "08"
    assert str(south["from"])[:2] in {"12", "01", "02"}
    hours = first_garden(replace(LEEDS, latitude_deg=-38.0, longitude_deg=146.0))["hours"][0]
    by_month = hours["by_month"]
    assert isinstance(by_month, list)
    assert by_month[0] > by_month[6]


def test_what_cannot_grow_is_not_asked_for() -> None:
    """North of the Arctic Circle no tomatoes or sweet corn are asked for in the open, and the
    notes say so.
    """
    far_north = replace(LEEDS, latitude_deg=69.65, longitude_deg=18.95, ground_m2=300.0)
    assert foods_asked(far_north).isdisjoint({"tomato", "sweet corn", "aubergine"})
    assert any(
        "no season for" in note.what and "tomato" in note.what for note in first_notes(far_north)
    )
    assert {note.grade for note in first_notes(far_north)} == {Grade.NOTE}


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"ground_m2": 0.5}, "ground_m2"),
        ({"ground_m2": float("nan")}, "ground_m2"),
        ({"ground_m2": 2001.0}, "ground_m2"),
        ({"adults": -1, "children": 3}, "adults"),
        ({"children": -1}, "children"),
        ({"adults": 0, "children": 0}, "adults"),
        ({"adults": 20, "children": 11}, "adults"),
        ({"latitude_deg": 80.0}, "latitude_deg"),
        ({"latitude_deg": 45.0, "longitude_deg": -40.0}, "latitude_deg"),
        ({"longitude_deg": 200.0}, "longitude_deg"),
        ({"height_m": 9000.0}, "height_m"),
    ],
)
def test_an_answer_that_cannot_be_is_told_beside_its_field(
    change: dict[str, float], field: str
) -> None:
    """Each wrong answer is a fault with a remedy, at the field that was filled in."""
    with pytest.raises(FaultsFoundError) as refused:
        first_garden(replace(LEEDS, **change))  # type: ignore[arg-type]
    assert ("first", field) in {found.place for found in refused.value.findings}
    assert all(found.remedy for found in refused.value.findings)


@pytest.mark.parametrize(("units", "limits"), [("metric", "2,000 m²"), ("us", "21,500 sq ft")])
def test_limits_are_told_in_the_growers_units(units: Units, limits: str) -> None:
    """How much ground may be planned for is told in square metres or in square feet."""
    with pytest.raises(FaultsFoundError, match=limits):
        first_garden(replace(LEEDS, ground_m2=5000.0, units=units))


def test_where_nothing_grows_nothing_is_asked_for(tmp_path: Path) -> None:
    """On an ice cap the table is empty, and the notes say that no food has a season there."""
    ice_cap = replace(LEEDS, latitude_deg=71.0, longitude_deg=-40.0)
    assert not read_back(ice_cap, tmp_path).household.table
    assert any(
        "no season for" in note.what and "radish" in note.what for note in first_notes(ice_cap)
    )


def test_all_wrong_answers_are_told_at_once() -> None:
    """Ground, people and place that cannot be are told together."""
    wrong = replace(LEEDS, ground_m2=0.0, adults=99, latitude_deg=85.0)
    with pytest.raises(FaultsFoundError) as refused:
        first_garden(wrong)
    assert len(refused.value.findings) == 3


@pytest.mark.parametrize(
    ("weeks", "season"),
    [
        ([], None),
        (range(52), (0, 51)),
        ([10, 11, 12, 14], (10, 14)),
        ([50, 51, 0, 1], (50, 1)),
        ([10, 11, 30, 31, 32], (30, 32)),
        ([7], (7, 7)),
    ],
)
def test_the_longest_season(weeks: list[int], season: tuple[int, int] | None) -> None:
    """A season is the longest stretch of weeks, short gaps passed over, round the turn of the
    year as well.
    """
    assert longest_season(weeks, longest_gap=4) == season


@pytest.mark.parametrize(
    "answers",
    [LEEDS, FirstAnswers("Bendigo", -36.8, 144.3, 2, 2, 12.0, "metric")],
    ids=["cool north", "warm south"],
)
def test_a_first_plan_brings_most_lines_something(answers: FirstAnswers, tmp_path: Path) -> None:
    """A quick plan of a first garden brings something of at least two lines in three."""
    made = plan_garden(written(first_garden(answers), tmp_path), DAY, QUICK, seed=1)
    wanted: dict[str, float] = {}
    short: dict[str, float] = {}
    for week in made.plan.table:
        wanted[week.line] = wanted.get(week.line, 0.0) + week.wanted_kg
        short[week.line] = short.get(week.line, 0.0) + week.short_kg
    served = [line for line, kg in wanted.items() if short[line] < 0.9 * kg]
    assert len(served) >= 2 / 3 * len(wanted)


def test_a_usual_last_frost_is_kept_and_counts(tmp_path: Path) -> None:
    """A last frost typed on the first page is the garden's, and the weather is drawn to it."""
    garden = read_back(replace(LEEDS, last_frost="05-20"), tmp_path)
    assert "20 May, as the grower knows it" in garden.weather.origin
    assert garden.weather != read_back(LEEDS, tmp_path).weather


def test_a_last_frost_that_cannot_be_is_told_at_its_field() -> None:
    """A last frost in September, or one that the climate is far from, is refused on the page."""
    for day, words in (("09-01", "before midsummer"), ("06-30", "6 °C colder")):
        with pytest.raises(FaultsFoundError, match=words) as caught:
            first_garden(replace(LEEDS, last_frost=day))
        assert caught.value.findings[0].place == ("first", "last_frost")
