"""Size land: how much ground, work and money a table takes, and what less ground would feed."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from haulm.desk.beds.ground import is_covered
from haulm.desk.beds.perennials import lasting_needs
from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.odds.certainty import LEAST_CERTAIN, MOST_CERTAIN
from haulm.desk.planning.question import lasting_foods
from haulm.desk.sizing.land_frontier import NOTHING, Frontier, comes_in
from haulm.desk.sizing.land_ground import AMPLE_M2, FRESH_SEASONS, ImaginedGround, imagined_ground
from haulm.desk.sizing.land_steps import LandStep
from haulm.desk.table.money import as_data as money_as_data
from haulm.forecast.rules import forecast_rules
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.units import Units, parse_area_m2, show_area
from haulm.planner.question import Progress, Watcher

USUAL_CERTAINTY = 0.8
HELD_NEAR = 0.05
"""A promise is near a certainty when it falls short of it by no more than this [1]."""

MOST_COVERED_M2 = 2000.0
STILL_TO_COME = 12
"""About so many pieces of ground are planned: with each, as much again is left as was before."""


@dataclass(frozen=True, slots=True)
class LandWish:
    """What is asked: how sure, and how much ground under cover.

    ``certainty`` is the share of years in which promises are to hold [1]; ``covered_m2`` the ground
    under cover, None for as much as the garden has [m²].
    """

    certainty: float = USUAL_CERTAINTY
    covered_m2: float | None = None


def wish_from(years_in_ten: float, cover: str | None) -> LandWish:
    """Read what is asked as it is typed: years in 10, and an area as in garden.toml.

    Raises
    ------
    FaultsFoundError
        When the area cannot be read.
    """
    covered_m2 = parse_area_m2(cover, "cover") if cover and cover.strip() else None
    return LandWish(years_in_ten / 10, covered_m2)


@dataclass(frozen=True, slots=True)
class Stands:
    """A line that only plants which stay for years give: the ground of a full-grown stand [m²]."""

    line: str
    name: str
    kind: str
    area_m2: float


@dataclass(frozen=True, slots=True)
class Land:
    """How much land a table takes, and what less would feed.

    Attributes
    ----------
    garden, units, invented
        Whose table, how measures are written, and whether the garden is made up.
    certainty
        Share of years in which promises are to hold [1].
    enough
        The least ground that feeds nearly all that any amount of ground would.
    most_kg
        The share of the kilograms wanted that ample ground feeds [1].
    steps
        The frontier: from little ground to enough, and the garden's own where it lies beyond.
    comes_in
        By step, the lines of the table that come in there.
    never
        Lines that get nothing however much ground there is.
    without_rest_m2
        The open ground that would be enough if families were not rested [m²].
    stands
        Lines that only plants which stay for years give; their ground comes on top, and no share of
        the table counts them.
    seasons, promises
        Through how many seasons that no plan ever saw the plan of enough ground was lived, and to
        how many lines it promises something.
    less_sure
        Lines whose promises held less often there than they should, and how often [1], the least
        sure first.
    own_m2
        The open ground of the garden's beds [m²]; None where it has none.
    names
        Display names by id.
    """

    garden: str
    units: Units
    invented: bool
    certainty: float
    enough: LandStep
    most_kg: float
    steps: tuple[LandStep, ...]
    comes_in: tuple[tuple[str, ...], ...]
    never: tuple[str, ...]
    without_rest_m2: float
    stands: tuple[Stands, ...]
    seasons: int
    promises: int
    less_sure: tuple[tuple[str, float], ...]
    own_m2: float | None
    names: Mapping[str, str]


def land_of(
    path: Path, day: date, wish: LandWish, seed: int = 1, watch: Watcher | None = None
) -> Land:
    """Size the land for a garden's table, whether or not it has beds.

    Every number is from a plan made on imagined ground, audited as any: none is a mean divided by
    a mean.

    Parameters
    ----------
    path
        The notebook, or garden.toml.
    day, seed
        The day that counts as today, and the seed of every random draw.
    wish
        How sure, and how much under cover.
    watch
        Told of each step.

    Raises
    ------
    FaultsFoundError
        When the garden's data has faults, nothing is eaten, nothing can be grown here, or what is
        asked is out of bounds.
    AuditFailedError, InterruptedPlanError
        As any plan.
    """
    return sized(open_garden(path), day, wish, seed, watch)


def sized(
    opened: Opened, day: date, wish: LandWish, seed: int = 1, watch: Watcher | None = None
) -> Land:
    """Size the land for the table of a garden that was opened, as :func:`land_of`."""
    _refuse(opened, wish)
    garden = opened.garden
    own_covered = sum(bed.outline.area_m2 for bed in garden.beds if is_covered(bed))
    covered_m2 = own_covered if wish.covered_m2 is None else wish.covered_m2
    telling = _Telling(watch)
    telling("working out what this site allows")
    sown = with_sown_lines(opened)
    ground = imagined_ground(sown, day, seed, wish.certainty, covered_m2)
    frontier = Frontier(ground, telling)
    if frontier.most_kg <= NOTHING:
        what = "nothing on the table can be grown here from one year to the next."
        raise FaultsFoundError([Finding("table", what, "See haulm need for each line's reason.")])
    own_m2 = sum(bed.outline.area_m2 for bed in garden.beds if not is_covered(bed)) or None
    # The garden's own beds lie on the frontier only where it has the cover that was asked about.
    own_m2 = own_m2 if abs(covered_m2 - own_covered) < NOTHING else None
    enough_m2 = frontier.enough_m2()
    steps = frontier.steps(enough_m2, own_m2)
    enough = next(step for step in steps if step.open_m2 == enough_m2)
    held = _held(ground, enough)
    least = wish.certainty - HELD_NEAR
    return Land(
        garden=garden.name,
        units=garden.units,
        invented=garden.invented,
        certainty=wish.certainty,
        enough=enough,
        most_kg=frontier.most_kg,
        steps=steps,
        comes_in=comes_in(steps),
        never=tuple(one.name for one in steps[-1].lines if one.wanted_kg > 0 >= one.got_kg),
        without_rest_m2=min(frontier.enough_m2(resting=False), enough_m2),
        stands=_stands(replace(ground, opened=opened)),
        seasons=FRESH_SEASONS,
        promises=len(held),
        less_sure=tuple((line, share) for line, share in held if share < least),
        own_m2=own_m2,
        names=ground.asked(AMPLE_M2).question.names,
    )


def with_sown_lines(opened: Opened) -> Opened:
    """Give a garden without the lines that only plants which stay for years could serve.

    What is told of the table is told of the other lines; these have ground of their own.
    """
    lasting = set(lasting_foods(opened.catalogue))
    household = opened.garden.household
    table = tuple(line for line in household.table if not set(line.foods) <= lasting)
    return replace(opened, garden=replace(opened.garden, household=replace(household, table=table)))


def _refuse(opened: Opened, wish: LandWish) -> None:
    """Refuse what cannot be sized, everything at once.

    Raises
    ------
    FaultsFoundError
        When nothing is eaten, or the wish is out of bounds.
    """
    faults = []
    if not opened.garden.household.table:
        what = "nothing is eaten yet, so there is no land to size."
        faults.append(Finding("table", what, "Tell what is eaten, line by line."))
    if not LEAST_CERTAIN <= wish.certainty <= MOST_CERTAIN:
        what = f"{10 * wish.certainty:g} years in 10 cannot be planned for."
        remedy = f"Ask for {10 * LEAST_CERTAIN:g} to {10 * MOST_CERTAIN:g}."
        faults.append(Finding("certainty", what, remedy))
    if wish.covered_m2 is not None and not 0 <= wish.covered_m2 <= MOST_COVERED_M2:
        most = show_area(MOST_COVERED_M2, opened.garden.units)
        what = "so much ground under cover cannot be planned."
        faults.append(Finding("cover", what, f"Give an area from 0 to {most}."))
    if faults:
        raise FaultsFoundError(faults)


class _Telling:
    """Tells whoever watches that another piece of ground has been planned."""

    def __init__(self, watch: Watcher | None) -> None:
        self._watch = watch
        self._told = 0

    def __call__(self, step: str = "planning piece after piece of ground") -> None:
        if self._watch is not None:
            done = self._told / (self._told + STILL_TO_COME)
            self._watch(Progress(step, None, None, done))
        self._told += 1


def _held(ground: ImaginedGround, step: LandStep) -> tuple[tuple[str, float], ...]:
    """Say of each line how often its least sure promise holds in fresh seasons, that one first."""
    least_kg = forecast_rules().empty_kg.value
    names = {one.line: one.name for one in step.lines}
    held: dict[str, float] = {}
    for promise in ground.fresh_odds(step.plan).promises:
        if promise.promised_kg > least_kg:
            held[promise.line] = min(promise.held, held.get(promise.line, 1.0))
    least_sure = sorted(held.items(), key=lambda one: one[1])
    return tuple((names[line], share) for line, share in least_sure)


def _stands(ground: ImaginedGround) -> tuple[Stands, ...]:
    """Tell what a full-grown stand would take for each line that only lasting plants give."""
    asked = ground.asked(AMPLE_M2)
    lasting = set(asked.question.lasting_foods)
    found = []
    for appetite in asked.question.appetites:
        if set(appetite.foods) <= lasting and any(appetite.kg):
            needs = lasting_needs(appetite, ground.garden(AMPLE_M2), ground.catalogue, asked)
            found += [
                Stands(appetite.line, appetite.name, asked.question.names[need.kind], need.area_m2)
                for need in needs[:1]
            ]
    return tuple(found)


def as_data(land: Land) -> Mapping[str, object]:
    """Give the sizes as plain data, the plans left out."""
    return {
        "garden": land.garden,
        "certainty": land.certainty,
        "open_m2": land.enough.open_m2,
        "covered_m2": land.enough.covered_m2,
        "most_share_kg": land.most_kg,
        "without_rest_m2": land.without_rest_m2,
        "own_m2": land.own_m2,
        "less_sure": dict(land.less_sure),
        "promises": land.promises,
        "never": land.never,
        "stands": land.stands,
        "steps": [
            _step_as_data(step, come) for step, come in zip(land.steps, land.comes_in, strict=True)
        ],
    }


def _step_as_data(step: LandStep, come: tuple[str, ...]) -> Mapping[str, object]:
    solver = step.plan.solver
    return {
        "open_m2": step.open_m2,
        "covered_m2": step.covered_m2,
        "in_use_m2": step.in_use_m2,
        "share_kg": step.share_kg,
        "share_helpings": step.share_helpings,
        "share_energy": step.share_energy,
        "gap": solver.gap,
        "net_gap": solver.net_gap,
        "work_h": step.work_h,
        "given_h": step.given_h,
        "busiest_h": step.busiest_h,
        "busiest_on": step.busiest_on,
        "money": money_as_data(step.money),
        "full_families": step.full_families,
        "comes_in": come,
        "lines": [
            {"line": one.line, "got_kg": one.got_kg, "wanted_kg": one.wanted_kg}
            for one in step.lines
        ],
    }
