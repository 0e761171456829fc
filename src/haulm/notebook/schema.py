"""The published schema of garden.toml, made from the models that read it."""

import json
from typing import Any

from haulm.notebook.document import GardenDocument

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def garden_schema() -> dict[str, Any]:
    """Give the schema of garden.toml, in JSON Schema's draft 2020-12."""
    return {"$schema": DIALECT} | GardenDocument.model_json_schema() | {"title": "garden.toml"}


def garden_schema_text() -> str:
    """Give the schema as the text of ``garden.schema.json``."""
    return json.dumps(garden_schema(), indent=2, ensure_ascii=False) + "\n"
