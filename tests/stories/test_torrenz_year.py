"""The demo garden over its two seasons, from the appetite to the printed sheet.

The garden is invented. All sums are added up again here from plan.json alone, by nothing but its
own labels.
"""

import csv
import json
import os
import subprocess
import sys
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
import vobject
from pypdf import PdfReader

from gardens import small_garden
from haulm.desk.garden.exchange import import_garden
from haulm.desk.planning.plans import Made, plan_garden
from haulm.desk.planning.question import ask
from haulm.desk.showing.sheets import print_plan
from haulm.desk.worth.why_planting import why_planting
from haulm.desk.worth.why_records import Grounds
from haulm.desk.worth.worths import Others, worths_of
from haulm.measure.findings import faults
from haulm.notebook.file import open_notebook
from haulm.notebook.notebook import PlanEntry
from haulm.planner.audit import audit
from haulm.planner.question import Effort
from haulm.sheets.bundle import Paper

GARDEN = Path(__file__).parents[2] / "src/haulm/examples" / "torrenz" / "garden.toml"
DAY = date(2027, 2, 1)
QUICK = Effort("quick", rounds=0, target_gap=0.05)
GRAMS = 0.002
"""plan.json is written to the gram: a sum of two figures is right to two of them [kg]."""


@dataclass(frozen=True)
class Year:
    """The garden's plan as it was made, as plan.json tells it, and the folder of its sheets."""

    made: Made
    told: dict[str, Any]
    folder: Path

    @property
    def new(self) -> list[dict[str, Any]]:
        """Every planting that is still to be made."""
        return [planting for planting in self.told["plantings"] if not planting["standing"]]

    def pages(self, name: str) -> Iterator[str]:
        """Read a sheet's pages one by one, each when it is asked for."""
        for page in PdfReader(self.folder / name).pages:
            yield page.extract_text()

    def crop_name(self, planting: dict[str, Any]) -> str:
        """Give the name a crop has on a sheet."""
        return self.made.catalogue.crops[planting["crop"]].name


@pytest.fixture(scope="module")
def year(tmp_path_factory: pytest.TempPathFactory) -> Year:
    """Plan the demo garden as of 1 February 2027 and print it, once."""
    folder = tmp_path_factory.mktemp("torrenz")
    made = plan_garden(GARDEN, DAY, QUICK, seed=1)
    print_plan(made, folder, Paper.A4, DAY)
    return Year(made, json.loads((folder / "plan.json").read_text(encoding="utf-8")), folder)


def monday(week: str) -> date:
    """Give the Monday of a week as plan.json names it."""
    year, number = week.split("-W")
    return date.fromisocalendar(int(year), int(number), 1)


def test_the_plan_survives_being_added_up_again(year: Year) -> None:
    """The audit, which shares nothing with the model, finds no fault in the plan."""
    garden, catalogue = year.made.garden, year.made.catalogue
    question = ask(garden, catalogue, DAY, seed=1).question
    assert faults(audit(year.made.plan, question)) == ()


def test_the_bed_with_clubroot_carries_no_cabbage_kin(year: Year) -> None:
    """Bench had clubroot in 2024: nothing of the cabbage family stands there until the longer of
    common advice and published survival is over; other beds do carry it.
    """
    catalogue = year.made.catalogue
    clubroot = catalogue.diseases["clubroot"]
    years = max(clubroot.common_years.value, clubroot.published_years.value)
    kin = [one for one in year.told["plantings"] if one["family"] in clubroot.closes]
    assert {one["family"] for one in kin} == {catalogue.crops["cabbage"].family}
    on_bench = [one for one in kin if one["bed"] == "bench"]
    assert all(int(one["in_ground_from"][:4]) > 2024 + years for one in on_bench)


def test_the_tunnel_takes_what_grows_under_cover_and_no_other_bed_does(year: Year) -> None:
    """Whatever is planned for the Tunnel is a sowing for cover, and no open bed has one."""
    inside = {one["bed"] for one in year.told["plantings"] if one["under_cover"]}
    outside = {one["bed"] for one in year.told["plantings"] if not one["under_cover"]}
    assert inside == {"tunnel"}
    assert "tunnel" not in outside


def test_ruler_in_part_sun_takes_only_what_bears_it(year: Year) -> None:
    """Ruler gets three to six hours of sun: nothing that needs more is planned for it."""
    kinds = {one["kind"] for one in year.new if one["bed"] == "ruler"}
    assert kinds
    assert {year.made.catalogue.kinds[kind].least_sun for kind in kinds} <= {"part", "shade"}


def test_no_bed_is_over_full_in_any_week(year: Year) -> None:
    """On every Monday the patches that hold ground in a bed add up to the bed at most."""
    first = date.fromisoformat(year.told["horizon"]["first_day"])
    for bed in year.told["beds"]:
        there = [one for one in year.told["plantings"] if one["bed"] == bed["id"]]
        for week in range(year.told["horizon"]["weeks"]):
            day = (first + timedelta(weeks=week)).isoformat()
            held = sum(p["area_m2"] for p in there if p["in_ground_from"] <= day < p["clear_by"])
            assert held <= bed["area_m2"] + 1e-3, (bed["id"], day)


def test_every_week_at_table_adds_up(year: Year) -> None:
    """In each week of each line: wanted = fresh + stored + short; every line has every week."""
    weeks: dict[str, list[str]] = defaultdict(list)
    for row in year.told["weeks"]:
        parts = row["fresh_kg"] + row["stored_kg"] + row["short_kg"]
        assert parts == pytest.approx(row["wanted_kg"], abs=GRAMS)
        weeks[row["food"]].append(row["week"])
    assert set(weeks) == set(year.told["lines"])
    assert all(len(named) == len(set(named)) for named in weeks.values())


def test_every_lot_adds_up(year: Year) -> None:
    """Of each lot: what went in = eaten + kept back to plant + still sound + lost."""
    for lot in year.told["lots"]:
        eaten = sum(meal["kg"] for meal in lot["eaten"])
        out = eaten + lot["seed_kg"] + lot["left_kg"] + lot["lost_kg"]
        assert out == pytest.approx(lot["kg_in"], abs=0.001 * (4 + len(lot["eaten"]))), lot["id"]
        assert all(monday(meal["week"]) >= monday(lot["put_by_week"]) for meal in lot["eaten"])


def test_what_the_table_takes_from_store_comes_out_of_lots(year: Year) -> None:
    """Week by week, all the lines take from store what all the lots give, to some grams."""
    taken: dict[str, float] = defaultdict(float)
    given: dict[str, float] = defaultdict(float)
    for row in year.told["weeks"]:
        taken[row["week"]] += row["stored_kg"]
    for lot in year.told["lots"]:
        for meal in lot["eaten"]:
            given[meal["week"]] += meal["kg"]
    assert set(given) <= set(taken)
    for week, kg in taken.items():
        assert given[week] == pytest.approx(kg, abs=0.05), week


def test_no_food_comes_from_nowhere(year: Year) -> None:
    """Of each food, what is put by this year and next and served is no more than plantings give;
    and all that is served comes from a planting or from what lay in store.
    """
    grown: dict[str, float] = defaultdict(float)
    served: dict[str, float] = defaultdict(float)
    for planting in year.told["plantings"]:
        for food, kg in planting["expected_kg"].items():
            grown[food] += kg
        for serves in planting["serves"]:
            served[serves["food"]] += serves["kg"]
            assert serves["kg"] <= planting["expected_kg"][serves["food"]] + GRAMS
    for food, kg in served.items():
        assert kg <= grown[food] + 0.05, food
    put_by: dict[str, float] = defaultdict(float)
    for lot in year.told["lots"]:
        if not lot["in_hand"]:
            put_by[lot["food"]] += lot["kg_in"]
    for food, kg in put_by.items():
        assert kg <= grown[food] + 0.05, food
    in_hand = sum(
        meal["kg"] for lot in year.told["lots"] if lot["in_hand"] for meal in lot["eaten"]
    )
    at_table = sum(row["fresh_kg"] + row["stored_kg"] for row in year.told["weeks"])
    assert sum(served.values()) + in_hand == pytest.approx(at_table, abs=0.5)


def test_what_is_in_store_today_is_what_was_weighed(year: Year) -> None:
    """No lot in hand is counted twice or forgotten: each food's kilograms are those of the list."""
    counted: dict[str, float] = defaultdict(float)
    for lot in year.told["lots"]:
        if lot["in_hand"]:
            counted[lot["food"]] += lot["kg_in"]
    weighed: dict[str, float] = defaultdict(float)
    for found in year.made.garden.lots:
        weighed[found.food] += found.kg
    assert counted == {food: pytest.approx(kg, abs=GRAMS) for food, kg in weighed.items()}


def test_everything_is_sown_inside_its_window(year: Year) -> None:
    """No planting is sown before its window opens or after it closes, and both ends have a rule."""
    for one in year.told["plantings"]:
        window = one["window"]
        assert window["earliest_sowing"] <= one["sow_on"] <= window["latest_sowing"], one["id"]
        assert one["sow_on"] <= one["set_on"] <= one["clear_by"]
        assert window["earliest_rule"]
        assert window["latest_rule"]
    assert all(one["sow_on"] >= "2027-02-01" for one in year.new)


def test_hours_are_told_for_every_week(year: Year) -> None:
    """Each week says the hours it asks beside those there are; more than there are is told."""
    hours = year.told["hours"]
    assert len(hours) == year.told["horizon"]["weeks"] == len({row["week"] for row in hours})
    told = {broken["where"] for broken in year.told["broken"] if broken["rule"] == "hours"}
    over = {row["week"] for row in hours if row["asked_h"] > row["given_h"] + 0.02}
    assert over <= told
    assert sum(row["asked_h"] for row in hours) > 100


def test_what_stays_short_is_named(year: Year) -> None:
    """Every line that is short anywhere has a sentence that says why, and the kilograms agree."""
    short: dict[str, float] = defaultdict(float)
    for row in year.told["weeks"]:
        short[row["food"]] += row["short_kg"]
    named: dict[str, float] = defaultdict(float)
    for shortage in year.told["shortages"]:
        assert ":" in shortage["sentence"]
        named[shortage["food"]] += shortage["kg"]
    for line, kg in short.items():
        assert named[line] == pytest.approx(kg, abs=0.15), line


def test_every_bed_to_be_planted_has_its_sheet(year: Year) -> None:
    """A bed that gets something has a PDF of its own, whose first sheet names what is set first."""
    beds = {one["bed"] for one in year.new}
    assert {path.stem for path in (year.folder / "beds").iterdir()} == beds
    for bed in sorted(beds):
        here = [one for one in year.new if one["bed"] == bed]
        first = min(here, key=lambda one: (one["set_on"], one["id"]))
        text = next(year.pages(f"beds/{bed}.pdf"))
        assert year.crop_name(first).lower() in text.lower(), bed
        assert year.made.names[bed] in text


def test_the_sheets_of_a_bed_name_everything_planted_there(year: Year) -> None:
    """All the sheets of Bench together name every crop that is planted there."""
    text = " ".join(year.pages("beds/bench.pdf")).lower()
    here = {year.crop_name(one).lower() for one in year.new if one["bed"] == "bench"}
    assert here
    assert {name for name in here if name not in text} == set()


@pytest.mark.parametrize(
    ("food", "caution"), [("potato", "green potatoes"), ("dry beans", "raw beans")]
)
def test_cautions_are_printed_where_the_food_is_planted(
    year: Year, food: str, caution: str
) -> None:
    """The sheet on which potatoes or beans for drying are planted carries their caution, and says
    whom to ask.
    """
    said = year.made.catalogue.cautions[caution]
    chosen = next(one for one in year.new if food in one["expected_kg"])
    opening = " ".join(said.text.split()[:6])
    pages = (" ".join(page.split()) for page in year.pages(f"beds/{chosen['bed']}.pdf"))
    found = next((page for page in pages if opening in page), None)
    assert found is not None
    assert "Caution" in found
    assert "authority" in found.lower()


def test_the_calendar_has_a_day_of_sowing_for_every_planting(year: Year) -> None:
    """An independent reader (vobject) finds each planting's day of sowing, and its clearing; what
    stands already has no sowing.
    """
    text = (year.folder / "calendar.ics").read_text(encoding="utf-8")
    calendar = vobject.readOne(text)
    days = {event.uid.value.split("@")[0]: event.dtstart.value for event in calendar.vevent_list}
    assert len(days) == len(calendar.vevent_list)
    for one in year.told["plantings"]:
        assert days[f"{one['id']}-clear"].isoformat() == one["clear_by"]
        if one["standing"]:
            assert f"{one['id']}-sow" not in days
        else:
            assert days[f"{one['id']}-sow"].isoformat() == one["sow_on"]


def test_the_shopping_list_covers_all_that_is_started(year: Year) -> None:
    """For each kind, what is in hand, kept back and bought is what its plantings ask, no less; seed
    in hand is used.
    """
    text = (year.folder / "shopping-list.csv").read_text(encoding="utf-8")
    needed: dict[str, float] = defaultdict(float)
    covered: dict[str, float] = defaultdict(float)
    in_hand: dict[str, float] = defaultdict(float)
    for row in csv.DictReader(text.splitlines()):
        if row["what"] == "planting stock":
            needed[row["item"]] += float(row["needed"])
            in_hand[row["item"]] += float(row["in_hand"])
            parts = (float(row[name]) for name in ("in_hand", "kept_back", "to_buy"))
            covered[row["item"]] += sum(parts)
    asked: dict[str, float] = defaultdict(float)
    for one in year.new:
        asked[one["kind"]] += one["stock"]
    assert needed == {kind: pytest.approx(stock, abs=0.01) for kind, stock in asked.items()}
    assert all(covered[kind] >= needed[kind] - 0.01 for kind in needed)
    for stock in year.made.garden.stock:
        assert in_hand[stock.kind] <= stock.units


def test_the_plan_says_how_good_it_is(year: Year) -> None:
    """Bound, objective and gap are there and agree: gap = (objective − bound) / objective."""
    solver = year.told["solver"]
    assert 0 < solver["bound"] <= solver["objective"]
    gap = (solver["objective"] - solver["bound"]) / solver["objective"]
    assert solver["gap"] == pytest.approx(gap)


def test_every_planting_answers_why(year: Year) -> None:
    """Each planting says what it serves, its dates, the sum that sized it and what bound it; no
    heading is left without an answer, and no figure without what it rests on.
    """
    grounds = Grounds(year.made, worths_of(year.made))
    for planting in year.made.plan.plantings:
        why = why_planting(planting, grounds, Others())
        said = {part.heading: part.lines for part in why.parts}
        bound = () if planting.standing else ("What bound its size",)
        for heading in ("What it serves", "Its days", "The sum", *bound):
            assert all(said[heading]), (planting.id, heading)
        assert all(figure.rests_on for figure in why.figures)


def test_the_same_seed_gives_the_same_plan_in_another_run(tmp_path: Path) -> None:
    """Two runs of haulm on one garden print the same plan.json but for the seconds they took, and
    mark it as the answer to the same question.
    """
    shaded = ('name = "South"', 'name = "South"\nsun = "shade"')
    toml = small_garden(tmp_path, shaded)
    books = [import_garden(toml, tmp_path / f"{run}.haulm")[0] for run in ("1", "2")]
    plans = [run_plan(book, hashing=book.stem) for book in books]
    for plan in plans:
        del plan["solver"]["seconds"]
        del plan["findings"]
    assert plans[0] == plans[1]
    entries: list[PlanEntry] = []
    for book in books:
        with open_notebook(book) as notebook:
            entries += notebook.plans()
    assert entries[0] == entries[1]


def run_plan(book: Path, hashing: str) -> dict[str, Any]:
    """Run haulm plan in a process of its own, which hashes words in its own way."""
    code = "from haulm.cli.main import run; run()"
    words = ["plan", str(book), "--on", "2027-02-01", "--effort", "quick", "--json"]
    ran = subprocess.run(  # noqa: S603  # Python itself, on our own words
        [sys.executable, "-c", code, *words],
        env=os.environ | {"PYTHONHASHSEED": hashing},
        capture_output=True,
        check=True,
    )
    told: dict[str, Any] = json.loads(ran.stdout)
    return told
