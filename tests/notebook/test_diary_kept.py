"""The diary in the notebook: what was written stays, whatever is sent again."""

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from haulm.notebook.diary import (
    Photo,
    Wanted,
    entry_from_text,
    entry_to_text,
    read_diary,
    read_entries,
    read_photo,
    write_entries,
    write_photo,
)
from haulm.notebook.file import create_notebook, open_notebook
from haulm.season.records import Entry, EntryKind
from season.diaries_drawn import FIRST_DAY, KINDS, LAST_DAY, comings
from season.diary_by_hand import entry, kg

DAY = date(2027, 7, 20)
BRIEFLY = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@BRIEFLY
@given(st.from_type(Entry), st.datetimes(timezones=st.just(UTC), allow_imaginary=False))
def test_an_entry_survives_as_text(any_entry: Entry, at: datetime) -> None:
    """Every word, figure and time of an entry comes back from the notebook."""
    written = replace(any_entry, written_at=at.replace(fold=0))
    text = entry_to_text(written)
    # Compared as written out: a figure that is not a number equals nothing, not even itself.
    assert entry_to_text(entry_from_text(text)) == text
    assert entry_from_text(text).written_at == written.written_at


@BRIEFLY
@given(
    parcels=comings(({"food": "garlic", "store": "loft", "form": "cured"},)),
    kinds=st.none() | st.frozensets(st.sampled_from(KINDS), min_size=1),
    first=st.none() | st.dates(FIRST_DAY, LAST_DAY),
)
def test_a_part_read_by_itself_is_that_part_of_the_whole(
    parcels: list[list[Entry]], kinds: frozenset[EntryKind] | None, first: date | None
) -> None:
    """Entries of some kinds, or since a day, are read with all that was put right of them."""
    wanted = Wanted(first, kinds)
    with TemporaryDirectory() as folder, create_notebook(Path(folder) / "a.haulm") as notebook:
        for parcel in parcels:
            write_entries(notebook, parcel)
        whole, part = read_diary(notebook), read_diary(notebook, wanted)
    assert part.entries == tuple(filter(wanted.has, whole.entries))
    assert part.before == {
        one.id: whole.before[one.id] for one in part.entries if one.id in whole.before
    }
    assert part.taken_back == {id_: one for id_, one in whole.taken_back.items() if wanted.has(one)}


def test_entries_come_back_by_day(tmp_path: Path) -> None:
    """What was written last for an earlier day is read before what came after it."""
    late = entry(EntryKind.PICKED, DAY, food="garlic", amount=kg(12))
    early = entry(EntryKind.SOWN, date(2026, 10, 1), kind="garlic/hard-necked")
    path = tmp_path / "garden.haulm"
    with create_notebook(path) as notebook:
        write_entries(notebook, [late, early])
    with open_notebook(path) as notebook:
        assert read_entries(notebook) == (early, late)
        assert read_entries(notebook, DAY) == (late,)


def test_what_is_sent_twice_is_there_once(tmp_path: Path) -> None:
    """A phone that sends its entries again, not sure they arrived, doubles nothing."""
    one = entry(EntryKind.PICKED, DAY, food="garlic", amount=kg(12))
    other = entry(EntryKind.PICKED, DAY, food="garlic", amount=kg(3))
    with create_notebook(tmp_path / "garden.haulm") as notebook:
        assert write_entries(notebook, [one]).new == 1
        taken = write_entries(notebook, [one, other])
        assert (taken.new, taken.known, taken.differ) == (1, 1, ())
        assert read_entries(notebook) == (one, other)


def test_an_entry_that_is_there_is_never_written_over(tmp_path: Path) -> None:
    """Another entry under the same name is refused and told; what was written stays."""
    one = entry(EntryKind.PICKED, DAY, food="garlic", amount=kg(12))
    with create_notebook(tmp_path / "garden.haulm") as notebook:
        write_entries(notebook, [one])
        taken = write_entries(notebook, [replace(one, amount=kg(99))])
        assert taken.new == 0
        assert "says something else" in taken.differ[0].what
        assert read_entries(notebook) == (one,)


def test_thousands_of_entries_are_taken_at_once(tmp_path: Path) -> None:
    """A whole year written off-line arrives whole."""
    many = [entry(EntryKind.WORKED, DAY, minutes=float(n)) for n in range(3000)]
    with create_notebook(tmp_path / "garden.haulm") as notebook:
        assert write_entries(notebook, many).new == 3000
        assert write_entries(notebook, many).known == 3000
        assert len(read_entries(notebook)) == 3000


def test_a_picture_goes_with_its_entry(tmp_path: Path) -> None:
    """A photo of rust is found by its entry, and another takes its place."""
    with create_notebook(tmp_path / "garden.haulm") as notebook:
        assert read_photo(notebook, "e1") is None
        write_photo(notebook, "e1", Photo("image/jpeg", b"rust"))
        write_photo(notebook, "e1", Photo("image/jpeg", b"more rust"))
        assert read_photo(notebook, "e1") == Photo("image/jpeg", b"more rust")
