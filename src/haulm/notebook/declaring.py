"""How a part of garden.toml and its keys are declared."""

from typing import Any

from pydantic import BaseModel, ConfigDict, Field


def key(description: str, example: object, **more: Any) -> Any:  # noqa: ANN401 (as pydantic's Field)
    """Declare a key of garden.toml with its description and an example of its value."""
    more.setdefault("default", ...)
    return Field(description=description, examples=[example], **more)


def part(description: str, **more: Any) -> Any:  # noqa: ANN401 (as pydantic's Field)
    """Declare a part of garden.toml with its description."""
    more.setdefault("default", ...)
    return Field(description=description, **more)


class Part(BaseModel):
    """A part of garden.toml: unknown keys are refused, and nothing changes after reading."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)
