"""The diary, and the pictures that go with its entries."""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"


def upgrade() -> None:
    """Add what is new; a notebook from before has an empty diary."""
    op.create_table(
        "diary",
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("entry", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("ix_diary_day", "diary", ["day"])
    op.create_table(
        "diary_photos",
        sa.Column("entry", sa.String(), nullable=False),
        sa.Column("media_type", sa.String(), nullable=False),
        sa.Column("picture", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("entry"),
    )
