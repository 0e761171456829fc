"""Bad days: whatever is wrong with what is given, the answer says where, what and how to mend it.

Nothing is written then, and nothing is lost.
"""

import json
import os
import re
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest

from gardens import SMALL, small_garden
from haulm.desk.planning import plans as desk_plans
from haulm.measure.findings import Finding
from haulm.notebook import file as notebook_file
from haulm.notebook.notebook import Notebook
from haulm.plan.records import Plan
from shell import Haulm, Ran

ON = ("--on", "2027-02-01", "--effort", "quick")
NORMALS = SMALL[SMALL.index("[weather.normals]") : SMALL.index("[hours]")]
BEDS = SMALL[SMALL.index("[[bed]]") : SMALL.index("[[store]]")]
SIDES = 'width = "1.2 m"\nlength = "6 m"'
TMIN = "tmin = [2, 2, 4, 5, 8, 11, 13, 13, 11, 8, 4, 2]"
TMAX = "tmax = [8, 10, 12, 15, 19, 21, 25, 25, 22, 16, 11, 8]"
RECORD = Path(__file__).parents[1] / "truth" / "data" / "weather" / "seattle_2012_2015.csv"
STANDING = """
[[standing]]
bed = "{bed}"
kind = "garlic/hard-necked"
method = "cloves"
started = {started}
area = "{area}"
"""
NO_BEDS = ((BEDS, ""),)
POLAR = (
    ("latitude = 47.6", "latitude = 78.2"),
    (TMIN, "tmin = [-20, -20, -20, -17, -8, -5, -4, -4, -6, -10, -14, -18]"),
    (TMAX, "tmax = [-13, -14, -13, -9, -3, -2, -1, -1, -2, -6, -9, -12]"),
)
TROPICAL = (
    ("latitude = 47.6", "latitude = 2.1"),
    (TMIN, "tmin = [22, 22, 23, 23, 23, 23, 22, 22, 22, 22, 22, 22]"),
    (TMAX, "tmax = [31, 32, 33, 33, 33, 32, 32, 32, 32, 32, 31, 31]"),
)


def told(ran: Ran, *words: str) -> None:
    """Hold a refusal to its word: exit code 1, nothing answered, each finding placed and mended."""
    assert ran.code == 1
    assert ran.out == ""
    lines = [line for line in ran.err.splitlines() if line]
    assert lines
    for line in lines:
        assert re.fullmatch(r"(To mend|Take care|Note): .+: .+\. .+[.?]", line), line
    for word in words:
        assert word in ran.err


def files(folder: Path) -> dict[str, bytes]:
    """Give everything in a folder, byte for byte."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


@pytest.fixture
def book(haulm: Haulm, tmp_path: Path) -> Path:
    """Give the small garden's notebook, with no plan in it."""
    haulm("import", small_garden(tmp_path))
    return tmp_path / "garden.haulm"


def with_weather(folder: Path, content: bytes) -> Path:
    """Write the small garden with a daily record beside it, and give its path."""
    (folder / "days.csv").write_bytes(content)
    return small_garden(folder, (NORMALS, '[weather]\nrecord = "days.csv"\n\n'))


# ---------------------------------------------------------------- gardens that ask too much


def test_an_appetite_no_land_could_meet_is_planned_and_its_shortage_named(
    haulm: Haulm, tmp_path: Path
) -> None:
    """A ton of onions a week is answered by a plan for what the beds can give and a sentence on
    what stays short, in kilograms.
    """
    toml = small_garden(tmp_path, ('amount = "0.5 kg"', 'amount = "1000 kg"'))
    ran = haulm("plan", toml, *ON, "--json")
    assert ran.code == 0
    plan = json.loads(ran.out)
    onions = [row for row in plan["shortages"] if row["food"] == "onion"]
    assert sum(row["kg"] for row in onions) > 100_000
    assert all(
        re.match(r"short \d+ kg of onion (in|from) .+: .+", row["sentence"]) for row in onions
    )
    assert {one["crop"] for one in plan["plantings"]} > {"onion"}


def test_a_garden_with_no_beds_is_answered_by_a_warning(haulm: Haulm, tmp_path: Path) -> None:
    """Without beds everything is short, which is said; and how to mend it."""
    toml = small_garden(tmp_path, *NO_BEDS)
    assert "Add each bed there is" in haulm("check", toml).out
    ran = haulm("plan", toml, *ON, "--json")
    assert ran.code == 0
    plan = json.loads(ran.out)
    assert plan["plantings"] == []
    assert all(row["short_kg"] == row["wanted_kg"] for row in plan["weeks"])
    assert "warning" in {finding["grade"] for finding in plan["findings"]}
    assert {row["food"] for row in plan["shortages"]} == set(plan["lines"])


def test_a_garden_with_no_beds_has_no_sheets(haulm: Haulm, tmp_path: Path) -> None:
    """There is nothing to print for no beds; that is said, and no folder is made."""
    haulm("import", small_garden(tmp_path, *NO_BEDS))
    book = tmp_path / "garden.haulm"
    assert haulm("plan", book, *ON).code == 0
    told(haulm("sheets", book, "--out", tmp_path / "out"), "no beds", "Add a bed")
    assert not (tmp_path / "out").exists()


def test_a_polar_garden_is_answered_with_reasons(haulm: Haulm, tmp_path: Path) -> None:
    """At 78° north, frozen all year, nothing can be grown: each line says so, nothing breaks."""
    toml = small_garden(tmp_path, *POLAR)
    assert "100% of years" in haulm("climate", toml).out
    ran = haulm("plan", toml, *ON, "--json")
    assert ran.code == 0
    plan = json.loads(ran.out)
    assert plan["plantings"] == []
    assert {row["food"] for row in plan["shortages"]} == set(plan["lines"])
    assert all(": " in row["sentence"] for row in plan["shortages"])
    need = haulm("need", toml, "--on", "2027-02-01")
    assert need.code == 0
    assert need.out.count("no kind can serve it here") == len(plan["lines"])


def test_a_polar_garden_prints_its_empty_year(haulm: Haulm, tmp_path: Path) -> None:
    """Where nothing grows, the sheets that tell of it are printed all the same, and no bed's."""
    haulm("import", small_garden(tmp_path, *POLAR))
    book = tmp_path / "garden.haulm"
    haulm("plan", book, *ON)
    assert haulm("sheets", book, "--out", tmp_path / "out", "--on", "2027-02-01").code == 0
    assert (tmp_path / "out" / "larder-tide.pdf").is_file()
    assert not (tmp_path / "out" / "beds").exists()


def test_a_tropical_garden_is_answered_without_a_frost(haulm: Haulm, tmp_path: Path) -> None:
    """At 2° north no year has a frost; garlic, which wants cool soil and lengthening days, is said
    to be short with a reason, and no date of frost is made up.
    """
    toml = small_garden(tmp_path, *TROPICAL)
    climate = haulm("climate", toml)
    assert climate.code == 0
    assert "0% of years" in climate.out
    assert "too few frosts" in climate.out
    ran = haulm("plan", toml, *ON, "--json")
    assert ran.code == 0
    plan = json.loads(ran.out)
    assert "garlic" not in {one["crop"] for one in plan["plantings"]}
    assert "garlic" in {row["food"] for row in plan["shortages"]}


# ---------------------------------------------------------------- weather that was badly kept


def record(change: Callable[[list[str]], list[str]]) -> bytes:
    """Give a real daily record with some of its lines changed."""
    return "\n".join(change(RECORD.read_text(encoding="utf-8").splitlines())).encode()


def test_days_that_are_missing_are_counted_and_never_read_as_nothing(
    haulm: Haulm, tmp_path: Path
) -> None:
    """Thirty days left out are told with their dates; they count as not read."""
    toml = with_weather(tmp_path, record(lambda lines: lines[:101] + lines[131:]))
    ran = haulm("check", toml)
    assert ran.code == 0
    assert "30 of 1461 days are missing (2012-04-10 to 2012-05-09)" in ran.out
    assert "never as 0" in ran.out


def test_a_minimum_above_the_maximum_is_told_by_its_line(haulm: Haulm, tmp_path: Path) -> None:
    """A day whose two temperatures are the wrong way round is not used, and its line is named."""

    def swap(lines: list[str]) -> list[str]:
        day, low, high, *rest = lines[11].split(",")
        return [*lines[:11], ",".join((day, high, low, *rest)), *lines[12:]]

    ran = haulm("check", with_weather(tmp_path, record(swap)))
    assert ran.code == 0
    assert "days.csv, line 12: the minimum lies above the maximum" in ran.out


def test_decimal_commas_are_read_or_refused_never_misread(haulm: Haulm, tmp_path: Path) -> None:
    """Parted by semicolons, decimal commas are read and noted; parted by commas too, no one could
    tell the figures apart, and it is refused with the way out.
    """
    clear = record(lambda lines: [line.replace(",", ";").replace(".", ",") for line in lines])
    ran = haulm("climate", with_weather(tmp_path, clear), "--json")
    assert ran.out == haulm("climate", with_weather(tmp_path, RECORD.read_bytes()), "--json").out
    mixed = record(lambda lines: [lines[0], *(line.replace(".", ",") for line in lines[1:])])
    told(haulm("check", with_weather(tmp_path, mixed)), "days.csv", "semicolons")


def test_a_day_that_stands_twice_counts_once_or_is_asked_about(
    haulm: Haulm, tmp_path: Path
) -> None:
    """The same day with the same figures counts once; with other figures it must be mended."""
    again = record(lambda lines: [*lines[:11], lines[10], *lines[11:]])
    ran = haulm("check", with_weather(tmp_path, again))
    assert ran.code == 0
    assert "lines 11 and 12: 2012-01-10 stands there more than once" in ran.out
    other = record(lambda lines: [*lines[:11], "2012-01-10,-9.0,-1.0,0.0,1.0", *lines[11:]])
    told(haulm("check", with_weather(tmp_path, other)), "2012-01-10", "days.csv, lines 11 and 12")


@pytest.mark.parametrize("encoding", ["utf-16", "latin-1"])
def test_a_record_in_another_encoding_is_refused(
    haulm: Haulm, tmp_path: Path, encoding: str
) -> None:
    """A file that is not UTF-8 is refused with the way to save it, whatever it was written in."""
    text = RECORD.read_text(encoding="utf-8").replace("wind", "böe", 1)
    told(haulm("check", with_weather(tmp_path, text.encode(encoding))), "days.csv", "UTF-8")


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "empty"),
        (b"date,tmin_c,tmax_c,rain_mm\n", "no day"),
        (b"date,tmin_c,tmax_c,rain_mm\n2026-02-30,1,2,0\n", "2026-02-30"),
        (b"date,tmin_c,tmax_c,rain_mm\n2026-02-03,1,2,0\n", "only 1 days of February"),
        (b"\x00\x01\x02", "days.csv"),
    ],
)
def test_a_record_that_tells_nothing_is_refused(
    haulm: Haulm, tmp_path: Path, content: bytes, said: str
) -> None:
    """An empty record, one with no days, with days that are none or with too few is refused."""
    told(haulm("check", with_weather(tmp_path, content)), said)


def test_a_record_that_is_not_there_is_named(haulm: Haulm, tmp_path: Path) -> None:
    """Where garden.toml names a record that is not there, the file is named."""
    toml = small_garden(tmp_path, (NORMALS, '[weather]\nrecord = "none.csv"\n\n'))
    told(haulm("import", toml), "none.csv")
    assert list(tmp_path.iterdir()) == [toml]


# ---------------------------------------------------------------- gardens that cannot be


@pytest.mark.parametrize(
    ("sides", "said"),
    [
        ("corners = [[0, 0], [2, 2], [2, 0], [0, 2]]", "cross"),
        ("corners = [[0, 0], [2, 2]]", "2 corners"),
        ("corners = [[0, 0], [2, 0], [4, 0]]", "corner"),
        ('width = "0 m"\nlength = "6 m"', "width is 0 m"),
        ('width = "-1 m"\nlength = "6 m"', "width is -1 m"),
        ('diameter = "0 m"', "diameter is 0 m"),
        ('width = "1.2"\nlength = "6 m"', "without a unit"),
        ('width = "1.2 m"', "width only"),
    ],
)
def test_a_bed_that_cannot_be_is_refused(
    haulm: Haulm, tmp_path: Path, sides: str, said: str
) -> None:
    """A bed that crosses itself, has no size or only half of one is told by its number."""
    toml = small_garden(tmp_path, (SIDES, sides))
    told(haulm("import", toml), "garden.toml, [[bed]] 1", said)
    assert list(tmp_path.iterdir()) == [toml]


@pytest.mark.parametrize(
    ("old", "new", "where", "meant"),
    [
        ('crop = "onion"', 'crop = "onoin"', "[[bed]] 2, past 1, crop", '"onion"'),
        ('eat = "leek"', 'eat = "lek"', "[[table]] 4, eat", '"leek"'),
        ('"white rot"', '"white rit"', "[[bed]] 2, found 1, disease", '"white rot"'),
    ],
)
def test_an_unknown_name_is_answered_with_the_near_one(
    haulm: Haulm, tmp_path: Path, old: str, new: str, where: str, meant: str
) -> None:
    """A slip in the name of a crop, food or disease is answered with what was likely meant."""
    toml = small_garden(tmp_path, (old, new))
    told(haulm("import", toml), where, f"Did you mean {meant}")
    assert list(tmp_path.iterdir()) == [toml]


@pytest.mark.parametrize(
    ("bed", "started", "area", "said"),
    [
        ("nroth", "2026-11-02", "1 m2", 'Did you mean "north"'),
        ("north", "2027-11-02", "1 m2", "after the day planned from"),
        ("north", "2019-11-02", "1 m2", "60 weeks"),
        ("north", "2026-11-02", "100 m2", "100.0 m²"),
        ("north", "2026-11-31", "1 m2", "garden.toml, line"),
    ],
)
def test_what_cannot_stand_here_is_refused(
    haulm: Haulm, tmp_path: Path, bed: str, started: str, area: str, said: str
) -> None:
    """What stands in no bed of the garden, since a day to come, since years ago or on more ground
    than there is, is told; no plan is made of it.
    """
    toml = small_garden(tmp_path)
    standing = STANDING.format(bed=bed, started=started, area=area)
    toml.write_text(toml.read_text(encoding="utf-8") + standing, encoding="utf-8")
    told(haulm("plan", toml, *ON), said)


def test_every_fault_is_told_at_once(haulm: Haulm, tmp_path: Path) -> None:
    """Five slips in five parts of garden.toml are five findings in one answer."""
    toml = small_garden(
        tmp_path,
        ("latitude = 47.6", "latitude = 147.6"),
        (TMIN, TMIN.replace("[2, 2,", "[2,")),
        ('amount = "0.5 kg"', 'amount = "0.5 m"'),
        ('width = "1.2 m"', 'width = "0 m"'),
        ('kind = "shelf"', 'kind = "shelve"'),
    )
    ran = haulm("import", toml)
    told(ran, "[place]", "[weather]", "[[table]] 2", "[[bed]] 1", "[[store]] 1")
    assert ran.err.count("To mend:") == 5


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "empty"),
        (b"\xff\xfe[\x00g\x00", "UTF-8"),
        (b'[garden]\nname = "Quill', "line 2"),
        (b"[place]\nlatitude = 47,6\n", "decimal comma"),
    ],
)
def test_a_garden_toml_that_cannot_be_read_is_told_by_its_line(
    haulm: Haulm, tmp_path: Path, content: bytes, said: str
) -> None:
    """An empty garden.toml, one in another encoding and one broken off are refused in words."""
    toml = tmp_path / "garden.toml"
    toml.write_bytes(content)
    told(haulm("plan", toml, *ON), "garden.toml", said)
    assert files(tmp_path) == {"garden.toml": content}


@pytest.mark.parametrize("verb", ["plan", "need"])
@pytest.mark.parametrize("day", ["2027-02-30", "1.2.2027", "tomorrow", "0001-01-01", "9999-12-31"])
def test_a_day_that_no_garden_has_seen_is_refused(
    haulm: Haulm, tmp_path: Path, verb: str, day: str
) -> None:
    """What is no day, or one in a year far off, is answered with the way to write a day."""
    told(haulm(verb, small_garden(tmp_path), "--on", day), "--on", day, "2027-02-01")


@pytest.mark.parametrize("verb", ["plan", "need", "climate"])
@pytest.mark.parametrize("seed", ["-1", "1.5", "acorn"])
def test_a_seed_is_a_whole_number(haulm: Haulm, tmp_path: Path, verb: str, seed: str) -> None:
    """A seed below nothing, broken or in words is refused before anything is worked out."""
    ran = haulm(verb, small_garden(tmp_path), "--seed", seed)
    assert ran.code == 2
    assert "--seed" in ran.err
    assert ran.out == ""


@pytest.mark.parametrize("wrong", ["nan", "inf", "-1", "1e300", '"-5 kg"', '"1e9 km"', "[]", '""'])
def test_whatever_is_written_in_garden_toml_is_answered(
    haulm: Haulm, tmp_path: Path, wrong: str
) -> None:
    """Whichever figure of garden.toml is spoilt, the garden is refused with findings or accepted;
    it never breaks haulm.
    """
    spoilt = 0
    for line in sorted(set(re.findall(r"^\w+ = .+$", SMALL, flags=re.MULTILINE))):
        name = line.split(" = ")[0]
        ran = haulm("check", small_garden(tmp_path, (line, f"{name} = {wrong}")))
        if ran.code:
            told(ran, "garden.toml")
            spoilt += 1
    assert spoilt > 20


# ---------------------------------------------------------------- planning broken off half-way


def stop(*_: object) -> None:
    """Break off, as from the keyboard."""
    raise KeyboardInterrupt


def test_planning_stopped_from_the_keyboard_leaves_the_notebook_alone(
    haulm: Haulm, book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Stopped while the plan's beds are shared out, the notebook is byte for byte as it was."""
    before = files(book.parent)
    monkeypatch.setattr(desk_plans, "lay_out_plan", stop)
    ran = haulm("plan", book, *ON)
    assert ran.code == 130
    assert "The notebook is as it was" in ran.err
    assert files(book.parent) == before


def test_planning_stopped_while_the_solver_begins_leaves_the_notebook_alone(
    haulm: Haulm, book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Stopped before there is any plan, that is said, and the notebook is as it was."""
    before = files(book.parent)
    monkeypatch.setattr("haulm.planner.solve._Search.run", stop)
    ran = haulm("plan", book, *ON)
    assert ran.code != 0
    assert "stopped" in ran.err
    assert files(book.parent) == before


def test_a_plan_half_written_is_no_plan(
    haulm: Haulm, book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Stopped after the plan is written but before the notebook is closed, the notebook holds what
    it held: the plan of before, and nothing of the new one.
    """
    assert haulm("plan", book, *ON).code == 0
    before = files(book.parent)
    write = Notebook.write_plan

    def half(self: Notebook, plan: Plan, mark: str, version: str, *, kept: bool) -> int:
        write(self, plan, mark, version, kept=kept)
        raise KeyboardInterrupt

    monkeypatch.setattr(Notebook, "write_plan", half)
    assert haulm("plan", book, *ON, "--seed", "2").code == 130
    assert files(book.parent) == before


@pytest.mark.parametrize("as_json", [True, False])
def test_a_plan_that_does_not_add_up_is_not_shown(
    haulm: Haulm,
    book: Path,
    monkeypatch: pytest.MonkeyPatch,
    as_json: bool,  # noqa: FBT001
) -> None:
    """Where re-adding finds a fault, the fault is told in place of the plan, and none is kept."""
    wrong = Finding("bed North, week of 5 April 2027", "plantings hold 9 m² of 7.2 m².", "")
    monkeypatch.setattr("haulm.planner.audit.audit", lambda *_: (wrong,))
    before = files(book.parent)
    ran = haulm("plan", book, *ON, *(["--json"] if as_json else []))
    assert ran.code == 1
    assert wrong.what in (ran.out if as_json else ran.err)
    assert "plantings" not in (json.loads(ran.out) if as_json else {})
    assert files(book.parent) == before


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (BEDS[: BEDS.index("[[bed]]", 5)], "", "bed North"),
        ('id = "north"\nname = "North"', 'id = "nord"\nname = "Nord"', "bed North"),
        ('name = "South"', 'name = "South"\ncover = "glass"', "bed South"),
        ('[[table]]\neat = "onion"\namount = "0.5 kg"\n', "", "“onion”"),
        ('id = "pantry"', 'id = "larder"', "“pantry”"),
    ],
)
def test_a_plan_the_garden_has_outgrown_is_not_printed(
    haulm: Haulm, book: Path, old: str, new: str, said: str
) -> None:
    """Where a bed, a line of the table or a store that the plan stands on is gone or changed, the
    old plan is neither printed nor explained as if it were true; it is said what to do.
    """
    haulm("plan", book, *ON)
    haulm("import", small_garden(book.parent, (old, new)))
    before = files(book.parent)
    told(haulm("sheets", book, "--out", book.parent / "out"), said, "Plan it again")
    told(haulm("why", "onion-1", book), said, "Plan it again")
    assert files(book.parent) == before


def test_a_plan_of_an_older_garden_is_printed_with_a_warning(haulm: Haulm, book: Path) -> None:
    """Where more is eaten than when the plan was made, it can still be printed, and this is said
    beside the answer, not in it.
    """
    haulm("plan", book, *ON)
    haulm("import", small_garden(book.parent, ('amount = "0.5 kg"', 'amount = "0.7 kg"')))
    ran = haulm("why", "garlic-1", book, "--json")
    assert ran.code == 0
    assert json.loads(ran.out)["id"] == "garlic-1"
    assert "Take care: the plan of 1 February 2027" in ran.err


# ---------------------------------------------------------------- files in the way, missing, locked


@pytest.mark.parametrize("out", ["taken", "taken/deeper"])
def test_sheets_are_refused_where_a_file_is_in_the_way(haulm: Haulm, book: Path, out: str) -> None:
    """Where a file bears the folder's name, it is named and kept, and nothing is written."""
    haulm("plan", book, *ON)
    (book.parent / "taken").write_text("mine")
    before = files(book.parent)
    told(haulm("sheets", book, "--out", book.parent / out), "taken is a file", "another folder")
    assert files(book.parent) == before


@pytest.mark.parametrize("words", [("plan", *ON), ("check",), ("climate",), ("need", *ON[:2])])
def test_a_notebook_that_is_not_there_is_named_and_not_made(
    haulm: Haulm, tmp_path: Path, words: tuple[str, ...]
) -> None:
    """A name with a slip in it makes no empty notebook; it is told that there is none."""
    verb, *options = words
    told(haulm(verb, tmp_path / "gardn.haulm", *options), "gardn.haulm", "no such notebook")
    assert list(tmp_path.iterdir()) == []


def test_another_program_s_database_is_left_alone(haulm: Haulm, tmp_path: Path) -> None:
    """A file of SQLite that is no notebook is refused, for reading and for importing into."""
    other = tmp_path / "seeds.haulm"
    connection = sqlite3.connect(other)
    connection.execute("CREATE TABLE seeds (name TEXT)")
    connection.commit()
    connection.close()
    toml = small_garden(tmp_path)
    before = files(tmp_path)
    told(haulm("plan", other, *ON), "seeds.haulm", "not a haulm notebook")
    told(haulm("import", toml, other), "seeds.haulm", "not a haulm notebook")
    assert files(tmp_path) == before


def test_half_a_notebook_is_told_to_be_damaged(haulm: Haulm, book: Path) -> None:
    """A notebook that was cut off, as by a full disk, is refused and not mended by guessing."""
    book.write_bytes(book.read_bytes()[:5000])
    before = files(book.parent)
    told(haulm("plan", book, *ON), "garden.haulm", "damaged")
    assert files(book.parent) == before


def test_a_notebook_another_program_holds_is_not_written_over(
    haulm: Haulm, book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While something else has the notebook open for writing, the plan is refused in words."""
    monkeypatch.setattr(notebook_file, "PATIENCE_S", 0.05)
    before = files(book.parent)
    holder = sqlite3.connect(book, isolation_level=None)
    holder.execute("BEGIN EXCLUSIVE")
    told(haulm("plan", book, *ON), "garden.haulm", "another program")
    holder.execute("ROLLBACK")
    holder.close()
    assert files(book.parent) == before


def test_a_notebook_beside_which_nothing_can_be_written_is_refused(
    haulm: Haulm, book: Path
) -> None:
    """Where SQLite cannot write its journal beside the notebook, no plan is kept and it is said."""
    (book.parent / "garden.haulm-journal").mkdir()
    before = files(book.parent)
    told(haulm("plan", book, *ON), "garden.haulm", "nothing of this was written")
    assert files(book.parent) == before


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may write any file")
def test_a_notebook_that_may_only_be_read_is_refused(haulm: Haulm, book: Path) -> None:
    """A notebook without leave to write keeps no plan, and it is said."""
    book.chmod(0o444)
    before = files(book.parent)
    told(haulm("plan", book, *ON), "garden.haulm")
    assert files(book.parent) == before


@pytest.mark.parametrize("target", ["", "none/garden.toml"])
def test_a_garden_is_not_exported_over_a_folder(haulm: Haulm, book: Path, target: str) -> None:
    """A folder in place of the file, or a folder that is not there, is refused in words."""
    before = files(book.parent)
    told(haulm("export", book, book.parent / target), "folder")
    assert files(book.parent) == before
