"""What is said of land, in sentences that a terminal and a page share."""

from collections.abc import Iterator

from haulm.desk.sizing.land import Land
from haulm.desk.sizing.land_steps import LandStep
from haulm.measure.units import Units, show_area

TEN = 10
LITTLE_M2 = 1.0
PATHS = (
    "Paths are not in it: beds of 1.2 m with paths of 40 cm between them take a third as much "
    "again."
)
IMAGINED = (
    "The ground is imagined: in full sun, in the place's soil, without a past, with as many hands "
    "and trays as are wanted. Every number is a plan's, re-added like any plan; none is kept."
)


def ground_text(step: LandStep, units: Units) -> str:
    """Write how much ground a step has, in the open and under cover."""
    text = f"{show_area(step.open_m2, units)} in the open"
    return (
        f"{text} and {show_area(step.covered_m2, units)} under cover" if step.covered_m2 else text
    )


def headline(land: Land) -> str:
    """Say how much land the table takes, and on what yields it counts."""
    years = f"{TEN * land.certainty:g} years in {TEN}"
    ground = ground_text(land.enough, land.units)
    return f"To eat like this takes {ground}, counting on yields that {years} reach."


def remarks(land: Land) -> Iterator[str]:
    """Say what lies behind the land that is enough, one sentence or two for each thing."""
    enough, units = land.enough, land.units
    yield (
        f"It feeds {enough.share_kg:.0%} of the kilograms wanted; no ground would feed more than "
        f"{land.most_kg:.0%}, for the rest is wanted when there is none."
        if land.most_kg < 1 - 1e-3
        else f"It feeds {enough.share_kg:.0%} of the kilograms wanted."
    )
    yield PATHS
    yield from _rest(land)
    yield from _sure(land)
    for stand in land.stands:
        yield (
            f"{stand.name.capitalize()} comes from plants that stay for years and is in no share: "
            f"a full-grown stand of {stand.kind} takes {show_area(stand.area_m2, units)} on top."
        )
    if land.never:
        yield (
            f"No amount of ground brings {_listed(land.never)}: nothing here gives it when it is "
            "wanted, or what a patch of it feeds is not worth the sowing."
        )
    if land.own_m2 is not None:
        yield (
            f"Your beds in the open measure {show_area(land.own_m2, units)}; their place among the "
            "steps is that of as much imagined ground."
        )
    yield IMAGINED


def _rest(land: Land) -> Iterator[str]:
    """Say how much of the ground is there for families to rest."""
    enough, units = land.enough, land.units
    resting = enough.open_m2 - land.without_rest_m2
    if resting < LITTLE_M2:
        yield "All families get their years of rest on it, without ground beside."
        return
    most = (
        f" The {_listed(enough.full_families)} fill all that their rest leaves them."
        if len(enough.full_families) > 1
        else f" The {enough.full_families[0]} fills all that its rest leaves it."
        if enough.full_families
        else ""
    )
    yield (
        f"{show_area(resting, units)} of it are there so that families rest their years; "
        f"{show_area(land.without_rest_m2, units)} would be enough if none did, and a shorter ring "
        f"lies between.{most}"
    )


def _sure(land: Land) -> Iterator[str]:
    """Say how the promises held in seasons that the plan never saw."""
    held = land.promises - len(land.less_sure)
    yield (
        f"Lived through {land.seasons:,} seasons that the plan never saw, {held} of the "
        f"{land.promises} lines held their promise so often, or within half a year in ten of it."
    )
    if land.less_sure:
        told = tuple(f"{name} {TEN * share:.0f}" for name, share in land.less_sure)
        yield (
            f"Years in ten that the others held it: {_listed(told)}. What takes a whole crop, "
            "blight or a late frost, more ground does not mend; another kind, sowing or store may."
        )


def _listed(names: tuple[str, ...]) -> str:
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last
