"""A garden south of the equator, in US units: half a year from the north, feet, inches and pounds.

The garden is invented. That summer crops are sown from September and garlic is set from April there
is common practice.
"""

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.plans import Made, plan_garden
from haulm.desk.planning.question import ask
from haulm.desk.showing.sheets import print_plan
from haulm.measure.findings import faults
from haulm.planner.audit import audit
from haulm.planner.question import Effort, PlanQuestion
from haulm.sheets.bundle import Paper
from haulm.site.frost import frost_odds
from haulm.site.records import MonthlyNormals

GARDEN = Path(__file__).parents[2] / "src/haulm/examples" / "southern" / "garden.toml"
DAY = date(2027, 9, 1)
HALF_A_YEAR = timedelta(weeks=26)
QUICK = Effort("quick", rounds=0, target_gap=0.05)
METRIC = re.compile(r"\d\s?(?:mm|cm|m|m²|km|g|kg|l|litres?|°C)(?![\w’'])")
LETTER_PT = (612, 792)


@dataclass(frozen=True)
class Year:
    """The southern garden's plan as it was made, as plan.json tells it, and its sheets' folder."""

    made: Made
    told: dict[str, Any]
    folder: Path

    def sown(self, *crops: str) -> list[date]:
        """Give the days on which some crops are sown or set."""
        return [
            date.fromisoformat(one["sow_on"])
            for one in self.told["plantings"]
            if one["crop"] in crops and not one["standing"]
        ]

    def text(self, name: str, most_pages: int = 20) -> str:
        """Read a sheet's text."""
        pages = PdfReader(self.folder / name).pages
        return "\n".join(page.extract_text() for page in pages[:most_pages])


@pytest.fixture(scope="module")
def year(tmp_path_factory: pytest.TempPathFactory) -> Year:
    """Plan the southern garden as of 1 September 2027 and print it on Letter, once."""
    folder = tmp_path_factory.mktemp("southern")
    made = plan_garden(GARDEN, DAY, QUICK, seed=1)
    print_plan(made, folder, Paper.LETTER, DAY)
    return Year(made, json.loads((folder / "plan.json").read_text(encoding="utf-8")), folder)


@pytest.fixture(scope="module")
def question() -> PlanQuestion:
    """Give the southern garden's question as of 1 September 2027."""
    opened = open_garden(GARDEN)
    return ask(opened.garden, opened.catalogue, DAY, seed=1).question


@pytest.fixture(scope="module")
def northern() -> PlanQuestion:
    """Give the question of its like north of the equator, half a year before."""
    opened = open_garden(GARDEN)
    garden, normals = opened.garden, opened.garden.weather
    assert isinstance(normals, MonthlyNormals)
    turned = MonthlyNormals(
        normals.origin, turn(normals.tmin_c), turn(normals.tmax_c), turn(normals.rain_mm)
    )
    place = replace(garden.place, latitude_deg=-garden.place.latitude_deg)
    there = replace(garden, place=place, weather=turned, standing=(), lots=())
    return ask(there, opened.catalogue, DAY - HALF_A_YEAR, seed=1).question


def turn(months: tuple[float, ...]) -> tuple[float, ...]:
    """Begin twelve months with July."""
    return months[6:] + months[:6]


def monday(week: str) -> date:
    """Give the Monday of a week as plan.json names it."""
    year, number = week.split("-W")
    return date.fromisocalendar(int(year), int(number), 1)


def windows_of(question: PlanQuestion) -> Mapping[tuple[str, str], list[tuple[date, date]]]:
    """Give every window in which each kind may be started by each method, in order."""
    found: dict[tuple[str, str], set[tuple[date, date]]] = {}
    for sowing in question.sowings:
        ends = (sowing.window.first_day, sowing.window.last_day)
        found.setdefault((sowing.kind, sowing.method), set()).add(ends)
    return {way: sorted(windows) for way, windows in found.items()}


def test_every_window_lies_half_a_year_from_the_north(
    question: PlanQuestion, northern: PlanQuestion
) -> None:
    """With the same weather turned by six months, each kind may be started by the same methods and
    each window opens and closes half a year later, to two weeks.
    """
    here, there = windows_of(question), windows_of(northern)
    assert set(here) == set(there)
    assert len(here) > 20
    for way, windows in here.items():
        for ours, theirs in zip(windows, there[way], strict=True):
            for day, north in zip(ours, theirs, strict=True):
                assert abs(day - north - HALF_A_YEAR) <= timedelta(weeks=2), way


def test_the_plan_survives_being_added_up_again(year: Year, question: PlanQuestion) -> None:
    """The audit finds no fault in a plan of the southern half either."""
    assert faults(audit(year.made.plan, question)) == ()


def test_summer_crops_are_sown_from_september_to_december(year: Year) -> None:
    """Tomatoes and winter squash are sown from the week of 1 September to the end of December."""
    days = year.sown("tomato", "winter squash")
    assert len(days) >= 4
    for day in days:
        sunday = day + timedelta(days=6)
        assert 9 <= sunday.month <= 12, day


def test_garlic_is_set_from_april_to_june(year: Year) -> None:
    """Garlic goes into the ground in autumn, which here is April to June."""
    days = year.sown("garlic")
    assert days
    assert {day.month for day in days} <= {4, 5, 6}


def test_tomatoes_are_eaten_from_january_to_april(year: Year) -> None:
    """Ripe tomatoes reach the table from January to April and in no other month."""
    eaten = [row for row in year.told["weeks"] if row["food"] == "tomato" and row["fresh_kg"] > 0]
    months = {monday(row["week"]).month for row in eaten}
    assert months
    assert months <= {1, 2, 3, 4}


def test_tomatoes_are_ripe_in_the_southern_summer(year: Year) -> None:
    """In the middle year the first tomatoes are ripe between December and March."""
    ripe = [
        date.fromisoformat(ready["middle"])
        for one in year.told["plantings"]
        for ready in one["ready"]
        if ready["food"] == "tomato"
    ]
    assert ripe
    assert {day.month for day in ripe} <= {12, 1, 2, 3}


def test_winter_is_in_july(year: Year) -> None:
    """In the middle year the last frost is over by October and the first comes not before April."""
    garden = year.made.garden
    odds = frost_odds(garden.weather, garden.place, 0.0, seed=1)
    last, first = odds.last_spring[2], odds.first_autumn[2]
    # Days are counted from midwinter, which is 1 July here.
    assert last is None or last < 120
    assert first is None or first > 270


def test_bed_sheets_speak_of_feet_inches_and_pounds(year: Year) -> None:
    """The sheets of a bed give its ground in feet, its rows in inches, its harvest in pounds."""
    text = year.text("beds/gate.pdf", most_pages=6)
    assert "5 ft" in text
    assert "25 ft" in text
    assert "125 sq ft" in text
    assert "All figures in inches" in text
    assert re.search(r"gives \d+(\.\d+)? lb", text)
    assert METRIC.findall(text) == []


@pytest.mark.parametrize("name", ["shopping-list.pdf", "larder-tide.pdf", "bed-strips.pdf"])
def test_the_other_sheets_keep_to_the_garden_s_units(year: Year, name: str) -> None:
    """What is bought, stored and eaten is in pounds and ounces; no metric unit is printed."""
    text = year.text(name)
    assert re.search(r"\b(lb|oz)\b", text)
    assert METRIC.findall(text) == []


def test_sheets_are_on_letter_paper(year: Year) -> None:
    """A sheet printed on Letter is 8.5 by 11 inches, upright or lying."""
    for name in ("beds/gate.pdf", "shopping-list.pdf", "larder-tide.pdf"):
        box = PdfReader(year.folder / name).pages[0].mediabox
        sides = sorted((float(box.width), float(box.height)))
        assert sides == pytest.approx(LETTER_PT, abs=1), name


def test_data_for_other_programs_stays_in_kilograms_and_square_metres(year: Year) -> None:
    """Whatever the garden's units, plan.json gives the Gate bed as 11.6 m², 5 by 25 feet."""
    gate = next(bed for bed in year.told["beds"] if bed["id"] == "gate")
    assert gate["area_m2"] == pytest.approx(125 * 0.3048**2)


def test_white_rot_keeps_the_onion_family_off_the_wheel(year: Year) -> None:
    """White rot was seen on Wheel in 2022: no garlic, onions or leeks there in these two years."""
    family = year.made.catalogue.crops["garlic"].family
    beds = {one["bed"] for one in year.told["plantings"] if one["family"] == family}
    assert beds
    assert "wheel" not in beds
