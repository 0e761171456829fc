"""What was told of the coming days, and of temperature and humidity by the hour."""

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"


def upgrade() -> None:
    """Add what is new; to a notebook from before nothing was told."""
    op.create_table(
        "days_ahead",
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("told_at", sa.String(), nullable=False),
        sa.Column("told", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("day", "told_at"),
    )
    op.create_table(
        "hours_told",
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("hour", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("temperature_c", sa.Float(), nullable=False),
        sa.Column("humidity", sa.Float(), nullable=False),
        sa.PrimaryKeyConstraint("day", "hour"),
    )
