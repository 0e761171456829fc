"""Seed in hand before the order: what each packet is still worth, and what is to be bought."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from haulm.catalogue.known import known
from haulm.catalogue.records import Catalogue, Figure, Kind
from haulm.desk.garden.editing import Change, change_garden, mark_of, parts_of
from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.plans import plan_before
from haulm.desk.planning.state import garden_on, stock_at_start
from haulm.desk.season.diary_state import with_notes
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.garden import Garden, PlantingStock
from haulm.plan.records import Plan
from haulm.season.seed_age import SeedNow, SeedTested, SeedVerdict, seed_now
from haulm.sheets.shopping_sums import StockLine, stock_to_buy

SEED = "seed"
"""The unit of planting stock that ages as seed does."""


@dataclass(frozen=True, slots=True)
class PacketTold:
    """A packet in hand and what is left of it.

    Attributes
    ----------
    number
        Its place among the garden's planting stock, counted from 1.
    left
        So much is left of what was told, by the plans since [units].
    stock, name, unit
        The packet, its kind's name, and what it holds.
    life
        The published life of such seed [years]; None for what is no seed, or where nobody has it.
    now
        What is left of it; None for what is no seed.
    plants
        Plants that it should give in a bed, losses counted; None where that is not known.
    """

    number: int
    stock: PlantingStock
    left: float
    name: str
    unit: str
    life: Figure | None
    now: SeedNow | None
    plants: float | None

    @property
    def used_up(self) -> bool:
        """Whether nothing of it is left."""
        return self.left < 1


@dataclass(frozen=True, slots=True)
class SeedTold:
    """Every packet, and what the kept plan wants of each kind; no lines without a plan."""

    day: date
    packets: tuple[PacketTold, ...]
    lines: tuple[StockLine, ...]
    names: dict[str, str]


@dataclass(frozen=True, slots=True)
class Trial:
    """A test as told: of which packet, how many sprouted of how many, and when; None: not told."""

    packet: int | None
    sprouted: int | None
    tried: int | None
    on: date


def seed_of(path: Path, day: date) -> SeedTold:
    """Say what a garden's packets are worth on a day, and what is to be bought beside them.

    Raises
    ------
    FaultsFoundError
        When the garden cannot be opened.
    """
    opened = open_garden(path)
    garden, catalogue = opened.garden, opened.catalogue
    plan = plan_before(opened)
    lines: tuple[StockLine, ...] = ()
    left = {}
    if plan is not None:
        noted = with_notes(opened, plan)
        left = {one.kind: one.units for one in garden_on(noted, catalogue, plan, day).garden.stock}
        every = stock_to_buy(plan, catalogue, stock_worth(garden, catalogue, day, plan))
        lines = tuple(line for line in every if line.first_on >= day)
    packets = tuple(
        packet_told(number, stock, units, catalogue, day)
        for number, (stock, units) in enumerate(units_left(garden.stock, left), start=1)
    )
    names = {kind.id: kind.name for kind in catalogue.kinds.values()}
    return SeedTold(day, packets, lines, names)


def units_left(
    packets: Sequence[PlantingStock], left: Mapping[str, float]
) -> tuple[tuple[PlantingStock, float], ...]:
    """Share what is left of each kind among its packets, the oldest used first [units].

    Of kinds that are not among ``left``, all that was told is there.
    """
    found = [stock.units for stock in packets]
    for kind, units in left.items():
        mine = sorted(
            (n for n, stock in enumerate(packets) if stock.kind == kind),
            key=lambda n: (packets[n].year, n),
        )
        used = max(0.0, sum(found[n] for n in mine) - units)
        for n in mine:
            from_it = min(used, found[n])
            found[n] -= from_it
            used -= from_it
    return tuple(zip(packets, found, strict=True))


def packet_told(
    number: int, stock: PlantingStock, left: float, catalogue: Catalogue, day: date
) -> PacketTold:
    """Say what one packet of which so much is left is worth on a day."""
    kind = catalogue.kinds[stock.kind]
    method = next((one for one in kind.methods if one.unit == SEED), kind.methods[0])
    life = method.seed_life_years if isinstance(method.seed_life_years, Figure) else None
    now = _now(stock, life, day) if method.unit == SEED else None
    worth = 1.0 if now is None else now.as_good_as
    plants = left * worth * method.germination.value * method.survival.value
    plants /= method.units_per_station.value
    return PacketTold(number, stock, left, kind.name, method.unit, life, now, plants)


def stock_worth(garden: Garden, catalogue: Catalogue, day: date, plan: Plan) -> dict[str, float]:
    """Add up the planting stock that a plan may use by kind, old seed as what it is worth [units].

    What earlier plans have used is not there any more.
    """
    worth: dict[str, float] = {}
    for stock, left in units_left(garden.stock, stock_at_start(garden, plan)):
        kind: Kind | None = catalogue.kinds.get(stock.kind)
        now = packet_told(0, stock, left, catalogue, day).now if kind else None
        units = left if now is None else left * now.as_good_as
        worth[stock.kind] = worth.get(stock.kind, 0.0) + units
    return worth


def try_packet(path: Path, trial: Trial, at: datetime) -> None:
    """Write how many seeds of a packet sprouted of those tried, in the place of a test before.

    Raises
    ------
    FaultsFoundError
        When there is no such packet, or the test says too little or what cannot be.
    """
    stock = parts_of(path)["stock"]
    number = trial.packet
    if number is None or not 1 <= number <= len(stock):
        what = f"there is no packet {number}." if number else "no packet is named."
        raise FaultsFoundError([Finding("seed in hand", what, "haulm seed numbers them.")])
    before = dict(stock[number - 1])
    said = {"sprouted": trial.sprouted, "tried": trial.tried, "tried_on": trial.on}
    now = before | {key: value for key, value in said.items() if value is not None}
    lacking = [key for key in ("sprouted", "tried") if said[key] is None]
    if lacking:
        what = "a test says how many sprouted and how many were tried."
        place = ("stock", number - 1, lacking[0])
        raise FaultsFoundError([Finding("seed in hand", what, "Give both.", place=place)])
    change_garden(path, [Change("stock", mark_of(before), now)], at)


def sorted_out(told: SeedTold) -> tuple[tuple[SeedVerdict, tuple[PacketTold, ...]], ...]:
    """Sort packets by what to do about them, what is no seed being kept."""
    found: dict[SeedVerdict, list[PacketTold]] = {verdict: [] for verdict in SeedVerdict}
    for packet in told.packets:
        found[packet.now.verdict if packet.now else SeedVerdict.KEEP].append(packet)
    return tuple((verdict, tuple(some)) for verdict, some in found.items() if some)


def _now(stock: PlantingStock, life: Figure | None, day: date) -> SeedNow:
    trial = stock.tried
    tested = None
    if trial is not None and trial.on <= day:
        tested = SeedTested(trial.sprouted, trial.of, trial.on.year - stock.year)
    return seed_now(max(0, day.year - stock.year), known(life) if life else None, tested)
