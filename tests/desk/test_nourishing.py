"""What part of the household's need a plan grows, re-added from the plan and the table of facts."""

import csv
import tomllib
from dataclasses import replace
from datetime import date, timedelta
from importlib.resources import files
from pathlib import Path

import pytest

from haulm.catalogue.loader import load_catalogue
from haulm.cli.show_nourished import when
from haulm.desk.planning.plans import Made, kept_plan
from haulm.desk.table.nourishing import as_told, nourished, nourished_by
from haulm.household.records import Eater
from haulm.measure.errors import FaultsFoundError
from haulm.plan.records import Certainty

DATA = files("haulm.catalogue") / "data" / "food_facts"


@pytest.fixture(scope="module")
def made(planned_once: Path) -> Made:
    """Give the small garden's plan."""
    return kept_plan(planned_once)


def re_added_kcal(made: Made, first: date, weeks: int) -> float:
    """Add up the energy eaten in some weeks from helpings and the table, reading both anew."""
    names = tomllib.loads((DATA / "foods.toml").read_text(encoding="utf-8"))
    rows = csv.DictReader((DATA / "usda_rows.csv").read_text(encoding="utf-8").splitlines())
    kcal = {row["foodName"]: float(row["Energy"]) for row in rows}
    energy = 0.0
    for helping in made.plan.helpings:
        monday = made.plan.horizon.first_day + timedelta(weeks=helping.week)
        if not first <= monday < first + timedelta(weeks=weeks) or "row" not in names[helping.food]:
            continue
        share = load_catalogue().foods[helping.food].kitchen_share.value
        energy += helping.kg * share * 10 * kcal[names[helping.food]["row"]]
    return energy


def test_the_years_energy_is_that_of_every_helping(made: Made) -> None:
    """Energy eaten in the year told, helping by helping from the table, comes to the sum told; and
    two eaters need it every day: an adult 2250 kcal, a child of ten 1900 (Dietary Guidelines for
    Americans, middle of the moderately active).
    """
    found = nourished(made.plan, made.garden, made.catalogue)
    energy = found.year[0]
    assert energy.nutrient.id == "energy_kcal"
    assert energy.eaten == pytest.approx(
        re_added_kcal(made, found.weeks.first_day, found.weeks.weeks)
    )
    assert energy.eaten > 0
    assert energy.needed == pytest.approx(364 * (2250 + 1900))
    assert energy.share == pytest.approx(energy.eaten / (364 * 4150))


def test_months_add_up_to_the_year(made: Made) -> None:
    """Twelve months hold the year's days, and together all that is eaten and needed in it."""
    found = nourished(made.plan, made.garden, made.catalogue)
    assert sorted(one.month for one in found.months) == list(range(1, 13))
    assert sum(one.days for one in found.months) == 7 * found.weeks.weeks
    for number, whole in enumerate(found.year):
        parts = [one.sums[number] for one in found.months]
        assert sum(part.eaten for part in parts) == pytest.approx(whole.eaten)
        if whole.needed is not None:
            assert sum(part.needed or 0 for part in parts) == pytest.approx(whole.needed)


def test_an_infants_need_is_not_counted_and_it_is_said(made: Made) -> None:
    """With an infant at the table the need of vitamin C stays, and the infant is named; an eater
    without an age is named too, and needs what an adult does.
    """
    home = replace(made.garden.household, eaters=(Eater("Ines", 40), Eater("Ida", 0)))
    found = nourished(made.plan, replace(made.garden, household=home), made.catalogue)
    assert found.uncounted == ("Ida",)
    assert found.year[6].needed == pytest.approx(364 * 82.5)
    ageless = replace(home, eaters=(Eater("Ines"),))
    found = nourished(made.plan, replace(made.garden, household=ageless), made.catalogue)
    assert found.ageless == ("Ines",)
    assert found.year[6].needed == pytest.approx(364 * 82.5)


def test_nobody_at_the_table_needs_nothing_known(made: Made) -> None:
    """Where nobody is named what is eaten is told, and no share of a need is made up."""
    home = replace(made.garden.household, eaters=())
    found = nourished(made.plan, replace(made.garden, household=home), made.catalogue)
    assert all(total.share is None for total in found.year)
    assert found.year[0].eaten > 0


def test_what_is_told_as_data_names_foods_and_sources(planned: Path) -> None:
    """The plain values hold each nutrient's share, the foods it is from by name, and the tables
    both figures are from.
    """
    told = as_told(nourished_by(planned))
    year = told["year"]
    assert isinstance(year, list)
    assert {"nutrient", "unit", "eaten", "needed", "share", "known_share", "from"} == set(year[0])
    sources = told["sources"]
    assert isinstance(sources, tuple)
    assert any("FoodData Central" in source for source in sources)
    assert any("Dietary Guidelines" in source for source in sources)
    assert sum("Dietary Reference Intakes" in source for source in sources) == 3


def test_without_a_plan_it_is_said(unplanned: Path) -> None:
    """A notebook without a plan is answered with how to make one."""
    with pytest.raises(FaultsFoundError):
        nourished_by(unplanned)


def test_a_plan_made_sure_says_of_how_many_years_it_holds(made: Made) -> None:
    """What a plan for eight years in ten covers is told as that, not as a middle year's; where one
    line of its table is of means, all of it is told of a middle year.
    """
    lines = {row.line: 0.8 for row in made.plan.table}
    sure = replace(made.plan, certainty=Certainty(tuple(lines.items()), ()))
    partly = replace(made.plan, certainty=Certainty((), ()))
    assert nourished(partly, made.garden, made.catalogue).certainty is None
    assert nourished(sure, made.garden, made.catalogue).certainty == 0.8
    assert nourished(made.plan, made.garden, made.catalogue).certainty is None
    assert when(nourished(sure, made.garden, made.catalogue)) == "At least, 8 years in ten"
