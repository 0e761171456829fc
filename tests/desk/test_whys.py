"""Why, of everything on a plan: found by its name, ending in its sum, its figures with sources."""

from dataclasses import replace
from datetime import timedelta

import pytest

from desk.conftest import DAY
from haulm.desk.planning.plans import Made
from haulm.desk.worth.why_records import Grounds, Why
from haulm.desk.worth.why_store import room_taken_l, why_lot
from haulm.desk.worth.why_table import why_line
from haulm.desk.worth.whys import Means, answer, as_data, path_of, things_in, weeks_in
from haulm.desk.worth.worths import Others, Worths, worths_of
from haulm.measure.errors import FaultsFoundError
from haulm.plan.records import Lot


@pytest.fixture(scope="module")
def worths(made: Made) -> Worths:
    """Give what is told beside the small garden's plan."""
    return worths_of(made)


@pytest.fixture(scope="module")
def quick(worths: Worths) -> Means:
    """Give means that reckon the worths once, and try nothing elsewhere."""
    return Means(lambda _: worths, lambda known, _made, _line: known, lambda _made, _p: Others())


def whole(found: Why) -> str:
    """Give all the words of an answer."""
    rows = [" ".join(row) for part in found.parts if part.shown for row in part.shown.rows]
    return "\n".join([found.answer, *(line for part in found.parts for line in part.lines), *rows])


def test_everything_on_the_plan_answers(made: Made, quick: Means) -> None:
    """Whatever the plan names, and every week of it, has an answer that says something and ends in
    a sum; no figure stands without what it rests on, and every way on leads to an answer too.
    """
    asked = [*things_in(made), *list(weeks_in(made))[::13]]
    assert {thing.path.partition("/")[0] for thing in asked} == {
        "planting", "bed", "store", "lot", "kept", "line", "buy", "week",
    }  # fmt: skip
    known = {thing.path for thing in asked}
    for thing in asked:
        found = answer(thing.path, made, DAY, quick)
        assert found.path == thing.path
        assert found.answer.endswith(".")
        assert found.parts
        empty = thing.path.startswith(("store", "bed")) and not found.see
        assert empty or found.parts[-1].heading == "The sum", thing.path
        assert all(figure.rests_on and figure.value for figure in found.figures)
        assert {see.path for see in found.see} <= known


def test_no_answer_speaks_of_how_it_is_reckoned(made: Made, quick: Means) -> None:
    """The words are a grower's: no programme, rate or multiplier is named."""
    for thing in things_in(made):
        words = whole(answer(thing.path, made, DAY, quick)).casefold()
        for jargon in ("dual", "shadow", "solver", "constraint", "objective", "marginal"):
            assert jargon not in words


def test_a_plantings_sum_is_the_plans(made: Made, quick: Means) -> None:
    """The sum told is the one that sized the planting, and its bound is told as it is."""
    for planting in made.plan.plantings:
        found = answer(planting.id, made, DAY, quick)
        parts = {part.heading: part.lines for part in found.parts}
        assert parts["The sum"] == planting.sum
        assert len(parts.get("What bound its size", ())) == len(planting.bounds)


def test_another_bed_and_week_are_told(made: Made) -> None:
    """With two beds, a planting says what the other would cost, or that it may not hold it."""
    planting = next(p for p in made.plan.plantings if not p.standing)
    parts = {part.heading: part.lines for part in answer(planting.id, made, DAY).parts}
    (first, *_) = parts["Why this bed"]
    assert first.startswith(("In North", "In South", "No other bed"))
    assert parts["Why this week"]


def test_a_line_adds_up(made: Made, quick: Means) -> None:
    """What is wanted is fresh, from store and short; every week in which it is wanted is listed."""
    for line in dict.fromkeys(row.line for row in made.plan.table):
        found = answer(f"line/{line}", made, DAY, quick)
        shown = {part.heading: part.shown for part in found.parts if part.shown}
        weeks = [row for row in made.plan.table if row.line == line and row.wanted_kg > 0]
        assert shown["Week by week"] is not None
        assert len(shown["Week by week"].rows) == len(weeks)
        assert " wanted = " in found.parts[-1].lines[-1]


def test_a_line_is_told_by_the_table_it_was_typed_on(made: Made, quick: Means) -> None:
    """The sum begins with what the grower told: so much a week."""
    found = answer("onion", made, DAY, quick)
    assert found.parts[-1].lines[0] == "500 g a week with everybody at home, as you told it"


def test_a_weeks_hours_add_up(made: Made, quick: Means) -> None:
    """The hours told of a week are those of its jobs, putting by counted."""
    hours = made.plan.hours
    busiest = max(range(len(hours)), key=lambda week: hours[week].asked_h)
    monday = made.plan.horizon.monday(busiest)
    found = answer(monday.isoformat(), made, DAY, quick)
    assert found.path == f"week/{monday.isoformat()}"
    jobs = next(part.shown for part in found.parts if part.heading == "What the hours go to")
    assert jobs is not None
    beds = sum(any(w == busiest for w, _ in p.minutes) for p in made.plan.plantings)
    assert len(jobs.rows) >= beds > 0


def test_the_room_taken_is_never_more_than_a_store_has(made: Made) -> None:
    """Lot by lot the room adds up as the plan counts it: within every store, in every week."""
    for store in made.garden.stores:
        taken = room_taken_l(made.plan, store.id)
        over = [b for b in made.plan.broken if b.rule == "store space"]
        assert store.capacity_l is not None
        assert over or max(taken) <= store.capacity_l + 1e-6


def lot(**changed: object) -> Lot:
    """Give a lot of 10 kg of which half is sound after ten weeks."""
    sound = tuple(1.0 - 0.05 * age for age in range(12))
    plain = Lot(
        "onion-cured-9", "onion", "onion/sets", "cured", "shed", 20, 10.0,
        ((25, 3.0), (30, 2.0)), 0.0, None, 0.0, 1.0, sound, 2.0, 1.0,
    )  # fmt: skip
    return replace(plain, **changed)  # type: ignore[arg-type]


def test_a_lot_told_by_hand(made: Made, worths: Worths) -> None:
    """Three kilograms eaten when three quarters are sound took four; the room follows."""
    plan = replace(made.plan, lots=(lot(),))
    grounds = Grounds(replace(made, plan=plan), worths)
    rows = next(p.shown for p in why_lot(lot(), grounds).parts if p.heading == "Week by week")
    assert rows is not None
    assert rows.rows[0][1:] == ("3 kg", "75%", "4 kg")
    assert rows.rows[1][1:] == ("2 kg", "50%", "4 kg")
    taken = room_taken_l(plan, "shed")
    assert (taken[19], taken[20], taken[25], taken[26], taken[31]) == (0, 20, 20, 12, 4)
    assert taken[32] == 0


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"left_kg": 2.0}, "lie there still"),
        ({"eaten": (), "seed_kg": 3.0, "seed_week": 25}, "kept back to be planted"),
        ({"eaten": ()}, "Nobody wants it in time"),
        ({"eaten": ((31, 1.0),)}, "to the end of its keeping"),
        ({"eaten": ((25, 3.0), (27, 2.0))}, "All of it is eaten by then"),
    ],
)
def test_why_a_lot_runs_out(
    made: Made, worths: Worths, changed: dict[str, object], words: str
) -> None:
    """A lot ends because the plan does, it is planted, unwanted, past keeping, or eaten up."""
    found = why_lot(lot(**changed), Grounds(made, worths))
    (sentence,) = next(p.lines for p in found.parts if p.heading == "Why it runs out then")
    assert words in sentence


def test_what_is_bought_is_what_is_asked(made: Made, quick: Means) -> None:
    """Of each kind the answer lists its plantings with what each asks, and the sum to buy."""
    kind = next(p.kind for p in made.plan.plantings if not p.standing)
    found = answer(f"buy/{kind}", made, DAY, quick)
    mine = [p for p in made.plan.plantings if p.kind == kind and not p.standing]
    assert found.parts[0].shown is not None
    assert len(found.parts[0].shown.rows) == len(mine)
    assert " to buy, rounded up" in found.parts[-1].lines[0]


@pytest.mark.parametrize(
    ("asked", "path"),
    [
        ("garlic-1", "planting/garlic-1"),
        ("GARLIC-1", "planting/garlic-1"),
        ("North", "bed/north"),
        ("pantry", "store/pantry"),
        ("leek", "line/leek"),
        ("line/onion", "line/onion"),
        ("2027-06-09", "week/2027-06-07"),
        ("2027-W23", "week/2027-06-07"),
    ],
)
def test_things_are_found_by_name(made: Made, asked: str, path: str) -> None:
    """A thing is found by its id, its name in any case, its path; a week by any of its days."""
    assert path_of(asked, made) == path


def test_near_names_are_offered(made: Made) -> None:
    """A mistyped name is answered by the names that look like it."""
    with pytest.raises(FaultsFoundError, match="Did you mean garlic-1"):
        path_of("garlic-l", made)
    with pytest.raises(FaultsFoundError, match="Name a planting, bed, store"):
        path_of("zzzzzz", made)


def test_weeks_beyond_the_plan_are_not_found(made: Made) -> None:
    """A day before or after the plan's weeks has no answer."""
    horizon = made.plan.horizon
    for day in (horizon.first_day - timedelta(1), horizon.last_day + timedelta(1)):
        with pytest.raises(FaultsFoundError):
            path_of(day.isoformat(), made)


def test_in_pounds_no_kilogram_is_told(made: Made, worths: Worths) -> None:
    """A garden told in feet and pounds is answered in them, but for the catalogue's own figures."""
    garden = replace(made.garden, units="us")
    us = replace(worths, question=replace(worths.question, units="us"))
    # The plan's own sentences were written when it was made, in kilograms.
    plan = replace(made.plan, shortages=())
    words = whole(why_line("onion", Grounds(replace(made, garden=garden, plan=plan), us)))
    assert " lb" in words
    assert " kg" not in words


def test_as_data_a_planting_keeps_its_record(made: Made, quick: Means) -> None:
    """For other programs a planting comes with all of its own, and the answer beside it."""
    told = as_data(answer("garlic-1", made, DAY, quick), made)
    assert told["id"] == "garlic-1"
    assert isinstance(told["why"], dict)
    assert told["why"]["path"] == "planting/garlic-1"
