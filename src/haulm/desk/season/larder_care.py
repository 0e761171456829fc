"""What the larder asks for besides eating: what hangs to cure, and what has sprouted."""

from collections.abc import Mapping
from dataclasses import replace
from math import ceil, floor

from haulm.catalogue.known import known
from haulm.catalogue.records import Catalogue, Form, Role
from haulm.desk.season.larder_books import LarderBooks
from haulm.measure.weeks import DAYS_A_WEEK
from haulm.season.curing import CureDays, Hung, hung
from haulm.season.records import Diary, Entry, EntryKind
from haulm.season.rescue import Rescue, rescues

CURING_FORMS = frozenset({Form.CURED, Form.CELLARED})


def cure_days(catalogue: Catalogue) -> Mapping[tuple[str, str | None], CureDays]:
    """Give how long each kind of a food cures by the catalogue; under None, all kinds' span."""
    days: dict[tuple[str, str | None], CureDays] = {}
    for kind in catalogue.kinds.values():
        for giving in kind.givings:
            for keeping in giving.keeping:
                weeks = keeping.cure_weeks
                if keeping.form not in CURING_FORMS or weeks.value <= 0:
                    continue
                low = weeks.value if weeks.low is None else weeks.low
                high = weeks.value if weeks.high is None else weeks.high
                mine = (
                    floor(low * DAYS_A_WEEK),
                    round(weeks.value * DAYS_A_WEEK),
                    ceil(high * DAYS_A_WEEK),
                )
                any_ = days.get((giving.food, None), mine)
                days[giving.food, kind.id] = mine
                days[giving.food, None] = (
                    min(any_[0], mine[0]),
                    max(any_[1], mine[1]),
                    max(any_[2], mine[2]),
                )
    return days


def hung_in(diary: Diary, catalogue: Catalogue) -> tuple[Hung, ...]:
    """Give all that the diary says was hung to cure."""
    piece_kg = {
        food.id: weight
        for food in catalogue.foods.values()
        if (weight := known(food.piece_kg)) is not None
    }
    entries = [_with_food(entry, catalogue) for entry in diary.entries]
    return hung(entries, cure_days(catalogue), piece_kg)


def _with_food(entry: Entry, catalogue: Catalogue) -> Entry:
    """Name the food of what was cured where only its kind or planting is told: the main one."""
    about = entry.about
    kind = catalogue.kinds.get(about.kind or "")
    if entry.kind is not EntryKind.CURED or about.food or about.lot or kind is None:
        return entry
    food = next((giving.food for giving in kind.givings if giving.role is Role.MAIN), None)
    return replace(entry, about=replace(about, food=food))


def sprouted_in(books: LarderBooks, diary: Diary) -> tuple[Rescue, ...]:
    """Say what to do with what was found sprouted."""
    return rescues(books.ledger.lots, diary.entries, books.day)
