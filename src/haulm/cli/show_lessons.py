"""Show on a terminal what the year teaches."""

from collections.abc import Iterable

from haulm.cli import show
from haulm.cli.show import line, table
from haulm.cli.show_diary import NAME_LENGTH
from haulm.desk.season.diary_words import DiaryWords
from haulm.desk.season.lesson_records import Lessons, Moved
from haulm.desk.season.lesson_words import amount, state
from haulm.measure.sentences import capital
from haulm.measure.units import Units, show_mass
from haulm.season.records import Entry


def lessons(found: Lessons, units: Units) -> None:
    """Show what a diary teaches, with how much of each figure is still the catalogue's."""
    show.findings(found.told)
    if not found.moved:
        line("Nothing yet: a planting teaches once it was weighed or counted, and is cleared.")
    else:
        _moved(found.moved, units)
    for entry, figures in found.asked:
        names = "; ".join(one.name for one in figures)
        line(f"Is entry {entry[:NAME_LENGTH]} right? It is far from the others ({names}).")
    if found.asked:
        line("haulm learn --right ENTRY counts it, --aside ENTRY leaves it out for good.")
    for one in found.eaten:
        told = "the table has no line for it alone"
        if one.told_kg is not None:
            told = f"the table says {show_mass(one.told_kg, units)}"
        line(
            f"{found.names.get(one.food, one.food)}: {show_mass(one.eaten_kg, units)} a week eaten,"
            f" over {one.weeks} weeks of which {one.written_weeks} are written; {told}."
        )


def records(found: Lessons, entries: Iterable[Entry], words: DiaryWords) -> None:
    """Show of each figure what the next planting lies between, and the records it rests on."""
    by_name = {entry.id: entry for entry in entries}
    for one in found.moved:
        line(f"\n{capital(one.name)}")
        if one.next_low is not None and one.next_high is not None:
            low, high = (amount(one, each, words.units) for each in (one.next_low, one.next_high))
            line(f"The next planting, 8 years in 10: {low} to {high}.")
        for name in one.counted:
            told = words.sentence(by_name[name]) if name in by_name else ""
            line(f"{name[:NAME_LENGTH]}  {told}")


def _moved(moved: tuple[Moved, ...], units: Units) -> None:
    table(
        ("figure", ">usual", ">yours", ">8 in 10", ">records", ">the usual's", ""),
        (
            (
                one.name,
                amount(one, one.usual, units),
                amount(one, one.value, units),
                f"{amount(one, one.low, units)} to {amount(one, one.high, units)}",
                f"{one.records}",
                f"{one.prior_weight:.0%}",
                state(one, units),
            )
            for one in moved
        ),
    )
