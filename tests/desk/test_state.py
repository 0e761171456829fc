"""The garden as it is on a day: what it tells, what its kept plan did, and what was noted."""

import shutil
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.catalogue.records import Form
from haulm.desk.garden.editing import Change, change_garden
from haulm.desk.garden.exchange import import_garden
from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.odds.forecasting import forecast_of
from haulm.desk.planning.noting import NoteWish, note, notes_told
from haulm.desk.planning.plans import Made, kept_plan, plan_garden
from haulm.desk.planning.state import garden_on
from haulm.desk.showing.sheets import bundle_of
from haulm.larder.records import LotInHand
from haulm.measure.errors import FaultsFoundError
from haulm.measure.sentences import capital
from haulm.notebook.garden import Garden, PlantingStock, StandingCrop
from haulm.plan.records import Plan, Planting
from haulm.planner.solve import EFFORTS
from haulm.sheets.acts import JobKind, acts_of
from haulm.sheets.sheet_set import SheetName, sheet_names

FEBRUARY, EARLY_JUNE, JUNE, AUTUMN = (
    date(2027, *day) for day in ((2, 1), (6, 7), (6, 20), (11, 17))
)
AT = datetime(2027, 6, 20, 9, 0, tzinfo=UTC)
QUICK = EFFORTS["quick"]


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a notebook of the small garden, planned well in February."""
    folder = tmp_path_factory.mktemp("kept")
    notebook, _ = import_garden(small_garden(folder), folder / "yard.haulm")
    plan_garden(notebook, FEBRUARY, EFFORTS["usual"], 1)
    return notebook


@pytest.fixture
def book(kept: Path, tmp_path: Path) -> Path:
    """Give a copy of that notebook to write into."""
    return Path(shutil.copy(kept, tmp_path / "yard.haulm"))


@pytest.fixture(scope="module")
def plan(kept: Path) -> Plan:
    """Give the plan of February."""
    return kept_plan(kept).plan


@pytest.fixture(scope="module")
def opened(kept: Path) -> Opened:
    """Give the small garden, opened."""
    return open_garden(kept)


def carried(opened: Opened, plan: Plan, day: date, **told: object) -> Garden:
    """Give the garden on a day, something else told in it."""
    garden = replace(opened.garden, **told)  # type: ignore[arg-type]
    return garden_on(garden, opened.catalogue, plan, day).garden


def ground_in(plantings: tuple[Planting, ...], bed: str, day: date) -> float:
    """Add up what holds ground in a bed on a day [m²]."""
    return sum(
        p.area_m2 for p in plantings if p.bed == bed and p.in_ground_from <= day < p.clear_by
    )


def test_a_plan_carried_on_with_nothing_noted_keeps_nearly_all_of_its_patches(book: Path) -> None:
    """In June what was due stands as planned; nine in ten of what was still to come keep their bed,
    and their week but for one (the days on which a soil is warm enough are drawn anew).
    """
    before = kept_plan(book).plan
    made = plan_garden(book, JUNE, EFFORTS["usual"], 1)
    due = [p for p in before.plantings if p.sow_on < date(2027, 6, 14)]
    to_come = [p for p in before.plantings if p not in due]
    started = {(p.sowing, p.bed) for p in due}
    assert {(p.sowing, p.bed) for p in made.plan.plantings if p.standing} == started
    stays = [
        was
        for was in to_come
        if any(
            (now.kind, now.method, now.bed) == (was.kind, was.method, was.bed)
            and abs((now.sow_on - was.sow_on).days) <= 7
            for now in made.plan.plantings
        )
    ]
    assert len(stays) >= 0.9 * len(to_come)
    (told,) = (f for f in made.plan.findings if f.where == "what was done")
    assert f"{len(started)} plantings stand or are in trays by it" in told.what
    assert kept_plan(book).since == ()


def test_without_a_kept_plan_or_within_its_first_week_all_is_as_it_was(
    opened: Opened, plan: Plan
) -> None:
    """A garden without a plan, or with one of this very week, is as it tells itself."""
    garden = opened.garden
    for known in (None, plan):
        now = garden_on(garden, opened.catalogue, known, FEBRUARY)
        assert now.garden == garden
        assert now.findings == ()
    assert garden_on(garden, opened.catalogue, plan, date(2026, 11, 1)).garden == garden


def test_what_the_garden_tells_to_stand_takes_the_place_of_the_planting(
    opened: Opened, plan: Plan
) -> None:
    """Told three days late and on less ground, beans stand so, once, and the rest as planned."""
    bean = next(p for p in plan.plantings if p.crop == "french bean" and p.set_on < JUNE)
    day = bean.set_on + timedelta(days=3)
    told = StandingCrop(bean.bed, bean.kind, bean.method, day, 0.8)
    standing = carried(opened, plan, JUNE, standing=(told,)).standing
    assert sum((s.kind, s.bed) == (bean.kind, bean.bed) for s in standing) == 1
    assert told in standing
    assert len(standing) == len(carried(opened, plan, JUNE).standing)


def test_what_the_garden_tells_beside_the_plan_stands_too(opened: Opened, plan: Plan) -> None:
    """A sowing that no plan knew of stands beside those that it did."""
    told = StandingCrop("south", "leek/winter", "sown direct", date(2027, 5, 3), 0.5)
    assert told in carried(opened, plan, JUNE, standing=(told,)).standing


def test_a_count_of_the_stores_goes_before_what_the_plan_thinks_lies_there(
    opened: Opened, plan: Plan
) -> None:
    """Counted in November, the onions are what was counted; all else stays as assumed."""
    assumed = carried(opened, plan, AUTUMN).lots
    onions = [lot for lot in assumed if lot.food == "onion"]
    assert onions
    counted = LotInHand("onion", onions[0].kind, Form(onions[0].form), onions[0].place, 2.5, AUTUMN)
    lots = carried(opened, plan, AUTUMN, lots=(counted,)).lots
    assert [lot for lot in lots if lot.food == "onion" and lot.place == counted.place] == [counted]
    assert [lot for lot in lots if lot.food != "onion"] == [
        lot for lot in assumed if lot.food != "onion"
    ]


def test_what_the_plan_had_no_use_for_still_lies_there(book: Path) -> None:
    """Beetroot that nobody at the table wants is carried on from plan to plan, less what rots."""
    lot = {
        "food": "beetroot",
        "form": "cellared",
        "place": "shed",
        "amount": "9 kg",
        "put_by": "2027-01-10",
    }
    change_garden(book, [Change("in_store", "", lot)], AT)
    plan_garden(book, FEBRUARY, QUICK, 1)
    day, left = FEBRUARY, []
    for _ in range(2):
        day += timedelta(weeks=4)
        opened = open_garden(book)
        lots = garden_on(opened.garden, opened.catalogue, kept_plan(book).plan, day).garden.lots
        left += [one.kg for one in lots if one.food == "beetroot"]
        plan_garden(book, day, QUICK, 1)
    assert len(left) == 2
    assert 9 > left[0] > left[1] > 4


def test_stock_that_was_sown_is_not_in_hand_any_more(book: Path) -> None:
    """Of a hundred sets what February's plan had set by June is gone; a new count stands."""
    change_garden(
        book, [Change("stock", "", {"kind": "onion/sets", "units": 100, "year": 2027})], AT
    )
    plan_garden(book, FEBRUARY, QUICK, 1)
    opened, plan = open_garden(book), kept_plan(book).plan
    used = sum(p.stock for p in plan.plantings if p.kind == "onion/sets" and p.sow_on < JUNE)
    assert used > 0
    (stock,) = carried(opened, plan, JUNE).stock
    assert stock.units == pytest.approx(max(0.0, 100 - used))
    counted = PlantingStock("onion/sets", 80.0, 2027)
    assert carried(opened, plan, JUNE, stock=(counted,)).stock == (counted,)


def test_a_bed_remembers_what_the_plan_grew_in_it(opened: Opened, plan: Plan) -> None:
    """Beds keep the families they had by the plan, so that rest between them is still counted."""
    north = next(bed for bed in carried(opened, plan, AUTUMN).beds if bed.id == "north")
    told = next(bed for bed in opened.garden.beds if bed.id == "north")
    assert {past.crop for past in north.past} >= {"onion"}
    assert set(told.past) <= set(north.past)


def test_a_note_of_nothing_that_grew_is_told(book: Path) -> None:
    """A note about a kind that was not in that bed on that day is not dropped in silence."""
    lost = {"what": "failed", "on": JUNE, "kind": "garlic/soft-necked", "bed": "south"}
    change_garden(book, [Change("noted", "", lost)], AT)
    found = plan_garden(book, JUNE, QUICK, 1).plan.findings
    (told,) = (f for f in found if f.where.startswith("note, "))
    assert told.where == "note, soft-necked garlic in South: failed, seen on 20 June 2027"
    assert "speaks of nothing that the plan had growing" in told.what


@pytest.fixture(scope="module")
def failed(kept: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Planting, Made]:
    """Give the notebook in which the beans started by early June failed, these, the plan anew."""
    book = Path(shutil.copy(kept, tmp_path_factory.mktemp("failed") / "yard.haulm"))
    failed_on = date(2027, 6, 6)
    sown = (p for p in kept_plan(book).plan.plantings if p.sow_on < failed_on)
    beans = max((p for p in sown if p.crop == "french bean"), key=lambda p: p.area_m2)
    note(book, beans.id, NoteWish("failed", failed_on), AT)
    return book, beans, plan_garden(book, EARLY_JUNE, EFFORTS["usual"], 1)


def test_after_a_failure_the_plan_says_what_failed_and_uses_its_ground(
    failed: tuple[Path, Planting, Made], book: Path
) -> None:
    """The beans are gone, their ground is taken anew, and both are told as sentences."""
    _, beans, made = failed
    label = (beans.kind, beans.bed, beans.sow_on)
    assert all((p.kind, p.bed, p.sow_on) != label for p in made.plan.plantings)
    without = plan_garden(book, EARLY_JUNE, EFFORTS["usual"], 1).plan
    days = [EARLY_JUNE + timedelta(weeks=n) for n in range(20)]
    anew, else_ = (
        [ground_in(_new(plan), beans.bed, day) for day in days if day < beans.clear_by]
        for plan in (made.plan, without)
    )
    assert max(now - was for now, was in zip(anew, else_, strict=True)) > 0.5
    sentences = [one.sentence for one in made.changes]
    name = f"{made.names[beans.kind]} in South"
    failure = f"{name} ({beans.area_m2:.2f} m²) failed, as noted on 6 June 2027."
    assert capital(failure) in sentences
    because = f"because {name} failed."
    assert any("will be planted in South" in one and because in one for one in sentences)


def _new(plan: Plan) -> tuple[Planting, ...]:
    """Give what is still to be sown."""
    return tuple(planting for planting in plan.plantings if not planting.standing)


def test_a_plan_carried_on_twice_forgets_neither_store_nor_failure(
    failed: tuple[Path, Planting, Made], tmp_path: Path
) -> None:
    """In November what June put by and did not eat lies in store, and the books balance."""
    book = Path(shutil.copy(failed[0], tmp_path / "yard.haulm"))
    may = failed[2].plan
    made = plan_garden(book, AUTUMN, QUICK, 1)
    monday = date(2027, 11, 15)
    week = may.horizon.week_of(monday)
    for lot in (lot for lot in made.plan.lots if lot.in_hand and lot.seed_week is None):
        put_by = made.plan.horizon.first_day - timedelta(weeks=lot.age_weeks)
        was = [
            one
            for one in may.lots
            if (one.food, one.kind, one.form, one.place)
            == (lot.food, lot.kind, lot.form, lot.place)
            and may.horizon.monday(one.put_by_week) == put_by
        ]
        raw = sum(
            one.kg_in
            - sum(kg / one.sound[then - one.put_by_week] for then, kg in one.eaten if then < week)
            for one in was
        )
        kept_back = sum(
            one.kg_in
            for one in made.plan.lots
            if one.in_hand
            and one.seed_week is not None
            and one.age_weeks == lot.age_weeks
            and (one.food, one.kind) == (lot.food, lot.kind)
        )
        assert lot.kg_in + kept_back == pytest.approx(raw * lot.sound[lot.age_weeks], abs=0.01)
    assert any(lot.in_hand for lot in made.plan.lots)
    beans = failed[1]
    assert all(
        (p.kind, p.bed, p.sow_on) != (beans.kind, beans.bed, beans.sow_on)
        for p in made.plan.plantings
    )
    assert kept_plan(book).since == ()


def test_seedlings_in_trays_are_still_to_be_set_out(book: Path, plan: Plan) -> None:
    """Leeks, and whatever else was sown before mid-June and is due out after, are in their trays:
    their day to be set out comes, they are not sown again, and nothing of them is bought.
    """
    made = plan_garden(book, JUNE, QUICK, 1)
    trays = [p for p in made.plan.plantings if p.in_trays]
    due = {p.kind for p in plan.plantings if p.sow_on < date(2027, 6, 14) <= p.set_on}
    assert {p.kind for p in trays} == due
    assert "leek" in {p.crop for p in trays}
    for planting in trays:
        assert next(act.kind for act in acts_of(planting)) is JobKind.SET_OUT
        assert planting.in_ground_from >= date(2027, 6, 14)
    assert all(not p.in_trays for p in made.plan.plantings if p.crop == "onion")
    assert {p.bed for p in trays} <= {name.id.removeprefix("beds/") for name in _sheets(made)}


def _sheets(made: Made) -> tuple[SheetName, ...]:
    return sheet_names(bundle_of(made, JUNE))


def test_a_plan_carried_on_lives_through_seasons(failed: tuple[Path, Planting, Made]) -> None:
    """The forecast of a plan that was carried on counts what stands, and nothing that failed."""
    found = forecast_of(failed[0], 100, 1)
    assert found.made.plan.made_on == EARLY_JUNE


def test_a_note_is_told_as_a_change_since_the_plan(book: Path, plan: Plan) -> None:
    """Noted after the day of the plan, a failure makes the plan one to be made again."""
    onion = next(p for p in plan.plantings if p.crop == "onion" and p.set_on < JUNE)
    note(book, onion.id, NoteWish("gives", JUNE, share="50 %"), AT)
    assert kept_plan(book).since != ()
    plan_garden(book, JUNE, QUICK, 1)
    assert kept_plan(book).since == ()
    half = next(
        p
        for p in kept_plan(book).plan.plantings
        if p.standing and (p.kind, p.bed) == (onion.kind, onion.bed)
    )
    whole = {each.food: each.kg for each in onion.expects}
    for expects in half.expects:
        assert expects.kg == pytest.approx(whole[expects.food] / 2, rel=0.02)


@pytest.mark.parametrize(
    ("wish", "told"),
    [
        (NoteWish("late", JUNE), "late needs them"),
        (NoteWish("gives", JUNE), "gives needs it"),
        (NoteWish("gives", JUNE, share="many"), "“many” is no share"),
        (NoteWish("vanished", JUNE), "failed"),
        (NoteWish("failed", JUNE, days="3"), "days belong to late"),
    ],
)
def test_a_note_that_lacks_something_is_refused(book: Path, wish: NoteWish, told: str) -> None:
    """What a note lacks, or cannot have, is told, and nothing is written."""
    with pytest.raises(FaultsFoundError, match=told):
        note(book, "onion-1", wish, AT)
    assert notes_told(book) == ()
