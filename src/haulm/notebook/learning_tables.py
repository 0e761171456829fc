"""The tables that what the year teaches rests on, beside the diary's own."""

from sqlalchemy import Boolean, Column, Integer, String, Table

from haulm.notebook.tables import METADATA

PLANTINGS = Table(
    "plantings",
    METADATA,
    Column("key", String, primary_key=True),
    Column("standing", Boolean, primary_key=True),
    Column("plan", Integer, nullable=False),
    Column("planting", String, nullable=False),
)
"""Plantings of the plans kept, by their lasting names: the newest that stood, the newest planned.

It holds nothing that the plans do not; it only saves reading all of them.
"""

ODD_RECORDS = Table(
    "odd_records",
    METADATA,
    Column("number", Integer, primary_key=True),
    Column("entry", String, nullable=False),
    Column("said", String, nullable=False),
    Column("at", String, nullable=False),
    sqlite_autoincrement=True,
)
"""What the grower said of entries that were asked about; the newest word on each holds."""
