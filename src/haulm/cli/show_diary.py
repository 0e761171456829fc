"""Show the diary and the larder's ledger on a terminal."""

from haulm.cli import show
from haulm.cli.show import line, table
from haulm.desk.season.diary_words import sentence
from haulm.desk.season.ledger import LedgerToday
from haulm.measure.units import Units, show_mass
from haulm.season.eat_first import EatFirst
from haulm.season.records import Diary, Entry

__all__ = ["entries", "ledger", "sentence", "written"]

NAME_LENGTH = 8
"""So much of an entry's name tells it from others."""


def written(entry: Entry, units: Units) -> None:
    """Say what was written, and how to take it back."""
    line(f"Written: {sentence(entry, units)}")
    line(f"haulm diary back {entry.id[:NAME_LENGTH]} takes it back.")


def entries(found: Diary, units: Units) -> None:
    """List a diary's entries by day, with what they said before."""
    show.findings(found.doubts)
    if not found.entries:
        line("Nothing is written.")
    for entry in found.entries:
        line(f"{entry.id[:NAME_LENGTH]}  {sentence(entry, units)}")
        for earlier in found.before.get(entry.id, ()):
            line(f"{'':{NAME_LENGTH}}  before: {sentence(earlier, units)}")


def ledger(found: LedgerToday, order: tuple[EatFirst, ...], units: Units) -> None:
    """Show the lots in the order they should be eaten, and what the books cannot settle."""
    show.findings(found.ledger.worth_knowing)
    if not order:
        line("Nothing lies in store.")
        return
    names = found.names
    table(
        ("eat first", "form", "store", "put by", ">sound", ">lost in 4 weeks", "keeps until"),
        (
            (
                names.get(one.lot.food, one.lot.food),
                one.lot.key[2],
                names.get(one.lot.key[3], one.lot.key[3]),
                one.lot.put_by.isoformat(),
                show_mass(one.sound_kg, units),
                show_mass(one.lost_kg, units),
                one.past_on.isoformat() if one.past_on else "years",
            )
            for one in order
        ),
    )
