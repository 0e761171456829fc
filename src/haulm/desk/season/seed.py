"""Seed in hand before the order: what each packet is still worth, and what is to be bought."""

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from haulm.catalogue.known import known
from haulm.catalogue.records import Catalogue, Figure, Kind
from haulm.desk.garden.editing import Change, change_garden, mark_of, parts_of
from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.plans import kept_plan
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.file import open_notebook
from haulm.notebook.garden import Garden, PlantingStock
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
    name: str
    unit: str
    life: Figure | None
    now: SeedNow | None
    plants: float | None


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
    packets = tuple(
        packet_told(number, stock, catalogue, day)
        for number, stock in enumerate(garden.stock, start=1)
    )
    lines: tuple[StockLine, ...] = ()
    if opened.notebook is not None:
        with open_notebook(path) as notebook:
            has_plan = bool(notebook.plans())
        if has_plan:
            plan = kept_plan(path).plan
            every = stock_to_buy(plan, catalogue, stock_worth(garden, catalogue, day))
            lines = tuple(line for line in every if line.first_on >= day)
    names = {kind.id: kind.name for kind in catalogue.kinds.values()}
    return SeedTold(day, packets, lines, names)


def packet_told(number: int, stock: PlantingStock, catalogue: Catalogue, day: date) -> PacketTold:
    """Say what is left of one packet on a day."""
    kind = catalogue.kinds[stock.kind]
    method = next((one for one in kind.methods if one.unit == SEED), kind.methods[0])
    life = method.seed_life_years if isinstance(method.seed_life_years, Figure) else None
    now = _now(stock, life, day) if method.unit == SEED else None
    worth = 1.0 if now is None else now.as_good_as
    plants = stock.units * worth * method.germination.value * method.survival.value
    plants /= method.units_per_station.value
    return PacketTold(number, stock, kind.name, method.unit, life, now, plants)


def stock_worth(garden: Garden, catalogue: Catalogue, day: date) -> dict[str, float]:
    """Add up planting stock in hand by kind, old seed as the fresh that it is worth [units]."""
    worth: dict[str, float] = {}
    for stock in garden.stock:
        kind: Kind | None = catalogue.kinds.get(stock.kind)
        now = packet_told(0, stock, catalogue, day).now if kind else None
        units = stock.units if now is None else stock.units * now.as_good_as
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
