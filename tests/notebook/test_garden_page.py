"""docs/garden.md and the published schema say what the reader does."""

import json
import tomllib
from importlib.resources import files
from pathlib import Path

import pytest
from pydantic.fields import FieldInfo

from haulm.notebook import document as parts
from haulm.notebook import own_parts, settled_parts, watch_parts, water_parts
from haulm.notebook.declaring import Part
from haulm.notebook.document import GardenDocument
from haulm.notebook.draft import typed
from haulm.notebook.schema import garden_schema_text
from pages import kept

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "garden.md"
SCHEMA = ROOT / "src" / "haulm" / "notebook" / "garden.schema.json"
PARTS = [
    parts.GardenPart,
    parts.PlacePart,
    parts.WeatherPart,
    parts.ColumnsPart,
    parts.NormalsPart,
    parts.HoursPart,
    parts.EaterPart,
    parts.AwayPart,
    parts.TablePart,
    parts.BedPart,
    parts.PastPart,
    parts.FoundPart,
    parts.StorePart,
    parts.TankPart,
    water_parts.WateringPart,
    water_parts.WaterRulePart,
    watch_parts.LookoutPart,
    parts.InStorePart,
    parts.StandingPart,
    parts.StockPart,
    parts.PricePart,
    settled_parts.PinPart,
    settled_parts.AllotmentPart,
    settled_parts.NotedPart,
    own_parts.OwnKindPart,
    own_parts.OwnFigurePart,
    own_parts.OwnPacePart,
]


def line_of(name: str, field: FieldInfo) -> str:
    """Write the page's line about one key."""
    example = (field.examples or [""])[0]
    shown = "" if isinstance(example, dict) else f"`{typed(field.alias or name, example)}`"
    needed = "yes" if field.is_required() else ""
    return f"| `{field.alias or name}` | {needed} | {field.description} | {shown} |"


@pytest.mark.parametrize("part", PARTS)
def test_every_key_stands_on_the_page(part: type[Part]) -> None:
    """docs/garden.md lists every key of every part, with what it means and an example."""
    page = PAGE.read_text(encoding="utf-8")
    lines = [line_of(name, field) for name, field in part.model_fields.items()]
    assert "\n".join(lines) in page


def test_every_part_is_among_those_looked_at() -> None:
    """No part of garden.toml is left out of the page."""
    page = PAGE.read_text(encoding="utf-8")
    for name in GardenDocument.model_fields:
        assert f"[{name}]" in page


def test_the_page_s_first_garden_can_be_read() -> None:
    """The short garden at the head of docs/garden.md is a whole and sound garden.toml."""
    page = PAGE.read_text(encoding="utf-8")
    text = page.split("```toml\n")[1].split("```")[0]
    assert GardenDocument.model_validate(tomllib.loads(text)).bed


def test_the_published_schema_is_the_reader_s_own() -> None:
    """The schema that comes with haulm is the one its reader goes by; HAULM_WRITE_PAGES=1 writes it
    anew.
    """
    kept(SCHEMA, garden_schema_text())
    published = (files("haulm.notebook") / "garden.schema.json").read_text(encoding="utf-8")
    assert published == garden_schema_text()
    assert json.loads(published)["additionalProperties"] is False
