"""What is settled by hand, and what is noted, as typed."""

from datetime import date

from haulm.notebook.declaring import Part, key
from haulm.notebook.values import Count, Day, Quantity, Text, Texts, Year
from haulm.plan.pins import PinRule
from haulm.plan.state import Became


class PinPart(Part):
    """[[pin]]: what was settled by hand, and every later plan is made around."""

    rule: PinRule = key(
        "keep (it is planted), at least, at most, forbid (it is not planted), only in (in these "
        "beds alone) or apart (never in one bed at one time).",
        "at least",
    )
    kind: Text | None = key(
        "Which kind. Name a kind, a crop or a family.", "garlic/hard-necked", default=None
    )
    crop: Text | None = key("Or which crop, all its kinds together.", "potato", default=None)
    family: Text | None = key("Or which family.", "onion family", default=None)
    bed: Text | None = key("In which bed, by its id; in any when left out.", "slate", default=None)
    beds: Texts | None = key("Only in: the beds, by their ids.", ["slate", "sill"], default=None)
    method: Text | None = key(
        "By which of the kind's methods; by any when left out.", "cloves", default=None
    )
    week: Day | None = key(
        "Any day of the week in which it is sown or set; in any week when left out.",
        date(2027, 10, 18),
        default=None,
    )
    year: Year | None = key(
        "Or the calendar year in which it is sown or set; in any when left out.",
        2027,
        default=None,
    )
    area: Quantity | None = key(
        "The ground a kept planting has, an area; as much as the plan sees fit when left out. At "
        "least, at most: the ground of all of it together.",
        "4 m2",
        default=None,
    )
    apart_from: Text | None = key("Apart: the other kind, crop or family.", "tomato", default=None)


class AllotmentPart(Part):
    """[[allotment]]: how far a family may spread in a bed and year; a plan is held to it.

    ``haulm rotation`` writes these; they may be changed by hand.
    """

    bed: Text = key("In which bed, by its id.", "slate")
    year: Year = key("The calendar year in which its ground is cleared.", 2028)
    family: Text = key("Which family.", "onion family")
    area: Quantity = key("The ground its plantings may take there in all, an area.", "6 m2")


class NotedPart(Part):
    """[[noted]]: what went otherwise than planned."""

    what: Became = key(
        "failed, not sown, late, gives (more or less than hoped), cleared or eaten up.", "gives"
    )
    on: Day = key("The day it was seen.", date(2027, 6, 18))
    kind: Text | None = key("Of which kind.", "leek/winter", default=None)
    bed: Text | None = key("In which bed, by its id.", "slate", default=None)
    sown: Day | None = key(
        "Any day of the week in which it was to be sown or set; all of the kind that grew in the "
        "bed on that day when left out.",
        date(2027, 4, 5),
        default=None,
    )
    days: Count | None = key("Late: by how many days.", 14, default=None)
    share: Quantity | None = key(
        "Gives: the share of what was hoped for, from that day on.", "50 %", default=None
    )
    food: Text | None = key("Or eaten up: a food in store.", "garlic", default=None)
    place: Text | None = key(
        "The store it lay in, by its id; in all when left out.", "cellar", default=None
    )
