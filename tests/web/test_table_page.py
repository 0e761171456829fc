"""The Table page: what is eaten, changed line by line."""

import re
from collections.abc import Callable
from html import unescape
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from gardens import small_garden
from haulm.desk.garden.editing import parts_of
from haulm.desk.garden.exchange import import_garden

Door = Callable[[Path], TestClient]


def seen_in(html: str, line: str) -> str:
    """Give the mark with which a line of the table is shown."""
    found = re.search(
        rf'action="/table/{re.escape(line)}".*?name="seen" value="(\w+)"', html, re.DOTALL
    )
    assert found is not None
    return found[1]


def row_of(html: str, line: str) -> str:
    """Give a line's row as plain words."""
    found = re.search(rf'<tr id="line-{re.escape(line)}".*?</tr>', html, re.DOTALL)
    assert found is not None
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", found[0])).split())


def set_week(visit: TestClient, line: str, week: str, step: str = "") -> str:
    """Type what is eaten in a week into a line's row, or press a step; give the page after."""
    seen = seen_in(visit.get("/table").text, line)
    sent = {"do": "week", "seen": seen, "week": week} | ({"step": step} if step else {})
    return visit.post(f"/table/{line}", data=sent).text


def table(notebook: Path) -> dict[object, dict[str, object]]:
    """Give the lines of a notebook's table by their first food."""
    return {str(part["eat"]): dict(part) for part in parts_of(notebook)["table"]}


def whole_line(**more: str) -> dict[str, str]:
    """Give every field of a line's form as it is sent, the garlic's where not told otherwise."""
    fields = ("name", "portions", "grow_share", "first_day", "first_month", "last_day")
    typed = dict.fromkeys((*fields, "last_month"), "")
    return typed | {
        "do": "save",
        "eat": "garlic",
        "amount": "0.1 kg",
        "wanted": "either",
        "priority": "4",
        **more,
    }


def test_each_line_shows_its_year_and_what_it_would_take(visit: TestClient) -> None:
    """Beside a line stand its helpings, weeks, kilograms, and plants, ground and hours."""
    page = visit.get("/table")
    assert page.status_code == 200
    row = row_of(page.text, "onion")
    for words in ("Onion", "100 g each", "5 bulbs", "52 weeks", "26 kg", "plants", "m²", "hours"):
        assert words in row


def test_lines_stand_by_family(visit: TestClient) -> None:
    """Lines are grouped by the family of their first food, each family named once."""
    html = visit.get("/table").text
    assert re.findall(r'class="group">([^<]+)<', html) == ["onion family", "bean family"]


def test_the_totals_add_up_what_can_be_added(visit: TestClient) -> None:
    """Kilograms, ground and hours are added up; plants of different kinds are not."""
    html = visit.get("/table").text
    assert "Plants of different kinds are not added up" in html
    foot = re.search(r"<tfoot>.*</tfoot>", html, re.DOTALL)
    assert foot is not None
    assert "plants" not in foot[0]


def test_a_step_up_writes_the_next_helping(visit: TestClient, planned: Path) -> None:
    """Five helpings of onion and one more are six, written by weight as the line was told."""
    html = set_week(visit, "onion", "5", "1")
    assert 'value="6"' in html
    assert table(planned)["onion"]["amount"] == "600 g"


def test_more_on_the_table_takes_more_ground(visit: TestClient) -> None:
    """With twice the onions, twice the ground stands beside them at once."""
    before = row_of(visit.get("/table").text, "onion")
    after = row_of(set_week(visit, "onion", "10"), "onion")
    areas = [float(re.findall(r"([\d.]+) m²", row)[0]) for row in (before, after)]
    assert areas[1] == pytest.approx(2 * areas[0], abs=0.1)


@pytest.mark.parametrize(
    ("typed", "amount"),
    [("7", "700 g"), ("3 bulbs", "300 g"), ("1,5 kg", "1.5 kg"), ("2 lb", "907.2 g")],
)
def test_a_week_is_typed_in_any_measure(
    visit: TestClient, planned: Path, typed: str, amount: str
) -> None:
    """Helpings, the food's own pieces or any weight may be typed."""
    set_week(visit, "onion", typed)
    assert table(planned)["onion"]["amount"] == amount


@pytest.mark.parametrize("typed", ["three", "-2", "", "0", "4 furlongs", "1e9", "<b>2</b>"])
def test_a_bad_amount_is_kept_and_told_beside_its_field(
    visit: TestClient, planned: Path, typed: str
) -> None:
    """What cannot be read as an amount is not written, and the reason stands at the field."""
    before = parts_of(planned)["table"]
    html = set_week(visit, "leek", typed)
    assert 'id="week-leek-said"' in html
    assert "<b>2</b>" not in html
    assert parts_of(planned)["table"] == before
    if typed == "three":
        assert 'value="three"' in html
        assert "“three” is no amount." in html


def test_two_windows_on_one_line_do_not_overwrite_each_other(
    visit: TestClient, planned: Path
) -> None:
    """A change to a line that was changed meanwhile is not written, and that is said."""
    seen = seen_in(visit.get("/table").text, "onion")
    visit.post("/table/onion", data={"do": "week", "seen": seen, "week": "8"})
    second = visit.post("/table/onion", data={"do": "week", "seen": seen, "week": "3"})
    assert second.status_code == 409
    assert "changed in another window" in second.text
    assert table(planned)["onion"]["amount"] == "800 g"


def test_two_windows_on_different_lines_both_succeed(visit: TestClient, planned: Path) -> None:
    """Changes to two lines from pages opened at the same time are both written."""
    html = visit.get("/table").text
    for line, week in (("onion", "8"), ("leek", "3")):
        sent = {"do": "week", "seen": seen_in(html, line), "week": week}
        assert visit.post(f"/table/{line}", data=sent).status_code == 200
    assert table(planned)["onion"]["amount"] == "800 g"
    assert table(planned)["leek"]["amount"] == "600 g"


def test_a_plan_for_another_table_is_said_to_be_one(visit: TestClient) -> None:
    """After a change the plan's figures are told to be for what was wanted before."""
    assert "made for another table" not in visit.get("/table").text
    html = set_week(visit, "onion", "10")
    assert "made for another table" in html
    assert "planned for 26 kg" in row_of(html, "onion")


def test_without_a_plan_the_table_still_says_what_it_would_take(
    door: Door, unplanned: Path
) -> None:
    """Plants, ground and hours need no plan; what only a plan can say is not shown."""
    html = door(unplanned).get("/table").text
    assert "plants" in row_of(html, "onion")
    assert "fresh kg" not in html
    assert "Make a plan" in html


def test_a_food_is_added_by_its_name(visit: TestClient, planned: Path) -> None:
    """A food of the catalogue and an amount make a line."""
    page = visit.post("/table", data={"food": "Carrot", "week": "4 carrots"})
    assert "carrot is on the table" in page.text
    assert table(planned)["carrot"]["amount"] == "200 g"


def test_an_unknown_food_is_answered_with_near_names(visit: TestClient) -> None:
    """A mistyped food is kept, and the foods it may have meant are named."""
    page = visit.post("/table", data={"food": "carott", "week": "4"})
    assert page.status_code == 422
    assert "haulm knows no food “carott”" in page.text
    assert "carrot" in page.text
    assert 'value="carott"' in page.text


def test_a_food_twice_is_refused(visit: TestClient) -> None:
    """A second line of the same name is refused with the reason."""
    page = visit.post("/table", data={"food": "garlic", "week": "4"})
    assert page.status_code == 422
    assert 'value="garlic"' in page.text


def test_a_line_opens_with_its_whole_sum_and_cautions(visit: TestClient) -> None:
    """An opened line shows every step from table to stock, and the food's cautions."""
    html = visit.get("/table/garlic").text
    for words in ("wanted in a year, as lifted", "ground: kilograms / yield", "to start: plants"):
        assert words in html
    assert "Garlic in oil" in html


def test_an_opened_line_is_changed_in_every_key(visit: TestClient, planned: Path) -> None:
    """Foods, name, portions, season, state, priority and share are written as typed."""
    seen = seen_in(visit.get("/table/leek").text, "leek")
    sent = whole_line(
        seen=seen,
        eat="leek",
        name="winter leeks",
        amount="",
        portions="2",
        first_day="15",
        first_month="10",
        last_day="01",
        last_month="03",
        wanted="fresh",
        priority="5",
        grow_share="80 %",
    )
    assert visit.post("/table/leek", data=sent).status_code == 200
    line = table(planned)["leek"]
    assert line.pop("eat") in ("leek", ["leek"])
    assert line == {
        "name": "winter leeks",
        "portions": 2,
        "from": "10-15",
        "to": "03-01",
        "wanted": "fresh",
        "priority": 5,
        "grow_share": "80 %",
    }


def test_several_foods_may_stand_in_for_one_another(visit: TestClient, planned: Path) -> None:
    """More than one food on a line are all kept; emptied fields fall away."""
    seen = seen_in(visit.get("/table/garlic").text, "garlic")
    sent: dict[str, str | list[str]] = {**whole_line(seen=seen)}
    sent["eat"] = ["garlic", "green garlic", ""]
    assert visit.post("/table/garlic", data=sent).status_code == 200
    assert list(parts_of(planned)["table"][0]["eat"]) == ["garlic", "green garlic"]


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("eat", "garlick", "haulm knows no food “garlick”"),
        ("amount", "three", "“three” is no amount."),
        ("portions", "2", "both an amount and portions"),
        ("grow_share", "most", "“most” is no share"),
        ("priority", "9", "9 is no priority"),
        ("first_month", "02", "is no day of the year"),
    ],
)
def test_each_fault_of_a_line_stands_at_its_field(
    visit: TestClient, planned: Path, field: str, typed: str, words: str
) -> None:
    """What is wrong is said, nothing is written, and what was typed is kept."""
    before = parts_of(planned)["table"]
    seen = seen_in(visit.get("/table/garlic").text, "garlic")
    page = visit.post("/table/garlic", data=whole_line(seen=seen, **{field: typed}))
    assert page.status_code == 422
    assert words in page.text
    assert 'aria-invalid="true"' in page.text
    assert parts_of(planned)["table"] == before
    if field in {"eat", "amount", "portions", "grow_share"}:
        assert f'value="{typed}"' in page.text


def test_an_opened_line_changed_elsewhere_keeps_what_was_typed(visit: TestClient) -> None:
    """A stale form is not written; what it held stands ready to be saved again."""
    seen = seen_in(visit.get("/table/garlic").text, "garlic")
    visit.post("/table/garlic", data=whole_line(seen=seen, amount="0.2 kg"))
    stale = visit.post("/table/garlic", data=whole_line(seen=seen, amount="0.7 kg"))
    assert stale.status_code == 409
    assert 'value="0.7 kg"' in stale.text
    assert "0.2 kg" in stale.text


def test_a_line_is_taken_off_and_brought_back(visit: TestClient, planned: Path) -> None:
    """A line taken off the table comes back when the change is taken back."""
    seen = seen_in(visit.get("/table/leek").text, "leek")
    visit.post("/table/leek", data={"do": "remove", "seen": seen})
    assert "leek" not in table(planned)
    visit.post("/undo", data={"back": "/table"})
    assert "leek" in table(planned)


def test_names_are_never_taken_for_marks_of_the_page(visit: TestClient) -> None:
    """A line called like a piece of HTML is shown letter by letter."""
    seen = seen_in(visit.get("/table/garlic").text, "garlic")
    visit.post("/table/garlic", data=whole_line(seen=seen, name='<b>"x"</b>'))
    html = visit.get("/table").text
    assert "<b>" not in html
    assert "&lt;b&gt;" in html


@pytest.mark.parametrize("address", ["/table/nothing", "/table/..%2Fx", "/table/%00"])
def test_a_line_that_is_not_there_is_said_not_to_be(visit: TestClient, address: str) -> None:
    """An unknown line has no page."""
    assert visit.get(address).status_code == 404


def test_the_figures_follow_the_readers_decimal_mark(visit: TestClient) -> None:
    """One who reads decimal commas finds them in the table, and may type them."""
    visit.cookies.set("reading", "comma.day")
    assert re.search(r"\d,\d", row_of(visit.get("/table").text, "garlic"))
    assert 'value="2,5"' in set_week(visit, "leek", "2,5")


def test_pounds_stand_in_the_columns_of_a_us_garden(door: Door, tmp_path: Path) -> None:
    """A garden in US units shows pounds and square feet in its columns."""
    toml = small_garden(tmp_path, ("invented = true", 'invented = true\nunits = "us"'))
    html = door(import_garden(toml, tmp_path / "us.haulm")[0]).get("/table").text
    assert "lb a year" in html
    assert "ground sq ft" in html


def household_form(visit: TestClient, form: str) -> str:
    """Give the mark with which a form of the household is shown."""
    html = visit.get("/table-household").text
    found = re.search(rf'<form id="{form}".*?name="seen" value="(\w*)"', html, re.DOTALL)
    assert found is not None
    return found[1]


def test_an_eater_is_added_changed_and_taken_out(visit: TestClient, planned: Path) -> None:
    """Who eats is written down by name, with an age or portions."""
    form = {"part": "eater", "form": "eater-new", "seen": "", "name": "Nele", "age": "7"}
    visit.post("/table-household", data=form)
    assert [e["name"] for e in parts_of(planned)["eater"]] == ["Ines", "Pau", "Nele"]
    seen = household_form(visit, "eater-3")
    changed = {"part": "eater", "form": "eater-3", "seen": seen, "name": "Nele", "portions": "0,5"}
    visit.post("/table-household", data=changed)
    assert parts_of(planned)["eater"][2] == {"name": "Nele", "portions": 0.5}
    seen = household_form(visit, "eater-3")
    visit.post("/table-household", data={"part": "eater", "seen": seen, "do": "remove"})
    assert len(parts_of(planned)["eater"]) == 2


def test_an_eater_without_age_or_portions_is_asked_for_one(visit: TestClient) -> None:
    """A name alone does not say how much is eaten."""
    form = {"part": "eater", "form": "eater-new", "seen": "", "name": "Nele"}
    page = visit.post("/table-household", data=form)
    assert page.status_code == 422
    assert "neither an age nor portions" in page.text
    assert 'value="Nele"' in page.text


def test_days_away_that_end_before_they_begin_are_refused(visit: TestClient) -> None:
    """The earlier day comes first."""
    form = {"part": "away", "form": "away-new", "seen": "", "from": "2027-08-02"}
    page = visit.post("/table-household", data=form | {"to": "2027-07-02", "who": "Pau"})
    assert page.status_code == 422
    assert "before it begins" in page.text
    assert 'value="Pau" checked' in page.text


def test_hours_are_told_by_month(visit: TestClient, planned: Path) -> None:
    """Twelve figures take the place of one for every week."""
    months = {f"month_{number}": str(number + 1) for number in range(12)}
    form = {"part": "hours", "form": "hours", "seen": household_form(visit, "hours")}
    visit.post("/table-household", data=form | {"every_week": ""} | months)
    assert list(parts_of(planned)["hours"][0]["by_month"]) == list(range(1, 13))


def test_the_hours_typed_last_take_the_place_of_those_that_stood_there(
    visit: TestClient, planned: Path
) -> None:
    """Where hours stand by month, one figure for every week is enough; both typed anew is asked."""
    months = {f"month_{number}": str(number + 1) for number in range(12)}
    form = {"part": "hours", "form": "hours"}
    seen = {"seen": household_form(visit, "hours")}
    visit.post("/table-household", data=form | seen | {"every_week": ""} | months)
    seen = {"seen": household_form(visit, "hours")}
    both = {"every_week": "3"} | months | {"month_0": "9"}
    assert visit.post("/table-household", data=form | seen | both).status_code == 422
    visit.post("/table-household", data=form | seen | {"every_week": "3"} | months)
    assert parts_of(planned)["hours"][0] == {"every_week": 3}


def test_a_month_left_empty_is_not_taken_for_none(visit: TestClient, planned: Path) -> None:
    """Where some months have hours and one has nothing written, it is asked for."""
    months = {f"month_{number}": "5" for number in range(11)} | {"month_11": ""}
    form = {"part": "hours", "form": "hours", "seen": household_form(visit, "hours")}
    page = visit.post("/table-household", data=form | {"every_week": ""} | months)
    assert page.status_code == 422
    assert parts_of(planned)["hours"][0] == {"every_week": 8}


def test_the_table_says_what_part_of_the_need_the_garden_grows(visit: TestClient) -> None:
    """With a plan the page gives the share of energy and vitamins, month by month, what is left out
    of it and where the figures are from.
    """
    text = unescape(visit.get("/table").text)
    assert "What part of the household's need the garden grows" in text
    assert re.search(r"\d+ % of the energy, \d+ % of the protein", text)
    assert "cooking take away is not counted" in text
    assert "FoodData Central" in text


def test_without_a_plan_no_part_of_the_need_is_told(door: Door, unplanned: Path) -> None:
    """Before there is a plan nothing is grown that could be counted."""
    assert "household's need" not in unescape(door(unplanned).get("/table").text)
