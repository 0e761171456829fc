"""The larder's books on their page: lots, seed locked, this week's limits, the printed strip."""

from datetime import UTC, datetime
from pathlib import Path

from starlette.testclient import TestClient

from haulm.desk.season.diary import write_entry
from haulm.desk.season.diary_typed import TypedEntry, Written
from web.conftest import DAY, Door

AT = datetime(2027, 2, 1, 12, tzinfo=UTC)
PANTRY = {"food": "garlic", "store": "pantry", "form": "cured"}
KIND = {"crop_kind": "garlic/hard-necked"}


def write(path: Path, number: int, kind: str, day: str, **said: str) -> None:
    """Write an entry into a notebook."""
    write_entry(path, TypedEntry(kind, day, **said), Written(f"e{number}", AT, "l"), DAY)


def test_an_empty_larder_says_what_to_do(door: Door, unplanned: Path) -> None:
    """Where nothing lies in store the page says where to tell what does."""
    assert "Nothing lies in store" in door(unplanned).get("/larder/books").text


def test_the_larder_leads_to_its_books(visit: TestClient) -> None:
    """From the Larder it is one press to the books."""
    assert 'href="/larder/books"' in visit.get("/larder").text


def test_a_lot_is_told_with_its_limit_and_its_count(door: Door, planned: Path) -> None:
    """Garlic put by and counted is on the page with this week's bulbs and what was found."""
    write(planned, 1, "put by", "2026-08-20", amount="6 kg", **PANTRY, **KIND)
    write(planned, 2, "counted", "2027-01-10", lot="e1", sound="3 kg", soft="0.2 kg")
    text = door(planned).get("/larder/books").text
    assert "Eat this week" in text
    assert "3 kg sound on 10 Jan 2027, 200 g soft or sprouted" in text
    assert "bulb" in text
    assert "%(" not in text


def test_seed_is_told_to_be_none_of_the_kitchens(door: Door, planned: Path) -> None:
    """Garlic to plant stands in the list, is not for the kitchen, and is on no strip."""
    write(planned, 1, "put by", "2026-08-20", amount="2 kg", purpose="plant", **PANTRY, **KIND)
    text = door(planned).get("/larder/books").text
    assert "not for the kitchen" in text
    assert '<ol class="strip">\n</ol>' in text


def test_many_lots_are_told_food_by_food(door: Door, planned: Path) -> None:
    """Nine lots of garlic are one line with their sum until it is opened; some seed among them is
    told there. A single lot stands open.
    """
    write(planned, 1, "put by", "2026-08-20", amount="1 kg", **PANTRY, **KIND)
    one = door(planned).get("/larder/books").text
    assert '<details class="of-food" open>' in one
    assert "put by 20 Aug 2026" in one
    assert "not all for the kitchen" not in one
    for number in range(2, 10):
        purpose = "plant" if number == 9 else "eat"
        told = {"amount": "1 kg", "purpose": purpose} | PANTRY | KIND
        write(planned, number, "put by", f"2026-08-{20 + number}", **told)
    many = door(planned).get("/larder/books").text
    assert '<details class="of-food">' in many
    assert "9 lots, the oldest of 20 Aug 2026" in many
    assert "not all for the kitchen" in many


def test_eaten_seed_is_told_first(door: Door, planned: Path) -> None:
    """Who ate of the seed reads so at the head of the page."""
    write(planned, 1, "put by", "2026-08-20", amount="2 kg", purpose="plant", **PANTRY, **KIND)
    write(planned, 2, "eaten", "2027-01-10", lot="e1", amount="0.4 kg")
    text = door(planned).get("/larder/books").text
    assert "you have eaten" in text
    assert text.index("you have eaten") < text.index("Lot by lot")


def test_the_strip_is_printed_on_the_paper_asked_for(door: Door, planned: Path) -> None:
    """The strip comes as a PDF, on A4 or on Letter."""
    write(planned, 1, "put by", "2026-08-20", amount="6 kg", **PANTRY, **KIND)
    visit = door(planned)
    a4 = visit.get("/larder/strip.pdf?paper=a4")
    letter = visit.get("/larder/strip.pdf?paper=letter")
    assert a4.headers["content-type"] == "application/pdf"
    assert a4.content[:4] == letter.content[:4] == b"%PDF"
    assert a4.content != letter.content


def test_what_hangs_is_held_against_the_racks(door: Door, planned: Path) -> None:
    """Five kilograms hang and no rack is told: so it says, and leads to where it is told."""
    write(planned, 1, "cured", "2027-01-10", amount="5 kg", food="garlic", **KIND)
    text = door(planned).get("/larder/books").text
    assert "nobody has told how much rack there is" in text
    assert "Tell how much rack there is" in text
    assert "%(" not in text


def test_racks_are_told_with_a_store_and_then_reckoned_with(door: Door, planned: Path) -> None:
    """Racks typed on Larder are written down, and the books say what they lack."""
    write(planned, 1, "cured", "2027-01-10", amount="30 kg", food="garlic", **KIND)
    visit = door(planned)
    form = {"part": "store", "which": "store-new", "seen": "", "name": "Loft", "kind": "shelf"}
    told = visit.post("/larder", data=form | {"racks": "2 m2"}, follow_redirects=True)
    assert "racks 2 m2" in told.text
    books = visit.get("/larder/books").text
    assert "0.5 m² of rack lacking" in books
    refused = visit.post("/larder", data=form | {"name": "Barn", "racks": "2 kg"})
    assert refused.status_code == 422


def test_where_the_picking_went_is_told_whole(door: Door, planned: Path) -> None:
    """What of the picking nobody told stands on the page as a part of its sum."""
    write(planned, 1, "picked", "2026-08-19", amount="9 kg", food="garlic")
    write(planned, 2, "put by", "2026-08-20", amount="6 kg", **PANTRY, **KIND)
    text = door(planned).get("/larder/books").text
    assert "Garlic: 9 kg picked = 6 kg put by + 3 kg not told." in text
