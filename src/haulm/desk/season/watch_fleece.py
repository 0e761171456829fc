"""Whether the fleece there is covers what a night threatens, and if not, which beds first."""

from collections.abc import Iterator, Sequence

from haulm.desk.season.watch_asked import Asking
from haulm.ground.records import Spot
from haulm.measure.sentences import listed
from haulm.measure.units import show_area
from haulm.season.fleece import FleeceLaid, FleeceWanted, lay_fleece
from haulm.season.frost_tonight import BedFrost
from haulm.season.watch_figures import watch_figures

UNTOLD = (
    "What fleece there is, is not told (on What is forecast, or haulm lookout --fleece): whether "
    "it is enough cannot be said."
)
ELSE = "lay sheets, sacks or straw"


def fleeced_already(asking: Asking) -> frozenset[str]:
    """Name the beds on which fleece lies already."""
    return frozenset(bed.id for bed in asking.garden.beds if Spot.FLEECE in bed.spot)


def fleece_wanted(asking: Asking, beds: Sequence[BedFrost]) -> tuple[FleeceWanted, ...]:
    """Give what fleece each bed wants that has none, edges and height counted."""
    more = 1.0 + watch_figures().fleece_edges_share.value
    lies = fleeced_already(asking)
    return tuple(
        FleeceWanted(
            one.bed,
            more * sum(tender.stands.planting.area_m2 for tender in one.at_risk),
            one.saved_kg,
        )
        for one in beds
        if one.bed not in lies
    )


def fleece_laid(asking: Asking, beds: Sequence[BedFrost]) -> tuple[FleeceLaid, ...] | None:
    """Lay the fleece there is, bed by bed; None where it is not told how much there is."""
    there_m2 = asking.means.fleece_m2
    return None if there_m2 is None else lay_fleece(fleece_wanted(asking, beds), there_m2)


def is_short(laid: Sequence[FleeceLaid] | None) -> bool:
    """Whether it is known that the fleece there is does not cover all."""
    return laid is not None and not all(one.whole for one in laid)


def in_order(beds: Sequence[BedFrost], laid: Sequence[FleeceLaid] | None) -> list[BedFrost]:
    """Put beds in the order in which they are to be covered: by loss, or as too little is laid."""
    if laid is None or not is_short(laid):
        return list(beds)
    first = [one.bed for one in laid]
    rank = {bed: number for number, bed in enumerate(first)}
    return sorted(beds, key=lambda one: rank.get(one.bed, len(first)))


def fleece_words(asking: Asking, beds: Sequence[BedFrost]) -> Iterator[str]:
    """Say how much fleece it takes, whether there is enough, and where it goes if not."""
    wanted_m2 = sum(one.area_m2 for one in fleece_wanted(asking, beds))
    if not wanted_m2:
        return
    takes = f"{show_area(wanted_m2, asking.units)} of fleece, edges counted and weighted down"
    there_m2, laid = asking.means.fleece_m2, fleece_laid(asking, beds)
    if there_m2 is None or laid is None:
        yield f"It takes {takes}. {UNTOLD}"
        return
    there = show_area(there_m2, asking.units)
    if not is_short(laid):
        yield f"It takes {takes}: the {there} there is covers all of it."
    elif not there_m2:
        yield f"It would take {takes}, and there is none: {ELSE}."
    else:
        yield f"It would take {takes}, and there is {there}: {_where(asking, laid)}."


def _where(asking: Asking, laid: Sequence[FleeceLaid]) -> str:
    """Say which beds get how much, in order of what a square metre saves, and which get none."""
    units = asking.units
    gets = [
        f"all of {asking.bed(one.bed)}"
        if one.whole
        else f"{show_area(one.laid_m2, units)} of the {show_area(one.wanted_m2, units)} that "
        f"{asking.bed(one.bed)} wants"
        for one in laid
        if one.laid_m2 > 0
    ]
    none = [asking.bed(one.bed) for one in laid if not one.laid_m2]
    bare = listed(["what is left", *none])
    return f"first where it saves most, {', then '.join(gets)}; {ELSE} over {bare}"
