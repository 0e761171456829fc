"""Pins, a day that counts as today, the world's grid, plans proposed, and earlier gardens."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"

_TYPED = sa.JSON(none_as_null=True)


def upgrade() -> None:
    """Add what is new; every plan that is there was kept."""
    op.add_column("garden", sa.Column("today", sa.Date()))
    op.add_column("weather", sa.Column("grid", sa.Boolean()))
    op.create_table(
        "pins",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("rule", sa.String(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("bed", sa.String()),
        sa.Column("method", sa.String()),
        sa.Column("week", sa.Date()),
        sa.Column("area", _TYPED),
        sa.PrimaryKeyConstraint("position"),
    )
    op.create_table(
        "earlier_gardens",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("changed_at", sa.String(), nullable=False),
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("parts", sa.String(), nullable=False),
        sa.Column("record_changed", sa.Boolean(), nullable=False),
        sa.Column("origin", sa.String()),
        sa.Column("record", sa.LargeBinary()),
        sa.PrimaryKeyConstraint("number"),
        sqlite_autoincrement=True,
    )
    _height_may_be_missing()
    _plans_may_be_proposed()


def _height_may_be_missing() -> None:
    """Make the place's table anew: SQLite cannot take a constraint off a column."""
    op.create_table(
        "place_anew",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("latitude", _TYPED, nullable=False),
        sa.Column("longitude", _TYPED, nullable=False),
        sa.Column("height", _TYPED),
        sa.Column("soil", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("position"),
    )
    op.execute(
        "INSERT INTO place_anew SELECT position, latitude, longitude, height, soil FROM place"
    )
    op.drop_table("place")
    op.rename_table("place_anew", "place")


def _plans_may_be_proposed() -> None:
    """Make the plans' table anew, with numbers that are never given twice."""
    op.create_table(
        "plans_anew",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("made_on", sa.Date(), nullable=False),
        sa.Column("question_hash", sa.String(), nullable=False),
        sa.Column("seed", sa.Integer(), nullable=False),
        sa.Column("effort", sa.String(), nullable=False),
        sa.Column("version", sa.String(), nullable=False),
        sa.Column("plan", sa.String(), nullable=False),
        sa.Column("kept", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("number"),
        sqlite_autoincrement=True,
    )
    op.execute(
        "INSERT INTO plans_anew"
        " SELECT number, made_on, question_hash, seed, effort, version, plan, 1 FROM plans"
    )
    op.drop_table("plans")
    op.rename_table("plans_anew", "plans")
