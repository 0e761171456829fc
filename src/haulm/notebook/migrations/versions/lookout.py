"""What the look-out goes by: the rules on blight that were chosen, and the fleece there is."""

import sqlalchemy as sa
from alembic import op

revision = "0021"
down_revision = "0020"

_TYPED = sa.JSON(none_as_null=True)


def upgrade() -> None:
    """Add the table; a notebook from before goes by every rule and tells of no fleece."""
    op.create_table(
        "lookout",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("blight", _TYPED),
        sa.Column("fleece", _TYPED),
        sa.PrimaryKeyConstraint("position"),
    )
