"""What phones send: each entry once, each answered for, none lost."""

import shutil
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gardens import small_garden
from haulm.desk.garden.exchange import import_garden
from haulm.desk.season.diary import diary_of
from haulm.desk.season.diary_sent import Answered, Moment, Parcel, read_parcel, take_parcel
from haulm.measure.errors import FaultsFoundError
from haulm.season.records import Diary

NOW = datetime(2027, 8, 1, 12, tzinfo=UTC)
TODAY = NOW.date()
OUTSIDE = {"id", "written_at", "replaces", "taken_back"}
"""What an entry says beside what was typed."""
_numbers = count(1)


def sent(kind: str = "picked", **said: Any) -> dict[str, Any]:  # noqa: ANN401 - any part of an entry
    """Make an entry as a phone sends it."""
    number = next(_numbers)
    entry = {
        key: said.pop(key) for key in ("id", "written_at", "replaces", "taken_back") & said.keys()
    }
    told = {"day": "2027-07-30", "food": "garlic", "amount": "1 kg"} if kind == "picked" else {}
    return {
        "id": f"{number:032x}",
        "written_at": (NOW - timedelta(hours=2) + timedelta(minutes=number)).isoformat(),
        "typed": {"kind": kind, "day": "2027-07-30", **told, **said},
    } | entry


def parcel(entries: Sequence[dict[str, Any]], at: datetime = NOW, device: str = "phone") -> Parcel:
    """Make a parcel."""
    return Parcel(at, device, list(entries))


def take(path: Path, entries: Sequence[dict[str, Any]], at: datetime = NOW) -> Answered:
    """Send entries to a notebook."""
    return take_parcel(path, parcel(entries, at), Moment(NOW, TODAY))


@pytest.fixture(scope="module")
def once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Make the small garden's notebook once."""
    folder = tmp_path_factory.mktemp("sent")
    return import_garden(small_garden(folder), folder / "yard.haulm")[0]


@pytest.fixture
def notebook(once: Path, tmp_path: Path) -> Path:
    """Give a copy of the small garden's notebook."""
    return Path(shutil.copy(once, tmp_path / "yard.haulm"))


def test_what_was_taken_is_named_and_lies_in_the_notebook(notebook: Path) -> None:
    """A phone may forget exactly the entries that can be read back."""
    entries = [sent(), sent("rained", amount="8 mm"), sent("worked", minutes="20")]
    answered = take(notebook, entries)
    assert set(answered.taken) == {entry["id"] for entry in entries}
    assert {entry.id for entry in diary_of(notebook).entries} == set(answered.taken)
    assert answered.refused == {}
    assert answered.told == ()


def test_sent_twice_is_there_once_and_named_both_times(notebook: Path) -> None:
    """A phone that never heard the answer sends again, and nothing is doubled."""
    entries = [sent(), sent()]
    first, again = take(notebook, entries), take(notebook, entries)
    assert set(first.taken) == set(again.taken)
    assert len(diary_of(notebook).entries) == 2


def test_what_does_not_fit_stays_with_its_reason_and_the_rest_is_taken(notebook: Path) -> None:
    """One bad entry among good ones is told back by its name; the good ones are in."""
    good = sent()
    no_amount, no_kind = sent(amount=""), sent("dreamt")
    odd = {"id": "f" * 32, "typed": {"kind": "weeded"}}
    strange = sent(wheelbarrow="red")
    answered = take(notebook, [no_amount, good, no_kind, odd, strange])
    assert answered.taken == (good["id"],)
    assert set(answered.refused) == {no_amount["id"], no_kind["id"], odd["id"], strange["id"]}
    assert "how much" in answered.refused[no_amount["id"]][0].what
    assert "wheelbarrow" in answered.refused[strange["id"]][0].what


def test_an_entry_mended_on_the_phone_is_taken_then(notebook: Path) -> None:
    """What was refused may come again under its name once it fits."""
    wrong = sent(amount="2")
    assert take(notebook, [wrong]).taken == ()
    right = wrong | {"typed": wrong["typed"] | {"amount": "2 kg"}}
    assert take(notebook, [right]).taken == (wrong["id"],)


def test_another_content_under_a_name_that_is_there_is_refused(notebook: Path) -> None:
    """Nothing in the notebook is written over, and the phone is told."""
    entry = sent()
    take(notebook, [entry])
    other = entry | {"typed": entry["typed"] | {"amount": "9 kg"}}
    answered = take(notebook, [other])
    assert "something else" in answered.refused[entry["id"]][0].what
    assert diary_of(notebook).entries[0].amount is not None
    assert diary_of(notebook).entries[0].amount.number == 1  # type: ignore[union-attr]


def test_a_phone_that_was_given_another_name_may_send_again(notebook: Path) -> None:
    """The same entry from the same phone under a new name is the same entry."""
    entry = sent()
    take(notebook, [entry])
    renamed = take_parcel(notebook, parcel([entry], device="new name"), Moment(NOW, TODAY))
    assert renamed.taken == (entry["id"],)


def test_what_was_taken_once_is_taken_even_if_it_fits_no_more(notebook: Path) -> None:
    """A bed that has gone since does not make a phone keep what the notebook has."""
    entry = sent("weeded", bed="north")
    take(notebook, [entry])
    gone = entry | {"typed": entry["typed"] | {"bed": "a bed that has gone"}}
    assert take(notebook, [gone]).taken == (entry["id"],)


def test_a_clock_a_day_fast_is_told_and_its_entries_are_taken(notebook: Path) -> None:
    """The entries of a phone whose clock is wrong are in, and the grower knows which they are."""
    entry = sent(day="2027-08-02", written_at=(NOW + timedelta(days=1)).isoformat())
    answered = take(notebook, [entry], NOW + timedelta(days=1))
    assert answered.taken == (entry["id"],)
    assert "1 d 0 h fast" in answered.told[0].what
    assert "2027-08-02" in answered.told[0].what


def test_a_clock_set_back_between_writing_and_sending_is_told(notebook: Path) -> None:
    """An entry that was written later than it was sent shows a clock that was wrong."""
    entry = sent(written_at=(NOW + timedelta(days=3)).isoformat())
    answered = take(notebook, [entry])
    assert answered.taken == (entry["id"],)
    assert "set back" in answered.told[0].what
    assert "3 days" in answered.told[0].what


def test_a_correction_and_a_taking_back_come_from_a_phone_too(notebook: Path) -> None:
    """Put right and taken back on the phone, in any order of arrival."""
    first, other = sent(), sent(amount="3 kg")
    right = sent(amount="2 kg", replaces=first["id"])
    back = sent(amount="3 kg", replaces=other["id"], taken_back=True)
    take(notebook, [back, right])
    take(notebook, [other, first])
    diary = diary_of(notebook)
    assert [entry.id for entry in diary.entries] == [right["id"]]
    assert set(diary.taken_back) == {back["id"]}


def test_what_is_no_parcel_is_refused(notebook: Path) -> None:
    """A torn request tells what is wrong and writes nothing."""
    for data in (b"", b"[]", b'{"sent_at": "today", "device": "", "entries": []}'):
        with pytest.raises(FaultsFoundError, match="cannot be read"):
            read_parcel(data)
    assert diary_of(notebook).entries == ()


def shown(diary: Diary) -> tuple[object, ...]:
    """Give all that a diary tells, to compare."""
    return diary.entries, dict(diary.before), dict(diary.taken_back)


@settings(max_examples=12, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_any_interleaving_of_sends_gives_the_same_diary(once: Path, data: st.DataObject) -> None:
    """Two phones, sends cut off and repeated, in any order: the diary says the same."""
    start = sent()
    entries = [start, *(sent(amount=f"{kg} kg") for kg in (2, 3)), sent("rained", amount="4 mm")]
    entries += [sent(amount="5 kg", replaces=start["id"]), sent("weeded", bed="north")]
    entries.append(sent(amount="2 kg", replaces=entries[1]["id"], taken_back=True))
    parts = data.draw(
        st.lists(st.lists(st.sampled_from(entries), unique_by=lambda e: e["id"]), max_size=6)
    )
    rest = data.draw(st.permutations(entries))
    with TemporaryDirectory() as folder:
        mixed = Path(shutil.copy(once, Path(folder) / "mixed.haulm"))
        plain = Path(shutil.copy(once, Path(folder) / "plain.haulm"))
        for some in (*parts, rest):
            assert set(take(mixed, some).taken) == {entry["id"] for entry in some}
        take(plain, entries)
        assert shown(diary_of(mixed)) == shown(diary_of(plain))


def test_a_garden_with_a_day_of_its_own_takes_that_day(notebook: Path) -> None:
    """An invented garden may live in a day that is still to come elsewhere."""
    entry = sent(day="2028-02-01")
    later = take_parcel(notebook, parcel([entry]), Moment(NOW, date(2028, 2, 1)))
    assert later.taken == (entry["id"],)
