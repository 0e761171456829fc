"""Decisions about a garden at hand: each reckoned once, beside the pages."""

from haulm.desk.at_hand import AtHand
from haulm.desk.worth.deciding import Deciding, Decision, Delay, Pending, decide, pending_choices
from haulm.desk.worth.deciding_anew import left_out_anew

Known = dict[tuple[str, int], Decision]
"""Decisions reckoned so far, by kind and the first week of its season."""


def choices_at_hand(garden: AtHand, deciding: Deciding) -> tuple[Pending, ...]:
    """List the choices still open, once."""
    return garden.once("pending choices", garden.day, lambda: pending_choices(deciding))


def known(garden: AtHand) -> Known:
    """Give the decisions reckoned so far, for as long as the notebook stays as it is."""
    return garden.once("decisions", garden.day, dict)


def decision_at_hand(garden: AtHand, deciding: Deciding, pending: Pending) -> Decision:
    """Reckon until when a choice may wait, once."""
    key, decisions = _key(pending), known(garden)
    if key not in decisions:
        decisions[key] = garden.once_elsewhere(
            f"decision {key}", garden.day, decide, deciding, pending
        )
    return decisions[key]


def left_out_at_hand(garden: AtHand, deciding: Deciding, decision: Decision) -> Delay:
    """Reckon what is lost without a choice if all else is planned anew, once."""
    name = f"left out {_key(decision.pending)}"
    return garden.once_elsewhere(name, garden.day, left_out_anew, deciding, decision)


def _key(pending: Pending) -> tuple[str, int]:
    return pending.kind, pending.weeks[0]
