"""Three whole years of the demo garden, lived day by day through its pages and a phone.

Plan, diary, larder, lessons, plan again: everything that is written goes by a form that a page
shows, or by what the phone sends; every week and month its pages are looked at. The garden is
invented; its weather, yields and mishaps are drawn. What haulm's books say is held to books kept
beside them in whole grams (tests/lived_cellar.py).
"""

from collections import Counter, defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from math import log
from pathlib import Path

import pytest

from haulm.desk.garden.exchange import import_garden
from haulm.desk.planning.plans import Made
from haulm.desk.season.diary import diary_of
from haulm.desk.season.learning import lessons_of
from haulm.desk.season.ledger import LedgerToday, ledger_of
from haulm.desk.season.lesson_records import Lessons
from haulm.season.records import Diary, EntryKind, key_of
from haulm.sheets.acts import JobKind
from lived_doors import doors_of
from lived_garden import Household

TORRENZ = Path(__file__).parents[2] / "src/haulm/examples/torrenz/garden.toml"
FIRST = date(2027, 2, 1)
MIDSUMMERS = (date(2027, 6, 21), date(2029, 6, 21))
FEBRUARIES = (date(2028, 2, 1), date(2029, 2, 1), date(2030, 2, 4))
"""The last is a Monday: the basket of the week before it has been put by or eaten."""


@dataclass(frozen=True)
class Lived:
    """A household after three years, every plan it made, what the books then had in store by food
    and store [kg], and what haulm knows at the end.
    """

    household: Household
    plans: Mapping[date, Made]
    in_store: Mapping[date, Mapping[tuple[str, str], float]]
    lessons: Lessons
    books: LedgerToday
    diary: Diary


@pytest.fixture(scope="module")
def lived(tmp_path_factory: pytest.TempPathFactory) -> Lived:
    """Live three years, planning anew each February, and in two of the midsummers."""
    folder = tmp_path_factory.mktemp("three-years")
    path = folder / "torrenz.haulm"
    import_garden(_own(folder), path)
    with doors_of(path, FIRST) as doors:
        household = Household(doors, FIRST, seed=11)
        plans, in_store = {FIRST: household.plan("/year", effort="quick")}, {}
        for day in sorted((*MIDSUMMERS, *FEBRUARIES)):
            household.live(day)
            household.send()
            if day in FEBRUARIES:
                doors.look("/review/a4.pdf", "/handover", "/handover/a4.pdf", "/sheets")
                doors.fill("/taught", "/taught", {})
            if day != FEBRUARIES[-1]:
                in_store[day] = _in_store(path, day)
                plans[day] = household.plan("/year", effort="quick")
    day = household.day
    end = lessons_of(path, day), ledger_of(path, day), diary_of(path)
    return Lived(household, plans, in_store, *end)


def _own(folder: Path) -> Path:
    """Write the demo garden as one in which time goes on."""
    told = TORRENZ.read_text(encoding="utf-8").splitlines(keepends=True)
    own = folder / "garden.toml"
    own.write_text("".join(line for line in told if not line.startswith("today = ")), "utf-8")
    return own


def _in_store(path: Path, day: date) -> Mapping[tuple[str, str], float]:
    """Give what the books have sound by food and store [kg]."""
    books = ledger_of(path, day)
    there: dict[tuple[str, str], float] = defaultdict(float)
    for lot in books.ledger.lots:
        there[lot.food, lot.key[3]] += books.sound_kg[lot.id]
    return there


def test_every_entry_arrives_once_as_it_was_meant(lived: Lived) -> None:
    """Of entries sent twice, put right and taken back, just those hold that were meant, and each
    says what was meant.
    """
    meant = lived.household.written
    assert len(meant) > 2000
    held = {entry.id: entry for entry in lived.diary.entries}
    assert held.keys() == meant.keys()
    for name, entry in meant.items():
        assert (held[name].amount, held[name].about) == (entry.amount, entry.about)


def test_the_phone_carries_every_job_there_is_to_do(lived: Lived) -> None:
    """Each job of the plan was on the phone on its day, but for tending where all had failed."""
    failed = {name.rpartition("@")[2] for name in lived.household.dead}
    for job in lived.household.not_carried:
        assert job.kind is JobKind.TEND
        assert job.id.partition("-tend-")[0] in failed


def test_hardly_anything_true_is_asked_about(lived: Lived) -> None:
    """Of all that was sent as it truly was, not one entry in two hundred is taken for a slip."""
    assert len(lived.household.doors.asked) <= len(lived.household.written) / 200


def test_the_household_s_own_books_balance_to_the_gram(lived: Lived) -> None:
    """Every gram picked was eaten, put by, given or thrown; every gram put by is there, was taken
    out, was found rotten or went to mice.
    """
    household = lived.household
    assert len(household.picked) > 15
    assert all(book.balances for book in household.picked.values())
    assert len(household.lots) > 50
    assert all(lot.balances for lot in household.lots.values())


def test_haulm_s_books_are_the_household_s_to_the_gram(lived: Lived) -> None:
    """Of each lot the books know how much went in, what was taken out and how, and what was found
    rotten, to the gram; after a count, they have what was found.
    """
    lots = lived.books.ledger.by_id
    assert lots.keys() == lived.household.lots.keys()
    for name, true in lived.household.lots.items():
        lot = lots[name]
        assert round(lot.kg_in * 1000) == true.in_g
        out: Counter[str] = Counter()
        for move in lot.moves:
            out[move.kind.value] += round(move.kg * 1000)
        assert out == +true.out_g
        assert sum(round(count.lost_kg * 1000) for count in lot.counts) == true.lost_g


def test_the_diary_s_pickings_add_up_to_the_baskets(lived: Lived) -> None:
    """What the diary says was picked of each food is what was in the baskets, to the gram."""
    picked: Counter[str] = Counter()
    for entry in lived.diary.entries:
        if entry.kind is EntryKind.PICKED and entry.amount is not None:
            picked[str(entry.about.food)] += round(entry.amount.number * 1000)
    assert picked == {food: book.picked_g for food, book in lived.household.picked.items()}


def test_what_mice_took_is_told_where_it_matters(lived: Lived) -> None:
    """Where mice took a good part of a lot unwritten, the books say on that day that they and the
    count part; no count is silently believed.
    """
    told = {finding.where for finding in lived.books.ledger.worth_knowing}
    large = [(day, lot) for day, lot, grams in lived.household.stolen if grams > 2000]
    assert large
    for day, _ in large:
        assert any(f"the diary of {day.isoformat()}, counted" in where for where in told)


def test_books_foresee_most_counts(lived: Lived) -> None:
    """Where nobody stole, what the books thought sound lies within a fifth of what was found, or
    within half a kilogram, in four counts of five.
    """
    counts = lived.household.counted
    near = [abs(b - found) <= max(0.2 * found, 0.5) for b, found in counts]
    assert len(counts) > 100
    assert sum(near) / len(near) > 0.8


def test_yields_learnt_come_nearer_to_the_truth(lived: Lived) -> None:
    """Over all kinds that were weighed three times or more, what haulm learnt of the yield lies
    nearer to what this garden truly gives than the usual figure does.
    """
    own = lived.household.own_yield
    moved = [
        one
        for one in lived.lessons.moved
        if one.figure.endswith("yield_kg_m2") and one.records >= 3 and one.of in own
    ]
    assert len(moved) > 10
    before = [abs(log(own[one.of])) for one in moved]
    after = [abs(log(one.value / (one.usual * own[one.of]))) for one in moved]
    assert sum(after) < sum(before)


def test_no_later_plan_counts_on_what_came_to_nothing(lived: Lived) -> None:
    """No plan made later has a planting stand that the diary says failed or was eaten up."""
    for day, made in lived.plans.items():
        dead = {name for name, on in lived.household.dead.items() if on < day}
        assert dead or day == FIRST
        assert not dead & {key_of(p) for p in made.plan.plantings if p.standing}


def test_no_later_plan_eats_what_the_cellar_never_had(lived: Lived) -> None:
    """No plan made later begins with more of a food in a store than the books have of it there."""
    for day, there in lived.in_store.items():
        begun: dict[tuple[str, str], float] = defaultdict(float)
        for lot in lived.plans[day].plan.lots:
            if lot.in_hand:
                begun[lot.food, lot.place] += lot.kg_in
        assert begun
        for key, kg in begun.items():
            assert kg <= there.get(key, 0.0) + 0.01
