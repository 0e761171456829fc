"""The Larder page: what lies in store, when the table runs short, and what would close the gap."""

import re
from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from gardens import small_garden
from haulm.desk.garden.editing import Change, change_garden, mark_of, parts_of
from haulm.desk.garden.exchange import import_garden

AT = datetime(2027, 2, 1, 12, tzinfo=UTC)
Door = Callable[[Path], TestClient]
LOT = {
    "part": "in_store",
    "which": "lot-new",
    "form": "cured",
    "seen": "",
    "food": "garlic",
    "kind": "garlic/soft-necked",
    "place": "pantry",
    "amount": "2 kg",
    "put_by": "2026-08-20",
}
STORE = {"part": "store", "which": "store-new", "seen": "", "name": "Cold frame", "kind": "cellar"}


def seen_in(html: str, form: str) -> str:
    """Give the mark with which a form shows its part."""
    found = re.search(rf'<form id="{form}".*?name="seen" value="(\w*)"', html, re.DOTALL)
    assert found is not None
    return found[1]


def test_the_tide_is_drawn_with_its_figures_behind(visit: TestClient) -> None:
    """The larder tide stands on the page, and the same figures as a table."""
    html = visit.get("/larder").text
    assert "Larder tide of Quill Yard" in html
    assert "eaten fresh, kg" in html


def test_the_tide_of_some_foods_is_drawn_alone(visit: TestClient) -> None:
    """Lines chosen are drawn without the others, and stay marked."""
    html = visit.get("/larder?line=garlic&line=leek").text
    assert "Larder tide: garlic, leek" in html
    assert 'value="garlic" checked' in html
    assert 'value="onion" checked' not in html


def test_a_line_that_is_not_there_changes_nothing(visit: TestClient) -> None:
    """An address that names an unknown line shows all of them."""
    page = visit.get("/larder?line=<script>&weeks=later")
    assert page.status_code == 200
    assert "Larder tide of Quill Yard" in page.text
    assert "<script>&" not in page.text


def test_a_gap_is_dated_weighed_and_told_why(visit: TestClient) -> None:
    """Each hungry gap says how much is short of how much, which lines lack it, and why."""
    html = visit.get("/larder").text
    if "No three weeks on end" in html:
        pytest.skip("the small garden's plan has no gap")
    gaps = re.findall(r'<article class="gap">.*?</article>', html, re.DOTALL)
    assert gaps
    for gap in gaps:
        assert re.search(r"\d+ weeks?; [\d.]+ k?g short of [\d.]+ k?g wanted", gap)
        assert re.search(r"Short [\d.]+ k?g of", gap)


def test_a_gap_that_is_over_is_not_told_any_more(door: Door, planned: Path) -> None:
    """Once its last week has passed nothing would close a gap, and the page is silent of it."""
    gap = re.compile(r'<article class="gap"><h3>([^<]+)')
    at_first = gap.findall(door(planned).get("/larder").text)
    assert at_first
    garden = dict(parts_of(planned)["garden"][0])
    later = garden | {"invented": True, "today": date(2028, 3, 1)}
    change_garden(planned, [Change("garden", mark_of(garden), later)], AT)
    html = door(planned).get("/larder").text
    assert at_first[0] not in gap.findall(html)
    assert "Earlier weeks" in html
    assert "Later weeks" in door(planned).get("/larder?weeks=first").text


def test_what_is_put_by_says_when_it_runs_out(visit: TestClient) -> None:
    """Food put by stands with its store, its weight and the weeks in which it is eaten."""
    html = visit.get("/larder").text
    row = re.search(r'<tr><th scope="row">Garlic</th>.*?</tr>', html, re.DOTALL)
    assert row is not None
    assert "cured" in row[0]
    assert re.search("Shed|Pantry", row[0])
    assert re.search(r"\d{4}", row[0])


def test_food_put_by_carries_its_cautions_and_no_times(visit: TestClient) -> None:
    """Garlic's caution stands on the page with whom to ask; no bottling time is ever given."""
    html = visit.get("/larder").text
    assert "Garlic in oil" in html
    assert "Ask: " in html
    care = html[html.index("Take care when putting by") :]
    assert not re.search(r"\d+ minutes", care)


def test_without_a_plan_the_stores_can_still_be_told(door: Door, unplanned: Path) -> None:
    """A plan is asked for, and what lies in store can be written down before there is one."""
    html = door(unplanned).get("/larder").text
    assert "Make a plan" in html
    assert "Add food that lies in store" in html


def test_food_in_store_is_added_changed_and_taken_out(visit: TestClient, planned: Path) -> None:
    """A lot is written down, changed and taken out; every word as typed."""
    assert visit.post("/larder", data=LOT).status_code == 200
    assert parts_of(planned)["in_store"][0]["amount"] == "2 kg"
    seen = seen_in(visit.get("/larder").text, "lot-1")
    visit.post("/larder", data=LOT | {"which": "lot-1", "seen": seen, "amount": "1,5 kg"})
    assert parts_of(planned)["in_store"][0]["amount"] == "1,5 kg"
    seen = seen_in(visit.get("/larder").text, "lot-1")
    visit.post("/larder", data={"part": "in_store", "seen": seen, "do": "remove"})
    assert parts_of(planned)["in_store"] == ()


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("food", "garlick", "haulm knows no food “garlick”"),
        ("kind", "garlic/purple", "haulm knows no kind"),
        ("amount", "some", "number without a unit|cannot be read|no number|is not known|is wanted"),
        ("put_by", "yesterday", "no day of the calendar"),
        ("place", "attic", "no store “attic”"),
    ],
)
def test_each_fault_of_food_in_store_stands_at_its_field(
    visit: TestClient, planned: Path, field: str, typed: str, words: str
) -> None:
    """What is wrong is said beside its field, nothing is written, what was typed is kept."""
    page = visit.post("/larder", data=LOT | {field: typed})
    assert page.status_code == 422
    assert re.search(words, page.text)
    assert parts_of(planned)["in_store"] == ()


def test_food_kept_in_no_way_haulm_knows_is_told_the_ways(visit: TestClient) -> None:
    """Garlic frozen on a shelf is refused, and the ways in which it keeps are named."""
    page = visit.post("/larder", data=LOT | {"form": "frozen"})
    assert page.status_code == 422
    assert "haulm knows no way to keep garlic frozen" in page.text
    assert "selected>frozen" in page.text


def test_a_store_is_added_and_renamed_without_losing_what_lies_in_it(
    visit: TestClient, planned: Path
) -> None:
    """A new name of a store leaves the food in it where it is."""
    visit.post("/larder", data=LOT)
    seen = seen_in(visit.get("/larder").text, "store-1")
    renamed = STORE | {
        "which": "store-1",
        "seen": seen,
        "name": "Cupboard",
        "kind": "shelf",
        "room": "300 l",
    }
    assert visit.post("/larder", data=renamed).status_code == 200
    store = parts_of(planned)["store"][0]
    assert (store["id"], store["name"], store["room"]) == ("pantry", "Cupboard", "300 l")
    assert parts_of(planned)["in_store"][0]["place"] == "pantry"


def test_a_store_that_holds_food_is_not_taken_out(visit: TestClient, planned: Path) -> None:
    """A store in which food is told to lie stays until that food is taken out."""
    visit.post("/larder", data=LOT)
    seen = seen_in(visit.get("/larder").text, "store-1")
    page = visit.post("/larder", data={"part": "store", "seen": seen, "do": "remove"})
    assert page.status_code == 422
    assert "still named by" in page.text
    assert len(parts_of(planned)["store"]) == 2


def test_a_store_changed_in_two_windows_is_not_overwritten(
    visit: TestClient, planned: Path
) -> None:
    """The second of two changes to one store is not written, and that is said."""
    seen = seen_in(visit.get("/larder").text, "store-1")
    first = STORE | {"which": "store-1", "seen": seen, "name": "Pantry", "kind": "shelf"}
    visit.post("/larder", data=first | {"room": "100 l"})
    stale = visit.post("/larder", data=first | {"room": "900 l"})
    assert stale.status_code == 409
    assert 'value="900 l"' in stale.text
    assert parts_of(planned)["store"][0]["room"] == "100 l"


def test_jars_and_room_are_not_both_told(visit: TestClient) -> None:
    """A store's room is told in litres or in jars, never both."""
    page = visit.post("/larder", data=STORE | {"room": "100 l", "jars": "20"})
    assert page.status_code == 422
    assert 'value="Cold frame"' in page.text


def test_an_infant_at_the_table_brings_its_cautions(door: Door, tmp_path: Path) -> None:
    """With a child under 12 months honey is warned of where preserves are, at the table and where
    eaters are named; without one nowhere.
    """
    grown = door(import_garden(small_garden(tmp_path), tmp_path / "grown.haulm")[0])
    toml = small_garden(tmp_path)
    toml.write_text(toml.read_text(encoding="utf-8").replace("age = 10", "age = 0"))
    young = door(import_garden(toml, tmp_path / "young.haulm")[0])
    for path in ("/larder", "/table", "/table-household"):
        assert "no honey" in young.get(path).text
        assert "no honey" not in grown.get(path).text


def test_the_tide_shows_poor_and_good_years_once_they_were_reckoned(visit: TestClient) -> None:
    """Before anybody asked how sure the plan is, the tide draws the plan alone, and says so; after
    that, the stores of poor, middle and good years, and between which days each has run out.
    """
    before = visit.get("/larder").text
    assert "in a poor year" not in before
    assert "the tide shows poor and good years too" in before
    visit.get("/seasons")
    after = visit.get("/larder").text
    for words in ("in store in a poor year, one in ten", "run out, 8 years in 10"):
        assert words in after
    assert "the tide shows poor and good years too" not in after
