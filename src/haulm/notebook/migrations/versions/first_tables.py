"""The first tables: the parts of garden.toml, weather days, plans."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

_TYPED = sa.JSON(none_as_null=True)


def upgrade() -> None:
    """Make the tables of an empty notebook."""
    op.create_table(
        "beds",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("name", sa.String()),
        sa.Column("width", _TYPED),
        sa.Column("length", _TYPED),
        sa.Column("diameter", _TYPED),
        sa.Column("corners", _TYPED),
        sa.Column("cover", sa.String()),
        sa.Column("sun", sa.String()),
        sa.PrimaryKeyConstraint("position"),
    )
    op.create_table(
        "days_away",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("first", sa.Date(), nullable=False),
        sa.Column("last", sa.Date(), nullable=False),
        sa.Column("who", _TYPED),
        sa.PrimaryKeyConstraint("position"),
    )
    op.create_table(
        "eaters",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("age", sa.Integer()),
        sa.Column("portions", _TYPED),
        sa.PrimaryKeyConstraint("position"),
    )
    op.create_table(
        "food_in_store",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("food", sa.String(), nullable=False),
        sa.Column("kind", sa.String()),
        sa.Column("form", sa.String(), nullable=False),
        sa.Column("place", sa.String(), nullable=False),
        sa.Column("amount", _TYPED, nullable=False),
        sa.Column("put_by", sa.Date(), nullable=False),
        sa.PrimaryKeyConstraint("position"),
    )
    op.create_table(
        "garden",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("invented", sa.Boolean()),
        sa.Column("units", sa.String()),
        sa.Column("least_patch", _TYPED),
        sa.Column("tray_cells", sa.Integer()),
        sa.Column("grow", _TYPED),
        sa.PrimaryKeyConstraint("position"),
    )
    op.create_table(
        "hours",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("every_week", _TYPED),
        sa.Column("by_month", _TYPED),
        sa.PrimaryKeyConstraint("position"),
    )
    op.create_table(
        "place",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("latitude", _TYPED, nullable=False),
        sa.Column("longitude", _TYPED, nullable=False),
        sa.Column("height", _TYPED, nullable=False),
        sa.Column("soil", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("position"),
    )
    op.create_table(
        "plans",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("made_on", sa.Date(), nullable=False),
        sa.Column("question_hash", sa.String(), nullable=False),
        sa.Column("seed", sa.Integer(), nullable=False),
        sa.Column("effort", sa.String(), nullable=False),
        sa.Column("version", sa.String(), nullable=False),
        sa.Column("plan", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("number"),
    )
    op.create_table(
        "planting_stock",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("units", _TYPED, nullable=False),
        sa.Column("year", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("position"),
    )
    op.create_table(
        "prices",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("each", _TYPED, nullable=False),
        sa.Column("currency", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("position"),
    )
    op.create_table(
        "standing",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("bed", sa.String(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("method", sa.String(), nullable=False),
        sa.Column("started", sa.Date(), nullable=False),
        sa.Column("area", _TYPED, nullable=False),
        sa.PrimaryKeyConstraint("position"),
    )
    op.create_table(
        "stores",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("name", sa.String()),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("room", _TYPED),
        sa.Column("jars", sa.Integer()),
        sa.Column("jar", _TYPED),
        sa.PrimaryKeyConstraint("position"),
    )
    op.create_table(
        "table_lines",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("eat", _TYPED, nullable=False),
        sa.Column("name", sa.String()),
        sa.Column("amount", _TYPED),
        sa.Column("portions", _TYPED),
        sa.Column("first", sa.String()),
        sa.Column("last", sa.String()),
        sa.Column("wanted", sa.String()),
        sa.Column("priority", sa.Integer()),
        sa.Column("grow_share", _TYPED),
        sa.PrimaryKeyConstraint("position"),
    )
    op.create_table(
        "weather",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("record", sa.String()),
        sa.Column("columns", _TYPED),
        sa.Column("normals", _TYPED),
        sa.PrimaryKeyConstraint("position"),
    )
    op.create_table(
        "weather_days",
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("tmin_c", sa.Float()),
        sa.Column("tmax_c", sa.Float()),
        sa.Column("rain_mm", sa.Float()),
        sa.PrimaryKeyConstraint("day"),
    )
    op.create_table(
        "weather_record",
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("origin", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("position"),
    )
    op.create_table(
        "bed_found",
        sa.Column("bed", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("disease", sa.String(), nullable=False),
        sa.Column("year", sa.Integer()),
        sa.ForeignKeyConstraint(
            ["bed"],
            ["beds.position"],
        ),
        sa.PrimaryKeyConstraint("bed", "position"),
    )
    op.create_table(
        "bed_past",
        sa.Column("bed", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), autoincrement=False),
        sa.Column("crop", sa.String(), nullable=False),
        sa.Column("year", sa.Integer()),
        sa.ForeignKeyConstraint(
            ["bed"],
            ["beds.position"],
        ),
        sa.PrimaryKeyConstraint("bed", "position"),
    )
