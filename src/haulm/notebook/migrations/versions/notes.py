"""What was noted to go otherwise than planned."""

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"


def upgrade() -> None:
    """Add the table; a notebook from before has no notes."""
    op.create_table(
        "notes",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("on", sa.Date(), nullable=False),
        sa.Column("kind", sa.String()),
        sa.Column("bed", sa.String()),
        sa.Column("sown", sa.Date()),
        sa.Column("days", sa.Integer()),
        sa.Column("share", sa.JSON(none_as_null=True)),
        sa.Column("food", sa.String()),
        sa.Column("place", sa.String()),
        sa.PrimaryKeyConstraint("position"),
    )
