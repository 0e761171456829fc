"""The racks of a store, to cure on."""

import sqlalchemy as sa
from alembic import op

revision = "0020"
down_revision = "0018"


def upgrade() -> None:
    """Add the column; in a notebook from before no racks are told."""
    op.add_column("stores", sa.Column("racks", sa.JSON(none_as_null=True)))
