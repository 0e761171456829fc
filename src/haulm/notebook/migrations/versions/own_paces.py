"""A household's own pace at a sort of work."""

import sqlalchemy as sa
from alembic import op

revision = "0016"
down_revision = "0015"


def upgrade() -> None:
    """Add the table; a notebook from before has no paces of its own."""
    op.create_table(
        "own_paces",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("work", sa.String(), nullable=False),
        sa.Column("times", sa.JSON(none_as_null=True), nullable=False),
        sa.Column("note", sa.String()),
        sa.PrimaryKeyConstraint("position"),
    )
