"""Claims about what the desk notices of stands, and of ground left bare."""

from dataclasses import fields
from datetime import date
from pathlib import Path

import pytest

from haulm.desk.beds.ground_covers import covers_for
from haulm.desk.beds.perennials import no_stand, stands_told
from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.question import Asked, ask
from haulm.desk.table.needs import needs_from
from haulm.desk.table.table_sums import table_year
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Grade
from haulm.planner.make import make_plan
from haulm.planner.question import Effort
from lasting_gardens import hedge_end

DAY = date(2026, 11, 26)


def asked_of(path: Path) -> Asked:
    """Put a garden's question."""
    opened = open_garden(path)
    return ask(opened.garden, opened.catalogue, DAY, 1)


def told(path: Path) -> list[str]:
    """Give what is noticed of a garden's stands."""
    opened = open_garden(path)
    return [one.what for one in stands_told(opened.garden, opened.catalogue, asked_of(path))]


def test_a_stand_in_its_prime_is_passed_over(tmp_path: Path) -> None:
    """Asparagus of 2022 and strawberries of last summer call for no word."""
    assert told(hedge_end(tmp_path)) == []


def test_a_stand_past_its_life_is_a_note(tmp_path: Path) -> None:
    """Strawberries planted in 2019 are past the four years they are worth their ground."""
    old = hedge_end(tmp_path, ("started = 2025-08-20", "started = 2019-08-20"))
    assert any("past the 4 years" in what for what in told(old))


def test_a_stand_too_young_to_pick_says_when_it_will_be(tmp_path: Path) -> None:
    """Asparagus planted in spring 2026 is first picked in 2028."""
    young = hedge_end(tmp_path, ("started = 2022-04-10", "started = 2026-04-10"))
    assert any("1 Jan 2028" in what for what in told(young))


def test_what_winter_kills_is_told_with_how_to_save_it(tmp_path: Path) -> None:
    """In an upland winter globe artichokes die uncovered, and covering them is advised."""
    cold = hedge_end(
        tmp_path,
        (
            'kind = "asparagus/green"\nmethod = "crowns"',
            'kind = "globe artichoke/summer"\nmethod = "plants"',
        ),
        ("started = 2022-04-10", "started = 2025-04-10"),
        ("tmin = [2, 2, 4, 5,", "tmin = [-9, -8, -4, 1,"),
        ("tmax = [8, 10, 12, 15,", "tmax = [-1, 1, 6, 11,"),
    )
    opened = open_garden(cold)
    notes = stands_told(opened.garden, opened.catalogue, asked_of(cold))
    found = next(one for one in notes if one.where == "standing 1, globe artichoke")
    assert "kills it uncovered" in found.what
    assert "Cover" in found.remedy
    assert found.grade is Grade.NOTE


def test_the_sum_of_need_works_for_what_stays_for_years(tmp_path: Path) -> None:
    """A year of rhubarb is summed to ground and crowns, with the seasons until it bears."""
    path = hedge_end(tmp_path)
    opened, asked = open_garden(path), asked_of(path)
    needs = needs_from(opened, asked)
    total = next(one for one in needs.sums if one.line == "rhubarb")
    kind = opened.catalogue.kinds[total.kind]
    given = next(one for one in kind.givings if one.food == total.food)
    assert total.area_m2 == pytest.approx(total.lifted_kg / given.yield_kg_m2.value)
    assert total.stock_unit == "crown"
    assert [step.value for step in total.steps[-3:]] == [2, 3, 10]
    row = next(
        one
        for one in table_year(opened.garden, opened.catalogue, asked, needs, None).rows
        if one.line.id == "rhubarb"
    )
    assert row.takes is not None
    assert row.takes.hours is not None
    assert row.takes.hours > 0


def test_a_line_that_a_stand_serves_is_not_told_to_plant(tmp_path: Path) -> None:
    """Of asparagus, strawberries and rhubarb only the rhubarb, which does not stand, is told."""
    path = hedge_end(tmp_path)
    opened = open_garden(path)
    found = no_stand(opened.garden, opened.catalogue, asked_of(path))
    assert [one.where for one in found] == ["table, rhubarb"]


def test_only_what_stays_for_years_may_have_been_planted_long_ago(tmp_path: Path) -> None:
    """Carrots that are said to stand since 2022 are a fault; asparagus is none."""
    path = hedge_end(
        tmp_path,
        ('kind = "asparagus/green"\nmethod = "crowns"', 'kind = "carrot/early"\nmethod = "direct"'),
    )
    with pytest.raises(FaultsFoundError) as refused:
        asked_of(path)
    assert [one.where for one in refused.value.findings] == ["standing 1, carrot/early"]


def test_bare_ground_is_offered_what_fits_the_place(tmp_path: Path) -> None:
    """Ground that carrots leave in autumn is offered winter rye, sown by mid-October, and mustard
    and radish only where no cabbage is near in the rotation.
    """
    path = hedge_end(tmp_path)
    opened, asked = open_garden(path), asked_of(path)
    plan = make_plan(asked.question, Effort("quick", rounds=0, target_gap=0.05))
    offers = covers_for(plan, opened.catalogue, asked)
    assert offers
    for offer in offers:
        stretch = offer.stretch
        there = [p for p in plan.plantings if p.bed == stretch.bed]
        bed = next(bed for bed in plan.beds if bed.id == stretch.bed)
        for week in range(stretch.first_week, stretch.until_week):
            held = sum(p.area_m2 for p in there if p.from_week <= week < p.until_week)
            assert held + stretch.area_m2 <= bed.area_m2 + 1e-6
        for fit in offer.fits:
            assert stretch.first_week <= fit.sow_first_week <= fit.sow_last_week
            assert fit.dig_in_week < stretch.until_week
    rye = [
        plan.horizon.monday(fit.sow_last_week)
        for offer in offers
        for fit in offer.fits
        if fit.kind == "rye/winter"
    ]
    assert all((8, 15) <= (day.month, day.day) <= (10, 25) for day in rye)


def test_a_question_is_written_out_the_same_in_every_run(tmp_path: Path) -> None:
    """A plan is not told to be outgrown because Python orders a set otherwise today."""
    question = asked_of(hedge_end(tmp_path)).question
    sets = [
        field.name
        for field in fields(question)
        if isinstance(getattr(question, field.name), set | frozenset)
    ]
    assert sets == ["too_dark"]
    assert list(question.lasting_foods) == sorted(question.lasting_foods)
    assert "asparagus" in question.lasting_foods
    assert "carrot" not in question.lasting_foods
