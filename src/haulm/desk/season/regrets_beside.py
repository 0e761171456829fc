"""The regret ledger reckoned in a process of its own, so that the pages stay free meanwhile."""

from dataclasses import dataclass
from multiprocessing.connection import Connection

from haulm.desk.planning.beside import Order, Outcome, watching, work_beside
from haulm.desk.season.regrets import regrets_of
from haulm.desk.season.review import ReviewWish, review_of


@dataclass(frozen=True, slots=True)
class RegretOrder(Order):
    """Which year's regrets are to be reckoned."""

    year: int | None = None


def regret_beside(order: Order, line: Connection) -> None:
    """Reckon regrets as ordered, sending each ``Progress`` and the ``Regrets`` down the line.

    Anything that comes up the line asks to stop.
    """
    work_beside(_regret, order, line)


def _regret(order: Order, line: Connection) -> Outcome:
    year = order.year if isinstance(order, RegretOrder) else None
    found = review_of(order.notebook, order.day, ReviewWish(year=year))
    line.send(regrets_of(found, watch=watching(order, line)))
    return Outcome(made=True)
