"""Usual frost days, the height that weather is from, and beds whose nights are other."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"

_TYPED = sa.JSON(none_as_null=True)


def upgrade() -> None:
    """Add what is new."""
    op.add_column("place", sa.Column("last_frost", sa.String()))
    op.add_column("place", sa.Column("first_frost", sa.String()))
    op.add_column("weather", sa.Column("height", _TYPED))
    op.add_column("beds", sa.Column("spot", _TYPED))
