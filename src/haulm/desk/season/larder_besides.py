"""What a larder is told by besides its books: few entries of a long diary, read by themselves."""

from datetime import date, timedelta

from haulm.desk.season.larder_care import YEAR_DAYS
from haulm.notebook.diary import Wanted, read_diary
from haulm.notebook.notebook import Notebook
from haulm.season.records import STARTS, Entry, EntryKind
from haulm.season.weighing import WEIGHED

OF_ANY_YEAR = STARTS | {EntryKind.CURED, EntryKind.TROUBLE}
"""What was sown and set, for what the plan keeps back; what was hung to cure; what was seen."""


def told_besides(notebook: Notebook, day: date) -> tuple[Entry, ...]:
    """Read what tells of seed, of what hangs, of troubles, and of the last year's weighing.

    What was put by is read from the day on which something was first hung, for it takes that down.
    """
    found = list(read_diary(notebook, Wanted(kinds=OF_ANY_YEAR)).entries)
    year_ago = day - timedelta(days=YEAR_DAYS)
    found += read_diary(notebook, Wanted(year_ago, WEIGHED)).entries
    hung_on = next((entry.day for entry in found if entry.kind is EntryKind.CURED), None)
    if hung_on is not None and hung_on < year_ago:
        put_by = read_diary(notebook, Wanted(hung_on, frozenset({EntryKind.PUT_BY}))).entries
        found += (entry for entry in put_by if entry.day < year_ago)
    return tuple(sorted(found, key=lambda entry: (entry.day, entry.written_at, entry.id)))
