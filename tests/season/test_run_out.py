"""Run-out by odds, slow down or speed up, and the strip for the fridge door."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.larder.keeping import keeping_curve, sound_by_week
from haulm.season.eat_first import eat_first, safe_use, taken_weekly
from haulm.season.fridge_strip import StripLine, strip_lines
from haulm.season.ledger_records import Counted, Keeps, Ledger, LedgerLot, Move
from haulm.season.records import EntryKind, Purpose
from haulm.season.run_out import GoneBy, ReadyAgain, run_out, store_luck
from haulm.season.use_of_store import Advice, StoreUse, store_use
from haulm.sheets.strip_words import first_text, limit_text

DAY = date(2027, 11, 1)
STONES = Keeps((1.0,) * 300, piece_kg=0.1)
POTATO = Keeps(sound_by_week(keeping_curve(20, 33)), piece_kg=0.12)


def lot(kg: float, keeps: Keeps = POTATO, spread: float = 0.2, **told: object) -> LedgerLot:
    """Make a lot put by six weeks ago."""
    made = LedgerLot(
        "a", ("potato", None, "cellared", "cellar"), DAY - timedelta(weeks=6), kg,
        Purpose.EAT, keeps, pace_spread=spread, base_kg=kg, most_kg=kg,
    )  # fmt: skip
    return replace(made, **told)  # type: ignore[arg-type]


def gone(one: LedgerLot, week_kg: float, again: ReadyAgain | None = None, seed: int = 1) -> GoneBy:
    """Run a lot out at so much a week for a year."""
    found = run_out([one], [week_kg] * 52, DAY, store_luck(["cellar"], seed), again, seed)
    assert found is not None
    return found


def again(weeks: int, either_way: int = 1) -> ReadyAgain:
    """Have it ready anew in so many weeks, a few either way."""
    middle = DAY + timedelta(weeks=weeks)
    either = timedelta(weeks=either_way)
    return ReadyAgain(middle - either, middle, middle + either)


def test_what_does_not_rot_runs_out_on_the_day_the_sum_gives() -> None:
    """Ten kilograms at one a week are gone after ten weeks in every year of ten."""
    assert gone(lot(10, STONES), 1.0).gone_by == (DAY + timedelta(weeks=10),) * 3


def test_more_draws_of_bad_keeping_come_sooner() -> None:
    """Gone in 2 years of ten sooner than in 5, in 5 sooner than in 8; the middle as usual."""
    found = gone(lot(60), 2.2)
    first, middle, last = found.gone_by
    assert first is not None
    assert middle is not None
    assert last is not None
    assert first < middle < last
    usual = taken_weekly([lot(60)], DAY, DAY + timedelta(weeks=52), 2.2)
    assert usual.gone_on is not None
    assert abs((middle - usual.gone_on).days) <= 7


def test_the_same_seed_gives_the_same_odds() -> None:
    """The strip printed twice says the same; another seed moves a date by a week or two."""
    assert gone(lot(60), 3.0) == gone(lot(60), 3.0)
    here, there = gone(lot(60), 3.0).gone_by[1], gone(lot(60), 3.0, seed=2).gone_by[1]
    assert here is not None
    assert there is not None
    assert abs((here - there).days) <= 14


def test_a_lot_that_counts_found_steady_has_narrower_odds() -> None:
    """Once counts have told a lot's pace, good and bad years lie closer together."""

    def between(one: LedgerLot) -> int:
        first, _, last = gone(one, 3.0).gone_by
        assert first is not None
        assert last is not None
        return (last - first).days

    assert between(lot(60, spread=0.05)) < between(lot(60, spread=0.3))


def test_what_lasts_until_it_comes_anew_has_not_run_out() -> None:
    """Ten weeks of stones, and new ones in eight: no date, and no week without."""
    found = gone(lot(10, STONES), 1.0, again(8))
    assert found.gone_by == (None, None, None)
    assert found.gap is not None
    assert found.gap.share == 0


def test_the_gap_is_the_weeks_between() -> None:
    """Gone after ten weeks and ready after some fourteen: about four weeks without."""
    found = gone(lot(10, STONES), 1.0, again(14))
    assert found.gap is not None
    assert found.gap.middle in (3, 4)
    assert found.gap.low <= found.gap.middle <= found.gap.high
    assert found.gap.share == 1


def test_weeks_in_which_nobody_wants_it_are_no_gap() -> None:
    """What the table wants for ten weeks only is not missed afterwards."""
    wanted = [1.0] * 10 + [0.0] * 42
    found = run_out([lot(10, STONES)], wanted, DAY, store_luck(["cellar"], 1), again(30), 1)
    assert found is not None
    assert found.gap is not None
    assert found.gap.high == 0


def test_nothing_wanted_from_store_has_no_day_of_running_out() -> None:
    """Food that no line of the table takes from store is not said to run out."""
    assert run_out([lot(10)], [0.0] * 52, DAY, store_luck(["cellar"], 1), None, 1) is None


def use_of(eaten_a_week: float, weeks: int = 6, until: int = 20) -> StoreUse | None:
    """Eat a lot for some weeks and say how that goes on."""
    moves = tuple(
        Move(DAY - timedelta(days=7 * n), EntryKind.EATEN, eaten_a_week, f"e{n}")
        for n in range(weeks)
    )
    one = lot(60, moves=moves)
    safe = safe_use([one], DAY, DAY + timedelta(weeks=until))
    assert safe is not None
    return store_use([one], [one], DAY, safe)


def test_eating_too_fast_is_told_with_what_will_be_missing() -> None:
    """Six kilograms a week of a safe two and a half: slow down, so many weeks are short."""
    use = use_of(6)
    assert use is not None
    assert use.week_kg == pytest.approx(6)
    assert use.advice is Advice.SLOWER
    assert use.taken.missing_kg > 0
    assert use.taken.gone_on is not None


def test_eating_too_slowly_is_told_with_what_will_rot() -> None:
    """Half a kilogram a week leaves kilograms to rot: speed up."""
    use = use_of(0.5)
    assert use is not None
    assert use.advice is Advice.FASTER
    assert use.taken.missing_kg == pytest.approx(0)
    assert use.taken.lost_kg > 5


def test_eating_as_fast_as_is_safe_is_left_alone() -> None:
    """Who eats what a week may take is told to go on."""
    safe = safe_use([lot(60)], DAY, DAY + timedelta(weeks=20))
    assert safe is not None
    use = use_of(safe.week_kg)
    assert use is not None
    assert use.advice is Advice.GO_ON


def test_a_diary_that_does_not_say_is_not_read_as_nothing_eaten() -> None:
    """No entry of eating is no pace at all, not a pace of nothing."""
    assert use_of(1, weeks=0) is None


@given(kg=st.floats(1, 80), week_kg=st.floats(0, 8), weeks=st.integers(1, 40))
def test_what_is_eaten_lost_and_left_is_what_was_there(
    kg: float, week_kg: float, weeks: int
) -> None:
    """Eaten + rotted + left at the end is what was sound at the start, to the gram."""
    one = lot(kg)
    end = DAY + timedelta(weeks=weeks)
    there = safe_use([one], DAY, end)
    assert there is not None
    taken = taken_weekly([one], DAY, end, week_kg)
    assert taken.eaten_kg + taken.lost_kg + taken.left_kg == pytest.approx(there.sound_kg, abs=1e-3)


def strip(*lots: LedgerLot, wanted_kg: float = 3.0) -> tuple[StripLine, ...]:
    """Make the strip of some lots."""
    ledger = Ledger(lots, (), {one.id: one for one in lots})
    foods = dict.fromkeys(one.food for one in lots)
    safe = {
        food: use
        for food in foods
        if (use := safe_use([one for one in lots if one.food == food], DAY, DAY + timedelta(140)))
    }
    return strip_lines(eat_first(ledger, DAY), safe, dict.fromkeys(foods, wanted_kg), DAY)


def test_the_strip_counts_in_pieces_a_cook_can_count() -> None:
    """Ten stones of 100 g over twenty weeks are one stone in two weeks; forty are two a week."""
    few, many = strip(lot(1, STONES)), strip(lot(4, STONES))
    assert limit_text(few[0], "stone", "stones", "metric") == "1 stone in 2 weeks"
    assert limit_text(many[0], "stone", "stones", "metric") == "2 stones"


def test_the_strip_never_rounds_a_limit_up() -> None:
    """A week of 2.9 pieces is told as 2."""
    line = replace(strip(lot(4, STONES))[0], week_kg=0.29)
    assert limit_text(line, "stone", "stones", "metric") == "2 stones"


def test_pieces_nobody_weighed_are_told_in_weight() -> None:
    """Where no piece has a weight the strip says grams, or ounces in a US garden."""
    line = strip(lot(4, replace(STONES, piece_kg=None)))[0]
    assert limit_text(line, "stone", "stones", "metric") == "200 g"
    assert limit_text(line, "stone", "stones", "us") == "7.05 oz"


def test_what_a_week_may_take_far_beyond_the_table_is_eaten_freely() -> None:
    """Three kilograms a week where the table wants one: freely."""
    line = strip(lot(60, STONES), wanted_kg=1.0)[0]
    assert limit_text(line, "stone", "stones", "metric") == "freely"


def test_what_a_count_found_soft_comes_first_for_a_week() -> None:
    """Two soft ones found on Monday head the strip; a fortnight later they are no longer named."""
    found = Counted(DAY - timedelta(days=2), 9.0, 0.24, 9.2, "c", 0.24)
    soft = lot(9, counts=(found,), aside_kg=0.24)
    soft = replace(soft, key=("winter squash", None, "cured", "loft"))
    other = lot(9, Keeps(sound_by_week(keeping_curve(3, 6))), id="b")
    other = replace(other, key=("pear", None, "cellared", "cellar"))
    lines = strip(other, soft)
    assert [line.food for line in lines] == ["winter squash", "pear"]
    assert first_text(lines[0], "metric") == "the 2 soft ones first"
    old = replace(soft, counts=(replace(found, day=DAY - timedelta(days=14)),))
    assert first_text(strip(old)[0], "metric") == ""


def test_soft_or_sprouted_potatoes_are_never_told_to_be_eaten_first() -> None:
    """A count's soft and sprouted potatoes head no strip: they are sorted, and some not eaten."""
    found = Counted(DAY - timedelta(days=2), 9.0, 0.24, 9.2, "c", 0.12, 0.12)
    line = strip(lot(9, counts=(found,), aside_kg=0.24))[0]
    assert first_text(line, "metric") == ""
