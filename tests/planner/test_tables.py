"""The planner's tables: joined by label, nothing taken for zero that is only missing."""

from dataclasses import replace

import numpy as np
import pytest

from haulm.measure.errors import LabelsDifferError
from haulm.planner.question import Standing
from haulm.planner.tables import tabulate
from planner.tiny_gardens import bed, food, garden, sowing, wants

CHARD = sowing("chard", 2, 16, food("chard", range(8, 16)), family="leaves")


def test_what_nobody_eats_is_left_out() -> None:
    """A sowing ready only when its food is not wanted is no sowing to choose."""
    late = sowing("chard", 10, 26, food("chard", range(20, 26)), family="leaves")
    tables = tabulate(garden([CHARD, late], [wants("chard", range(8, 12))]))
    assert [s.id for s in tables.ground.sowings] == [CHARD.id]


def test_no_patch_is_larger_than_could_be_eaten_from() -> None:
    """Chard that gives 0.25 kg a week from a square metre is useful up to 4 m² for 1 kg."""
    tables = tabulate(garden([CHARD], [wants("chard", range(8, 16))], [bed(area_m2=50.0)]))
    assert tables.ground.most_m2 == pytest.approx(np.array([4.0]))


def test_ground_is_counted_when_it_is_fullest() -> None:
    """Of three starts the first is not counted: all that stands then still stands at the next."""
    starts = [
        sowing("chard", start, end, food("chard", range(end - 4, end)), family="leaves")
        for start, end in ((0, 20), (2, 10), (12, 24))
    ]
    tables = tabulate(garden(starts, [wants("chard", range(30))]))
    assert tables.ground.clique_week.tolist() == [2, 12]


@pytest.mark.parametrize(
    ("change", "lacking"),
    [
        ({"rotation_gap_years": {}}, "family leaves"),
        ({"stores": (), "keep_rules": ()}, ""),
        ({"hours_week": (1.0,)}, "hours"),
        ({"standing": (Standing(CHARD, "nowhere", 1.0),)}, "bed nowhere"),
    ],
)
def test_tables_that_do_not_match_are_refused(change: dict[str, object], lacking: str) -> None:
    """A bed, store, family or week named in one table and lacking in another stops the planning."""
    question = replace(garden([CHARD], [wants("chard", range(8, 16))]), **change)  # type: ignore[arg-type]
    if not lacking:
        assert tabulate(question).ground.chosen_count == 1
        return
    with pytest.raises(LabelsDifferError, match=lacking):
        tabulate(question)
