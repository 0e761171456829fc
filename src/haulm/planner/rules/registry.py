"""Every rule of the plan, by its one name, with the sentence a grower reads."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule: its name in code, docs and messages, and what it says in the garden."""

    name: str
    sentence: str


APPETITE = Rule("appetite", "What is eaten and what is short come to what was wanted.")
HARVEST = Rule("harvest", "No more is eaten or put by than the ground gives that week.")
KEEPING = Rule("keeping", "Food in store is eaten while it is sound; what rots is counted lost.")
GROUND = Rule("ground", "No bed holds more than its area in any week.")
PATCH_SIZE = Rule("patch size", "No patch is smaller than the smallest worth having.")
ROTATION = Rule("rotation", "A family rests from a bed for its years before it comes back.")
REST = Rule("rest", "In a year no family takes more ground than leaves it its years of rest.")
ALLOTMENT = Rule(
    "allotment", "A family keeps to the ground that the years ahead leave it in a bed."
)
CLOSED_BEDS = Rule(
    "closed beds", "A family or crop stays off a bed until its disease clock runs out."
)
SUN = Rule("sun", "Nothing is given a bed that gets less sun than it needs.")
SPREAD = Rule("spread", "A crop in more than two patches is not staked on one bed.")
SEED_BACK = Rule(
    "seed back", "Planting stock is in hand, kept back from what was lifted, or bought."
)
NURSERY = Rule("nursery", "Trays hold no more cells than there is room for.")
HOURS = Rule("hours", "No week asks more hours than the household gives.")
STORE_SPACE = Rule("store space", "No store holds more than it has room for.")
PIN = Rule("pin", "What is kept by hand is planted, and what is forbidden is not.")
LIMIT = Rule("limit", "What is limited by hand stays within its most, and apart from the other.")

RULES = (
    APPETITE,
    HARVEST,
    KEEPING,
    GROUND,
    PATCH_SIZE,
    ROTATION,
    REST,
    ALLOTMENT,
    CLOSED_BEDS,
    SUN,
    SPREAD,
    SEED_BACK,
    NURSERY,
    HOURS,
    STORE_SPACE,
    PIN,
    LIMIT,
)
