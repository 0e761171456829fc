"""What was noted, from garden.toml: each note held to what its word needs and may have."""

from haulm.notebook.document import GardenDocument
from haulm.notebook.faults import Gathered, Place
from haulm.notebook.settled_parts import NotedPart
from haulm.plan.state import Became, Noted

MOST_SHARE = 5.0
"""More than this times what was hoped for is a slip of the pen [1]."""


def noted_from(document: GardenDocument, gathered: Gathered) -> tuple[Noted, ...]:
    """Make the notes; each is about a kind in a bed, or about a food in store."""
    return tuple(
        _note(part, number, document, gathered) for number, part in enumerate(document.noted)
    )


def _note(part: NotedPart, number: int, document: GardenDocument, gathered: Gathered) -> Noted:
    """Make one note."""
    place = ("noted", number)
    kind = part.kind and gathered.kind((*place, "kind"), part.kind)
    food = part.food and gathered.food((*place, "food"), part.food)
    if part.bed is not None:
        beds = [bed.id for bed in document.bed]
        gathered.one_of_ours((*place, "bed"), part.bed, beds, "bed")
    if part.place is not None:
        stores = [store.id for store in document.store]
        gathered.one_of_ours((*place, "place"), part.place, stores, "store")
    _check_about(part, place, gathered)
    if (part.days is not None) != (part.what is Became.LATE) or part.days == 0:
        what = f"days belong to late, and late needs them; this is {part.what.value}."
        gathered.fault((*place, "days"), what, "Say by how many days it is late, as in days = 14.")
    return Noted(
        part.what,
        part.on,
        kind,
        part.bed,
        part.sown,
        part.days,
        _share(part, place, gathered),
        food,
        part.place,
    )


def _check_about(part: NotedPart, place: Place, gathered: Gathered) -> None:
    """Note what speaks of nothing, or of a planting and a food at once."""
    planting = (part.kind, part.bed)
    if part.food is not None:
        if any(planting) or part.sown is not None:
            remedy = "Write two notes, one of each."
            gathered.fault(place, "it is about a planting and a food in store.", remedy)
        if part.what is not Became.EATEN_UP:
            what = f"food in store can only be eaten up, not {part.what.value}."
            gathered.fault((*place, "what"), what, "Write eaten up, or count it under in_store.")
    elif not all(planting):
        remedy = "Name its kind and its bed; or a food in store."
        gathered.fault(place, "it does not say which planting it is about.", remedy)
    elif part.place is not None:
        what = "a place belongs to a food in store, and none is named."
        gathered.fault((*place, "place"), what, "Name the food, or leave the place out.")


def _share(part: NotedPart, place: Place, gathered: Gathered) -> float | None:
    """Read the share of what was hoped for, which may be more than all of it [1]."""
    if (part.share is None) == (part.what is Became.GIVES):
        what = f"a share belongs to gives, and gives needs it; this is {part.what.value}."
        gathered.fault((*place, "share"), what, 'Say what share it gives, as in share = "50 %".')
    if part.share is None:
        return None
    text = f"{part.share}".strip().replace(",", ".")
    try:
        share = float(text.removesuffix("%")) / (100.0 if text.endswith("%") else 1.0)
    except ValueError:
        share = -1.0
    if not 0 < share <= MOST_SHARE:
        remedy = "Write a share as in 0.5, or 50 %; 120 % is a fifth more than was hoped for."
        gathered.fault((*place, "share"), f"“{part.share}” is no share of what was hoped.", remedy)
    return share
