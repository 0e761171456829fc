import os
import pickle
import signal
import subprocess
import sys
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, date, datetime
from pathlib import Path
from time import sleep

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gardens import small_garden
from haulm.desk.garden.editing import (
    Change,
    change_garden,
    choices_of,
    faults_elsewhere,
    faults_of,
    history,
    index_of,
    mark_of,
    parts_of,
    stamp,
    undo_last,
    write_first,
)
from haulm.desk.garden.exchange import import_garden
from haulm.desk.garden.opening import day_for, open_garden
from haulm.desk.planning.plans import question_hash
from haulm.desk.planning.question import ask
from haulm.measure.errors import (
    AuditFailedError,
    ChangedElsewhereError,
    FaultsFoundError,
    HaulmError,
)
from haulm.measure.findings import Finding
from haulm.notebook import history as kept
from haulm.notebook.file import open_notebook

AT = datetime(2027, 2, 1, 12, 0, tzinfo=UTC)
STANDING = """
[[standing]]
bed = "south"
kind = "leek/winter"
method = "modules"
started = 2026-10-20
area = "1 m2"
"""


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """Give a notebook of the small garden."""
    toml = small_garden(tmp_path)
    toml.write_text(toml.read_text("utf-8") + STANDING, encoding="utf-8")
    path, _ = import_garden(toml, None)
    toml.unlink()
    return path


def part(book: Path, name: str, number: int = 0) -> Mapping[str, object]:
    """Give one part of a notebook's garden."""
    return parts_of(book)[name][number]


def changed(book: Path, name: str, number: int = 0, /, **typed: object) -> Change:
    """Give a change of some keys of a part; None takes a key out."""
    was = part(book, name, number)
    kept = {key: value for key, value in (dict(was) | typed).items() if value is not None}
    return Change(name, mark_of(was), kept)


def test_every_part_is_given_as_it_was_typed(book: Path) -> None:
    """A page is shown what the grower wrote, by the keys of garden.toml; what was not written has
    no key.
    """
    parts = parts_of(book)
    assert parts["bed"][0] == {"id": "north", "name": "North", "width": "1.2 m", "length": "6 m"}
    assert parts["table"][2]["from"] == "06-15"
    assert parts["standing"][0]["started"] == date(2026, 10, 20)
    assert parts["hours"] == ({"every_week": 8},)
    assert parts["pin"] == ()


def test_a_part_changed_is_kept_as_typed(book: Path) -> None:
    """What is typed in a form is what the garden then says, other parts untouched."""
    before = parts_of(book)
    assert change_garden(book, [changed(book, "bed", 0, width="4 ft")], AT) == ()
    after = parts_of(book)
    assert after["bed"][0] == {**before["bed"][0], "width": "4 ft"}
    assert {name: parts for name, parts in after.items() if name != "bed"} == {
        name: parts for name, parts in before.items() if name != "bed"
    }


def test_texts_of_a_form_become_numbers_and_days(book: Path) -> None:
    """A form knows texts only: an age or a day typed in it is an age or a day all the same."""
    changes = [
        changed(book, "eater", 0, age="41"),
        changed(book, "place", latitude="47,5"),
        changed(book, "bed", 1, past=[{"crop": "onion", "year": "2025"}]),
        changed(book, "standing", started="2026-10-21"),
    ]
    change_garden(book, changes, AT)
    parts = parts_of(book)
    assert parts["eater"][0]["age"] == 41
    assert parts["place"][0]["latitude"] == 47.5
    assert parts["bed"][1]["past"] == [{"crop": "onion", "year": 2025}]
    assert parts["standing"][0]["started"] == date(2026, 10, 21)


def test_two_windows_that_change_different_parts_both_succeed(book: Path) -> None:
    """Whoever takes out the first line of the table does not disturb one who changes the third."""
    lines = parts_of(book)["table"]
    mine = Change("table", mark_of(lines[2]), {**lines[2], "amount": "0.7 kg"})
    theirs = Change("table", mark_of(lines[0]), None)
    change_garden(book, [theirs], AT)
    change_garden(book, [mine], AT)
    assert parts_of(book)["table"] == (lines[1], {**lines[2], "amount": "0.7 kg"}, lines[3])


def test_two_windows_that_change_the_same_part_are_told(book: Path) -> None:
    """The second to change a bed is shown the bed as it is now, and nothing is overwritten."""
    mine, theirs = changed(book, "bed", 0, width="2 m"), changed(book, "bed", 0, width="3 m")
    change_garden(book, [theirs], AT)
    before = book.read_bytes()
    with pytest.raises(ChangedElsewhereError, match=r"North.*another window") as told:
        change_garden(book, [mine], AT)
    assert (told.value.part, told.value.now) == ("bed", part(book, "bed"))
    assert book.read_bytes() == before


@pytest.mark.parametrize("name", ["hours", "table", "eater"])
def test_what_was_taken_out_elsewhere_is_not_brought_back_unseen(book: Path, name: str) -> None:
    """A change of a part that another window took out is refused."""
    was = part(book, name)
    change_garden(book, [Change(name, mark_of(was), None)], AT)
    with pytest.raises(ChangedElsewhereError) as told:
        change_garden(book, [Change(name, mark_of(was), was)], AT)
    assert told.value.now is None


def test_a_part_there_is_one_of_is_not_added_twice(book: Path) -> None:
    """Where hours were given in another window meanwhile, giving them anew is refused."""
    with pytest.raises(ChangedElsewhereError) as told:
        change_garden(book, [Change("hours", "", {"every_week": 3})], AT)
    assert told.value.now == {"every_week": 8}


def test_changes_at_the_same_moment_are_all_kept(book: Path) -> None:
    """Ten windows that each add a bed at once leave ten beds more, each with an id of its own."""

    def add(number: int) -> None:
        bed = {"name": "New bed", "width": "1 m", "length": f"{number + 1} m"}
        change_garden(book, [Change("bed", "", bed)], AT)

    with ThreadPoolExecutor(4) as pool:
        list(pool.map(add, range(10)))
    beds = parts_of(book)["bed"]
    assert len(beds) == 12
    assert len({bed["id"] for bed in beds}) == 12


def test_parts_alike_can_be_taken_out_one_by_one(book: Path) -> None:
    """Of two entries alike in every word, each change takes one."""
    stock = {"kind": "leek/winter", "units": 100, "year": 2026}
    change_garden(book, [Change("stock", "", stock), Change("stock", "", stock)], AT)
    assert len(parts_of(book)["stock"]) == 2
    out = Change("stock", mark_of(stock), None)
    change_garden(book, [out], AT)
    assert parts_of(book)["stock"] == (stock,)
    with pytest.raises(ChangedElsewhereError):
        change_garden(book, [out, out], AT)


def test_a_bed_is_given_an_id_and_keeps_it(book: Path) -> None:
    """A new bed's id is made of its name, and no later name changes it."""
    bed = {"name": "Set-square No. 3", "width": "1 m", "length": "2 m"}
    change_garden(book, [Change("bed", "", bed), Change("bed", "", bed)], AT)
    assert [one["id"] for one in parts_of(book)["bed"][2:]] == [
        "set-square-no-3",
        "set-square-no-3-2",
    ]
    was = part(book, "bed", 2)
    change_garden(book, [Change("bed", mark_of(was), {**bed, "name": "Anvil"})], AT)
    assert part(book, "bed", 2)["id"] == "set-square-no-3"


def test_a_new_id_is_followed_through(book: Path) -> None:
    """A bed called by another id is so called by what stands on it and is pinned to it; an eater's
    new name by the days away.
    """
    pin = {"rule": "keep", "kind": "leek/winter", "bed": "south"}
    away = {"from": "2027-07-01", "to": "2027-07-14", "who": ["Pau", "Ines"]}
    change_garden(book, [Change("pin", "", pin), Change("away", "", away)], AT)
    change_garden(book, [changed(book, "bed", 1, id="sun"), changed(book, "eater", name="Ana")], AT)
    assert part(book, "standing")["bed"] == part(book, "pin")["bed"] == "sun"
    assert part(book, "away")["who"] == ["Pau", "Ana"]
    open_garden(book)


def test_what_others_name_is_not_taken_out(book: Path) -> None:
    """A bed on which leeks stand cannot be taken out before them, and it is said why; with them it
    can.
    """
    bed, leeks = part(book, "bed", 1), part(book, "standing")
    out = Change("bed", mark_of(bed), None)
    with pytest.raises(FaultsFoundError, match=r"South.*still named by the standing crop.*leek"):
        change_garden(book, [out], AT)
    assert change_garden(book, [out, Change("standing", mark_of(leeks), None)], AT) == ()
    assert [one["id"] for one in parts_of(book)["bed"]] == ["north"]


def test_a_fault_stands_beside_its_field(book: Path) -> None:
    """What is wrong with a part is told by its keys, and nothing is written."""
    before = book.read_bytes()
    bed = {"width": "1,2 m", "length": "wide", "past": [{"crop": "leak", "year": 26}]}
    change = Change("bed", "", bed)
    index = index_of(parts_of(book), change)
    with pytest.raises(FaultsFoundError) as refused:
        change_garden(book, [change], AT)
    beside = faults_of(refused.value, "bed", index)
    assert set(beside) == {"length", "past.0.year"}
    bed["past"] = [{"crop": "leak", "year": 2026}]
    with pytest.raises(FaultsFoundError) as refused:
        change_garden(book, [change], AT)
    beside = faults_of(refused.value, "bed", index)
    assert set(beside) == {"length", "past.0.crop"}
    assert "leek" in beside["past.0.crop"].remedy
    assert faults_elsewhere(refused.value, "bed", index) == ()
    assert book.read_bytes() == before


def test_a_fault_elsewhere_that_came_of_the_change_is_told(book: Path) -> None:
    """A bed made smaller than what stands on it is refused, and the fault is at what stands."""
    with pytest.raises(FaultsFoundError) as refused:
        change_garden(book, [changed(book, "bed", 1, width="10 cm")], AT)
    assert faults_of(refused.value, "bed", 1) == {}
    (fault,) = faults_elsewhere(refused.value, "bed", 1)
    assert fault.place == ("standing", 0, "area")


def spoil(book: Path) -> None:
    """Put faults into a notebook's garden, as an older haulm might have let them in."""
    with open_notebook(book) as notebook:
        parts = dict(notebook.parts())
        parts["table"] = (
            {"eat": "leak", "amount": "1 kg"},
            {"eat": "garlic", "portions": 0},
            {"eat": "onion", "amount": "1 kg", "priority": 9},
        )
        notebook.write_parts(parts)


def test_faults_of_before_do_not_stand_in_the_way(book: Path) -> None:
    """A garden with several faults is mended one by one; what is left is told each time."""
    spoil(book)
    with pytest.raises(FaultsFoundError):
        open_garden(book)
    bed = {"name": "New", "width": "1 m", "length": "1 m"}
    left = change_garden(book, [Change("bed", "", bed)], AT)
    assert len(left) == 3
    left = change_garden(book, [Change("table", mark_of(part(book, "table")), None)], AT)
    assert [fault.place[:2] for fault in left] == [("table", 0), ("table", 1)]
    left = change_garden(book, [changed(book, "table", 1, priority=5)], AT)
    assert [fault.place for fault in left] == [("table", 0, "portions")]
    with pytest.raises(FaultsFoundError):
        change_garden(book, [changed(book, "table", 0, portions=-1)], AT)
    assert change_garden(book, [changed(book, "table", 0, portions=2)], AT) == ()
    open_garden(book)


def test_the_last_changes_can_be_taken_back(book: Path) -> None:
    """Each change is listed with its time and can be taken back in turn, down to the first."""
    first = parts_of(book)
    change_garden(book, [changed(book, "bed", 0, width="2 m")], AT)
    second = parts_of(book)
    change_garden(book, [changed(book, "standing", started="2026-10-22")], AT.replace(hour=13))
    assert [(one.what, one.changed_at.hour) for one in history(book)] == [
        ("the standing crop “leek/winter” changed", 13),
        ("the bed “North” changed", 12),
    ]
    assert undo_last(book) == "the standing crop “leek/winter” changed"
    assert parts_of(book) == second
    assert undo_last(book) == "the bed “North” changed"
    assert parts_of(book) == first
    assert undo_last(book) is None


def test_a_change_made_elsewhere_is_not_taken_back_unseen(book: Path) -> None:
    """Whoever wants to take back the change they saw last is told when another came after it."""
    change_garden(book, [changed(book, "bed", 0, width="2 m")], AT)
    seen = history(book)[0].number
    undo_last(book, seen)
    change_garden(book, [changed(book, "bed", 0, width="3 m")], AT)
    with pytest.raises(ChangedElsewhereError, match="another window"):
        undo_last(book, seen)
    assert part(book, "bed")["width"] == "3 m"


def test_only_the_last_changes_are_kept(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The notebook does not grow for ever: of five changes, where three are kept, the last three;
    as made, it keeps fifty.
    """
    assert kept.MOST_KEPT == 50
    monkeypatch.setattr(kept, "MOST_KEPT", 3)
    for number in range(5):
        change_garden(book, [changed(book, "hours", every_week=number + 9)], AT)
    assert [one.number for one in history(book)] == [5, 4, 3]


def test_nothing_changed_is_nothing_written(book: Path) -> None:
    """A form sent back as it was shown leaves the notebook byte for byte as it was."""
    before = book.read_bytes()
    change_garden(book, [changed(book, "bed", 0)], AT)
    assert book.read_bytes() == before


def test_every_write_gives_another_stamp(book: Path) -> None:
    """A server sees by the stamp that anything was written: a change, an undo, another file."""
    stamps = [stamp(book)]
    for width in ("2 m", "3 m", "4 m"):
        change_garden(book, [changed(book, "bed", 0, width=width)], AT)
        stamps.append(stamp(book))
    undo_last(book)
    stamps.append(stamp(book))
    content = book.read_bytes()
    book.unlink()
    stamps.append(stamp(book))
    book.write_bytes(content)
    stamps.append(stamp(book))
    assert len(set(stamps)) == len(stamps)
    assert stamp(book) == stamps[-1]
    parts_of(book)
    assert stamp(book) == stamps[-1]


def test_a_first_garden_is_made_of_parts(tmp_path: Path) -> None:
    """From place, eaters, table and a bed a notebook is made, that opens as a garden."""
    path = tmp_path / "first.haulm"
    parts: dict[str, tuple[Mapping[str, object], ...]] = {
        "garden": ({"name": "First"},),
        "place": ({"latitude": "47.6", "longitude": "8.1", "soil": "loam"},),
        "weather": ({"grid": True},),
        "hours": ({"every_week": 5},),
        "eater": ({"name": "Ada", "age": 40},),
        "table": ({"eat": "garlic", "portions": 1},),
        "bed": ({"name": "Long bed", "width": "1.2 m", "length": "6 m"},),
    }
    told = write_first(path, parts)
    assert {finding.place for finding in told} == {("place", "height"), ("weather", "grid")}
    garden = open_garden(path).garden
    assert (garden.beds[0].id, garden.place.height_m) == ("long-bed", None)
    assert history(path) == ()
    with pytest.raises(FaultsFoundError, match="already"):
        write_first(path, parts)
    other = tmp_path / "other.haulm"
    with pytest.raises(FaultsFoundError, match="latitude"):
        write_first(other, parts | {"place": ({"longitude": 8.1, "soil": "loam"},)})
    assert not other.exists()


def test_a_daily_record_is_not_typed(book: Path) -> None:
    """A record's name without its days is refused: it comes as a file."""
    with pytest.raises(FaultsFoundError, match="comes as a file"):
        change_garden(book, [changed(book, "weather", normals=None, record="../x.csv")], AT)


def test_the_words_of_a_choice_are_listed() -> None:
    """A page can offer every cover, soil and rule that a garden may name, and no more."""
    assert choices_of("bed", "cover") == ("open", "tunnel", "glass")
    assert choices_of("pin", "rule") == (
        "keep",
        "at least",
        "at most",
        "forbid",
        "only in",
        "apart",
    )
    assert "sandy loam" in choices_of("place", "soil")
    assert choices_of("bed", "name") == ()


def test_an_unknown_part_is_refused(book: Path) -> None:
    """A change of a part that no garden has is refused, not lost."""
    with pytest.raises(FaultsFoundError, match="shrubs"):
        change_garden(book, [Change("shrubs", "", {})], AT)


def test_a_pin_is_part_of_the_question(book: Path, day: date) -> None:
    """A pin added asks another question, so the plan of before is known to answer another."""
    before = open_garden(book)
    pin = {"rule": "forbid", "kind": "leek/winter", "bed": "north", "week": "2027-W14"}
    change_garden(book, [Change("pin", "", pin)], AT)
    after = open_garden(book)
    assert after.garden.pins[0].sow_on == date(2027, 4, 5)
    marks = {
        question_hash(ask(one.garden, one.catalogue, day, 1).question) for one in (before, after)
    }
    assert len(marks) == 2


def test_an_invented_garden_s_own_day_counts_unless_another_is_given(book: Path) -> None:
    """The day given counts; without one, the garden's own; without that, the true day."""
    true_day = date(2026, 11, 25)
    assert day_for(book, None, true_day) == true_day
    change_garden(book, [changed(book, "garden", today="2027-02-01")], AT)
    assert day_for(book, None, true_day) == date(2027, 2, 1)
    assert day_for(open_garden(book).garden, date(2027, 3, 1), true_day) == date(2027, 3, 1)


def test_a_record_named_and_not_there_is_a_fault(book: Path) -> None:
    """A notebook that names a daily record without holding its days is told so, never planned."""
    with open_notebook(book) as notebook:
        notebook.write_parts({**notebook.parts(), "weather": ({"record": "days.csv"},)})
    with pytest.raises(FaultsFoundError, match=r"weather, record: .*not in the notebook"):
        open_garden(book)


@pytest.mark.parametrize(
    "error",
    [
        FaultsFoundError([Finding("bed 1", "it is no bed.", "Dig one.", place=("bed", 0))]),
        AuditFailedError([Finding("plan", "it does not add up.")]),
        ChangedElsewhereError("It was changed.", "bed", {"id": "north"}),
    ],
)
def test_what_is_refused_beside_is_told_here(error: HaulmError) -> None:
    """What another process refuses reaches the one that asked with every word and place."""
    told = pickle.loads(pickle.dumps(error))  # noqa: S301 (our own words)
    assert str(told) == str(error)
    assert vars(told) == vars(error)


WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=8)
JUNK = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), WORDS, st.dates()),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(WORDS, inner, max_size=3)),
    max_leaves=4,
)
KEYS = st.sampled_from(["id", "name", "width", "corners", "past", "eat", "from", "rule", "record"])


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    name=st.sampled_from(["garden", "place", "weather", "bed", "table", "pin", "away", "store"]),
    typed=st.dictionaries(st.one_of(KEYS, WORDS), JUNK, max_size=4),
    adds=st.booleans(),
)
def test_anything_typed_is_answered_in_words(
    book: Path, name: str, typed: dict[str, object], *, adds: bool
) -> None:
    """Whatever a form sends, the answer is a garden or findings, and it opens afterwards."""
    listed = parts_of(book)[name]
    seen = "" if adds or not listed else mark_of(listed[0])
    try:
        change_garden(book, [Change(name, seen, typed)], AT)
    except (FaultsFoundError, ChangedElsewhereError) as refused:
        told = str(refused)
    else:
        told = "nothing stands in the way"
    assert told
    open_garden(book)


EDIT_FOR_EVER = """
import sys
from datetime import datetime
from itertools import count
from pathlib import Path

from haulm.desk.garden.editing import Change, change_garden, mark_of, parts_of

path = Path(sys.argv[1])
for number in count(1):
    bed = parts_of(path)["bed"][0]
    hours = parts_of(path)["hours"][0]
    change_garden(
        path,
        [
            Change("bed", mark_of(bed), {**bed, "width": f"{number} m"}),
            Change("hours", mark_of(hours), {"every_week": number % 100}),
        ],
        datetime(2027, 2, 1),
    )
    print(number, flush=True)
"""


@pytest.mark.parametrize("after_ms", [3, 11, 19])
def test_killed_in_the_middle_of_a_save_the_old_or_the_new_garden_is_there(
    book: Path, after_ms: int
) -> None:
    """Whoever is struck down while saving finds the garden as it was or as it was to be, never a
    part of each.
    """
    with subprocess.Popen(  # noqa: S603 (our own words)
        [sys.executable, "-c", EDIT_FOR_EVER, book], stdout=subprocess.PIPE, text=True
    ) as editing:
        assert editing.stdout is not None
        saved = int(editing.stdout.readline())
        sleep(after_ms / 1000)
        os.kill(editing.pid, signal.SIGKILL)
        saved = int(([saved, *map(int, editing.stdout.read().split())])[-1])
    parts = parts_of(book)
    width = int(str(parts["bed"][0]["width"]).removesuffix(" m"))
    assert width in {saved, saved + 1}
    assert parts["hours"][0]["every_week"] == width % 100
    assert len(history(book)) == min(width, 50)
    open_garden(book)
    change_garden(book, [changed(book, "bed", 0, width="1 m")], AT)
