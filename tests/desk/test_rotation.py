"""Several years laid out from the desk down: asked, kept, and held to."""

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.desk.beds.rotation import drop_rotation, keep_rotation, rotation_of
from haulm.desk.garden.bed_editing import remove_bed
from haulm.desk.garden.editing import mark_of, parts_of
from haulm.desk.garden.exchange import export_garden, import_garden
from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.plans import question_hash
from haulm.desk.planning.question import ask
from haulm.measure.errors import FaultsFoundError
from haulm.plan.records import Plan
from haulm.planner.make import make_plan
from haulm.planner.question import PlanQuestion
from haulm.planner.solve import EFFORTS
from lasting_gardens import HEDGE_END
from shell import Haulm

DAY = date(2027, 2, 1)
NOW = datetime(2027, 2, 1, 12, tzinfo=UTC)


def hedge_end(folder: Path, text: str = HEDGE_END) -> Path:
    """Write the garden with what stays for years."""
    path = folder / "garden.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """Give the small garden's notebook."""
    made, _ = import_garden(small_garden(tmp_path), None, NOW)
    return made


def test_every_family_of_the_table_has_ground_within_three_years(book: Path) -> None:
    """What the table would take of this ground is what the years are laid out for; each family that
    could be begun in time has a bed, and both levels say how near they are.
    """
    laid = rotation_of(book, DAY, 3)
    wanted = {need.family for need in laid.question.needs}
    assert wanted >= {"onion", "bean"}
    assert {one.family for one in laid.rotation.families} == wanted
    assert laid.question.span == range(2027, 2030)
    assert 0 < laid.rotation.bound <= laid.rotation.objective


def test_after_midsummer_the_years_begin_with_the_next(book: Path) -> None:
    """Asked in August, the first year laid out is the one that follows."""
    assert rotation_of(book, date(2027, 8, 30), 3).question.first_year == 2028


def test_a_line_that_only_lasting_plants_serve_is_given_ground(tmp_path: Path) -> None:
    """Where rhubarb is wanted and none stands, a stand is chosen with its years; what stands
    already holds its ground till it is worn out, and is told.
    """
    laid = rotation_of(hedge_end(tmp_path), DAY, 4)
    (rhubarb,) = [s for s in laid.rotation.stands if s.kind.startswith("rhubarb")]
    assert rhubarb.gives[0].kg == 0
    assert max(one.kg for one in rhubarb.gives) > 0
    held = {one.kind: one for one in laid.question.held}
    assert held["asparagus/green"].lifted_year > held["strawberry/summer"].lifted_year
    assert any("asparagus" in note for note in laid.rotation.notes)


def test_a_rotation_kept_is_part_of_the_garden_and_of_what_plans_answer(book: Path) -> None:
    """Kept, it goes into garden.toml and back; a plan's question names it; dropped, it is gone."""
    without = ask(open_garden(book).garden, open_garden(book).catalogue, DAY, 1).question
    laid = rotation_of(book, DAY, 3)
    keep_rotation(book, laid.rotation, NOW)
    keep_rotation(book, laid.rotation, NOW)
    kept = open_garden(book)
    asked = ask(kept.garden, kept.catalogue, DAY, 1).question
    assert len(asked.allotments) == len(laid.rotation.families)
    assert {(a.bed, a.year, a.family) for a in asked.allotments} == {
        (f.bed, f.year, f.family) for f in laid.rotation.families
    }
    assert question_hash(asked) != question_hash(without)
    toml = book.parent / "written.toml"
    export_garden(book, toml)
    assert open_garden(toml).garden.allotments == kept.garden.allotments
    drop_rotation(book, NOW)
    assert open_garden(book).garden.allotments == ()


def test_the_years_are_laid_out_the_same_whether_one_is_kept_or_not(book: Path) -> None:
    """What is kept does not feed back into what is asked: laid out again, it is the same."""
    first = rotation_of(book, DAY, 3)
    keep_rotation(book, first.rotation, NOW)
    assert rotation_of(book, DAY, 3).rotation == first.rotation


def test_a_plan_is_held_to_the_rotation_that_is_kept(book: Path) -> None:
    """Planned with it, no more rests that a later year waits for are spent than without."""
    laid = rotation_of(book, DAY, 3)
    keep_rotation(book, laid.rotation, NOW)
    opened = open_garden(book)
    held = ask(opened.garden, opened.catalogue, DAY, 1).question
    free = make_plan(replace(held, allotments=()), EFFORTS["quick"])
    plan = make_plan(held, EFFORTS["quick"])
    assert spent(plan, held) <= spent(free, held) + 1e-6
    told = sum(one.amount for one in plan.broken if one.rule == "allotment")
    assert told == pytest.approx(spent(plan, held), abs=1e-4)


def spent(plan: Plan, question: PlanQuestion) -> float:
    """Add up the ground on which a plan spends rests that a later year waits for [m²]."""
    most = {(a.bed, a.family, a.year): a.area_m2 for a in question.allotments}
    taken: dict[tuple[str, str, int], float] = {}
    for planting in plan.plantings:
        key = (planting.bed, planting.family, planting.clear_by.year)
        taken[key] = taken.get(key, 0.0) + planting.area_m2
    return sum(
        max(0.0, area - most.get((bed, family, year), 0.0))
        for (bed, family, year), area in taken.items()
        if any(
            (bed, family, later) in most
            for later in range(year + 1, year + question.rotation_gap_years[family])
        )
    )


def test_a_bed_taken_out_takes_its_allotments_along(book: Path) -> None:
    """The rest of the rotation stays; nothing is left that names a bed which is gone."""
    keep_rotation(book, rotation_of(book, DAY, 3).rotation, NOW)
    bed = parts_of(book)["bed"][0]
    remove_bed(book, mark_of(bed), NOW)
    left = open_garden(book).garden.allotments
    assert left
    assert bed["id"] not in {one.bed for one in left}


def test_allotments_typed_wrong_are_told_all_at_once(tmp_path: Path) -> None:
    """A bed that is not there, a family nobody knows, no ground, and one told twice."""
    wrong = """
[[allotment]]
bed = "low"
year = 2028
family = "onion family"
area = "0 m2"

[[allotment]]
bed = "law"
year = 2028
family = "onion famly"
area = "2 m2"

[[allotment]]
bed = "low"
year = 2028
family = "onion"
area = "2 m2"
"""
    with pytest.raises(FaultsFoundError) as refused:
        open_garden(hedge_end(tmp_path, HEDGE_END + wrong))
    told = " ".join(finding.what for finding in refused.value.findings)
    assert "no bed “law”" in told
    assert "no family “onion famly”" in told
    assert "twice" in told
    assert len(refused.value.findings) == 4


def test_two_years_or_nine_are_refused(book: Path) -> None:
    """A rotation has three to eight years."""
    for years in (2, 9):
        with pytest.raises(FaultsFoundError, match="Ask for 3 to 8"):
            rotation_of(book, DAY, years)


def test_the_command_prints_beds_by_years_and_keeps_them(haulm: Haulm, book: Path) -> None:
    """Beds down, years across, what is broken, what that costs, and how near the best it is."""
    ran = haulm("rotation", book, "--years", "3", "--on", "2027-02-01", "--keep")
    assert ran.code == 0
    assert "families to beds, 2027 to 2029" in ran.out
    assert "North" in ran.out
    assert "none could cost less than" in ran.out
    assert open_garden(book).garden.allotments


def test_only_a_notebook_can_keep_one(haulm: Haulm, tmp_path: Path) -> None:
    """Asked to keep it in garden.toml, haulm says so before it sets to work."""
    ran = haulm("rotation", small_garden(tmp_path), "--on", "2027-02-01", "--keep")
    assert ran.code != 0
    assert "not a haulm notebook" in ran.err
