"""Rain tanks; a bed's own soil, its mulch, and how it is watered."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"

_TYPED = sa.JSON(none_as_null=True)


def upgrade() -> None:
    """Add what is new; a notebook from before has no tanks."""
    op.add_column("beds", sa.Column("soil", sa.String()))
    op.add_column("beds", sa.Column("mulch", _TYPED))
    op.add_column("beds", sa.Column("watered", sa.String()))
    op.create_table(
        "tanks",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("roof", _TYPED, nullable=False),
        sa.Column("holds", _TYPED, nullable=False),
        sa.Column("caught", _TYPED),
        sa.PrimaryKeyConstraint("position"),
    )
