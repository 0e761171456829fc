"""The strip for the fridge door: what dinner may take of each food in store this week."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from haulm.season.eat_first import EatFirst, SafeUse
from haulm.season.larder_rules import larder_rules
from haulm.season.ledger_records import LedgerLot
from haulm.season.looking import looking_rules

LOOSE = frozenset({"cured", "cellared", "clamped", "fresh"})
"""Forms in which a food is counted in pieces; else it is weighed."""


@dataclass(frozen=True, slots=True)
class StripLine:
    """What a week may take of one food.

    Attributes
    ----------
    food
        What it is.
    lots
        The lots to take it from, the first to be eaten first.
    week_kg, sound_kg
        What a week may take, and what is there [kg].
    freely
        Whether it may be eaten freely: a week may take far more than the table wants, or much of
        it will be lost.
    piece_kg
        What a piece weighs [kg]; None where it is not counted in pieces.
    soft_kg, sprouted_kg
        What a count found soft or sprouted these days, to be eaten before all else [kg].
    """

    food: str
    lots: tuple[LedgerLot, ...]
    week_kg: float
    sound_kg: float
    freely: bool
    piece_kg: float | None
    soft_kg: float
    sprouted_kg: float


def strip_lines(
    order: Sequence[EatFirst],
    safe: Mapping[str, SafeUse],
    wanted_kg: Mapping[str, float],
    day: date,
) -> tuple[StripLine, ...]:
    """Make the strip of the lots in their eat-first order; each food once, where its first lot is.

    What was found soft or sprouted these days comes before all else.

    Parameters
    ----------
    order
        The kitchen's lots in the order in which they should be eaten.
    safe
        What a week may safely take, by food.
    wanted_kg
        What the table wants of each food in a week [kg].
    day
        Today.
    """
    lines = []
    for food in dict.fromkeys(one.lot.food for one in order):
        lots = tuple(one.lot for one in order if one.lot.food == food)
        use = safe[food]
        soft, sprouted = _aside(lots, day)
        loose = all(lot.form in LOOSE for lot in lots)
        lines.append(
            StripLine(
                food=food,
                lots=lots,
                week_kg=use.week_kg,
                sound_kg=use.sound_kg,
                freely=use.week_kg >= larder_rules().freely_share.value * wanted_kg.get(food, 0.0)
                and wanted_kg.get(food, 0.0) > 0,
                piece_kg=lots[0].keeps.piece_kg if loose else None,
                soft_kg=soft,
                sprouted_kg=sprouted,
            )
        )
    return tuple(sorted(lines, key=lambda line: line.soft_kg + line.sprouted_kg <= 0))


def _aside(lots: Sequence[LedgerLot], day: date) -> tuple[float, float]:
    """Give what counts of these days found soft, and sprouted, and is not gone yet [kg].

    Only of foods that may be eaten so: never of potatoes.
    """
    soft = sprouted = 0.0
    for lot in lots:
        last = lot.counts[-1] if lot.counts else None
        if last is None or last.lost_kg <= 0 or lot.aside_kg <= 0:
            continue
        if not looking_rules().of(lot.food, lot.form).first:
            continue
        if (day - last.day).days <= larder_rules().soft_days.value:
            still = lot.aside_kg / last.lost_kg
            soft += last.soft_kg * still
            sprouted += last.sprouted_kg * still
    return soft, sprouted
