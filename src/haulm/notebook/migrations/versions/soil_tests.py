"""What the soil was tested at, of the place and of each bed."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"

_TYPED = sa.JSON(none_as_null=True)


def upgrade() -> None:
    """Add what is new; a notebook from before has no soil test."""
    op.add_column("place", sa.Column("ph", _TYPED))
    op.add_column("beds", sa.Column("ph", _TYPED))
