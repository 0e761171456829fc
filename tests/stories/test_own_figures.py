"""A household that knows better: its own yield and its own garlic, from garden.toml to the plan."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.catalogue.records import Basis
from haulm.desk.garden.exchange import export_garden, import_garden
from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.plans import plan_garden
from haulm.desk.planning.question import ask
from haulm.desk.table.needs import needs_of
from haulm.larder.records import NeedSum
from haulm.measure.errors import FaultsFoundError
from haulm.planner.question import Effort

DAY = date(2027, 2, 1)
QUICK = Effort("quick", rounds=0, target_gap=0.05)
BEANS = "french bean/dwarf"
FIRST_BED = '[[bed]]\nid = "north"'
HALF_AS_MUCH = """
[[own_figure]]
of = "french bean/dwarf"
figure = "givings.green beans.yield_kg_m2"
value = "{:g} kg/m²"
note = "weighed three summers"

"""
GRANDMOTHERS = """
[[own_kind]]
id = "garlic/grandmothers"
like = "garlic/hard-necked"
name = "grandmother's garlic"

[[own_figure]]
of = "garlic/grandmothers"
figure = "givings.garlic.yield_kg_m2"
value = "6 kg/m²"

"""


def garden(folder: Path, own: str = "") -> Path:
    """Write the small garden with something of its own."""
    folder.mkdir(exist_ok=True)
    return small_garden(folder, (FIRST_BED, own + FIRST_BED))


def beans_of(path: Path) -> NeedSum:
    """Sum up what dwarf beans need."""
    return next(need for need in needs_of(path, DAY, 1).sums if need.kind == BEANS)


def test_half_the_yield_asks_twice_the_ground(tmp_path: Path) -> None:
    """A household that weighs half of what the catalogue says needs twice the ground for its beans,
    and half of it again once it says twice as much.
    """
    usual = open_garden(garden(tmp_path / "usual")).catalogue.kinds[BEANS].givings[0].yield_kg_m2
    need = beans_of(garden(tmp_path / "usual"))
    less = beans_of(garden(tmp_path / "less", HALF_AS_MUCH.format(usual.value / 2)))
    more = beans_of(garden(tmp_path / "more", HALF_AS_MUCH.format(usual.value * 2)))
    assert less.area_m2 == pytest.approx(2 * need.area_m2)
    assert more.area_m2 == pytest.approx(need.area_m2 / 2)


def test_a_kind_of_ones_own_is_offered_and_planned(tmp_path: Path) -> None:
    """Grandmother's garlic, which gives more to the square metre than any, is among the sowings to
    choose from and is what the plan plants, by its own name.
    """
    path = garden(tmp_path, GRANDMOTHERS)
    opened = open_garden(path)
    asked = ask(opened.garden, opened.catalogue, DAY, seed=1)
    assert "garlic/grandmothers" in {sowing.kind for sowing in asked.question.sowings}
    made = plan_garden(path, DAY, QUICK, seed=1)
    garlic = {one.kind for one in made.plan.plantings if one.kind.startswith("garlic/")}
    assert garlic == {"garlic/grandmothers"}
    assert made.names["garlic/grandmothers"] == "grandmother's garlic"


def test_what_was_ones_own_leaves_no_trace_once_taken_out(tmp_path: Path) -> None:
    """Taking the own figure out of the garden again gives the very plan there was before it."""
    before = plan_garden(garden(tmp_path), DAY, QUICK, seed=1).plan
    changed = plan_garden(garden(tmp_path, HALF_AS_MUCH.format(0.5)), DAY, QUICK, seed=1).plan
    after = plan_garden(garden(tmp_path), DAY, QUICK, seed=1).plan
    assert replace(after, solver=before.solver) == before
    assert changed.plantings != before.plantings


def test_it_goes_through_the_notebook_and_out_again(tmp_path: Path) -> None:
    """Own kinds and figures are kept in the notebook, reckoned with there, and written back as they
    were typed.
    """
    toml = garden(tmp_path, GRANDMOTHERS + HALF_AS_MUCH.format(0.5))
    notebook, _ = import_garden(toml, None, None)
    opened = open_garden(notebook)
    figure = opened.catalogue.kinds[BEANS].givings[0].yield_kg_m2
    assert (figure.value, figure.basis, figure.note) == (0.5, Basis.OWN, "weighed three summers")
    out = tmp_path / "out.toml"
    export_garden(notebook, out)
    assert open_garden(out).garden == open_garden(toml).garden
    assert 'value = "0.5 kg/m²"' in out.read_text(encoding="utf-8")


def test_an_own_kind_may_be_named_wherever_a_kind_is(tmp_path: Path) -> None:
    """It can be standing, in stock, priced, pinned and among those to grow; where it cannot be made
    that is one fault, not one for every time it is named.
    """
    named = """
[[standing]]
bed = "north"
kind = "garlic/grandmothers"
method = "cloves"
started = 2026-10-20
area = "1 m2"

[[stock]]
kind = "grandmother's garlic"
units = 40
year = 2026

[[pin]]
rule = "forbid"
kind = "garlic/grandmothers"

"""
    opened = open_garden(garden(tmp_path, GRANDMOTHERS + named))
    assert opened.garden.standing[0].kind == "garlic/grandmothers"
    assert opened.garden.stock[0].kind == "garlic/grandmothers"
    wrong = (GRANDMOTHERS + named).replace('like = "garlic/hard-necked"', 'like = "garlic/hard"')
    with pytest.raises(FaultsFoundError) as caught:
        open_garden(garden(tmp_path, wrong))
    wheres = [finding.where for finding in caught.value.findings]
    assert wheres[0] == "garden.toml, [[own_kind]] 1, like"
    assert not any("standing" in where or "pin" in where or "figure" in where for where in wheres)
