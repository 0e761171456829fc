"""Answers to *why* about a notebook at hand: what takes long is reckoned beside, and kept."""

from haulm.desk.at_hand import AtHand
from haulm.desk.planning.plans import Made
from haulm.desk.worth.anew import tunnel_anew
from haulm.desk.worth.why_more import why_anew, why_left_out, why_more
from haulm.desk.worth.why_records import Grounds, Why
from haulm.desk.worth.whys import Means, answer
from haulm.desk.worth.worths import Others, Worths, others_of, with_left_out, worths_of
from haulm.plan.records import Planting
from haulm.planner.solve import EFFORTS

MORE, LEFT_OUT, TUNNEL = "", "left-out", "tunnel"
"""The paths of what is told of the whole plan."""


def why_at_hand(garden: AtHand, path: str) -> Why | None:
    """Answer why, of one thing or of the whole plan; None where there is no plan.

    Raises
    ------
    FaultsFoundError
        When the plan has nothing of that name, or no longer fits its garden.
    """
    made = garden.unlaid
    if made is None:
        return None
    if path not in {MORE, LEFT_OUT, TUNNEL}:
        return answer(path, made, garden.day, _means(garden))
    worths = _worths(garden, made)
    if path == MORE:
        return why_more(Grounds(made, worths))
    if path == LEFT_OUT:
        return why_left_out(Grounds(made, _left_out(garden, worths, made, None)))
    again = garden.once_elsewhere("with a tunnel", (), tunnel_anew, made, worths, EFFORTS["quick"])
    return why_anew(again, Grounds(made, worths))


def _means(garden: AtHand) -> Means:
    """Give the means by which answers are reckoned beside, and kept."""

    def worths(made: Made) -> Worths:
        return _worths(garden, made)

    def left_out(known: Worths, made: Made, line: str) -> Worths:
        return _left_out(garden, known, made, line)

    def others(made: Made, planting: Planting) -> Others:
        return garden.once_elsewhere(f"{planting.id} elsewhere", (), others_of, made, planting)

    return Means(worths, left_out, others)


def _worths(garden: AtHand, made: Made) -> Worths:
    return garden.once_elsewhere("worths", (), worths_of, made)


def _left_out(garden: AtHand, worths: Worths, made: Made, line: str | None) -> Worths:
    return garden.once_elsewhere(f"left out of {line}", (), with_left_out, worths, made, line)
