"""What each kind of entry must and may say; an entry that does not fit is not taken."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, replace
from datetime import date
from enum import Enum

from haulm.measure.findings import Finding
from haulm.season.records import About, Amount, Entry, EntryKind, Leaves, Measured

K = EntryKind
KG, PIECES, LITRES = Measured.KG, Measured.PIECES, Measured.LITRES
MINUTES, MM, CELSIUS, M2 = (
    Measured.MINUTES,
    Measured.MILLIMETRES,
    Measured.CELSIUS,
    Measured.SQUARE_METRES,
)
FOOD = frozenset({KG, PIECES})

WHERE = frozenset({"planting", "bed"})
"""Work on the ground speaks of a planting or of a whole bed."""

THING_WORDS: Mapping[str, str] = {
    "planting": "a planting",
    "bed": "a bed",
    "kind": "a kind",
    "food": "a food",
    "store": "a store",
    "form": "a form of keeping",
    "lot": "a lot",
    "trouble": "a pest or disease",
    "severity": "how bad it is",
    "purpose": "what it is kept for",
    "tank": "a rain tank",
}

MEASURE_WORDS: Mapping[Measured, str] = {
    KG: "a weight",
    PIECES: "a number of pieces",
    LITRES: "litres",
    MINUTES: "minutes",
    MM: "millimetres of rain",
    CELSIUS: "degrees",
    M2: "square metres",
}


class AmountRule(Enum):
    """How an entry is told how much: it may be, it must be, or what was found is counted."""

    MAY = 1
    MUST = 2
    COUNT = 3


MUST, COUNT = AmountRule.MUST, AmountRule.COUNT


@dataclass(frozen=True, slots=True)
class Grammar:
    """What an entry of a kind says.

    Attributes
    ----------
    needs
        Groups of things; of each group at least one must be told.
    may
        What may be told beside.
    measures
        In what its amount may be told; empty where it has none.
    amount
        Whether it may have an amount, says nothing without one, or tells what was found instead.
    leaves
        Whether it tells what leaves say; it says nothing without.
    """

    needs: tuple[frozenset[str], ...] = ()
    may: frozenset[str] = frozenset()
    measures: frozenset[Measured] = frozenset()
    amount: AmountRule = AmountRule.MAY
    leaves: bool = False


def _of(*things: str) -> frozenset[str]:
    return frozenset(things)


_WORK = Grammar((WHERE,), _of("kind"))
_START = Grammar((_of("planting", "kind"),), _of("bed"), frozenset({PIECES, KG, M2}))
_STAND = replace(_WORK, measures=frozenset({PIECES}))
_OUT = Grammar((_of("lot", "food"),), _of("store", "form", "kind", "planting"), FOOD, MUST)

GRAMMARS: Mapping[EntryKind, Grammar] = {
    K.SOWN: _START,
    K.SET: _START,
    K.EMERGED: _STAND,
    K.THINNED: _STAND,
    K.SET_OUT: replace(_START, measures=frozenset({PIECES, M2})),
    K.WATERED: Grammar(
        (WHERE,), _of("kind", "tank"), frozenset({LITRES, MINUTES, MM}), amount=MUST
    ),
    # Without an amount it rained well, and nobody measured it.
    K.RAINED: Grammar(measures=frozenset({MM})),
    K.TANK_READ: Grammar((_of("tank"),), measures=frozenset({LITRES}), amount=MUST),
    K.FED: replace(_WORK, measures=frozenset({KG, LITRES})),
    K.WEEDED: _WORK,
    K.FROST: Grammar(may=WHERE, measures=frozenset({CELSIUS})),
    K.TROUBLE: Grammar((_of("trouble"), WHERE), _of("kind", "severity")),
    K.LOOKED: replace(_WORK, leaves=True),
    K.PICKED: Grammar((_of("planting", "food"),), _of("bed", "kind"), FOOD, MUST),
    K.CURED: Grammar((_of("planting", "food", "lot"),), _of("store", "kind"), FOOD),
    K.PUT_BY: Grammar(
        (_of("food"), _of("store"), _of("form")),
        _of("planting", "kind", "purpose", "lot"),
        FOOD,
        MUST,
    ),
    K.COUNTED: Grammar((_of("lot", "food"),), _of("store", "form", "kind"), FOOD, COUNT),
    K.EATEN: _OUT,
    K.GIVEN: _OUT,
    K.THROWN: _OUT,
    K.CLEARED: _WORK,
    K.WORKED: Grammar(may=WHERE),
}
"""The grammar of every kind of entry."""


def check_entry(entry: Entry, today: date) -> tuple[Finding, ...]:
    """Tell everything in an entry that does not fit its kind; nothing where it can be taken.

    Parameters
    ----------
    entry
        The entry.
    today
        No entry tells of a day after it.
    """
    if entry.taken_back:
        return ()
    return tuple(_faults(entry, GRAMMARS[entry.kind], today))


def _faults(entry: Entry, grammar: Grammar, today: date) -> Iterator[Finding]:
    where = f"{entry.day.isoformat()}, {entry.kind}"
    if entry.day > today:
        yield Finding(where, "that day is still to come.", "Give the day it was done.")
    told = {field.name for field in fields(About) if getattr(entry.about, field.name) is not None}
    for group in grammar.needs:
        if not group & told:
            wanted = " or ".join(THING_WORDS[thing] for thing in sorted(group, reverse=True))
            yield Finding(where, f"it does not say of what: {wanted} is missing.", "Name one.")
    allowed = frozenset().union(grammar.may, *grammar.needs)
    for thing in sorted(told - allowed):
        yield Finding(
            where, f"{THING_WORDS[thing]} says nothing here.", "Leave it out, or tell it apart."
        )
    yield from _amount_faults(entry.amount, grammar, where)
    yield from _count_faults(entry, grammar, where)
    yield from _leaf_faults(entry.leaves, grammar, where)
    if entry.minutes is not None and entry.minutes < 0:
        yield Finding(where, "the minutes are less than nothing.", "Write 0 or more.")
    if entry.kind is K.WORKED and entry.minutes is None:
        yield Finding(where, "it does not say how long.", "Give the minutes.")


def _amount_faults(amount: Amount | None, grammar: Grammar, where: str) -> Iterator[Finding]:
    if amount is None:
        if grammar.amount is MUST:
            yield Finding(where, "it does not say how much.", f"Give {_measures(grammar)}.")
        return
    if amount.measured not in grammar.measures:
        what = f"{MEASURE_WORDS[amount.measured]} cannot be told of it."
        remedy = f"Give {_measures(grammar)}." if grammar.measures else "Leave the amount out."
        yield Finding(where, what, remedy)
    elif amount.measured is not Measured.CELSIUS and amount.number < 0:
        yield Finding(where, "the amount is less than nothing.", "Write 0 or more.")


def _count_faults(entry: Entry, grammar: Grammar, where: str) -> Iterator[Finding]:
    if entry.count is None:
        if grammar.amount is COUNT and entry.amount is None:
            what = "it does not say what was found."
            yield Finding(where, what, "Give what is sound, soft and sprouted, or the weight.")
        return
    if grammar.amount is not COUNT:
        yield Finding(where, "only what was counted has sound and soft.", "Give one amount.")
    elif min(entry.count.sound, entry.count.soft, entry.count.sprouted) < 0:
        yield Finding(where, "a count is less than nothing.", "Write 0 or more.")


def _leaf_faults(leaves: Leaves | None, grammar: Grammar, where: str) -> Iterator[Finding]:
    told = [] if leaves is None else [leaves.green, leaves.brown, leaves.down]
    numbers = [number for number in told if number is not None]
    if not grammar.leaves:
        if numbers:
            what = "leaves are told only of what was looked at."
            yield Finding(where, what, "Write it apart, as looked at.")
        return
    if not numbers:
        what = "it does not say what was seen."
        yield Finding(where, what, "Count green and brown leaves, or say how many tops are down.")
    elif min(numbers) < 0:
        yield Finding(where, "a count is less than nothing.", "Write 0 or more.")
    if leaves is not None and leaves.down is not None and leaves.down > 1:
        yield Finding(where, "more than all tops cannot be down.", "Write 0 to 100 %.")


def _measures(grammar: Grammar) -> str:
    order = list(MEASURE_WORDS)
    return " or ".join(MEASURE_WORDS[one] for one in sorted(grammar.measures, key=order.index))
