"""The list of every planting of every plan kept, by its lasting name."""

import sqlalchemy as sa
from alembic import op

from haulm.notebook.plantings import list_all_plantings

revision = "0015"
down_revision = "0014"


def upgrade() -> None:
    """Add the list, and fill it from the plans that are kept."""
    op.create_table(
        "plantings",
        sa.Column("key", sa.String(), nullable=False),
        sa.Column("standing", sa.Boolean(), nullable=False),
        sa.Column("plan", sa.Integer(), nullable=False),
        sa.Column("planting", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("key", "standing"),
    )
    list_all_plantings(op.get_bind())
