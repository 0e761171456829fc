"""How seed in hand was tried on damp paper."""

import sqlalchemy as sa
from alembic import op

revision = "0018"
down_revision = "0017"


def upgrade() -> None:
    """Add the columns; in a notebook from before nothing was tried."""
    op.add_column("planting_stock", sa.Column("sprouted", sa.Integer()))
    op.add_column("planting_stock", sa.Column("tried", sa.Integer()))
    op.add_column("planting_stock", sa.Column("tried_on", sa.Date()))
