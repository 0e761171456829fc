"""The diary at the desk: typed words are read, nothing is guessed, nothing written is lost."""

from datetime import UTC, date, datetime, timedelta
from itertools import count
from pathlib import Path

import pytest

from haulm.desk.garden.exchange import import_garden
from haulm.desk.planning.plans import plan_garden
from haulm.desk.season.diary import diary_of, put_right, receive, take_back, write_entry
from haulm.desk.season.diary_files import ColumnMap, as_typed, diary_csv, import_table
from haulm.desk.season.diary_typed import TypedEntry, Written
from haulm.desk.season.diary_words import DiaryWords
from haulm.desk.season.ledger import ledger_of
from haulm.measure.errors import FaultsFoundError
from haulm.planner.question import Effort
from haulm.season.ledger import by_food
from haulm.season.records import Entry, EntryKind, Measured, key_of
from season.diary_by_hand import entry, kg

TODAY = date(2027, 8, 1)
AT = datetime(2027, 8, 1, 18, tzinfo=UTC)
_numbers = count(1)


@pytest.fixture
def notebook(small_toml: Path, tmp_path: Path) -> Path:
    """Give the small garden's notebook, without a plan."""
    return import_garden(small_toml, tmp_path / "small.haulm")[0]


def by_laptop() -> Written:
    """Name an entry as the laptop would."""
    number = next(_numbers)
    return Written(f"laptop-{number}", AT + timedelta(seconds=number), "laptop")


def write(notebook: Path, kind: str, day: str = "2027-07-20", **said: str) -> Entry:
    """Write an entry as typed."""
    return write_entry(notebook, TypedEntry(kind, day, **said), by_laptop(), TODAY)


def refused(notebook: Path, kind: str, day: str = "2027-07-20", **said: str) -> str:
    """Try to write an entry, and give all that was said against it."""
    with pytest.raises(FaultsFoundError) as caught:
        write(notebook, kind, day, **said)
    return str(caught.value)


def test_an_entry_is_read_as_it_is_spoken(notebook: Path) -> None:
    """Names may be spelled as a grower would, and a weight be in ounces."""
    written = write(notebook, "Picked", food="GARLIC", amount="7 oz")
    assert written.about.food == "garlic"
    assert written.amount is not None
    assert written.amount.number == pytest.approx(0.198447, abs=1e-5)
    assert diary_of(notebook).entries == (written,)


@pytest.mark.parametrize(
    ("text", "measured", "number"),
    [
        ("12 bulbs", Measured.PIECES, 12),
        ("12 pieces", Measured.PIECES, 12),
        ("1,5 kg", Measured.KG, 1.5),
    ],
)
def test_amounts_are_counted_or_weighed(
    notebook: Path, text: str, measured: Measured, number: float
) -> None:
    """A picking may be counted in the food's own pieces or weighed."""
    written = write(notebook, "picked", food="garlic", amount=text)
    assert written.amount is not None
    assert (written.amount.measured, written.amount.number) == (measured, number)


@pytest.mark.parametrize(
    ("kind", "text"), [("picked", "60 bulbs"), ("set", "240 cloves"), ("picked", "5 heads")]
)
def test_a_count_in_the_words_of_what_a_planting_gives_needs_no_food_named(
    notebook: Path, kind: str, text: str
) -> None:
    """Where a planting of garlic is named, 60 bulbs or cloves are 60 of it; heads are not its."""
    planting = "garlic/soft-necked:cloves:2026-W44@north"
    if text.endswith("heads"):
        assert "heads" in refused(notebook, kind, planting=planting, amount=text)
        return
    written = write(notebook, kind, planting=planting, amount=text)
    assert written.amount is not None
    assert written.amount.measured is Measured.PIECES
    assert written.amount.number == float(text.split(maxsplit=1)[0])


def test_a_bare_number_is_not_guessed(notebook: Path) -> None:
    """Twelve of garlic may be bulbs or kilograms: it is asked, not taken for one of them."""
    assert "without a unit" in refused(notebook, "picked", food="garlic", amount="12")


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"kind": "pickt", "food": "garlic"}, 'Did you mean "picked"'),
        ({"kind": "picked", "food": "garlik", "amount": "1 kg"}, 'Did you mean "garlic"'),
        ({"kind": "picked", "food": "garlic", "amount": "1 kg", "day": "20 July"}, "no day"),
        ({"kind": "picked", "food": "garlic", "amount": "1 kg", "day": "2028-01-01"}, "to come"),
        (
            {"kind": "picked", "food": "garlic", "amount": "1 kg", "day": "1827-07-20"},
            "before 1900",
        ),
        ({"kind": "weeded", "bed": "nowhere"}, "no bed"),
        ({"kind": "sown", "planting": "leek-9"}, "there is no plan"),
        ({"kind": "worked", "minutes": "a while"}, "minutes"),
        ({"kind": "counted", "food": "garlic", "soft": "2 kg"}, "what is sound"),
        ({"kind": "counted", "food": "garlic", "sound": "2 kg", "soft": "3 bulbs"}, "two measures"),
    ],
)
def test_what_cannot_be_read_is_told(notebook: Path, said: dict[str, str], words: str) -> None:
    """A word haulm does not know is asked about, and nothing is written."""
    assert words in refused(notebook, **said)
    assert diary_of(notebook).entries == ()


def test_a_wrong_weight_is_put_right_and_taken_back(notebook: Path) -> None:
    """A slip is put right; the slip is kept behind it; taken back, neither counts."""
    wrong = write(notebook, "picked", food="garlic", amount="20 kg")
    right = TypedEntry("picked", "2027-07-20", food="garlic", amount="2 kg")
    put = put_right(notebook, wrong.id, right, by_laptop(), TODAY)
    diary = diary_of(notebook)
    assert diary.entries == (put,)
    assert diary.before[put.id] == (wrong,)
    take_back(notebook, put.id, by_laptop())
    assert diary_of(notebook).entries == ()


def test_only_what_holds_can_be_put_right(notebook: Path) -> None:
    """An entry that is not there is not put right, and its likeness is offered."""
    write(notebook, "picked", food="garlic", amount="2 kg")
    right = TypedEntry("picked", "2027-07-20", food="garlic", amount="3 kg")
    with pytest.raises(FaultsFoundError, match="no entry"):
        put_right(notebook, "nothing", right, by_laptop(), TODAY)


def test_a_planting_keeps_its_name_when_the_plan_is_made_again(notebook: Path) -> None:
    """What is written of a planting stays with it, whatever a later plan calls it."""
    made = plan_garden(notebook, date(2027, 2, 1), Effort("quick", 0, 0.05), seed=1)
    planting = next(one for one in made.plan.plantings if not one.standing)
    written = write(notebook, "sown", planting=planting.id)
    assert written.about.planting == key_of(planting)
    assert written.about.bed == planting.bed
    again = write(notebook, "weeded", planting=key_of(planting))
    assert again.about.planting == written.about.planting


def test_phones_may_send_twice_and_their_clocks_be_wrong(notebook: Path) -> None:
    """What a phone sends again is there once; a clock two days fast is told of."""
    sent = [entry(EntryKind.PICKED, date(2027, 7, 30), food="garlic", amount=kg(1))]
    now = datetime(2027, 8, 1, 12, tzinfo=UTC)
    first = receive(notebook, sent, now + timedelta(days=2), now)
    again = receive(notebook, sent, now, now)
    assert (first.taken.new, again.taken.new, again.taken.known) == (1, 0, 1)
    assert "2 d 0 h fast" in first.told[0].what
    assert again.told == ()


def test_what_a_phone_sends_that_makes_no_sense_is_told_and_the_rest_taken(notebook: Path) -> None:
    """One bad entry of three does not lose the other two."""
    good = [entry(EntryKind.WORKED, date(2027, 7, 30), minutes=float(n)) for n in (20, 40)]
    bad = entry(EntryKind.PICKED, date(2027, 7, 30), food="garlic")
    now = datetime(2027, 8, 1, 12, tzinfo=UTC)
    received = receive(notebook, [good[0], bad, good[1]], now, now)
    assert received.taken.new == 2
    assert "how much" in received.told[0].what


def test_the_diary_goes_out_as_a_table_and_comes_in_again(notebook: Path, tmp_path: Path) -> None:
    """Written to CSV and read into a new notebook, every entry says the same."""
    write(notebook, "picked", food="garlic", amount="12 bulbs", words='long, "good" ones')
    write(notebook, "counted", food="garlic", sound="4 kg", soft="0.5 kg")
    write(notebook, "frost seen", amount="-2 °C")
    table = tmp_path / "diary.csv"
    table.write_text(diary_csv(notebook), encoding="utf-8")
    told = {as_typed(one) for one in diary_of(notebook).entries}
    other = tmp_path / "other.haulm"
    other.write_bytes(notebook.read_bytes())
    for one in diary_of(other).entries:
        take_back(other, one.id, by_laptop())
    assert import_table(other, table, ColumnMap(), AT, TODAY).new == 3
    assert {as_typed(one) for one in diary_of(other).entries} == told
    assert import_table(other, table, ColumnMap(), AT, TODAY).new == 0


def test_an_old_notebook_comes_in_by_its_own_headings(notebook: Path, tmp_path: Path) -> None:
    """A table in another tongue is read by a map of its headings and words."""
    table = tmp_path / "old.csv"
    table.write_text("Datum;was\n".replace(";", ",") + "2026-07-20,geerntet\n", encoding="utf-8")
    names = ColumnMap({"day": "Datum", "kind": "was"}, {"geerntet": "picked"})
    with pytest.raises(FaultsFoundError) as caught:
        import_table(notebook, table, names, AT, TODAY)
    assert "old.csv, row 2" in str(caught.value)
    table.write_text("Datum,was,Essen,Menge\n2026-07-20,geerntet,garlic,3 kg\n", encoding="utf-8")
    names = ColumnMap(
        {"day": "Datum", "kind": "was", "food": "Essen", "amount": "Menge"}, {"geerntet": "picked"}
    )
    assert import_table(notebook, table, names, AT, TODAY).new == 1


def test_one_bad_row_keeps_the_whole_table_out(notebook: Path, tmp_path: Path) -> None:
    """A table with a fault is not taken in by halves; every fault is told with its row."""
    table = tmp_path / "old.csv"
    table.write_text(
        "day,kind,food,amount\n2026-07-20,picked,garlic,3 kg\n"
        "2026-07-21,picked,garlik,3 kg\n2026-07-22,pickd,garlic,3 kg\n",
        encoding="utf-8",
    )
    with pytest.raises(FaultsFoundError) as caught:
        import_table(notebook, table, ColumnMap(), AT, TODAY)
    assert [f.where.split(",")[1] for f in caught.value.findings] == [" row 3", " row 4"]
    assert diary_of(notebook).entries == ()


def test_two_rows_alike_are_two_entries(notebook: Path, tmp_path: Path) -> None:
    """Watered twice on one day is watered twice, and still only so when read again."""
    table = tmp_path / "old.csv"
    row = "2026-07-20,rained,4 mm\n"
    table.write_text("day,kind,amount\n" + row + row, encoding="utf-8")
    assert import_table(notebook, table, ColumnMap(), AT, TODAY).new == 2
    assert import_table(notebook, table, ColumnMap(), AT, TODAY).known == 2


def test_the_ledger_starts_from_what_the_garden_tells(notebook: Path) -> None:
    """What was put by and eaten stands in the books by the catalogue's own keeping."""
    store = {"food": "garlic", "store": "pantry", "form": "cured"}
    write(notebook, "put by", crop_kind="garlic/hard-necked", amount="6 kg", **store)
    write(notebook, "eaten", day="2027-07-28", amount="1 kg", **store)
    found = ledger_of(notebook, TODAY)
    assert by_food(found.ledger, TODAY)["garlic"] == pytest.approx(5, abs=0.05)


def test_an_entry_is_read_out_in_the_gardens_units(notebook: Path) -> None:
    """Who thinks in pounds and degrees Fahrenheit reads the diary in them."""
    picked = write(notebook, "picked", food="garlic", amount="1.5 lb")
    frost = write(notebook, "frost seen", amount="28 F")
    assert "1.5 lb garlic" in DiaryWords("us").sentence(picked)
    assert "680 g garlic" in DiaryWords("metric").sentence(picked)
    assert "28 °F" in DiaryWords("us").sentence(frost)
