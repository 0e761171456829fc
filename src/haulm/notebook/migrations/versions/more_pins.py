"""Pins of a crop or family, by year, over several beds, and against another."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"

_TYPED = sa.JSON(none_as_null=True)


def upgrade() -> None:
    """Add what is new; a pin from before names its kind, which others need not."""
    with op.batch_alter_table("pins") as pins:
        pins.alter_column("kind", existing_type=sa.String(), nullable=True)
        pins.add_column(sa.Column("crop", sa.String()))
        pins.add_column(sa.Column("family", sa.String()))
        pins.add_column(sa.Column("beds", _TYPED))
        pins.add_column(sa.Column("year", sa.Integer()))
        pins.add_column(sa.Column("apart_from", sa.String()))
