"""Show the diary, and what it teaches, on a terminal."""

from haulm.cli import show
from haulm.cli.show import line, table
from haulm.desk.season.diary_words import sentence
from haulm.desk.season.learning import Lessons
from haulm.measure.units import Units
from haulm.season.records import Diary, Entry

__all__ = ["entries", "lessons", "sentence", "written"]

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


def lessons(found: Lessons) -> None:
    """Show what a diary teaches, with how much of each figure is still the catalogue's."""
    if not found.moved and not found.ready:
        line("Nothing yet: a planting teaches once it was weighed, or counted up, and is cleared.")
        return
    table(
        ("figure", ">usual", ">yours", ">8 years in 10", "unit", ">records", ">the catalogue's"),
        (
            (
                one.name,
                f"{one.usual:.3g}",
                f"{one.value:.3g}",
                f"{one.low:.3g} to {one.high:.3g}",
                "" if one.unit == "1" else one.unit,
                f"{one.records}",
                f"{one.prior_weight:.0%}",
            )
            for one in found.moved
        ),
    )
    for one in found.moved:
        for entry in one.asked:
            line(f"{one.name}: is entry {entry[:NAME_LENGTH]} right? It is far from the others.")
    for ready in found.ready:
        days = round(ready.learnt.mean)
        when = f"{abs(days)} days {'later' if days > 0 else 'earlier'} than" if days else "as"
        line(
            f"{found.names.get(ready.kind, ready.kind)} is ready {when} reckoned"
            f" ({ready.learnt.records} records)."
        )
