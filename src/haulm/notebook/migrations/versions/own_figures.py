"""Kinds and figures of a household's own."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"

_TYPED = sa.JSON(none_as_null=True)


def upgrade() -> None:
    """Add a table for each; a notebook from before has none of its own."""
    op.create_table(
        "own_kinds",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("like", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("position"),
    )
    op.create_table(
        "own_figures",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("of", sa.String(), nullable=False),
        sa.Column("figure", sa.String(), nullable=False),
        sa.Column("value", _TYPED, nullable=False),
        sa.Column("low", _TYPED),
        sa.Column("high", _TYPED),
        sa.Column("note", sa.String()),
        sa.PrimaryKeyConstraint("position"),
    )
