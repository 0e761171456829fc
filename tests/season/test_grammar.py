"""The grammar of entries: what does not fit its kind is told in words, all at once."""

from dataclasses import replace
from datetime import date

import pytest

from haulm.season.grammar import GRAMMARS, check_entry
from haulm.season.records import Entry, EntryKind, Leaves, Severity, StoreCount
from season.diary_by_hand import entry, kg, pieces

DAY = date(2027, 7, 20)
SOUND = (
    entry(EntryKind.SOWN, DAY, planting="pea:direct:2027-W10@a"),
    entry(EntryKind.EMERGED, DAY, planting="pea:direct:2027-W10@a", amount=pieces(80)),
    entry(EntryKind.FROST, DAY),
    entry(EntryKind.TROUBLE, DAY, trouble="rust", bed="a", severity=Severity.BAD),
    entry(EntryKind.PICKED, DAY, food="pea", amount=kg(1)),
    entry(EntryKind.PUT_BY, DAY, food="pea", store="freezer", form="frozen", amount=kg(1)),
    entry(EntryKind.COUNTED, DAY, lot="e1", count=StoreCount(10, 2)),
    entry(EntryKind.LOOKED, DAY, bed="a", leaves=Leaves(green=5, brown=4)),
    entry(EntryKind.LOOKED, DAY, bed="a", leaves=Leaves(down=0.6)),
    entry(EntryKind.EATEN, DAY, food="pea", amount=kg(1)),
    entry(EntryKind.WORKED, DAY, minutes=40),
)


@pytest.mark.parametrize("written", SOUND, ids=lambda written: written.kind)
def test_what_a_grower_would_write_is_taken(written: Entry) -> None:
    """An entry that says what it must is taken as it is."""
    assert check_entry(written, DAY) == ()


@pytest.mark.parametrize(
    ("written", "words"),
    [
        (entry(EntryKind.SOWN, DAY), "a planting or a kind is missing"),
        (entry(EntryKind.PICKED, DAY, food="pea"), "how much"),
        (entry(EntryKind.PICKED, DAY, food="pea", amount=kg(-1)), "less than nothing"),
        (entry(EntryKind.RAINED, DAY, amount=kg(1)), "a weight cannot be told"),
        (entry(EntryKind.COUNTED, DAY, food="pea"), "what was found"),
        (entry(EntryKind.WORKED, DAY), "how long"),
        (entry(EntryKind.LOOKED, DAY, bed="a"), "what was seen"),
        (entry(EntryKind.LOOKED, DAY, bed="a", leaves=Leaves(down=1.2)), "more than all tops"),
        (entry(EntryKind.WEEDED, DAY, bed="a", leaves=Leaves(green=3)), "looked at"),
        (entry(EntryKind.FROST, DAY, food="pea"), "a food says nothing here"),
        (entry(EntryKind.WEEDED, DAY, bed="a", count=StoreCount(1)), "sound and soft"),
    ],
)
def test_what_does_not_fit_is_told(written: Entry, words: str) -> None:
    """An entry that leaves out what it must say, or says what makes no sense, is refused."""
    assert any(words in fault.what for fault in check_entry(written, DAY))


def test_no_entry_tells_of_tomorrow() -> None:
    """What is still to come is not in the diary."""
    told = check_entry(SOUND[0], date(2027, 7, 19))
    assert "still to come" in told[0].what


def test_every_fault_is_told_at_once() -> None:
    """An entry with three faults tells all three."""
    wrong = replace(entry(EntryKind.PICKED, DAY, store="loft"), minutes=-1.0)
    assert len(check_entry(wrong, DAY)) == 4


def test_every_kind_of_entry_has_its_grammar() -> None:
    """There is no kind of entry that nothing is known of."""
    assert set(GRAMMARS) == set(EntryKind)
