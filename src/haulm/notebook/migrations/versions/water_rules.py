"""With what a garden is watered, and the rules on it."""

import sqlalchemy as sa
from alembic import op

revision = "0017"
down_revision = "0016"

_TYPED = sa.JSON(none_as_null=True)


def upgrade() -> None:
    """Add what is new; a notebook from before has no rules."""
    op.create_table(
        "watering",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("can", _TYPED),
        sa.Column("flow", _TYPED),
        sa.Column("cans_a_day", sa.Integer()),
        sa.PrimaryKeyConstraint("position"),
    )
    op.create_table(
        "water_rules",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("first", sa.Date()),
        sa.Column("last", sa.Date()),
        sa.Column("every_year", sa.Boolean()),
        sa.Column("ways", _TYPED),
        sa.Column("weekdays", _TYPED),
        sa.Column("dates", sa.String()),
        sa.Column("hours", _TYPED),
        sa.Column("exempt", _TYPED),
        sa.PrimaryKeyConstraint("position"),
    )
