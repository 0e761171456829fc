"""What the grower said of records that were asked about."""

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"


def upgrade() -> None:
    """Add the table; in a notebook from before nothing was said of any record."""
    op.create_table(
        "odd_records",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("entry", sa.String(), nullable=False),
        sa.Column("said", sa.String(), nullable=False),
        sa.Column("at", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("number"),
        sqlite_autoincrement=True,
    )
