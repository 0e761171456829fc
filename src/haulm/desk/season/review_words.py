"""The review in words: figures that nobody wrote, causes, verdicts, as sentences of a grower."""

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from haulm.desk.season.review import Reviewed
from haulm.desk.season.review_odds import Verdict
from haulm.measure.units import show_mass
from haulm.season.review_records import Cause, Parted
from haulm.season.review_rules import review_rules

NOT_WRITTEN = "not written"
"""What stands in the place of a figure that nobody wrote down."""
CAUSE_WORDS: Mapping[Cause, str] = {
    Cause.NOT_WRITTEN: "nobody wrote of it",
    Cause.NOT_SOWN: "not sown",
    Cause.REPLANNED: "taken out when the plan was made anew",
    Cause.NOT_PICKED: "begun, but never picked",
    Cause.LOST: "lost",
    Cause.CLEARED: "cleared early",
    Cause.TROUBLE: "a pest or disease seen on it",
    Cause.LATE: "begun late",
    Cause.BESIDE: "grown beside the plan",
    Cause.AREA: "{way} ground than planned",
    Cause.YIELD: "gave {way} for its ground",
}
"""What each cause is called; ``{way}`` stands for more or less."""


@dataclass(frozen=True, slots=True)
class CauseSum:
    """What one cause brought of one food, more or less than planned [kg]; how many plantings."""

    cause: Cause
    food: str
    kg: float
    plantings: int


def largest_causes(parts: Sequence[Parted], most: int | None = None) -> tuple[CauseSum, ...]:
    """Sum causes up by food, the largest first; where few are asked, what is not noticed is left.

    All of them together add up to all that came more or less than planned.
    """
    kg: dict[tuple[Cause, str], float] = defaultdict(float)
    plantings: dict[tuple[Cause, str], set[str]] = defaultdict(set)
    for part in parts:
        kg[part.cause, part.food] += part.kg
        plantings[part.cause, part.food].add(part.planting)
    found = sorted(
        (
            CauseSum(cause, food, sum_, len(plantings[cause, food]))
            for (cause, food), sum_ in kg.items()
        ),
        key=lambda one: (-abs(one.kg), one.food, one.cause),
    )
    if most is None:
        return tuple(found)
    least_kg = review_rules().noticed_kg.value
    return tuple(one for one in found if abs(one.kg) >= least_kg)[:most]


def told_or(show: Callable[[float], str], figure: float | None) -> str:
    """Write a figure, or that nobody wrote it."""
    return NOT_WRITTEN if figure is None else show(figure)


def cause_sentence(one: CauseSum, reviewed: Reviewed) -> str:
    """Say what a cause brought: *leek: 10.2 kg less, lost*."""
    way = "more" if one.kg > 0 else "less"
    mass = show_mass(abs(one.kg), reviewed.units)
    name = reviewed.names.get(one.food, one.food)
    return f"{name}: {mass} {way}, {CAUSE_WORDS[one.cause].format(way=way)}"


def verdict_sentence(found: Verdict) -> str:
    """Say how the year stands beside what the plan had promised."""
    if not found.known:
        return "The diary does not say of any line of the table what was eaten the year through."
    unknown = found.promised - found.known
    not_known = f"; of {unknown} more the diary does not say" if unknown else ""
    usual = f"{found.expected:.0f} hold in the mean of many seasons"
    lucky = "an ordinary year"
    if found.worse_share >= review_rules().lucky_share.value:
        lucky = "a lucky year"
    elif found.worse_share <= review_rules().unlucky_share.value:
        lucky = "an unlucky year"
    better = f"better than {10 * found.worse_share:.0f} in 10 drawn"
    return f"{found.held} of {found.known} promises held, {usual}{not_known}: {lucky}, {better}."
