"""What a bed's soil test means for what grows or shall grow in it."""

from collections.abc import Iterable
from dataclasses import dataclass

from haulm.catalogue.records import Catalogue, Kind
from haulm.catalogue.soil import WHEN, Lime, dislikes_lime, lime_for, lime_sentence, soil_aims
from haulm.ground.records import Bed
from haulm.measure.findings import Finding, Grade
from haulm.measure.units import Units, show_length
from haulm.notebook.garden import Garden


@dataclass(frozen=True, slots=True)
class SoilTold:
    """What is said of a bed's soil: a sentence for each crop, and whether lime is wanted."""

    sentences: tuple[str, ...]
    lime: bool


NOT_TESTED = SoilTold((), lime=False)


def soil_of(bed: Bed, crops: Iterable[str], catalogue: Catalogue) -> SoilTold:
    """Say what a bed's pH means for some crops; nothing where it was never tested."""
    if bed.ph is None:
        return NOT_TESTED
    aims, ph = soil_aims(), bed.ph
    by_aim: dict[str, list[str]] = {}
    spared, wanted = [], False
    for crop in (catalogue.crops[one] for one in dict.fromkeys(crops)):
        aim = aims.of(crop)
        wants = lime_for(aim, ph)
        wanted = wanted or wants is Lime.WANTED
        sentence = lime_sentence(aim, ph, "{}")
        if sentence:
            by_aim.setdefault(sentence, []).append(crop.name)
        elif dislikes_lime(aim):
            spared.append(f"No fresh lime before {crop.name}: {aim.why}.")
    said = [sentence.replace("{}", _list(names)) for sentence, names in by_aim.items()]
    return SoilTold((*said, *((*spared, WHEN) if wanted else ())), wanted)


def feeds_of(kinds: Iterable[Kind], units: Units) -> tuple[str, ...]:
    """Say how heavily kinds feed, and how deep compost is laid before them, each on what it rests.

    How heavily a kind feeds is common practice; the depth says what it rests on.
    """
    return tuple(_fed(kind, units) for kind in dict.fromkeys(kinds))


def _fed(kind: Kind, units: Units) -> str:
    compost = kind.stand.compost_m
    depth = (
        f"{show_length(compost.value, units)} of compost laid before it"
        if compost.value
        else "no compost laid before it"
    )
    return f"{kind.name}: a {kind.feed} feeder; {depth} ({compost.basis})."


def soils_told(garden: Garden, catalogue: Catalogue, kinds: Iterable[Kind]) -> tuple[Finding, ...]:
    """Note what soil tests mean for the crops that the garden may grow, beds of one pH together."""
    crops = tuple(dict.fromkeys(kind.crop for kind in kinds))
    alike: dict[float, list[Bed]] = {}
    for bed in garden.beds:
        if bed.ph is not None:
            alike.setdefault(bed.ph, []).append(bed)
    told = [(beds, soil_of(beds[0], crops, catalogue).sentences) for beds in alike.values()]
    return tuple(
        Finding(f"soil of {_list([bed.name for bed in beds])}", " ".join(said), grade=Grade.NOTE)
        for beds, said in told
        if said
    )


def _list(names: list[str]) -> str:
    """Write names as a list."""
    return " and ".join(filter(None, [", ".join(names[:-1]), names[-1]]))
