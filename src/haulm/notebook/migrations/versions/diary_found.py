"""Columns by which some of the diary's entries are found without reading all of them."""

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"


def upgrade() -> None:
    """Add what an entry puts right as a column of its own; entries stay as they were written."""
    op.add_column("diary", sa.Column("replaces", sa.String()))
    # An entry that cannot be read any more is left: the notebook's check tells of it.
    op.execute(
        "UPDATE diary SET replaces = json_extract(entry, '$.replaces') WHERE json_valid(entry)"
    )
    op.create_index("ix_diary_replaces", "diary", ["replaces"])
    op.create_index("ix_diary_kind", "diary", ["kind"])
