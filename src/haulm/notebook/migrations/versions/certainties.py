"""How sure plans are to be: of the whole garden, and of a line of the table."""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"

_TYPED = sa.JSON(none_as_null=True)


def upgrade() -> None:
    """Add what is new; a garden from before has plans of means."""
    op.add_column("garden", sa.Column("certainty", _TYPED))
    op.add_column("table_lines", sa.Column("certainty", _TYPED))
