"""What left kitchen and store in a span of weeks, and what the books had before and after."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TypeVar

from haulm.season.bookkeeping import from_store
from haulm.season.ledger import left_kg
from haulm.season.ledger_records import OUT
from haulm.season.records import Entry, EntryKind, as_kg
from haulm.season.review_picked import left_fresh
from haulm.season.review_records import Picked, Season

Label = TypeVar("Label")
ByWeek = Mapping[tuple[str, int], float]
"""Kilograms by food and week [kg]."""


@dataclass(frozen=True, slots=True)
class Out:
    """Food that left kitchen or store: when, whether eaten, given or thrown, how much [kg]."""

    day: date
    kind: EntryKind
    food: str
    kg: float


@dataclass(frozen=True, slots=True)
class Books:
    """What went where in the span.

    Attributes
    ----------
    from_store, as_picked
        What left the larder's lots, and what was eaten, given or thrown without having been there.
    put_by
        (day, food, kg) of what was put by.
    fresh_kg, stored_kg
        What was eaten fresh and from store, by food and week [kg].
    opening_kg, closing_kg
        By food, what was sound in store before and after [kg].
    unwritten_kg
        By food, what counts found less than the books had [kg].
    """

    from_store: tuple[Out, ...]
    as_picked: tuple[Out, ...]
    put_by: tuple[tuple[date, str, float], ...]
    fresh_kg: ByWeek
    stored_kg: ByWeek
    opening_kg: Mapping[str, float]
    closing_kg: Mapping[str, float]
    unwritten_kg: Mapping[str, float]

    def rotted_kg(self, food: str) -> float | None:
        """Give what of a food's store was lost [kg]; None where the books have none of it.

        What lay there and what was put by, less what was eaten, given, found missing and left:
        what was thrown out is in it. Where more was taken out than the books had, none was lost.
        """
        if food not in self.closing_kg and food not in self.opening_kg:
            return None
        return max(0.0, self._less_kg(food))

    def missing_kg(self, food: str) -> float:
        """Give what of a food's store nobody wrote down [kg].

        What counts found less than the books had, less what was taken out beyond them: below
        nought where more was found than the books knew of.
        """
        return self.unwritten_kg.get(food, 0.0) + min(0.0, self._less_kg(food))

    def _less_kg(self, food: str) -> float:
        """Give what of a food's store went without being taken out, or found missing [kg]."""
        used = sum(
            out.kg
            for out in self.from_store
            if out.food == food and out.kind is not EntryKind.THROWN
        )
        there = self.opening_kg.get(food, 0.0) + sum(kg for _, f, kg in self.put_by if f == food)
        return there - used - self.unwritten_kg.get(food, 0.0) - self.closing_kg.get(food, 0.0)


def keep_books(season: Season, picked: Sequence[Picked], entries: Sequence[Entry]) -> Books:
    """Keep a span's books from its pickings, its entries and the larder's ledger."""
    span, before = season.span, season.span.first_day
    week_of = span.horizon.week_of
    from_store = tuple(_from_store(season))
    as_picked = tuple(_as_picked(entries, season.piece_kg))
    put_by = tuple(_put_by(season))
    gone = [(one.day, one.food, one.kg) for one in as_picked if one.kind is not EntryKind.EATEN]
    fresh = dict(left_fresh(picked, [*put_by, *gone], span))
    eaten = sums(
        ((one.food, week_of(one.day)), one.kg) for one in as_picked if one.kind is EntryKind.EATEN
    )
    for at, kg in eaten.items():
        fresh[at] = max(fresh.get(at, 0.0), kg)
    return Books(
        from_store=from_store,
        as_picked=as_picked,
        put_by=put_by,
        fresh_kg=fresh,
        stored_kg=sums(
            ((one.food, week_of(one.day)), one.kg)
            for one in from_store
            if one.kind is EntryKind.EATEN
        ),
        opening_kg=sums(
            (lot.food, left_kg(lot, before)) for lot in season.opening.lots if lot.put_by < before
        ),
        closing_kg=sums((lot.food, left_kg(lot, span.last_day)) for lot in season.closing.lots),
        unwritten_kg=sums(
            (lot.food, count.books_kg - count.sound_kg)
            for lot in season.closing.lots
            for count in lot.counts
            if span.holds(count.day)
        ),
    )


def sums(pairs: Iterable[tuple[Label, float]]) -> dict[Label, float]:
    """Add figures up by label."""
    found: dict[Label, float] = defaultdict(float)
    for label, kg in pairs:
        found[label] += kg
    return dict(found)


def _as_picked(entries: Iterable[Entry], piece_kg: Mapping[str, float]) -> Iterator[Out]:
    """Give what was eaten, given or thrown as it was picked, without having been in store."""
    for entry in entries:
        about = entry.about
        if entry.kind in OUT and not from_store(entry) and about.food:
            kg = as_kg(entry.amount, piece_kg.get(about.food or ""))
            if kg is not None:
                yield Out(entry.day, entry.kind, about.food, kg)


def _from_store(season: Season) -> Iterator[Out]:
    """Give what left the larder's lots in the span."""
    for lot in season.closing.lots:
        for move in lot.moves:
            if season.span.holds(move.day):
                yield Out(move.day, move.kind, lot.food, move.kg)


def _put_by(season: Season) -> Iterator[tuple[date, str, float]]:
    """Give what was put by in the span; what the books had before was put by elsewhere."""
    before = {lot.id for lot in season.opening.lots}
    for lot in season.closing.lots:
        if lot.id not in before and season.span.holds(lot.put_by):
            yield lot.put_by, lot.food, lot.kg_in
