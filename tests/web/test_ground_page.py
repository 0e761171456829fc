"""The Ground page without a browser: every form's faults, what is kept, what is said."""

import html
import math
import re
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from haulm.desk.garden.editing import parts_of

Typed = dict[str, str | Sequence[str]]
LEEKS = {
    "stands_seen": [""],
    "stands_kind": ["leek/winter"],
    "stands_method": ["modules"],
    "stands_started": ["2026-06-15"],
    "stands_area": ["2 m2"],
}
L_CORNERS = (
    ("0 m", "0 m"),
    ("5.2 m", "0"),
    ("5.2 m", "2 m"),
    ("2 m", "2 m"),
    ("2 m", "5.6 m"),
    ("0 m", "5.6 m"),
)


def words_of(text: str) -> str:
    """Give a page's text as it is read, without its marks."""
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", text)).split())


def seen_in(text: str) -> str:
    """Give the mark under which a bed's form was shown."""
    found = re.search(r'name="seen" value="([^"]*)"', text)
    assert found
    return found.group(1)


def form_of(visit: TestClient, bed: str, **more: str | Sequence[str]) -> Typed:
    """Give the form of a rectangular bed as it stands, with some of it typed anew."""
    part = next(part for part in beds_in(visit) if part["id"] == bed)
    past = part.get("past", [])
    found = part.get("found", [])
    assert isinstance(past, list)
    assert isinstance(found, list)
    usual: Typed = {
        "seen": seen_in(visit.get(f"/ground/{bed}").text),
        "name": str(part["name"]),
        "way": "rectangle",
        "width": str(part["width"]),
        "length": str(part["length"]),
        "cover": "open",
        "sun": "full",
        "past_crop": [entry["crop"] for entry in past],
        "past_year": [str(entry["year"]) for entry in past],
        "found_disease": [entry["disease"] for entry in found],
        "found_year": [str(entry["year"]) for entry in found],
        "act": "save",
    }
    return usual | more


def beds_in(visit: TestClient) -> tuple[Mapping[str, object], ...]:
    """Give the beds as the notebook holds them."""
    return parts_of(notebook_of(visit))["bed"]


def notebook_of(visit: TestClient) -> Path:
    """Give the notebook that is served."""
    path: Path = visit.app.state.shelf.own  # type: ignore[attr-defined]
    return path


@pytest.fixture
def yard(door: Callable[[Path], TestClient], unplanned: Path) -> TestClient:
    """Give the pages of the small garden without a plan."""
    return door(unplanned)


def test_every_bed_stands_on_the_page_with_its_area_and_the_sum(yard: TestClient) -> None:
    """Two beds of 1.2 m by 6 m are 7.2 m² each and 14.4 m² together."""
    said = words_of(yard.get("/ground").text)
    assert "North 1.2 m × 6 m 7.2 m² Open, full sun" in said
    assert "All ground 2 14.4 m²" in said


def test_closed_ground_is_told_with_both_counts_of_years(yard: TestClient) -> None:
    """White rot closes ground for 4 years by common advice and 20 by published survival."""
    for address in ("/ground", "/ground/south"):
        said = words_of(yard.get(address).text)
        assert (
            "South: no onion family until 2047 (white rot found 2026; common advice 4 years, "
            "published survival 20 or more)." in said
        )


def test_a_soil_test_is_typed_and_told(yard: TestClient) -> None:
    """The pH of a bed is written as typed, what it means for the crops that stand there is said
    with what to take care of in liming, and what is no pH is refused at its field.
    """
    stands = {
        "stands_kind": "kale/curly",
        "stands_method": "modules",
        "stands_started": "2026-06-01",
        "stands_area": "1 m2",
    }
    yard.post("/ground/north", data=form_of(yard, "north", ph="6.1", **stands))
    assert next(part for part in beds_in(yard) if part["id"] == "north")["ph"] == 6.1
    text = yard.get("/ground/north").text
    assert 'value="6.1"' in text
    assert "pH 6.1: for kale 7 or so is wanted" in text
    assert "not quicklime" in text
    yard.post("/ground/north", data=form_of(yard, "north", ph="6.1", name="Upper"))
    assert next(part for part in beds_in(yard) if part["id"] == "north")["ph"] == 6.1
    answer = yard.post("/ground/north", data=form_of(yard, "north", ph="16"))
    assert answer.status_code == 422
    assert "no garden soil has a pH of 16" in answer.text
    yard.post("/ground/north", data=form_of(yard, "north", ph=""))
    assert "ph" not in next(part for part in beds_in(yard) if part["id"] == "north")


def test_a_planned_bed_says_what_stands_there_today(visit: TestClient) -> None:
    """With a plan the page opens as it does without one."""
    assert visit.get("/ground").status_code == 200
    assert visit.get("/ground/north").status_code == 200


def test_an_unknown_bed_has_no_page(yard: TestClient) -> None:
    """A bed that is not there is said not to be there, to reading and to writing."""
    assert yard.get("/ground/nowhere").status_code == 404
    assert yard.post("/ground/nowhere", data={"act": "save"}).status_code == 404


def test_a_size_is_kept_as_it_was_typed(yard: TestClient) -> None:
    """Four feet stay four feet, and are measured as 1.2192 m."""
    answer = yard.post("/ground/north", data=form_of(yard, "north", width="4 ft", name="Top"))
    assert "Top is written." in answer.text
    assert (beds_in(yard)[0]["width"], beds_in(yard)[0]["name"]) == ("4 ft", "Top")
    assert "7.32 m²" in words_of(answer.text)


def test_writing_a_bed_unchanged_changes_nothing(yard: TestClient) -> None:
    """Pressing the button without typing leaves the garden as it was."""
    before = beds_in(yard)
    yard.post("/ground/south", data=form_of(yard, "south"))
    assert beds_in(yard) == before


def test_an_l_shaped_bed_is_added_by_its_corners(yard: TestClient) -> None:
    """An L of 5.2 m by 2 m with a leg of 2 m by 3.6 m is 17.6 m²."""
    east, north = zip(*L_CORNERS, strict=True)
    typed = {
        "name": "Ell",
        "way": "corners",
        "east": list(east),
        "north": ["0 m", "0 m", *north[2:]],
    }
    answer = yard.post(
        "/ground?add=corners", data=typed | {"seen": "", "cover": "open", "sun": "part"}
    )
    assert answer.url.path == "/ground/ell"
    assert "17.6 m²" in words_of(answer.text)
    assert beds_in(yard)[2]["sun"] == "part"


def test_an_l_shaped_bed_is_added_by_walking_round_it(yard: TestClient) -> None:
    """The same L, walked side by side, is the same ground; the last side closes by itself."""
    typed = {
        "name": "Walk",
        "way": "sides",
        "side": ["5.2 m", "2 m", "3,2 m", "360 cm", "2 m"],
        "turn": ["0", "90", "90°", "−90", "90"],
    }
    answer = yard.post(
        "/ground?add=corners", data=typed | {"seen": "", "cover": "open", "sun": "full"}
    )
    assert answer.url.path == "/ground/walk"
    assert "17.6 m²" in words_of(answer.text)
    corners = beds_in(yard)[2]["corners"]
    assert corners == [
        ["0 m", "0 m"],
        ["5.2 m", "0 m"],
        ["5.2 m", "2 m"],
        ["2 m", "2 m"],
        ["2 m", "5.6 m"],
        ["0 m", "5.6 m"],
    ]


def test_a_round_bed_is_added_by_how_far_it_is_across(yard: TestClient) -> None:
    """A bed 2 m across is π m²."""
    typed = {
        "name": "Ring",
        "way": "round",
        "diameter": "2 m",
        "seen": "",
        "cover": "glass",
        "sun": "full",
    }
    answer = yard.post("/ground?add=round", data=typed)
    assert f"{math.pi:.2f} m²" in words_of(answer.text)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"width": "1.2"}, "“1.2” has a number without a unit."),
        ({"width": ""}, "a length"),
        ({"length": "-6 m"}, "the length is -6 m."),
        ({"width": "1 cm", "length": "2 cm"}, "too small for one plant"),
        ({"length": "6 km"}, "too large for a bed"),
        ({"way": "round", "diameter": "0 m"}, "the diameter is 0 m."),
        ({"name": ""}, "the text is empty."),
        ({"cover": "roof"}, "“roof” is not one that haulm knows."),
        (
            {"past_crop": ["onion", "tomat"], "past_year": ["2026", "2025"]},
            "haulm knows no crop “tomat”.",
        ),
        ({"past_crop": ["", "onion"], "past_year": ["", "26"]}, "26 is no year from 1900 to 2200."),
        (
            {"found_disease": ["white rut"], "found_year": ["2026"]},
            "haulm knows no disease “white rut”.",
        ),
        (LEEKS | {"stands_started": [""]}, "is no day of the calendar."),
        (LEEKS | {"stands_kind": ["leek"]}, "haulm knows no kind “leek”."),
        (LEEKS | {"stands_area": ["two"]}, "two"),
    ],
)
def test_a_fault_stands_beside_its_field_and_what_was_typed_is_kept(
    yard: TestClient, typed: Typed, said: str
) -> None:
    """Whatever is wrong is said in words; nothing is written, and every field stands as typed."""
    before = beds_in(yard)
    answer = yard.post("/ground/north", data=form_of(yard, "north", **typed))
    assert answer.status_code == 422
    assert said in words_of(answer.text)
    assert 'aria-invalid="true"' in answer.text
    for texts in typed.values():
        for text in [texts] if isinstance(texts, str) else texts:
            assert (
                not text
                or text == "roof"
                or f'"{text}"' in answer.text
                or f">{text}<" in answer.text
            )
    assert beds_in(yard) == before


@pytest.mark.parametrize(
    ("corners", "said"),
    [
        (
            [("0 m", "0 m"), ("2 m", "2 m"), ("2 m", "0 m"), ("0 m", "2 m")],
            "cross or touch each other",
        ),
        ([("0 m", "0 m"), ("2 m", "2 m")], "ground needs at least 3"),
        ([("0 m", "0 m"), ("2 m", "0 m"), ("2 m", "0 m"), ("0 m", "2 m")], "are the same point"),
        ([("0 m", "0 m"), ("", ""), ("2 m", "x"), ("0 m", "2 m")], "x"),
    ],
)
def test_an_outline_that_is_none_is_refused_in_words(
    yard: TestClient, corners: list[tuple[str, str]], said: str
) -> None:
    """Edges that cross, too few corners, one corner twice: each is refused with its reason."""
    east, north = ([corner[axis] for corner in corners] for axis in (0, 1))
    answer = yard.post(
        "/ground/north", data=form_of(yard, "north", way="corners", east=east, north=north)
    )
    assert answer.status_code == 422
    assert said in words_of(answer.text)
    assert beds_in(yard)[0]["width"] == "1.2 m"


def test_a_walk_that_misses_its_start_by_a_hand_is_refused(yard: TestClient) -> None:
    """Who measures every side and ends 10 cm from the start has measured something amiss."""
    sides = {"side": ["4 m", "2 m", "4 m", "1.9 m"], "turn": ["", "90", "90", "90"]}
    answer = yard.post("/ground/north", data=form_of(yard, "north", way="sides", **sides))
    assert "the walk ends 10 cm from where it began." in words_of(answer.text)


def test_lines_are_added_and_taken_out_without_a_script(yard: TestClient) -> None:
    """A corner is added halfway along its side, or taken out; nothing is written yet."""
    corners = {
        "way": "corners",
        "east": ["0 m", "4 m", "4 m", "0 m"],
        "north": ["0 m", "0 m", "2 m", "2 m"],
    }
    added = yard.post("/ground/north", data=form_of(yard, "north", **corners, act="after-0")).text
    assert re.findall(r'name="east" value="([^"]+)"', added) == ["0 m", "2 m", "4 m", "4 m", "0 m"]
    taken = yard.post("/ground/north", data=form_of(yard, "north", **corners, act="drop-1")).text
    assert re.findall(r'name="east" value="([^"]+)"', taken) == ["0 m", "4 m", "0 m"]
    assert "corners" not in beds_in(yard)[0]


def test_what_stands_is_written_changed_and_taken_out(yard: TestClient) -> None:
    """A standing crop is told on its bed's page, changed there, and emptied away there."""
    line = {
        "stands_seen": "",
        "stands_kind": "leek/winter",
        "stands_method": "modules",
        "stands_started": "2026-06-15",
        "stands_area": "2 m2",
    }
    told = yard.post("/ground/north", data=form_of(yard, "north", **line)).text
    assert "winter leek, 2 m²" in words_of(told)
    seen = re.findall(r'name="stands_seen" value="([^"]+)"', told)
    changed = line | {"stands_seen": seen[0], "stands_area": "3 m2"}
    told = yard.post("/ground/north", data=form_of(yard, "north", **changed)).text
    assert [stand["area"] for stand in parts_of(notebook_of(yard))["standing"]] == ["3 m2"]
    seen = re.findall(r'name="stands_seen" value="([^"]+)"', told)
    gone = dict.fromkeys(line, "") | {"stands_seen": seen[0]}
    yard.post("/ground/north", data=form_of(yard, "north", **gone))
    assert parts_of(notebook_of(yard))["standing"] == ()


def test_a_bed_is_not_taken_out_while_something_stands_there(yard: TestClient) -> None:
    """The reason is told, and the bed stays; without it the bed goes, and can be brought back."""
    line = {
        "stands_seen": "",
        "stands_kind": "leek/winter",
        "stands_method": "modules",
        "stands_started": "2026-06-15",
        "stands_area": "2 m2",
    }
    page = yard.post("/ground/north", data=form_of(yard, "north", **line)).text
    refused = yard.post("/ground/north", data={"act": "out", "seen": seen_in(page)})
    assert refused.status_code == 422
    assert "it is still named by the standing crop “leek/winter”." in words_of(refused.text)
    gone = yard.post(
        "/ground/south", data={"act": "out", "seen": seen_in(yard.get("/ground/south").text)}
    )
    assert "South is taken out." in gone.text
    assert [bed["id"] for bed in beds_in(yard)] == ["north"]
    yard.post("/undo", data={"back": "/ground"})
    assert [bed["id"] for bed in beds_in(yard)] == ["north", "south"]


def test_two_windows_change_different_beds_and_not_the_same(yard: TestClient) -> None:
    """Changes of two beds are both written; the second of one bed is not, and what it was stays."""
    first, second = form_of(yard, "north", name="One"), form_of(yard, "north", name="Two")
    other = form_of(yard, "south", name="Three")
    assert yard.post("/ground/north", data=first).status_code == 200
    assert yard.post("/ground/south", data=other).status_code == 200
    conflict = yard.post("/ground/north", data=second)
    assert conflict.status_code == 409
    assert "was changed or taken out in another window" in words_of(conflict.text)
    assert 'value="Two"' in conflict.text
    assert [bed["name"] for bed in beds_in(yard)] == ["One", "Three"]
    again = yard.post("/ground/north", data=second | {"seen": seen_in(conflict.text)})
    assert "Two is written." in again.text


def test_beds_are_put_in_another_order(yard: TestClient) -> None:
    """A bed moves up or down the list; at the end of the list it stays."""
    page = yard.get("/ground").text
    south = re.findall(r'name="seen" value="([^"]+)"', page)[1]
    for act, order in (
        ("down", ["north", "south"]),
        ("up", ["south", "north"]),
        ("up", ["south", "north"]),
    ):
        yard.post("/ground", data={"act": act, "seen": south})
        assert [bed["id"] for bed in beds_in(yard)] == order
    assert yard.post("/ground", data={"act": "up", "seen": "old"}).status_code == 409


def test_a_bed_like_another_takes_its_outline_not_its_past(yard: TestClient) -> None:
    """What grew on a bed and what was found there stays with that ground."""
    page = yard.get("/ground?add=rectangle&like=south").text
    assert 'value="6 m"' in page
    assert "white rot" not in re.sub(r"<datalist.*?</datalist>", "", page, flags=re.DOTALL)


@pytest.mark.parametrize("way", ["rectangle", "round", "corners", "nonsense"])
def test_a_new_bed_has_a_size_to_begin_from(yard: TestClient, way: str) -> None:
    """The form of a new bed is drawn at once, and has no name yet."""
    page = yard.get(f"/ground?add={way}").text
    assert 'id="name" name="name" type="text" value=""' in page
    assert "m²" in words_of(page)


def test_names_are_shown_as_they_are(yard: TestClient) -> None:
    """A name with signs of markup in it is a name, and its page is found."""
    name = '<b>"x"</b> & / ?'
    answer = yard.post("/ground/north", data=form_of(yard, "north", name=name))
    assert "<b>" not in answer.text
    assert name in html.unescape(answer.text)
    added = {
        "name": name,
        "way": "round",
        "diameter": "2 m",
        "seen": "",
        "cover": "open",
        "sun": "full",
    }
    assert yard.post("/ground?add=round", data=added).status_code == 200


def test_the_board_is_told_what_an_outline_measures(yard: TestClient) -> None:
    """Corners, sides, the area in words, and what the other fields would be."""
    east, north = ([corner[axis] for corner in L_CORNERS] for axis in (0, 1))
    north[1] = "0 m"
    told = yard.post("/outline", data={"way": "corners", "east": east, "north": north}).json()
    assert told["said"] == "17.6 m²; sides 5.2 m, 2 m, 3.2 m, 3.6 m, 2 m, 5.6 m"
    assert told["sides"][3] == ["3.6 m", "-90°"]
    assert (told["filled"]["width"], told["filled"]["length"]) == ("5.2 m", "5.6 m")
    east[1], east[2] = "1 m", "0 m"
    crossed = yard.post("/outline", data={"way": "corners", "east": east, "north": north}).json()
    assert crossed["said"] == ""
    assert crossed["faults"]


def test_a_changed_side_carries_along_what_follows_it(yard: TestClient) -> None:
    """A side made longer moves the corners behind it; the others keep lengths and turns exactly."""
    rectangle = {
        "way": "sides",
        "east": ["0 m", "4 m", "4 m", "0 m"],
        "north": ["0 m", "0 m", "2 m", "2 m"],
    }
    sides = {"side": ["5 m", "2 m", "4 m", ""], "turn": ["0°", "90°", "90°", ""]}
    told = yard.post("/outline", data=rectangle | sides).json()
    assert told["corners"] == [[0, 0], [5, 0], [5, 2], [1, 2]]


def test_hostile_forms_are_answered_in_words(yard: TestClient) -> None:
    """Uneven lists, strange acts and digits of other scripts break nothing."""
    assert (
        yard.post(
            "/ground/north", data={"act": "after-٣", "way": "corners", "east": ["1 m"]}
        ).status_code
        == 200
    )
    assert yard.post("/ground/north", data={"act": "drop-999", "way": "?"}).status_code == 200
    assert (
        yard.post(
            "/outline", data={"way": "sides", "turn": ["nan", "inf"], "side": ["1e9 m"]}
        ).status_code
        == 200
    )
    assert yard.post("/outline", data={}).json()["faults"]
    assert yard.post("/ground/north", data={}).status_code in {409, 422}


def test_a_bed_s_water_is_kept_as_typed(yard: TestClient) -> None:
    """Soil, mulch and drip lines typed into a bed's form are stored and shown again; left empty,
    they are taken out.
    """
    typed = form_of(yard, "north", soil="clay", mulch="50 %", watered="drip")
    assert yard.post("/ground/north", data=typed).status_code == 200
    (north,) = (part for part in beds_in(yard) if part["id"] == "north")
    assert (north["soil"], north["mulch"], north["watered"]) == ("clay", "50 %", "drip")
    assert 'value="50 %"' in yard.get("/ground/north").text
    assert yard.post("/ground/north", data=form_of(yard, "north")).status_code == 200
    (north,) = (part for part in beds_in(yard) if part["id"] == "north")
    assert not {"soil", "mulch", "watered"} & set(north)
