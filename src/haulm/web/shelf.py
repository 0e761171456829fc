"""What the server holds: the garden that is open, the demo beside it, a plan in the making."""

import os
from collections.abc import Callable
from concurrent.futures import Executor
from dataclasses import dataclass, field
from datetime import date, datetime
from hashlib import sha256
from pathlib import Path
from time import sleep

from haulm.desk.at_hand import SEED, AtHand
from haulm.desk.garden.asking import over_https
from haulm.desk.garden.demo import demo_notebook
from haulm.desk.garden.editing import stamp
from haulm.desk.garden.fetching import Network
from haulm.desk.garden.safekeeping import copy_weekly
from haulm.desk.planning.beside import Order, price_beside
from haulm.desk.season.regrets_beside import RegretOrder, regret_beside
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.units import Units
from haulm.web.planning import Making, Planner


def machine_time() -> datetime:
    """Give this machine's time, with its zone."""
    return datetime.now().astimezone()


@dataclass(slots=True)
class Shelf:
    """The gardens a server has within reach; one of them is open.

    Attributes
    ----------
    own
        The grower's own notebook, which need not be there yet.
    today
        Gives the true day.
    beside
        Where long reckoning is done.
    given
        The day that counts as today in every garden; None where none was asked for.
    network
        What asks a public service, where a grower says so.
    now
        Gives the time by which a change is listed, with its zone.
    copy_trouble
        Why the week's copy could not be made, the last time it was due; empty where it was.
    """

    own: Path
    today: Callable[[], date]
    beside: Executor | None = None
    given: date | None = None
    planner: Planner = field(default_factory=Planner)
    pricer: Planner = field(default_factory=lambda: Planner(price_beside))
    regretter: Planner = field(default_factory=lambda: Planner(regret_beside))
    network: Network = field(default_factory=lambda: Network(over_https, sleep))
    now: Callable[[], datetime] = machine_time
    garden: AtHand = field(init=False)
    copy_trouble: tuple[Finding, ...] = ()
    _priced_for: str = ""

    def __post_init__(self) -> None:
        """Open the grower's own garden."""
        self.open_own()

    @property
    def units(self) -> Units:
        """Metric or us, as the garden that is open says; metric where none can be read."""
        readable = self.garden.there and not self.garden.faulty
        return self.garden.opened.garden.units if readable else "metric"

    @property
    def own_is_open(self) -> bool:
        """Whether the garden that is open is the grower's own."""
        return self.garden.path == self.own

    @property
    def mark(self) -> str:
        """A mark of the garden that is open, which every form sends along."""
        return sha256(str(self.garden.path).encode()).hexdigest()[:12]

    def open_own(self) -> None:
        """Open the grower's own garden."""
        self.garden = AtHand(self.own, self.today, self.beside, self.given)

    def open_demo(self) -> None:
        """Open the invented garden, made anew beside the grower's own where it is not there."""
        demo = demo_notebook(self.own.parent)
        self.garden = AtHand(demo, self.today, self.beside, self.given)

    def copy_if_due(self, before: str) -> None:
        """Copy the grower's own notebook where it was written in and its newest copy is old.

        ``before`` is the mark of the file as it was; ``copy_trouble`` holds what stood in the way.
        """
        if self.own_stamp != before:
            self.copy_trouble = copy_weekly(self.own, self.now())

    @property
    def own_stamp(self) -> str:
        """The mark of the grower's own file; empty while there is none that can be read."""
        try:
            return stamp(self.own)
        except FaultsFoundError:
            return ""

    def plan(self, effort: str) -> Making:
        """Begin to plan the garden that is open: to be proposed where it has a plan already."""
        garden = self.garden
        propose = garden.unlaid is not None
        order = Order(garden.path, garden.day, effort, SEED, propose, os.getpid())
        return self.planner.start(order)

    def price(self, effort: str) -> Making:
        """Begin to price certainty for the garden that is open."""
        garden = self.garden
        order = Order(garden.path, garden.day, effort, SEED, propose=False, parent=os.getpid())
        if not self.pricer.busy:
            self._priced_for = garden.price_mark
        return self.pricer.start(order)

    def regret(self, day: date, year: int) -> Making:
        """Begin to reckon the regret ledger of a year of the garden that is open."""
        order = RegretOrder(
            self.garden.path, day, "quick", SEED, propose=False, parent=os.getpid(), year=year
        )
        return self.regretter.start(order)

    @property
    def prices(self) -> Making | None:
        """What was reckoned of the price of certainty for this garden as it is; None if nothing."""
        making = self.pricer.making
        if making is None or making.order.notebook != self.garden.path:
            return None
        return making if self.garden.price_mark == self._priced_for else None
