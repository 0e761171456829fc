"""The records of what to take care of, and when."""

from dataclasses import dataclass
from enum import StrEnum


class Deed(StrEnum):
    """What is done with a food or in the garden when a caution is due."""

    EAT = "eat"
    LIFT = "lift"
    PUT_BY = "put by"
    SOW = "sow"
    CARRY = "carry"
    LIME = "lime"


@dataclass(frozen=True, slots=True)
class Caution:
    """Where food or work can hurt someone: what to do, and the authority to consult.

    Foods and crops name the cautions they carry; a caution itself may name more ``foods`` and whole
    ``families``. ``deeds`` are those it goes with, all of them if none is named; ``under_age``
    limits it to tables with an eater younger than that [years]; ``any_crop`` marks what goes with
    the work itself, whatever the crop. `haulm.catalogue.cautions` answers which are due.
    """

    id: str
    text: str
    authority: str
    source: str | None
    deeds: tuple[Deed, ...] = ()
    foods: tuple[str, ...] = ()
    families: tuple[str, ...] = ()
    under_age: int | None = None
    any_crop: bool = False
