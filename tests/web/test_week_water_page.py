"""Today's water: cans, who can wait, the gauge and the tanks; and what other weeks want."""

from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path

from starlette.testclient import TestClient

from gardens import small_garden
from haulm.desk.garden.exchange import import_garden
from haulm.desk.planning.plans import plan_garden
from haulm.planner.solve import EFFORTS
from haulm.web.app import create_app
from haulm.web.guard import cookie_name
from haulm.web.pages.week_water import cans
from haulm.web.run import hosts_of
from haulm.web.shelf import Shelf
from web.conftest import ORIGIN, PORT, TOKEN

TANK = """[[tank]]
name = "Barn tank"
roof = "200 sq ft"
holds = "300 US gal"

[[bed]]"""


def test_the_week_leads_to_its_water(visit: TestClient) -> None:
    """The week's page names the water of the same week, and its link leads there."""
    text = visit.get("/week").text
    assert 'href="/week/water?of=2027-W05"' in text


def test_a_dry_week_is_told_in_litres_and_cans(visit: TestClient) -> None:
    """A week in July tells each bed's litres, its cans and the spread, with the plain rule."""
    text = visit.get("/week/water", params={"of": "2027-W28"}).text
    for words in ("North", "South", "cans", "8 years in 10 between", "soak the garlic"):
        assert words in text
    assert "%(" not in text


def test_a_wet_week_wants_none(visit: TestClient) -> None:
    """In the first week of the year nothing is wanted, and that is said."""
    assert "No bed is likely to want water" in visit.get("/week/water?of=2028-W01").text


def test_what_it_rests_on_is_told(visit: TestClient) -> None:
    """The page says what was estimated, of today and of the year."""
    for page in ("/week/water", "/week/water?year=yes"):
        assert "wind as 2 m/s" in visit.get(page).text


def test_the_year_tells_who_is_thirsty_first_while_crops_stand(planned: Path) -> None:
    """In July, with crops in the ground, the page of other weeks lists them with their beds."""
    app = create_app(
        Shelf(planned, lambda: date(2027, 7, 5)), TOKEN, PORT, hosts_of("127.0.0.1", PORT)
    )
    with TestClient(app, base_url=ORIGIN, headers={"Origin": ORIGIN}) as july:
        july.cookies.set(cookie_name(PORT), TOKEN)
        page = july.get("/week/water?year=yes")
    assert page.status_code == 200
    assert "Should none be given for two weeks" in page.text
    assert "<td>North</td>" in page.text


def test_a_week_that_is_none_is_not_found(visit: TestClient) -> None:
    """A week that no calendar has leads nowhere."""
    assert visit.get("/week/water", params={"of": "2027-W54"}).status_code == 404


def test_cans_are_rounded_up() -> None:
    """61 litres are seven cans of ten; a few drops are one."""
    assert cans(61.0, 10.0) == "7 cans"
    assert cans(0.6, 10.0) == "1 can"


def test_today_comes_first(visit: TestClient) -> None:
    """The page opens with today: what wants water, or that nothing does, and where rain is from."""
    text = visit.get("/week/water").text
    for words in ("Water today", "Read in the gauge this morning", "When it last rained well"):
        assert words in text
    assert "%(" not in text


def test_a_rule_is_typed_and_stands(visit: TestClient) -> None:
    """A hosepipe rule is typed on its page, shown there, and a wrong one is said at its field."""
    typed = {"part": "water_rule", "form": "rule-new", "seen": "", "name": "Order", "ways": "hose"}
    wrong = visit.post("/week/watering", data=typed | {"hours": "six"})
    assert wrong.status_code == 422
    assert "no hours of a day" in wrong.text
    hours = {"hours": "06:00-09:00, 20:00-22:00", "weekdays": ["tuesday"]}
    told = visit.post("/week/watering", data=typed | hours)
    assert told.status_code == 200
    assert "06:00-09:00, 20:00-22:00" in visit.get("/week/watering").text


def test_a_reading_is_written_from_the_page(visit: TestClient) -> None:
    """The gauge's field writes into the diary and leads back; the page then knows the gauge."""
    day = date(2027, 2, 1).isoformat()
    typed = {"kind": "rained", "day": day, "amount": "4 mm", "back": "/week/water"}
    assert "Read last on" in visit.post("/diary", data=typed).text


def test_a_tank_holds_what_was_typed(tmp_path: Path, door: Callable[[Path], TestClient]) -> None:
    """A tank of 300 US gallons is told as that, not as what is left of it after rounding litres."""
    toml = small_garden(
        tmp_path, ("invented = true", 'invented = true\nunits = "us"'), ("[[bed]]", TANK)
    )
    notebook, _ = import_garden(toml, None, datetime(2027, 2, 1, tzinfo=UTC))
    plan_garden(notebook, date(2027, 2, 1), EFFORTS["quick"], seed=1)
    pages = door(notebook)
    assert "Rain tanks of 300 US gal" in pages.get("/week/water?year=yes").text
    assert "300 US gal: nobody read it" in pages.get("/week/water").text
    card = pages.get("/week/water/card.pdf")
    assert card.content.startswith(b"%PDF")
