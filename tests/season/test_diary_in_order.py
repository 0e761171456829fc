"""The diary: corrections count, old values are kept, two devices agree."""

from dataclasses import replace
from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from haulm.season.diary import in_order
from haulm.season.records import Entry, EntryKind
from season.diary_by_hand import entry, kg

DAY = date(2027, 7, 20)


def lifted(amount: float) -> Entry:
    """Lift garlic."""
    return entry(EntryKind.PICKED, DAY, food="garlic", amount=kg(amount))


def put_right(wrong: Entry, amount: float) -> Entry:
    """Put a lifting right."""
    return replace(lifted(amount), replaces=wrong.id)


def test_a_correction_counts_and_what_was_written_first_is_kept() -> None:
    """An entry put right tells the new weight, and the old one can still be read."""
    wrong = lifted(20)
    right = put_right(wrong, 12)
    diary = in_order([wrong, right])
    assert diary.entries == (right,)
    assert diary.before[right.id] == (wrong,)


def test_a_correction_of_a_correction_counts() -> None:
    """Put right twice, the last holds, and both earlier ones are kept, the newest first."""
    first = lifted(20)
    second = put_right(first, 12)
    third = put_right(second, 12.5)
    diary = in_order([third, first, second])
    assert diary.entries == (third,)
    assert diary.before[third.id] == (second, first)


def test_what_was_taken_back_no_longer_counts_but_is_there() -> None:
    """An entry taken back is out of the diary and can still be found."""
    wrong = lifted(20)
    undo = replace(lifted(20), replaces=wrong.id, taken_back=True)
    diary = in_order([wrong, undo])
    assert diary.entries == ()
    assert diary.taken_back[undo.id] == wrong


def test_two_corrections_made_apart_are_told() -> None:
    """The phone and the laptop each put one entry right: the later counts, and it is said."""
    wrong = lifted(20)
    phone = replace(put_right(wrong, 12), device="phone")
    laptop = put_right(wrong, 13)
    diary = in_order([wrong, laptop, phone])
    assert diary.entries == (laptop,)
    assert "phone and laptop" in diary.doubts[0].what


def test_a_ring_of_corrections_loses_nothing() -> None:
    """Two entries that each say they put the other right leave one of them, not none."""
    one, other = lifted(1), lifted(2)
    ring = [replace(one, replaces=other.id), replace(other, replaces=one.id)]
    assert len(in_order(ring).entries) == 1


def test_a_correction_whose_entry_never_arrived_stands_by_itself() -> None:
    """What puts right an entry that another phone still holds is not lost."""
    alone = replace(lifted(3), replaces="on another phone")
    assert in_order([alone]).entries == (alone,)


@st.composite
def diaries(draw: st.DrawFn) -> list[Entry]:
    """Draw entries, some of them corrections of earlier ones, some taken back."""
    written: list[Entry] = []
    for _ in range(draw(st.integers(1, 12))):
        one = replace(lifted(draw(st.floats(0, 50))), day=DAY + timedelta(draw(st.integers(0, 9))))
        correction = draw(st.sampled_from(["none", "put right", "taken back"]))
        if written and correction != "none":
            earlier = draw(st.sampled_from(written)).id
            one = replace(one, replaces=earlier, taken_back=correction == "taken back")
        written.append(one)
    return written


@given(written=diaries(), data=st.data())
def test_the_order_in_which_entries_arrive_does_not_matter(
    written: list[Entry], data: st.DataObject
) -> None:
    """Entries of two devices, put together in any order and sent twice, tell the same diary."""
    mixed = data.draw(st.permutations(written + written[: len(written) // 2]))
    expected, found = in_order(written), in_order(mixed)
    assert found.entries == expected.entries
    assert found.before == expected.before
    assert found.taken_back == expected.taken_back


@given(written=diaries())
def test_every_entry_written_can_be_found_or_is_told_of(written: list[Entry]) -> None:
    """Nothing written is lost: it holds, stands behind what holds, was taken back, or is told."""
    diary = in_order(written)
    found = {one.id for one in diary.entries}
    found |= {one.id for earlier in diary.before.values() for one in earlier}
    found |= set(diary.taken_back) | {one.id for one in diary.taken_back.values()}
    if not diary.doubts and not diary.taken_back:
        assert found == {one.id for one in written}
