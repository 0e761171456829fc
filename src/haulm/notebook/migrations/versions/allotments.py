"""Families to beds, year by year."""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"


def upgrade() -> None:
    """Add what is new; a notebook from before has laid out no years."""
    op.create_table(
        "allotments",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("bed", sa.String(), nullable=False),
        sa.Column("year", sa.Integer(), nullable=False),
        sa.Column("family", sa.String(), nullable=False),
        sa.Column("area", sa.JSON(none_as_null=True), nullable=False),
        sa.PrimaryKeyConstraint("position"),
    )
