"""What the grower said of records that were asked about: right, or set aside."""

from collections.abc import Mapping
from datetime import datetime
from enum import StrEnum

from sqlalchemy import func, insert, select

from haulm.notebook.learning_tables import ODD_RECORDS
from haulm.notebook.notebook import Notebook


class SaidOfRecord(StrEnum):
    """What may be said of a record: it counts, it teaches nothing, or nothing after all."""

    RIGHT = "right"
    ASIDE = "aside"
    NOTHING = "nothing"


def say_of_record(notebook: Notebook, entry: str, said: SaidOfRecord, at: datetime) -> None:
    """Keep what was said of an entry; what was said before stays behind it."""
    row = {"entry": entry, "said": said.value, "at": at.isoformat()}
    notebook.connection.execute(insert(ODD_RECORDS).values(row))


def said_of_records(notebook: Notebook) -> Mapping[str, SaidOfRecord]:
    """Give what was last said of each entry; one of which nothing holds any more is left out."""
    last = select(func.max(ODD_RECORDS.c.number)).group_by(ODD_RECORDS.c.entry)
    chosen = select(ODD_RECORDS.c.entry, ODD_RECORDS.c.said).where(ODD_RECORDS.c.number.in_(last))
    found = {row.entry: SaidOfRecord(row.said) for row in notebook.connection.execute(chosen)}
    return {entry: said for entry, said in found.items() if said is not SaidOfRecord.NOTHING}
