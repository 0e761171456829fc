"""What counts in store teach: how long each kind keeps here, in each form."""

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from functools import cache

from haulm.catalogue.records import Keeping
from haulm.desk.season.larder_told import larder_of
from haulm.desk.season.ledger import books_on
from haulm.desk.season.lesson_gathering import Gathered, giving_of
from haulm.desk.season.lesson_records import OWN_FIGURE, Moved, Taught, Written
from haulm.forecast.rules import forecast_rules
from haulm.larder.keeping import keeping_curve, sound_share
from haulm.season.keeping_learning import LotSeen, Stretch, learn_pace
from haulm.season.keeping_pace import age_weeks
from haulm.season.larder_rules import larder_rules
from haulm.season.ledger_records import Counted, LedgerLot, Move
from haulm.season.records import EntryKind
from haulm.season.rules import season_rules

CURVE_WEEKS = 520
GONE = 1e-6


def store_lessons(told: Gathered) -> Iterator[Moved]:
    """Give how long each kind keeps in each form, by what was found of its lots.

    Both figures of the keeping curve move by one pace: a kind that ages half as fast again as usual
    reaches every share in two thirds of the time. A lot of an unknown kind teaches nothing.
    """
    opened = replace(told.opened, catalogue=told.usual)
    ledger = books_on(opened, told.entries, told.day, larder_of(opened))
    lots: dict[tuple[str, str, str], list[LedgerLot]] = defaultdict(list)
    for lot in ledger.lots:
        food, whose, form, _ = lot.key
        if whose is not None and lot.counts:
            lots[whose, food, form].append(lot)
    for (kind_id, food, form), mine in sorted(lots.items()):
        kind = told.kind(kind_id)
        giving = giving_of(kind, food)
        ways = [way for way in giving.keeping if way.form.value == form] if giving else []
        if kind is not None and len(ways) == 1:
            name = f"{kind.name}, {told.usual.foods[food].name}, {form}: half still sound after"
            where = f"givings.{food}.keeping.{form}"
            yield from _kept(told, mine, ways[0], (kind_id, where, name))


def _kept(
    told: Gathered, lots: Iterable[LedgerLot], way: Keeping, words: tuple[str, str, str]
) -> Iterator[Moved]:
    of, where, name = words
    half, tenth = way.sound_50_weeks.value, way.sound_90_weeks.value
    seen = [LotSeen(_curve(tenth, half), _stretches(lot), lot.counts[-1].entry) for lot in lots]
    seen = [one for one in seen if one.stretches]
    if not seen:
        return
    learnt = learn_pace(seen, forecast_rules().keeping_spread.value, told.confirmed)
    figures = {"sound_90_weeks": tenth, "sound_50_weeks": half}
    yield Moved(
        taught=Taught.KEEPS,
        of=of,
        figure=f"{where}.sound_50_weeks",
        name=name,
        unit="weeks",
        usual=half,
        value=half / learnt.pace,
        low=half / learnt.high,
        high=half / learnt.low,
        prior_weight=learnt.prior_weight,
        counted=learnt.counted,
        asked=learnt.asked,
        few=learnt.records < season_rules().few_records.value,
        writes=tuple(
            Written(
                OWN_FIGURE,
                {
                    "of": of,
                    "figure": f"{where}.{field}",
                    "value": round(weeks / learnt.pace, 2),
                },
            )
            for field, weeks in figures.items()
        ),
    )


@cache
def _curve(sound_90_weeks: float, sound_50_weeks: float) -> tuple[float, ...]:
    """Give the sound share at each whole week of age, to where next to nothing is left."""
    curve = keeping_curve(sound_90_weeks, sound_50_weeks)
    shares = []
    for age in range(CURVE_WEEKS + 1):
        shares.append(sound_share(curve, age))
        if shares[-1] < GONE:
            break
    return tuple(shares)


def _stretches(lot: LedgerLot) -> tuple[Stretch, ...]:
    """Tell what became of a lot's pieces between its counts.

    What was eaten or given was sound when it was taken; what was thrown was lost by then, and so
    was what a count found soft or sprouted. What is missing without a word tells nothing.
    """
    pieces = _pieces_a_kg(lot)
    found = []
    before = 0.0
    for count, moves in _between_counts(lot):
        now = age_weeks(lot.put_by, count.day)
        if not count.entry:
            # What the garden tells of a lot was sound then; what was lost before, nobody saw.
            before = now
            continue
        lost = count.lost_kg
        for move in moves:
            if move.kind is EntryKind.THROWN:
                lost += move.kg
            else:
                age = age_weeks(lot.put_by, move.day)
                found.append(Stretch(before, age, move.kg * pieces, 0.0))
        found.append(Stretch(before, now, count.sound_kg * pieces, lost * pieces))
        before = now
    return tuple(one for one in found if one.to_weeks > one.from_weeks)


def _between_counts(lot: LedgerLot) -> Iterator[tuple[Counted, list[Move]]]:
    moves = sorted(lot.moves, key=_day_of)
    known = 0
    for count in lot.counts:
        until = max(known, bisect_right(moves, count.day, key=_day_of))
        yield count, moves[known:until]
        known = until


def _day_of(move: Move) -> date:
    return move.day


def _pieces_a_kg(lot: LedgerLot) -> float:
    """Give how many pieces a kilogram tells of; a lot of unknown pieces tells of twenty in all."""
    if lot.keeps.piece_kg:
        return 1 / lot.keeps.piece_kg
    return larder_rules().pieces_weighed.value / lot.kg_in if lot.kg_in > 0 else 0.0
