"""The handover of a notebook held at hand."""

from haulm.desk.at_hand import AtHand
from haulm.desk.beds.watering import GardenWater, garden_water
from haulm.desk.showing.handover import HandedOver, handover_of
from haulm.sheets.handover import Handover


def handover_at_hand(garden: AtHand) -> Handover | None:
    """Gather the handover, once for the day and the diary; None where there is no plan."""
    made, bundle = garden.unlaid, garden.bundle
    if made is None or bundle is None:
        return None
    books = garden.books

    def gather() -> Handover:
        water = garden.of_plan("water", garden_water, garden.day)
        found = water if isinstance(water, GardenWater) else None
        return handover_of(HandedOver(made, bundle, books, found, garden.path.name))

    return garden.once("handover", (garden.day, books), gather)
