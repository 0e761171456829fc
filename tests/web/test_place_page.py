"""Place: the climate with the years it rests on, and records taken in or refused with a reason."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from haulm.desk.garden.asking import Reply
from haulm.desk.garden.editing import mark_of, parts_of
from haulm.desk.garden.fetching import Network
from haulm.desk.garden.place_editing import columns_from, sample_of

Door = Callable[[Path], TestClient]
SEATTLE = Path(__file__).parents[1] / "truth" / "data" / "weather" / "seattle_2012_2015.csv"
"""Four years of daily readings, open data: see the note beside it."""


def own(client: TestClient) -> Path:
    """Give the notebook whose pages a client shows."""
    path: Path = client.app.state.shelf.own  # type: ignore[attr-defined]
    return path


def renamed(text: str) -> str:
    """Give the Seattle table with column names that nobody would know."""
    return text.replace("date,tmin_c,tmax_c,rain_mm,wind_m_s", "aa,bb,cc,dd,ee")


def place_of(client: TestClient, **changed: str) -> dict[str, str]:
    """Give the place's form as it would be sent, with some of it typed anew."""
    parts = parts_of(own(client))
    typed = {"name": "Quill Yard", "units": "metric", "latitude": "47.6", "longitude": "8.1"}
    typed |= {"height": "120 m", "soil": "loam"}
    typed |= {"last_frost": "", "first_frost": "", "weather_height": ""}
    seen = {f"seen_{part}": mark_of(parts[part][0]) for part in ("garden", "place", "weather")}
    return typed | seen | changed


def drop(client: TestClient, content: bytes, name: str = "weather.csv") -> str:
    """Drop a file on the page; give what it answers."""
    return client.post("/place/record", files={"record": (name, content)}).text


def test_the_climate_is_shown_with_what_it_rests_on(visit: TestClient) -> None:
    """Frost odds, warmth, rain and day length each have a chart and a table, and say on what."""
    text = visit.get("/place").text
    for caption in ("Frost odds at", "Warmth of", "Rain at", "Day length at"):
        assert caption in text
    assert text.count("As a table") == 4
    assert "Rests on monthly normals, not on single years" in text
    assert "Hardiness zone" in text


def test_the_place_is_changed_as_typed(visit: TestClient) -> None:
    """Name, degrees and height are kept as typed; what the form does not show stays."""
    visit.post("/place", data=place_of(visit, name="Ink Yard", latitude="47° 30' N", height=""))
    parts = parts_of(own(visit))
    assert parts["garden"][0]["name"] == "Ink Yard"
    assert parts["garden"][0]["tray_cells"] == 200
    assert parts["place"][0]["latitude"] == 47.5
    assert "height" not in parts["place"][0]


@pytest.mark.parametrize(
    ("field", "typed"),
    [
        ("latitude", "95"),
        ("latitude", "up"),
        ("longitude", ""),
        ("longitude", "400"),
        ("height", "tall"),
        ("name", ""),
        ("soil", "moon dust"),
        ("units", "stones"),
    ],
)
def test_a_wrong_place_is_told_beside_its_field(visit: TestClient, field: str, typed: str) -> None:
    """What cannot be is told at its field; what else was typed is kept, and nothing written."""
    before = parts_of(own(visit))
    answer = visit.post("/place", data=place_of(visit, **{"name": "Elsewhere", field: typed}))
    assert answer.status_code == 422
    assert "at-fault" in answer.text
    assert ('value="Elsewhere"' in answer.text) == (field != "name")
    assert parts_of(own(visit)) == before


def test_two_windows_do_not_overwrite_one_another(visit: TestClient) -> None:
    """A form drawn before another window's change is refused, with a word why."""
    stale = place_of(visit, name="Mine")
    visit.post("/place", data=place_of(visit, name="Theirs"))
    answer = visit.post("/place", data=stale)
    assert answer.status_code == 409
    assert "changed" in answer.text
    assert parts_of(own(visit))["garden"][0]["name"] == "Theirs"


def test_a_dropped_record_becomes_the_weather(visit: TestClient) -> None:
    """Four years from Seattle are taken in, and the climate then rests on them."""
    text = drop(visit, SEATTLE.read_bytes(), "seattle.csv")
    assert "“seattle.csv” is the garden" in text
    assert "Rests on 4 years of record" in text
    assert parts_of(own(visit))["weather"][0]["record"] == "seattle.csv"
    assert 'action="/undo"' in text


def test_a_record_can_be_left_for_the_grid_again(visit: TestClient) -> None:
    """One press takes the world's grid in place of the record, and its limits are said."""
    drop(visit, SEATTLE.read_bytes())
    seen = mark_of(parts_of(own(visit))["weather"][0])
    text = visit.post("/place/grid", data={"seen": seen}).text
    assert "frost dates can be weeks off" in text
    assert parts_of(own(visit))["weather"][0] == {"grid": True}
    assert visit.post("/place/grid", data={"seen": "another"}).status_code == 409


def test_columns_that_are_not_recognised_are_asked_about(visit: TestClient) -> None:
    """A table with odd column names is shown with its first rows, and read as it is answered."""
    content = renamed(SEATTLE.read_text(encoding="utf-8")).encode()
    asked = drop(visit, content, "odd.csv")
    assert "Which column is which?" in asked
    assert "12.8" in asked
    key = asked.split('name="key" value="', 1)[1].split('"', 1)[0]
    chosen = {"key": key, "date": "aa", "tmin": "bb", "tmax": "cc", "rain": "dd", "degrees": "c"}
    wrong = visit.post("/place/columns", data=chosen | {"tmin": "aa"})
    assert wrong.status_code == 422
    assert '<option value="cc" selected>' in wrong.text
    done = visit.post("/place/columns", data=chosen)
    assert "“odd.csv” is the garden" in done.text
    again = visit.post("/place/columns", data=chosen)
    assert "the file is not here any more" in again.text


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "empty"),
        (b"PK\x03\x04" + b"x" * 50, "a packed file or a spreadsheet"),
        (b"\x89PNG\r\n\x1a\n" + b"\x00" * 50, "a picture"),
        (b"\xff\xfe\x00d\x00a" * 9, "not UTF-8"),
        (b"date,tmin_c,tmax_c\n\x00\x00\x00", "no text file"),
        (b"<html><script>alert(1)</script></html>", "no column for"),
        (b'date,tmin_c,tmax_c\n2027-01-01,"1,2\n', ""),
        (b"date,tmin_c,tmax_c\n2027-01-01,1,2\n", ""),
        (b"date,tmin_c,tmax_c\n2027-13-45,1,2\n", "no day of the calendar"),
        (b"date,tmin_c,tmax_c\n1027-01-01,1,2\n2027-01-01,1,2\n", ""),
        (b"x" * 20_000_001, "larger than 20 MB"),
    ],
    ids=["empty", "packed", "picture", "utf-16", "nul", "html", "cut", "short", "days", "ages",
         "large"],
)  # fmt: skip
def test_a_file_that_is_no_record_is_refused_with_a_reason(
    visit: TestClient, content: bytes, said: str
) -> None:
    """Empty, binary, foreign, cut and oversized files are refused in words; nothing changes."""
    before = parts_of(own(visit))
    answer = visit.post("/place/record", files={"record": ("weather.csv", content)})
    assert answer.status_code == 422
    assert said in answer.text
    assert "Not taken in" in answer.text
    assert "<script>alert" not in answer.text
    assert parts_of(own(visit)) == before


@pytest.mark.parametrize("name", ["../../etc/passwd", '<b>"x"</b>.csv', "x" * 300, "\\\\a\\b.csv"])
def test_a_files_name_does_no_harm(visit: TestClient, name: str) -> None:
    """Whatever a file is called, it is kept under a plain name and shown as text."""
    text = drop(visit, SEATTLE.read_bytes(), name)
    kept = str(parts_of(own(visit))["weather"][0]["record"])
    assert "/" not in kept
    assert "\\" not in kept
    assert "<b>" not in text.split("<main", 1)[1]


def test_no_file_chosen_is_said(visit: TestClient) -> None:
    """Pressing the button without a file says so."""
    answer = visit.post("/place/record")
    assert answer.status_code == 422
    assert "no file was chosen" in answer.text


def test_us_units_show_fahrenheit_and_inches(door: Door, unplanned: Path) -> None:
    """A garden kept in US units tells its climate in degrees Fahrenheit and inches."""
    pages = door(unplanned)
    pages.post("/place", data=place_of(pages, units="us"))
    text = pages.get("/place").text
    assert "°F" in text
    assert " in; 8 years in 10" in text


def test_figures_are_written_as_the_reader_likes_them(visit: TestClient) -> None:
    """With a decimal comma chosen, the tables behind the charts have it too."""
    visit.post("/reading", data={"numbers": "comma", "dates": "day", "back": "/place"})
    table = visit.get("/place").text.split("As a table", 2)[2].split("</table>", 1)[0]
    assert re.search(r"\d,\d", table)
    assert "." not in table.split("<tbody>", 1)[1]


def test_a_sample_shows_the_first_rows_of_a_table() -> None:
    """Columns and five rows are shown; what is no table, or has two like columns, shows none."""
    rows = "".join(f"2027-01-{day:02d};1;2\n" for day in range(1, 10))
    sample = sample_of("x.csv", f"day;low;high\n{rows}".encode())
    assert sample is not None
    assert sample.columns == ("day", "low", "high")
    assert len(sample.rows) == 5
    assert sample_of("x.csv", b"one column\n1\n") is None
    assert sample_of("x.csv", b"day,low,low\n1,2,3\n") is None
    assert sample_of("x.csv", b"\xff\xfe\x00") is None


def test_chosen_columns_carry_their_units() -> None:
    """Degrees Fahrenheit and inches are named so, and a column left out is left out."""
    chosen = {"date": "d", "tmin": "a", "tmax": "b", "rain": "", "degrees": "f", "depth": "in"}
    assert columns_from(chosen) == {"date": "d", "tmin_f": "a", "tmax_f": "b"}
    assert columns_from(chosen | {"rain": "r"})["rain_in"] == "r"


def test_a_usual_last_frost_is_typed_in_words(visit: TestClient) -> None:
    """“25 April” is kept as a day of the year, shown in words, and the climate rests on it."""
    visit.post("/place", data=place_of(visit, last_frost="25 April"))
    assert parts_of(own(visit))["place"][0]["last_frost"] == "04-25"
    text = visit.get("/place").text
    assert 'value="25 April"' in text
    assert "25 Apr, as the grower knows it" in text


def test_a_frost_day_that_cannot_be_is_told_at_its_field(visit: TestClient) -> None:
    """A last frost in August is refused beside the field, and nothing is written."""
    answer = visit.post("/place", data=place_of(visit, last_frost="3 August"))
    assert answer.status_code == 422
    assert "must fall before midsummer" in answer.text
    assert "last_frost" not in parts_of(own(visit))["place"][0]


def test_the_height_of_the_weather_is_kept_with_it(visit: TestClient) -> None:
    """The height the weather is from is a key of the weather; emptied, it is taken out again."""
    visit.post("/place", data=place_of(visit, weather_height="40 m"))
    assert parts_of(own(visit))["weather"][0]["height"] == "40 m"
    assert "read at 40 m and told for 120 m" in visit.get("/place").text
    visit.post("/place", data=place_of(visit))
    assert "height" not in parts_of(own(visit))["weather"][0]


def test_nothing_is_fetched_unless_it_is_agreed(visit: TestClient) -> None:
    """The page says which degrees would be sent where; without the tick nothing is sent."""
    asked: list[str] = []

    def ask(address: str) -> Reply:
        """Remember, and be out of reach."""
        asked.append(address)
        return Reply(0, b"out of reach")

    visit.app.state.shelf.network = Network(ask, lambda _seconds: None)  # type: ignore[attr-defined]
    assert "Send latitude" in visit.get("/place").text
    assert "the box is not ticked" in visit.post("/place/fetch", data={}).text
    assert not asked
    assert "was not reached" in visit.post("/place/fetch", data={"agreed": "yes"}).text
    assert asked


def test_a_guess_of_units_is_confirmed_with_one_press(visit: TestClient) -> None:
    """A table whose header tells no unit is shown with what its figures look like; nothing is taken
    in until the guess is confirmed, and the form sends it as it stands.
    """
    lines = SEATTLE.read_text(encoding="utf-8").splitlines()
    rows = ["date,tmin,tmax,rain"]
    for line in lines[1:]:
        day, tmin, tmax, rain = line.split(",")[:4]
        low, high = (f"{float(one) * 1.8 + 32:.1f}" for one in (tmin, tmax))
        rows.append(f"{day},{low},{high},{float(rain) / 25.4:.2f}")
    before = parts_of(own(visit))["weather"]
    asked = drop(visit, "\n".join(rows).encode(), "us.csv")
    assert "To be confirmed" in asked
    assert "they are °F, rain in inches" in asked
    assert parts_of(own(visit))["weather"] == before
    for chosen in ('value="f" selected', 'value="in" selected', 'value="tmin" selected'):
        assert chosen in asked
    key = asked.split('name="key" value="', 1)[1].split('"', 1)[0]
    as_it_stands = {"key": key, "date": "date", "tmin": "tmin", "tmax": "tmax", "rain": "rain"}
    done = visit.post("/place/columns", data=as_it_stands | {"degrees": "f", "depth": "in"})
    assert "“us.csv” is the garden" in done.text
    assert "Rests on 4 years of record" in done.text
