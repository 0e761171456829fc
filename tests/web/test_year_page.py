"""The Year: the plan drawn, a planting opened and settled by hand, as a grower meets it."""

import re
from collections.abc import Callable
from datetime import UTC, datetime
from html import unescape
from pathlib import Path
from urllib.parse import quote

import pytest
from starlette.testclient import TestClient

from haulm.desk.garden.editing import Change, change_garden, mark_of, parts_of
from haulm.desk.planning.plans import kept_plan
from haulm.plan.records import Plan, Planting

Door = Callable[[Path], TestClient]
NOW = datetime(2027, 2, 1, 9, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def plan(planned_once: Path) -> Plan:
    """Give the plan that the small garden's notebook keeps."""
    return kept_plan(planned_once).plan


def planting_of(plan: Plan, kind: str) -> Planting:
    """Give the first planting of a kind in a plan."""
    return next(planting for planting in plan.plantings if planting.kind.startswith(kind))


def address(planting: Planting) -> str:
    """Give the address of a planting's page."""
    return f"/year/{quote(planting.id)}"


def words(html: str) -> str:
    """Give the words of a page."""
    return unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html)))


def settle(visit: TestClient, planting: Planting, choice: str, value: str = "") -> str:
    """Settle something about a planting by its form, and give the page that comes of it."""
    seen = re.search(r'name="seen" value="([^"]+)"', visit.get(address(planting)).text)
    assert seen is not None
    typed = {"seen": seen.group(1), "choice": choice, "value": value}
    return visit.post(f"{address(planting)}/settle", data=typed).text


def pins(notebook: Path) -> list[dict[str, object]]:
    """Give what a notebook holds as settled by hand."""
    return [dict(pin) for pin in parts_of(notebook)["pin"]]


def test_the_year_says_how_good_its_plan_is_and_draws_every_bed(
    visit: TestClient, plan: Plan
) -> None:
    """The head says of which day the plan is and how close to the best; every bed has its strip,
    and every planting stands in the table behind the strips.
    """
    text = visit.get("/year").text
    told = words(text)
    assert "Plan of 1 Feb 2027: audit passed; within" in told
    assert "Leaving out the appetite that no plan could meet" in told
    assert text.count('class="strip bed') == 2
    for planting in plan.plantings:
        assert text.count(f'href="/year/{quote(planting.id)}"') >= 1


def test_without_a_plan_the_year_offers_to_make_one(door: Door, unplanned: Path) -> None:
    """A garden without a plan shows no empty chart, but the button that makes a plan."""
    text = door(unplanned).get("/year").text
    assert "Make a plan" in text
    assert 'class="strips' not in text


def test_an_opened_planting_shows_its_sum_and_what_bound_it(visit: TestClient, plan: Plan) -> None:
    """Opened beneath its bed stand the sum that sized a planting, what it serves, and what held it
    at its size, in the plan's own words.
    """
    planting = planting_of(plan, "garlic")
    told = words(visit.get(address(planting)).text)
    assert all(line in told for line in planting.sum)
    assert planting.bounds[0].sentence[1:] in told
    assert "8 years in 10 between" in told
    assert all(head in told for head in ("The sum", "What it serves", "What bound it"))


def test_a_planting_that_is_not_there_is_said_with_the_near_ones(visit: TestClient) -> None:
    """An address of no planting answers that there is none, and names those there are."""
    answer = visit.get("/year/garlik-1")
    assert answer.status_code == 404
    assert "garlic-1" in answer.text
    hostile = visit.get("/year/" + quote('<b>"x"'))
    assert hostile.status_code == 404
    assert "<b>" not in hostile.text.split("<main", 1)[1]


def test_keeping_a_planting_writes_it_down_as_it_is(
    visit: TestClient, plan: Plan, planned: Path
) -> None:
    """Kept as it is, a planting is kept in its bed and week, on its ground, by its method."""
    planting = planting_of(plan, "garlic")
    told = words(settle(visit, planting, "keep"))
    assert "Settled." in told
    assert "Plan again around it" in told
    (pin,) = pins(planned)
    assert (pin["rule"], pin["kind"], pin["bed"]) == ("keep", planting.kind, planting.bed)
    assert (pin["method"], pin["week"]) == (planting.method, planting.sow_on)
    assert float(str(pin["area"]).removesuffix(" m2")) == pytest.approx(planting.area_m2, abs=1e-6)


def test_choosing_again_takes_the_place_of_what_was_chosen(
    visit: TestClient, plan: Plan, planned: Path
) -> None:
    """Whoever keeps a planting, then wants it out of its bed, then nowhere, has settled one thing
    in the end, not three.
    """
    planting = planting_of(plan, "onion")
    settle(visit, planting, "keep")
    settle(visit, planting, "not-here")
    assert pins(planned) == [{"rule": "forbid", "kind": planting.kind, "bed": planting.bed}]
    settle(visit, planting, "keep")
    assert [pin["rule"] for pin in pins(planned)] == ["keep"]
    settle(visit, planting, "not-at-all")
    assert pins(planned) == [{"rule": "forbid", "kind": planting.kind}]


def test_an_area_may_be_typed_in_any_unit_and_one_that_cannot_be_read_is_told(
    visit: TestClient, plan: Plan, planned: Path
) -> None:
    """Ground may be typed in square feet; what is no area is told beside the field, kept as typed,
    and nothing is written.
    """
    planting = planting_of(plan, "onion")
    page = settle(visit, planting, "area", "about <so> much")
    assert 'aria-invalid="true"' in page
    assert "about &lt;so&gt; much" in page
    assert pins(planned) == []
    settle(visit, planting, "area", "20 sq ft")
    (pin,) = pins(planned)
    assert pin["area"] == "20 sq ft"
    assert "1.86 m²" in words(visit.get("/year").text)


def test_moving_to_another_week_forbids_the_old_and_keeps_the_new(
    visit: TestClient, plan: Plan, planned: Path
) -> None:
    """A planting moved in time may not be sown in its old week, and is in the one chosen."""
    planting = planting_of(plan, "onion")
    page = visit.get(address(planting)).text
    choices = re.search(r'<select id="week".*?</select>', page, re.DOTALL)
    assert choices is not None
    week = re.findall(r'value="(\d{4}-\d\d-\d\d)"', choices.group())[-1]
    settle(visit, planting, "week", week)
    forbids, keeps = pins(planned)
    assert (forbids["rule"], forbids["week"]) == ("forbid", planting.sow_on)
    assert (keeps["rule"], str(keeps["week"])) == ("keep", week)
    assert keeps["bed"] == planting.bed
    settle(visit, planting, "keep")
    assert [(pin["rule"], pin["week"]) for pin in pins(planned)] == [("keep", planting.sow_on)]


def test_a_bed_that_cannot_take_a_planting_is_named_with_the_reason(
    visit: TestClient, plan: Plan, planned: Path
) -> None:
    """South had white rot, which keeps onions off it for years: it is not offered, and why stands
    beside it; whoever asks for it all the same is refused.
    """
    planting = planting_of(plan, "onion")
    assert planting.bed == "north"
    told = words(visit.get(address(planting)).text)
    assert re.search(r"South is closed to the onion family until \d{4}\.", told)
    assert "not among the choices" in settle(visit, planting, "bed", "south")
    assert pins(planned) == []


def test_moving_to_another_bed_keeps_it_there(visit: TestClient, plan: Plan, planned: Path) -> None:
    """A planting moved to another bed is forbidden in the old and kept in the new, in its week."""
    planting = planting_of(plan, "french bean")
    other = {"north": "south", "south": "north"}[planting.bed]
    settle(visit, planting, "bed", other)
    forbids, keeps = pins(planned)
    assert (forbids["bed"], keeps["bed"]) == (planting.bed, other)
    assert forbids["week"] == keeps["week"] == planting.sow_on


@pytest.mark.parametrize(
    ("choice", "value"), [("", ""), ("sell", ""), ("week", "2031-01-01"), ("bed", "<b>")]
)
def test_what_is_not_on_offer_is_not_settled(
    visit: TestClient, plan: Plan, planned: Path, choice: str, value: str
) -> None:
    """A choice that no form offers is refused in words, and nothing is written."""
    planting = planting_of(plan, "garlic")
    page = settle(visit, planting, choice, value)
    assert "not among the choices" in page
    assert "<b>" not in page.split("<main", 1)[1]
    assert pins(planned) == []


def test_everything_settled_is_listed_and_can_be_let_go(
    visit: TestClient, plan: Plan, planned: Path
) -> None:
    """What is settled by hand stands in one list; a button by each lets it go, once."""
    settle(visit, planting_of(plan, "garlic"), "keep")
    text = visit.get("/year").text
    marks = re.findall(r'name="seen" value="([^"]+)"', text)
    assert len(marks) == 1
    assert "Let go" in visit.post("/year/let-go", data={"seen": marks[0]}).text
    assert pins(planned) == []
    again = visit.post("/year/let-go", data={"seen": marks[0]})
    assert again.status_code == 409
    assert "another window" in again.text


def test_two_windows_do_not_settle_one_planting_unseen(
    visit: TestClient, plan: Plan, planned: Path
) -> None:
    """Where a planting was settled in another window, the older window's choice is not written."""
    planting = planting_of(plan, "garlic")
    page = visit.get(address(planting)).text
    seen = re.search(r'name="seen" value="([^"]+)"', page)
    assert seen is not None
    settle(visit, planting, "keep")
    late = {"seen": seen.group(1), "choice": "not-here", "value": ""}
    assert visit.post(f"{address(planting)}/settle", data=late).status_code == 409
    assert [pin["rule"] for pin in pins(planned)] == ["keep"]


def test_a_garden_changed_since_is_said_beside_the_button(
    visit: TestClient, plan: Plan, planned: Path
) -> None:
    """What was settled after a plan was made is not in it; beside the button the page says so."""
    assert "has changed since this plan was made" not in visit.get("/year").text
    pin = {"rule": "forbid", "kind": planting_of(plan, "garlic").kind}
    change_garden(planned, [Change("pin", "", pin)], NOW)
    text = visit.get("/year").text
    assert "has changed since this plan was made" in text
    assert text.index("has changed since") < text.index('action="/planning"')


def test_names_are_written_as_names_whatever_they_hold(
    visit: TestClient, plan: Plan, planned: Path
) -> None:
    """A bed called <b>"x" is shown so, and makes nothing bold."""
    (north, _) = parts_of(planned)["bed"]
    named = {**north, "name": '<b>"x"'}
    from_before = visit.get("/year").text
    assert "North" in from_before
    seen = Change("bed", mark_of(north), named)
    change_garden(planned, [seen], NOW)
    text = visit.get(address(planting_of(plan, "onion"))).text
    assert "<b>" not in text
    assert "&lt;b&gt;" in text


def test_so_much_of_a_crop_is_settled_and_stands_in_the_list(
    visit: TestClient, planned: Path
) -> None:
    """A form settles three square metres of garlic at least; the list says it, and it can go."""
    typed = {"rule": "at least", "what": "garlic", "area": "3 m2", "beds": "north", "year": "2027"}
    told = words(visit.post("/year/by-hand", data=typed).text)
    assert pins(planned)[-1] == {
        "rule": "at least", "crop": "garlic", "area": "3 m2", "bed": "north", "year": 2027
    }  # fmt: skip
    assert "Garlic at least North in 2027 in any way 3 m²" in told
    visit.post("/year/let-go", data={"seen": mark_of(pins(planned)[-1])})
    assert pins(planned) == []


def test_some_beds_alone_and_apart_are_settled_by_forms(visit: TestClient, planned: Path) -> None:
    """Two ticked beds are two beds; what is kept apart is listed with what it is kept from."""
    visit.post("/year/by-hand", data={"rule": "only in", "what": "leek", "beds": ["north"]})
    both = {"rule": "apart", "what": "onion", "apart_from": "leek"}
    told = words(visit.post("/year/by-hand", data=both).text)
    assert pins(planned) == [
        {"rule": "only in", "crop": "leek", "beds": "north"},
        {"rule": "apart", "crop": "onion", "apart_from": "leek"},
    ]
    assert "Onion never in one bed with leek at one time" in told
    assert "Leek there alone North" in told


def test_a_rule_that_lacks_something_is_told_and_nothing_is_written(
    visit: TestClient, planned: Path
) -> None:
    """At least without an area is refused, and what was typed stands in the form still."""
    typed = {"rule": "at least", "what": "leek", "area": "", "year": "2028"}
    answer = visit.post("/year/by-hand", data=typed)
    assert answer.status_code == 422
    assert "at least how much is not said." in words(answer.text)
    assert 'value="2028"' in answer.text
    assert pins(planned) == []


def test_what_became_of_a_planting_is_noted_by_its_form_and_taken_back(
    visit: TestClient, planned: Path, plan: Plan
) -> None:
    """A failure noted on a planting's page stands there, marks the plan as old, and can go."""
    onion = planting_of(plan, "onion")
    typed = {"what": "failed", "on": onion.sow_on.isoformat(), "days": "", "share": ""}
    told = words(visit.post(f"{address(onion)}/note", data=typed).text)
    assert "failed, seen on" in told
    assert "Plan again from there" in told
    (part,) = parts_of(planned)["noted"]
    assert (part["kind"], part["bed"], part["what"]) == (onion.kind, onion.bed, "failed")
    assert "The garden has changed since this plan was made" in words(visit.get("/year").text)
    visit.post("/year/take-back", data={"seen": mark_of(part)})
    assert parts_of(planned)["noted"] == ()


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"what": "late", "on": "2027-06-01", "days": "", "share": ""}, "late needs them"),
        ({"what": "failed", "on": "midsummer", "days": "", "share": ""}, "no day of the calendar"),
    ],
)
def test_a_note_that_lacks_something_is_told_on_the_page(
    visit: TestClient, planned: Path, plan: Plan, typed: dict[str, str], said: str
) -> None:
    """What is wrong with a note is said on the planting's page, and nothing is written."""
    answer = visit.post(f"{address(planting_of(plan, 'onion'))}/note", data=typed)
    assert answer.status_code == 422
    assert said in words(answer.text)
    assert parts_of(planned)["noted"] == ()
