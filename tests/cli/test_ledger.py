"""The ledger on a terminal: what lies in store, as data too, and the strip as a file."""

import json
from pathlib import Path

from shell import Haulm

TODAY = ("--on", "2027-02-01")


def put_by(haulm: Haulm, planned: Path, *more: str) -> None:
    """Put garlic by in the pantry."""
    what = ("put by", "--food", "garlic", "--kind", "garlic/hard-necked", "--amount", "1 kg")
    where = ("--store", "pantry", "--form", "cured", "--on", "2026-08-20", "--in", planned)
    assert haulm("diary", "add", *what, *where, *more).code == 0


def test_the_ledger_tells_what_to_eat_and_until_when(haulm: Haulm, planned: Path) -> None:
    """Garlic in the pantry is listed with this week's limit and the dates of running out."""
    put_by(haulm, planned)
    said = haulm("ledger", planned, "--on", "2027-01-15").out
    for words in ("eat first", "garlic", "bulb", "gone in 2, 5, 8 years of 10 by"):
        assert words in said


def test_an_empty_larder_is_said_to_be_empty(haulm: Haulm, planned: Path) -> None:
    """Nothing in store is no table of nothing."""
    assert "Nothing lies in store." in haulm("ledger", planned).out


def test_the_ledger_as_data_balances(haulm: Haulm, planned: Path) -> None:
    """As data, each lot has its balance: what came in is what went, was lost or is there."""
    put_by(haulm, planned)
    found = json.loads(haulm("ledger", planned, "--on", "2027-01-15", "--json").out)
    one = found["lots"][0]["balance"]
    gone = sum(one["out_kg"].values()) + one["cleared_kg"] + one["missing_kg"]
    assert abs(one["put_by_kg"] - gone - one["sound_kg"] - one["rotting_kg"]) < 1e-6
    assert found["strip"][0]["food"] == "garlic"


def test_the_papers_are_written_and_a_filled_table_is_taken_in(
    haulm: Haulm, planned: Path, tmp_path: Path
) -> None:
    """The strip, the check sheet and its table; filled in, it counts once, however often read."""
    put_by(haulm, planned)
    folder = tmp_path / "papers"
    assert haulm("ledger", planned, "--papers", folder, *TODAY).code == 0
    names = {file.name for file in folder.iterdir()}
    assert names == {"fridge-strip.pdf", "check-pantry.pdf", "check-pantry.csv"}
    assert all(file.read_bytes()[:4] == b"%PDF" for file in folder.glob("*.pdf"))
    table = folder / "check-pantry.csv"
    filled = table.read_text().replace(",,,,,\n", ",2027-01-30,10,2,,\n")
    assert filled != table.read_text()
    table.write_text(filled)
    assert "1 lots counted" in haulm("ledger", planned, "--counted", table, *TODAY).out
    again = haulm("ledger", planned, "--counted", table, *TODAY)
    assert again.code == 0
    found = json.loads(haulm("ledger", planned, "--json", *TODAY).out)
    assert len(found["lots"][0]["counts"]) == 1


def test_a_table_with_a_lot_that_is_not_there_changes_nothing(
    haulm: Haulm, planned: Path, tmp_path: Path
) -> None:
    """A table of another notebook is refused by name."""
    put_by(haulm, planned)
    table = tmp_path / "check.csv"
    table.write_text("lot,day,sound,soft,sprouted\nnobody,2027-01-30,3,0,0\n")
    refused = haulm("ledger", planned, "--counted", table, *TODAY)
    assert refused.code != 0
    assert "nobody" in refused.err


def test_papers_that_cannot_be_written_are_told(
    haulm: Haulm, planned: Path, tmp_path: Path
) -> None:
    """A file where the folder should be is named, and nothing is written."""
    put_by(haulm, planned)
    (tmp_path / "taken").write_text("a letter")
    refused = haulm("ledger", planned, "--papers", tmp_path / "taken", *TODAY)
    assert refused.code != 0
    assert "taken" in refused.err


def hang(haulm: Haulm, planned: Path) -> None:
    """Hang garlic to cure in the pantry."""
    what = ("cured", "--food", "garlic", "--kind", "garlic/hard-necked", "--amount", "5 kg")
    assert haulm("diary", "add", *what, "--on", "2026-11-10", "--in", planned).code == 0


def test_the_ledger_tells_what_hangs(haulm: Haulm, planned: Path) -> None:
    """What hangs is told with its end, the test for done, its rack, and that none is told."""
    hang(haulm, planned)
    said = haulm("ledger", planned, "--on", "2026-11-15").out
    for words in (
        "hung to cure",
        "by 2026-12-15",
        "neck is tight",
        "nobody has told how much rack",
    ):
        assert words in " ".join(said.split())
    one = json.loads(haulm("ledger", planned, "--on", "2026-11-15", "--json").out)
    (hung,) = one["hung"]
    assert hung["kg"] == 5
    assert hung["done_on"][1] == "2026-12-15"
    assert hung["rack_load"]["basis"] == "judged"
    assert one["racks"]["told_m2"] is None


def test_the_ledger_tells_what_sprouted_is_good_for(haulm: Haulm, planned: Path) -> None:
    """Garlic counted as sprouted may be eaten, planted, or kept otherwise, without any time."""
    put_by(haulm, planned, "--amount", "2 kg")
    count = ("counted", "--food", "garlic", "--store", "pantry", "--form", "cured")
    found = ("--sound", "1 kg", "--sprouted", "0.4 kg")
    args = (*count, *found, "--on", "2026-11-12", "--in", planned)
    assert haulm("diary", "add", *args).code == 0
    said = " ".join(haulm("ledger", planned, "--on", "2026-11-15").out.split())
    for words in ("Sprouted: 400 g", "Eat:", "Plant:", "haulm gives no times"):
        assert words in said
    (one,) = json.loads(haulm("ledger", planned, "--on", "2026-11-15", "--json").out)["sprouted"]
    assert abs(one["kg"] - 0.4) < 1e-9
    assert "plant" in one["good_for"]


def test_the_ledger_tells_where_the_picking_went(haulm: Haulm, planned: Path) -> None:
    """Three kilograms picked and one put by: two are not told, in words and as data."""
    what = ("picked", "--food", "garlic", "--amount", "3 kg", "--on", "2026-08-19")
    assert haulm("diary", "add", *what, "--in", planned).code == 0
    put_by(haulm, planned)
    said = " ".join(haulm("ledger", planned, "--on", "2026-11-15").out.split())
    assert "part: Garlic: 3 kg picked = 1 kg put by + 2 kg not told." in said
    assert "usually go in drying and trimming" in said
    (one,) = json.loads(haulm("ledger", planned, "--on", "2026-11-15", "--json").out)["weighing"]
    assert (one["picked_kg"], one["put_by_kg"], one["untold_kg"], one["parts"]) == (3, 1, 2, True)


def test_the_ledger_tells_what_else_to_do_with_what_is_eaten_too_slowly(
    haulm: Haulm, planned: Path
) -> None:
    """Ten kilograms of garlic of which hardly any is eaten: plant some, give some, take care."""
    put_by(haulm, planned, "--amount", "10 kg")
    where = ("--store", "pantry", "--form", "cured", "--on", "2026-11-01", "--in", planned)
    args = ("eaten", "--food", "garlic", "--amount", "0.01 kg", *where)
    assert haulm("diary", "add", *args).code == 0
    said = " ".join(haulm("ledger", planned, "--on", "2026-11-15").out.split())
    for words in ("Speed up", "Put some by to plant", "Give some away", "haulm gives no times"):
        assert words in said
    (food,) = json.loads(haulm("ledger", planned, "--on", "2026-11-15", "--json").out)["foods"]
    assert food["other_uses"]["planted"]["unit"] == "clove"


def test_the_newest_places_where_books_and_counts_part_are_told_first(
    haulm: Haulm, planned: Path
) -> None:
    """Of six counts that part from the books four are told, the newest first, and how many there
    are besides; all of them when asked.
    """
    store = ("--food", "garlic", "--store", "pantry", "--form", "cured", "--in", planned)
    put_by(haulm, planned, "--amount", "40 kg")
    for number in range(1, 7):
        sound = ("counted", "--sound", f"{40 - 5 * number} kg", "--soft", "0 kg")
        day = f"2026-09-{number:02d}"
        assert haulm("diary", "add", *sound, "--sprouted", "0 kg", *store, "--on", day).code == 0
    said = haulm("ledger", planned, "--on", "2026-10-15").out
    assert said.count("counted garlic") == 4
    assert said.index("2026-09-06") < said.index("2026-09-05")
    assert "2 earlier places where books and diary part: --all tells them." in said
    assert haulm("ledger", planned, "--on", "2026-10-15", "--all").out.count("counted garlic") == 6
