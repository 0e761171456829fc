"""A plan in the making: one at a time, in a process of its own, watched by whoever looks."""

import multiprocessing
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from enum import StrEnum
from multiprocessing.connection import Connection
from threading import Lock, Thread

from haulm.desk.odds.certainty_prices import Priced
from haulm.desk.planning.beside import Order, Outcome, plan_beside
from haulm.desk.season.regrets import Regrets
from haulm.measure.findings import Finding
from haulm.planner.question import Progress

_SPAWN = multiprocessing.get_context("spawn")
_PATIENCE_S = 5.0


class State(StrEnum):
    """How a plan in the making stands."""

    RUNNING = "running"
    MADE = "made"
    FAILED = "failed"
    GIVEN_UP = "given up"


@dataclass(frozen=True, slots=True)
class Step:
    """How far planning has come: what is done now, how close the plan is, the share done."""

    words: str
    gap: float | None
    done: float


@dataclass(slots=True)
class Making:
    """One plan in the making.

    Attributes
    ----------
    order
        What was asked.
    state, steps, findings
        How it stands, every step so far, and what came of it.
    stopping
        Whether it was asked to stop and keep the best so far.
    priced
        What was reckoned so far, where certainty is priced.
    regrets
        The regret ledger, where that was asked for; None until it is there.
    """

    order: Order
    state: State = State.RUNNING
    steps: list[Step] = field(default_factory=list)
    findings: tuple[Finding, ...] = ()
    stopping: bool = False
    priced: list[Priced] = field(default_factory=list)
    regrets: Regrets | None = None


class Planner:
    """Makes plans one at a time beside the pages; ``work`` is what the other process does."""

    def __init__(self, work: Callable[[Order, Connection], None] = plan_beside) -> None:
        self._work = work
        self.making: Making | None = None
        self._lock = Lock()
        self._line: Connection | None = None
        self._process: multiprocessing.process.BaseProcess | None = None

    @property
    def busy(self) -> bool:
        """Whether a plan is in the making."""
        return self.making is not None and self.making.state is State.RUNNING

    def start(self, order: Order) -> Making:
        """Begin a plan; where one is in the making already, that one goes on."""
        with self._lock:
            if self.busy and self.making is not None:
                return self.making
            making = Making(order)
            ours, theirs = _SPAWN.Pipe()
            process = _SPAWN.Process(target=self._work, args=(order, theirs), daemon=True)
            process.start()
            theirs.close()
            self.making, self._line, self._process = making, ours, process
            Thread(target=_listen, args=(making, ours, process), daemon=True).start()
            return making

    def stop(self) -> None:
        """Ask for the best plan so far."""
        with self._lock:
            if self.busy and self.making is not None and self._line is not None:
                self.making.stopping = True
                # It may have ended in this very moment; then there is nothing left to stop.
                with suppress(OSError):
                    self._line.send("stop")

    def give_up(self) -> None:
        """End planning; nothing of it is kept."""
        with self._lock:
            if self.busy and self.making is not None and self._process is not None:
                self.making.state = State.GIVEN_UP
                self._process.terminate()

    def close(self) -> None:
        """End whatever is in the making, and wait until it is gone."""
        self.give_up()
        if self._process is not None:
            self._process.join(_PATIENCE_S)


def _listen(making: Making, line: Connection, process: multiprocessing.process.BaseProcess) -> None:
    """Take in what the planning process tells, until it ends."""
    try:
        while True:
            told = line.recv()
            if isinstance(told, Progress):
                making.steps.append(_step(told))
            elif isinstance(told, Priced):
                making.priced.append(told)
            elif isinstance(told, Regrets):
                making.regrets = told
            elif isinstance(told, Outcome):
                making.findings = told.findings
                making.state = State.MADE if told.made else State.FAILED
    except (EOFError, OSError):
        process.join()
        if making.state is State.RUNNING:
            making.state = State.FAILED
    finally:
        line.close()


def _step(progress: Progress) -> Step:
    gap = None
    if progress.objective and progress.bound is not None:
        gap = (progress.objective - progress.bound) / progress.objective
    return Step(progress.step, gap, progress.done)
