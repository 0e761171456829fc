import json
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.cli.panels import ORDER, PANELS
from shell import Haulm

VERBS = (
    "seed",
    "import",
    "export",
    "check",
    "climate",
    "need",
    "land",
    "money",
    "nourish",
    "plan",
    "pin",
    "note",
    "why",
    "worth",
    "forecast",
    "certainty",
    "water",
    "away",
    "week",
    "rows",
    "sheets",
    "crops",
    "succession",
    "decide",
    "follow",
    "winter",
    "review",
    "lookout",
    "handover",
)


def test_help_lists_every_verb_under_a_heading(haulm: Haulm) -> None:
    """Whoever asks for help finds the year's work in order, and no verb left out."""
    out = haulm("--help").out
    places = [out.index(heading) for heading in PANELS]
    assert places == sorted(places)
    assert set(VERBS) <= set(ORDER)


@pytest.mark.parametrize("verb", VERBS)
def test_every_verb_explains_itself(haulm: Haulm, verb: str) -> None:
    """Whoever asks a verb for help is told what it does and what it takes."""
    ran = haulm(verb, "--help")
    assert ran.code == 0
    assert len(ran.out) > 200


def test_rows_gives_count_rows_and_the_square_count(haulm: Haulm) -> None:
    """A bed of 1.2 by 4.8 m at 15 cm holds more in offset rows than in square ones."""
    ran = haulm("rows", "1.2 x 4.8 m", "--spacing", "15 cm", "--edge", "7.5 cm", "--json")
    told = json.loads(ran.out)
    assert told["square_count"] == 8 * 32
    assert told["count"] > told["square_count"]
    assert told["count"] == sum(len(row["stations_m"]) for row in told["rows"])


def test_rows_read_a_decimal_comma_feet_and_a_round_bed(haulm: Haulm) -> None:
    """The same bed in other words gives the same rows; a round bed is a bed too."""
    point = haulm("rows", "1.2 x 4.8 m", "--spacing", "15 cm", "--json").out
    assert haulm("rows", "1,2 x 4,8 m", "--spacing", "0.15 m", "--json").out == point
    assert json.loads(haulm("rows", "8 ft round", "--spacing", "6 in", "--json").out)["count"] > 150


@pytest.mark.parametrize(
    ("size", "spacing", "said"),
    [
        ("0 x 4.8 m", "15 cm", "0"),
        ("1.2 x 4.8", "15 cm", "unit"),
        ("1.2 x 4.8 m", "-15 cm", "0"),
        ("1.2 x 4.8 m", "15 kg", "length"),
        ("as big as you like", "15 cm", "bed"),
    ],
)
def test_rows_refuse_what_makes_no_bed(haulm: Haulm, size: str, spacing: str, said: str) -> None:
    """A size that makes no bed is answered in words, with a code that scripts can see."""
    ran = haulm("rows", size, "--spacing", spacing)
    assert ran.code == 1
    assert said in ran.err
    assert ran.out == ""


def test_rows_say_when_no_plant_has_room(haulm: Haulm) -> None:
    """Plants that want 2 m have no room in a bed of 1.2 m, half of it from each edge."""
    ran = haulm("rows", "1.2 x 4.8 m", "--spacing", "2 m")
    assert ran.code == 0
    assert "No plant has room" in ran.out


def test_a_garden_goes_into_a_notebook_and_out_again(haulm: Haulm, tmp_path: Path) -> None:
    """What comes out of the notebook goes in again and comes out the same."""
    toml = small_garden(tmp_path)
    book, back, again = tmp_path / "a.haulm", tmp_path / "back.toml", tmp_path / "again.toml"
    assert haulm("import", toml, book).code == 0
    assert haulm("export", book, back).code == 0
    assert haulm("import", back, tmp_path / "b.haulm").code == 0
    assert haulm("export", tmp_path / "b.haulm", again).code == 0
    assert back.read_text() == again.read_text()
    assert all(line in haulm("check", book).out for line in haulm("check", toml).out.splitlines())


def test_a_faulty_garden_is_refused_whole(haulm: Haulm, tmp_path: Path) -> None:
    """Every fault is told at once with its place and remedy, and nothing is written."""
    toml = small_garden(
        tmp_path,
        ('eat = "onion"', 'eat = "onoin"'),
        ('width = "1.2 m"', 'width = "0 m"'),
        ("latitude = 47.6", "latitude = 476"),
    )
    ran = haulm("import", toml)
    assert ran.code == 1
    assert ran.err.count("To mend:") == 3
    assert "onion" in ran.err
    assert list(tmp_path.iterdir()) == [toml]


def test_refusals_are_data_when_data_was_asked_for(haulm: Haulm, tmp_path: Path) -> None:
    """Another program reads the findings as JSON, and sees the exit code."""
    ran = haulm("check", tmp_path / "nowhere.toml", "--json")
    assert ran.code == 1
    (finding,) = json.loads(ran.out)["findings"]
    assert finding["grade"] == "fault"
    assert finding["remedy"]


@pytest.mark.parametrize("name", ["garden.haulm", "garden.toml"])
def test_an_empty_file_is_no_garden(haulm: Haulm, tmp_path: Path, name: str) -> None:
    """An empty file is refused in words, whichever form it claims to be."""
    path = tmp_path / name
    path.touch()
    ran = haulm("plan", path, "--on", "2027-02-01")
    assert ran.code == 1
    assert "To mend:" in ran.err
    assert path.stat().st_size == 0


def test_a_day_that_is_none_is_said_so(haulm: Haulm, tmp_path: Path) -> None:
    """30 February is refused, with the way to write a day."""
    ran = haulm("need", small_garden(tmp_path), "--on", "2027-02-30")
    assert ran.code == 1
    assert "2027-02-30" in ran.err


def test_climate_tells_the_years_it_rests_on(haulm: Haulm, tmp_path: Path) -> None:
    """Odds never stand without what they rest on."""
    ran = haulm("climate", small_garden(tmp_path))
    assert ran.code == 0
    assert "monthly normals" in ran.out
    assert "years in 10" in ran.out
    assert "Hardiness zone" in ran.out


def test_climate_speaks_the_garden_s_units(haulm: Haulm, tmp_path: Path) -> None:
    """Where a garden is in US units, its climate is told in °F and inches, warmth and rain too."""
    us = ('least_patch = "0.5 m2"', 'least_patch = "6 sq ft"\nunits = "us"')
    ran = haulm("climate", small_garden(tmp_path, us))
    assert "Degree-days a year above 41 °F" in ran.out
    assert "Rain a year: " in ran.out
    assert " in (" in ran.out
    assert " mm" not in ran.out
    assert "°C" not in ran.out
    assert "1 year in 10" in ran.out


def test_need_shows_every_step_of_one_line(haulm: Haulm, tmp_path: Path) -> None:
    """The sum from table to planting stock can be followed step by step."""
    toml = small_garden(tmp_path)
    every = haulm("need", toml, "--on", "2027-02-01")
    assert "leek" in every.out
    one = haulm("need", toml, "--on", "2027-02-01", "--line", "onion")
    assert "/" in one.out
    assert "plants" in one.out
    assert haulm("need", toml, "--on", "2027-02-01", "--line", "onoin").code == 1


def test_crops_list_what_a_garden_may_name(haulm: Haulm) -> None:
    """Kinds and foods are listed as garden.toml takes them, and each kind's ways of starting."""
    every = haulm("crops").out
    for name in ("garlic/soft-necked", "green garlic", "dry beans"):
        assert name in every
    assert "(garlic/hard-necked); methods: cloves" in haulm("crops", "garlic").out


def test_crops_say_how_firmly_they_stand_and_what_is_weakest(haulm: Haulm) -> None:
    """Each crop has its footing in a word; the gaps say where they lie and what would mend them."""
    assert "Footing: fair" in haulm("crops", "garlic").out
    told = haulm("crops", "--gaps").out
    assert "What is weakest" in told
    assert "chickpea.toml, line" in told
    gaps = json.loads(haulm("crops", "--gaps", "--json").out)
    assert {"sort", "crop", "matter", "where", "mend"} <= set(gaps[0])
    assert gaps[0]["sort"] == "absent"


def test_crops_show_source_and_basis_and_suggest_the_near_name(haulm: Haulm) -> None:
    """Each figure of a crop says what it rests on; a slip of the pen is answered with its like."""
    assert "garlic" in haulm("crops").out
    garlic = haulm("crops", "garlic").out
    assert "common practice" in garlic
    assert "published" in garlic
    assert "Caution:" in garlic
    slip = haulm("crops", "garlick")
    assert slip.code == 1
    assert "garlic" in slip.err


def test_why_and_sheets_want_a_plan_first(haulm: Haulm, tmp_path: Path) -> None:
    """Before there is a plan, the answer is how to make one."""
    toml = small_garden(tmp_path)
    book = tmp_path / "garden.haulm"
    haulm("import", toml)
    for ran in (
        haulm("why", "garlic-1", book),
        haulm("sheets", book, "--out", tmp_path / "out"),
        haulm("why", "garlic-1", toml),
    ):
        assert ran.code == 1
        assert "haulm plan" in ran.err
    assert not (tmp_path / "out").exists()


def test_a_crop_on_the_terminal_says_what_its_foods_hold(haulm: Haulm) -> None:
    """Peas hold 81 kcal and 40 mg of vitamin C in 100 g, and the row that says so is named."""
    told = haulm("crops", "pea").out
    assert "What 100 g of the edible part hold" in told
    assert "81" in told
    assert "Peas, green, raw" in told


def test_a_plan_on_the_terminal_tells_what_to_take_care_of(haulm: Haulm, tmp_path: Path) -> None:
    """The plan of beans, garlic and leeks ends with their cautions, their foods and whom to ask; an
    infant at the table brings its own.
    """
    toml = small_garden(tmp_path)
    toml.write_text(toml.read_text(encoding="utf-8").replace("age = 10", "age = 0"))
    told = haulm("plan", toml, "--on", "2027-02-01", "--effort", "quick").out
    words = " ".join(told.split())
    assert "Take care, raw beans (green beans):" in words
    assert "Ask US Food and Drug Administration" in words
    assert "Take care, honey and infants:" in words
