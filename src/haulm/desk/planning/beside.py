"""Planning in a process of its own, so that whoever asked stays free meanwhile."""

import os
import signal
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from multiprocessing.connection import Connection
from pathlib import Path

from haulm.desk.garden.opening import open_garden
from haulm.desk.odds.certainty_prices import OFFERED, priced
from haulm.desk.planning.plans import plan_garden
from haulm.measure.errors import AuditFailedError, FaultsFoundError, HaulmError
from haulm.measure.findings import Finding
from haulm.planner.question import Progress, StopPlanningError
from haulm.planner.solve import EFFORTS


@dataclass(frozen=True, slots=True)
class Order:
    """What is to be planned: which notebook, as of which day, how hard, and whether to propose it.

    ``parent`` is the process that waits for it; when that is gone, nobody does, and planning ends.
    """

    notebook: Path
    day: date
    effort: str
    seed: int
    propose: bool
    parent: int


@dataclass(frozen=True, slots=True)
class Outcome:
    """How planning ended: with a plan kept or proposed, or with findings that say why not."""

    made: bool
    findings: tuple[Finding, ...] = ()


def plan_beside(order: Order, line: Connection) -> None:
    """Plan as ordered, sending each ``Progress`` and at last the ``Outcome`` down the line.

    Anything that comes up the line asks to stop looking and keep the best plan so far.
    """
    work_beside(_plan, order, line)


def price_beside(order: Order, line: Connection) -> None:
    """Price certainty as ordered, sending each ``Progress`` and each ``Priced`` down the line.

    Anything that comes up the line asks to stop.
    """
    work_beside(_price, order, line)


def _plan(order: Order, line: Connection) -> Outcome:
    effort, watch = EFFORTS[order.effort], watching(order, line)
    made = plan_garden(order.notebook, order.day, effort, order.seed, watch, propose=order.propose)
    return Outcome(made=True, findings=made.plan.findings)


def _price(order: Order, line: Connection) -> Outcome:
    effort, watch = EFFORTS[order.effort], watching(order, line)
    opened = open_garden(order.notebook)
    for price in priced(opened, order.day, OFFERED, effort, order.seed, watch):
        line.send(price)
    return Outcome(made=True)


def work_beside(
    work: Callable[[Order, Connection], Outcome], order: Order, line: Connection
) -> None:
    """Do long work, and send how it ended."""
    # Ctrl-C reaches every process of a terminal; this one is ended by the one that waits for it.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        line.send(work(order, line))
    except (FaultsFoundError, AuditFailedError) as error:
        line.send(Outcome(made=False, findings=error.findings))
    except HaulmError as error:
        line.send(Outcome(made=False, findings=(Finding("the plan", f"{error}."),)))
    finally:
        line.close()


def watching(order: Order, line: Connection) -> Callable[[Progress], None]:
    """Give a watcher that sends each step down the line, and stops when asked to."""

    def watch(progress: Progress) -> None:
        if os.getppid() != order.parent:
            raise SystemExit
        line.send(progress)
        if line.poll():
            raise StopPlanningError

    return watch
