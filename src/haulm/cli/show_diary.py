"""Show the diary, and what it teaches, on a terminal."""

from haulm.cli import show
from haulm.cli.show import line
from haulm.desk.season.diary_words import DiaryWords
from haulm.season.records import Diary, Entry

NAME_LENGTH = 8
"""So much of an entry's name tells it from others."""


def written(entry: Entry, words: DiaryWords) -> None:
    """Say what was written, and how to take it back."""
    line(f"Written: {words.sentence(entry)}")
    line(f"haulm diary back {entry.id[:NAME_LENGTH]} takes it back.")


def entries(found: Diary, words: DiaryWords) -> None:
    """List a diary's entries by day, with what they said before."""
    show.findings(found.doubts)
    if not found.entries:
        line("Nothing is written.")
    for entry in found.entries:
        line(f"{entry.id[:NAME_LENGTH]}  {words.sentence(entry)}")
        for earlier in found.before.get(entry.id, ()):
            line(f"{'':{NAME_LENGTH}}  before: {words.sentence(earlier)}")
