"""Differences: what a grower is told before a new plan takes the place of the old one."""

from dataclasses import replace
from datetime import date, timedelta

from haulm.desk.planning.differences import differences, settled_first
from haulm.desk.planning.reasons import Change, Difference
from haulm.measure.weeks import Horizon
from haulm.plan.pins import Pin, PinRule
from haulm.plan.records import Plan, PlanBed, Planting, SolverReport, TableWeek

DAY = date(2027, 3, 1)
NAMES = {
    "leek/winter": "leeks, winter",
    "carrot/main": "carrots, maincrop",
    "abacus": "Abacus",
    "slate": "Slate",
    "carrots": "carrots",
}


def planting(
    name: str, kind: str, bed: str, area_m2: float, week: int = 4, *, standing: bool = False
) -> Planting:
    """Plant some ground with a kind, sown in a week of the plan and there for twelve."""
    day = DAY + timedelta(weeks=week)
    return Planting(
        id=name,
        sowing=f"{kind}:direct:{day:%G-W%V}",
        crop=kind.partition("/")[0],
        kind=kind,
        family="any",
        method="direct",
        bed=bed,
        under_cover=False,
        area_m2=area_m2,
        plants=1,
        stock=1.0,
        stock_unit="seed",
        sow_on=day,
        set_on=day,
        in_ground_from=day,
        clear_by=day + timedelta(weeks=12),
        from_week=week,
        until_week=week + 12,
        tray_cells=0,
        tray_weeks=(week, week),
        minutes=(),
        expects=(),
        ready=(),
        picks=(),
        serves=(),
        earliest_sowing=day,
        latest_sowing=day,
        earliest_rule="",
        latest_rule="",
        sum=(),
        bounds=(),
        standing=standing,
    )


def plan(*plantings: Planting, short: dict[str, float] | None = None, day: date = DAY) -> Plan:
    """Make a plan of some plantings, and lines short of so much each week of ten."""
    lines = {"carrots": 0.0} if short is None else short
    return Plan(
        garden="old schoolhouse",
        made_on=day,
        horizon=Horizon(day, 10),
        beds=(PlanBed("abacus", "Abacus", 9.0, False), PlanBed("slate", "Slate", 9.0, False)),  # noqa: FBT003
        plantings=plantings,
        table=tuple(
            TableWeek(line, week, 1.0, 1.0 - kg, 0.0, kg)
            for line, kg in lines.items()
            for week in range(10)
        ),
        helpings=(),
        lots=(),
        hours=(),
        shortages=(),
        broken=(),
        solver=SolverReport(1.0, 1.0, 0.0, 0.0, 0.0, 0, "usual", 1),
    )


def told(before: Plan, after: Plan) -> list[str]:
    """Tell the differences in words."""
    return [each.sentence for each in differences(before, after, NAMES, "metric")]


LEEK = planting("leek-1", "leek/winter", "abacus", 6.0)


def test_the_same_plan_differs_in_nothing() -> None:
    """However its plantings are numbered or ordered, a plan does not differ from itself."""
    carrot = planting("carrot-1", "carrot/main", "slate", 2.0)
    assert told(plan(LEEK, carrot), plan(replace(carrot, id="carrot-7"), LEEK)) == []


def test_a_planting_that_moves_says_from_where_to_where() -> None:
    """Leeks that leave one bed for another are one move, with the ground in each."""
    moved = planting("leek-4", "leek/winter", "slate", 5.5)
    assert differences(plan(LEEK), plan(moved), NAMES, "metric") == (
        Difference(
            Change.MOVED,
            "leek-1",
            "leek-4",
            "Leeks, winter will leave Abacus (6 m²) for Slate (5.5 m²).",
            6.0,
            5.5,
        ),
    )


def test_a_planting_sown_at_another_time_is_shifted() -> None:
    """The same bed three weeks on is a later sowing; ten weeks on it is another planting."""
    later = planting("leek-1", "leek/winter", "abacus", 5.0, week=7)
    assert told(plan(LEEK), plan(later)) == [
        "Leeks, winter in Abacus (5 m²) will be sown 3 weeks later, on 5 m² instead of 6 m²."
    ]
    much_later = planting("leek-1", "leek/winter", "abacus", 6.0, week=14)
    assert told(plan(LEEK), plan(much_later)) == [
        "Leeks, winter will be planted in Abacus (6 m², week of 7 June 2027).",
        "Leeks, winter will not be planted in Abacus any more (6 m², week of 29 March 2027).",
    ]


def test_a_planting_is_resized_where_it_shows() -> None:
    """Half a square metre more is told; a hundredth is not."""
    assert told(plan(LEEK), plan(replace(LEEK, area_m2=6.5))) == [
        "Leeks, winter in Abacus will have 6.5 m² instead of 6 m²."
    ]
    assert told(plan(LEEK), plan(replace(LEEK, area_m2=6.01))) == []


def test_the_largest_ground_comes_first_and_the_table_last() -> None:
    """A grower reads the large changes first, then what the table makes of them."""
    before = plan(LEEK, planting("carrot-1", "carrot/main", "slate", 2.0), short={"carrots": 0.5})
    after = plan(planting("carrot-1", "carrot/main", "slate", 6.0), short={"carrots": 0.19})
    assert told(before, after) == [
        "Leeks, winter will not be planted in Abacus any more (6 m², week of 29 March 2027).",
        "Carrots, maincrop in Slate will have 6 m² instead of 2 m².",
        "Carrots will be 3.1 kg less short.",
    ]


def test_a_line_is_told_where_it_is_met_otherwise() -> None:
    """More short, less short, short no more, new and gone are told; grams are not."""
    full, short, hardly = ({"carrots": kg} for kg in (0.0, 0.3, 0.3005))
    assert told(plan(short=short), plan(short=full)) == [
        "Carrots will be 3 kg less short, and short no more."
    ]
    assert told(plan(short=full), plan(short=short)) == ["Carrots will be 3 kg more short."]
    assert told(plan(short=short), plan(short=hardly)) == []
    assert told(plan(short=short), plan(short={**short, "kale": 0.1})) == [
        "Kale: it is new on the table."
    ]
    assert told(plan(short=short), plan(short={})) == ["Carrots: it is no more on the table."]


def test_a_later_plan_is_held_against_the_weeks_both_have() -> None:
    """What has had its time, and what stands by now, is no difference; nor are weeks gone by."""
    early = planting("carrot-1", "carrot/main", "slate", 2.0, week=-12)
    stands = replace(LEEK, id="leek-9", standing=True)
    before = plan(LEEK, early, short={"carrots": 0.5})
    after = plan(stands, short={"carrots": 0.5}, day=DAY + timedelta(weeks=5))
    assert told(before, after) == []
    stranger = planting("carrot-9", "carrot/main", "slate", 1.0, standing=True)
    assert told(before, replace(after, plantings=(stands, stranger))) == []


def test_us_units_are_shown_where_asked() -> None:
    """Square feet and pounds, where the garden is written in them."""
    (resized, line) = differences(
        plan(LEEK, short={"carrots": 0.5}),
        plan(replace(LEEK, area_m2=7.0), short={"carrots": 0.1}),
        NAMES,
        "us",
    )
    assert "sq ft" in resized.sentence
    assert line.sentence == "Carrots will be 8.82 lb less short."


def test_what_was_settled_by_hand_is_told_first() -> None:
    """Who forbade the carrots reads of the carrots first, though more ground changed elsewhere."""
    before = plan(planting("carrot-1", "carrot/main", "abacus", 1.0))
    after = plan(planting("leek-1", "leek/winter", "slate", 5.0))
    found = differences(before, after, NAMES, "metric")
    pins = [Pin(PinRule.FORBID, "carrot/main")]
    assert found[0].after == "leek-1"
    assert settled_first(found, before, after, pins)[0].before == "carrot-1"
