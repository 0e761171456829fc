"""Show the diary, and what it teaches, on a terminal."""

from haulm.cli import show
from haulm.cli.show import line
from haulm.desk.season.diary_words import sentence
from haulm.measure.units import Units
from haulm.season.records import Diary, Entry

__all__ = ["entries", "sentence", "written"]

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
