"""The notebook's tables: one for each part of garden.toml, one of weather days, one of plans.

A column is named as its key in the document. Quantities keep the form they were typed in, number
or text, and so do lists: both stand as JSON. Rows keep the order of the document by ``position``.
"""

from collections.abc import Mapping

from sqlalchemy import (
    JSON,
    Boolean,
    Column,
    Date,
    Float,
    ForeignKey,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
)

METADATA = MetaData()


def _position() -> Column[int]:
    """Make the column that keeps the document's order."""
    return Column("position", Integer, primary_key=True, autoincrement=False)


def _text(name: str, *, needed: bool = False) -> Column[str]:
    """Make a column of text."""
    return Column(name, String, nullable=not needed)


def _typed(name: str, *, needed: bool = False) -> Column[object]:
    """Make a column of what was typed: number, text or list."""
    return Column(name, JSON(none_as_null=True), nullable=not needed)


PARTS: Mapping[str, Table] = {
    "garden": Table(
        "garden",
        METADATA,
        _position(),
        _text("name", needed=True),
        Column("invented", Boolean),
        _text("units"),
        _typed("least_patch"),
        Column("tray_cells", Integer),
        _typed("grow"),
        Column("today", Date),
        _typed("certainty"),
    ),
    "place": Table(
        "place",
        METADATA,
        _position(),
        _typed("latitude", needed=True),
        _typed("longitude", needed=True),
        _typed("height"),
        _text("soil", needed=True),
        _text("last_frost"),
        _text("first_frost"),
        _typed("ph"),
    ),
    "weather": Table(
        "weather",
        METADATA,
        _position(),
        _text("record"),
        _typed("columns"),
        _typed("normals"),
        Column("grid", Boolean),
        _typed("height"),
    ),
    "hours": Table("hours", METADATA, _position(), _typed("every_week"), _typed("by_month")),
    "eater": Table(
        "eaters",
        METADATA,
        _position(),
        _text("name", needed=True),
        Column("age", Integer),
        _typed("portions"),
    ),
    "away": Table(
        "days_away",
        METADATA,
        _position(),
        Column("first", Date, nullable=False),
        Column("last", Date, nullable=False),
        _typed("who"),
    ),
    "table": Table(
        "table_lines",
        METADATA,
        _position(),
        _typed("eat", needed=True),
        _text("name"),
        _typed("amount"),
        _typed("portions"),
        _text("first"),
        _text("last"),
        _text("wanted"),
        Column("priority", Integer),
        _typed("grow_share"),
        _typed("certainty"),
    ),
    "bed": Table(
        "beds",
        METADATA,
        _position(),
        _text("id", needed=True),
        _text("name"),
        _typed("width"),
        _typed("length"),
        _typed("diameter"),
        _typed("corners"),
        _text("cover"),
        _text("sun"),
        _typed("spot"),
        _text("soil"),
        _typed("mulch"),
        _text("watered"),
        _typed("ph"),
    ),
    "store": Table(
        "stores",
        METADATA,
        _position(),
        _text("id", needed=True),
        _text("name"),
        _text("kind", needed=True),
        _typed("room"),
        Column("jars", Integer),
        _typed("jar"),
        _typed("racks"),
    ),
    "tank": Table(
        "tanks",
        METADATA,
        _position(),
        _text("name", needed=True),
        _typed("roof", needed=True),
        _typed("holds", needed=True),
        _typed("caught"),
    ),
    "watering": Table(
        "watering",
        METADATA,
        _position(),
        _typed("can"),
        _typed("flow"),
        Column("cans_a_day", Integer),
    ),
    "water_rule": Table(
        "water_rules",
        METADATA,
        _position(),
        _text("name", needed=True),
        Column("first", Date),
        Column("last", Date),
        Column("every_year", Boolean),
        _typed("ways"),
        _typed("weekdays"),
        _text("dates"),
        _typed("hours"),
        _typed("exempt"),
    ),
    "lookout": Table("lookout", METADATA, _position(), _typed("blight"), _typed("fleece")),
    "in_store": Table(
        "food_in_store",
        METADATA,
        _position(),
        _text("food", needed=True),
        _text("kind"),
        _text("form", needed=True),
        _text("place", needed=True),
        _typed("amount", needed=True),
        Column("put_by", Date, nullable=False),
    ),
    "standing": Table(
        "standing",
        METADATA,
        _position(),
        _text("bed", needed=True),
        _text("kind", needed=True),
        _text("method", needed=True),
        Column("started", Date, nullable=False),
        _typed("area", needed=True),
    ),
    "stock": Table(
        "planting_stock",
        METADATA,
        _position(),
        _text("kind", needed=True),
        _typed("units", needed=True),
        Column("year", Integer, nullable=False),
        Column("sprouted", Integer),
        Column("tried", Integer),
        Column("tried_on", Date),
    ),
    "price": Table(
        "prices",
        METADATA,
        _position(),
        _text("what", needed=True),
        _typed("each", needed=True),
        _text("currency", needed=True),
    ),
    "pin": Table(
        "pins",
        METADATA,
        _position(),
        _text("rule", needed=True),
        _text("kind"),
        _text("crop"),
        _text("family"),
        _text("bed"),
        _typed("beds"),
        _text("method"),
        Column("week", Date),
        Column("year", Integer),
        _typed("area"),
        _text("apart_from"),
    ),
    "allotment": Table(
        "allotments",
        METADATA,
        _position(),
        _text("bed", needed=True),
        Column("year", Integer, nullable=False),
        _text("family", needed=True),
        _typed("area", needed=True),
    ),
    "noted": Table(
        "notes",
        METADATA,
        _position(),
        _text("what", needed=True),
        Column("on", Date, nullable=False),
        _text("kind"),
        _text("bed"),
        Column("sown", Date),
        Column("days", Integer),
        _typed("share"),
        _text("food"),
        _text("place"),
    ),
    "own_kind": Table(
        "own_kinds",
        METADATA,
        _position(),
        _text("id", needed=True),
        _text("like", needed=True),
        _text("name", needed=True),
    ),
    "own_figure": Table(
        "own_figures",
        METADATA,
        _position(),
        _text("of", needed=True),
        _text("figure", needed=True),
        _typed("value", needed=True),
        _typed("low"),
        _typed("high"),
        _text("note"),
    ),
    "own_pace": Table(
        "own_paces",
        METADATA,
        _position(),
        _text("work", needed=True),
        _typed("times", needed=True),
        _text("note"),
    ),
}
"""The table of each part of garden.toml."""


def _of_bed(name: str, what: str) -> Table:
    """Make the table of a list that beds have."""
    bed: Column[int] = Column("bed", ForeignKey("beds.position"), primary_key=True)
    return Table(
        name, METADATA, bed, _position(), _text(what, needed=True), Column("year", Integer)
    )


BED_LISTS: Mapping[str, Table] = {
    "past": _of_bed("bed_past", "crop"),
    "found": _of_bed("bed_found", "disease"),
}
"""The tables of the lists that a bed has, by key."""

RECORD = Table("weather_record", METADATA, _position(), _text("origin", needed=True))

DAYS = Table(
    "weather_days",
    METADATA,
    Column("day", Date, primary_key=True),
    Column("tmin_c", Float),
    Column("tmax_c", Float),
    Column("rain_mm", Float),
)
"""The daily record; a value nobody read is null."""

PLANS = Table(
    "plans",
    METADATA,
    Column("number", Integer, primary_key=True),
    Column("made_on", Date, nullable=False),
    _text("question_hash", needed=True),
    Column("seed", Integer, nullable=False),
    _text("effort", needed=True),
    _text("version", needed=True),
    _text("plan", needed=True),
    Column("kept", Boolean, nullable=False),
    sqlite_autoincrement=True,
)
"""Plans as made, with what is needed to make each again: inputs' hash, seed, effort, version.

A plan that is not kept is a proposal. No number is ever given twice, so that whoever keeps a
proposal by its number keeps the one that was looked at.
"""

DIARY = Table(
    "diary",
    METADATA,
    Column("id", String, primary_key=True),
    Column("day", Date, nullable=False, index=True),
    Column("kind", String, nullable=False, index=True),
    _text("entry", needed=True),
    Column("replaces", String, index=True),
)
"""The diary's entries as they were written; a row is never changed and never taken out.

Its day, its kind and what it puts right stand beside it, so that not all need be read to find some.
"""

PHOTOS = Table(
    "diary_photos",
    METADATA,
    Column("entry", String, primary_key=True),
    _text("media_type", needed=True),
    Column("picture", LargeBinary, nullable=False),
)
"""A picture that goes with an entry."""

AHEAD = Table(
    "days_ahead",
    METADATA,
    Column("day", Date, primary_key=True),
    Column("told_at", String, primary_key=True),
    _text("told", needed=True),
)
"""What was told of days to come, each time it was told; the last that was told counts."""

HOURS = Table(
    "hours_told",
    METADATA,
    Column("day", Date, primary_key=True),
    Column("hour", Integer, primary_key=True, autoincrement=False),
    Column("temperature_c", Float, nullable=False),
    Column("humidity", Float, nullable=False),
)
"""Temperature [°C] and relative humidity [%] by the hour, by the garden's clock."""

EARLIER = Table(
    "earlier_gardens",
    METADATA,
    Column("number", Integer, primary_key=True),
    _text("changed_at", needed=True),
    _text("what", needed=True),
    _text("parts", needed=True),
    Column("record_changed", Boolean, nullable=False),
    _text("origin"),
    Column("record", LargeBinary),
    sqlite_autoincrement=True,
)
"""The garden as it was before each of the last changes, and what the change was.

The daily record of then is kept only where the change put another in its place.
"""
