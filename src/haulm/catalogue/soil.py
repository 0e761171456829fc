"""How acid soil should be for a crop, and whether lime is wanted: advice, never an amount."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Any

from haulm.catalogue.figures import Basis, Figure
from haulm.catalogue.records import Crop

WHEN = (
    "Lime it in the autumn before, apart from manure and compost, and test again after a season; "
    "how much, the sack or a soil laboratory says for this soil."
)
"""When to lime, and whom to ask how much. Basis: common practice."""

PH = "pH"
"""The unit of a soil's reaction."""


class Lime(StrEnum):
    """What a soil test says of lime for a crop."""

    WANTED = "wanted"
    DISPUTED = "disputed"
    ENOUGH = "enough"
    TOO_MUCH = "too much"


@dataclass(frozen=True, slots=True)
class SoilAim:
    """How acid soil should be: ``ph`` with what else is said of it, and why it matters."""

    ph: Figure
    why: str = ""


@dataclass(frozen=True, slots=True)
class SoilAims:
    """The aims for any crop, for families and for crops that have their own."""

    any_crop: SoilAim
    families: Mapping[str, SoilAim]
    crops: Mapping[str, SoilAim]

    def of(self, crop: Crop) -> SoilAim:
        """Give the aim for a crop: its own, else its family's, else that for any crop."""
        return self.crops.get(crop.id) or self.families.get(crop.family) or self.any_crop


@cache
def soil_aims() -> SoilAims:
    """Read the aims from ``data/soil.toml``."""
    text = files("haulm.catalogue").joinpath("data/soil.toml").read_text(encoding="utf-8")
    tables = tomllib.loads(text)
    return SoilAims(
        _aim(tables["any"]),
        {family: _aim(table) for family, table in tables["families"].items()},
        {crop: _aim(table) for crop, table in tables["crops"].items()},
    )


def lime_for(aim: SoilAim, ph: float) -> Lime:
    """Say whether soil of a pH wants lime for a crop.

    Below the aim's least it does; between that and the aim itself texts differ; above its most it
    has more lime than is good for the crop.
    """
    if ph < (aim.ph.value if aim.ph.low is None else aim.ph.low):
        return Lime.WANTED
    if ph < aim.ph.value:
        return Lime.DISPUTED
    return Lime.TOO_MUCH if ph > _most(aim) else Lime.ENOUGH


def lime_sentence(aim: SoilAim, ph: float, crops: str) -> str:
    """Say in a sentence what a soil test means for crops of one aim; empty if nothing is to do."""
    want, because = lime_for(aim, ph), f" ({aim.why})" if aim.why else ""
    if want is Lime.WANTED:
        return f"pH {ph:g}: for {crops} {aim.ph.value:g} or so is wanted{because}."
    if want is Lime.DISPUTED:
        return f"pH {ph:g}: for {crops} some texts would lime to {aim.ph.value:g}, others leave it."
    if want is Lime.TOO_MUCH and dislikes_lime(aim):
        return f"pH {ph:g}: for {crops} {_most(aim):g} or less is better{because}."
    return ""


def dislikes_lime(aim: SoilAim) -> bool:
    """Say whether a crop is better in soil more acid than others want."""
    return _most(aim) < soil_aims().any_crop.ph.value


def _most(aim: SoilAim) -> float:
    return aim.ph.value if aim.ph.high is None else aim.ph.high


def _aim(table: Mapping[str, Any]) -> SoilAim:
    return SoilAim(_figure(table["ph"]), table.get("why", ""))


def _figure(table: Mapping[str, Any]) -> Figure:
    return Figure(
        value=float(table["value"]),
        unit=PH,
        basis=Basis(table["basis"]),
        source=table.get("source"),
        low=table.get("low"),
        high=table.get("high"),
        note=table.get("note", ""),
        others=tuple(_figure(other) for other in table.get("others", ())),
    )
