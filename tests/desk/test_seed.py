"""Seed in hand: judged before the order, its tests written down, counted for what it is worth."""

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from haulm.desk.garden.editing import Change, change_garden, mark_of, parts_of
from haulm.desk.garden.exchange import import_garden
from haulm.desk.planning.plans import plan_garden
from haulm.desk.season.seed import PacketTold, Trial, seed_of, sorted_out, try_packet, units_left
from haulm.measure.errors import FaultsFoundError
from haulm.notebook.garden import PlantingStock
from haulm.planner.question import Effort
from haulm.season.seed_age import SeedVerdict

AT = datetime(2027, 1, 5, 9, tzinfo=UTC)
DAY = date(2027, 1, 20)
QUICK = Effort("quick", rounds=0, target_gap=0.05)


def packet(path: Path, kind: str, units: int, year: int) -> None:
    """Tell a packet in the garden."""
    typed = {"kind": kind, "units": units, "year": year}
    change_garden(path, [Change("stock", "", typed)], AT)


def told(path: Path) -> PacketTold:
    """Give the only packet."""
    (found,) = seed_of(path, DAY).packets
    return found


def test_onion_seed_of_last_year_is_to_be_tested(planned: Path) -> None:
    """The published table gives onion seed a year; a year on it is tried before the order."""
    packet(planned, "onion/seed", 320, 2026)
    found = told(planned)
    assert found.life is not None
    assert found.life.value == 1
    assert found.now is not None
    assert found.now.share == pytest.approx(0.5)
    assert found.now.verdict is SeedVerdict.TEST


def test_a_test_is_written_and_decides(planned: Path) -> None:
    """Eighteen of twenty sprouted: the packet is kept, and the garden remembers the test."""
    packet(planned, "onion/seed", 320, 2026)
    try_packet(planned, Trial(1, 18, 20, DAY), AT)
    ((verdict, (kept,)),) = sorted_out(seed_of(planned, DAY))
    assert verdict is SeedVerdict.KEEP
    assert kept.stock.tried is not None
    assert (kept.stock.tried.sprouted, kept.stock.tried.of) == (18, 20)
    assert parts_of(planned)["stock"][0]["tried_on"] == DAY


@pytest.mark.parametrize(
    "trial",
    [Trial(2, 1, 2, DAY), Trial(None, 1, 2, DAY), Trial(1, None, 20, DAY), Trial(1, 21, 20, DAY)],
)
def test_a_test_that_cannot_be_is_refused(planned: Path, trial: Trial) -> None:
    """No packet, no number, or more sprouted than were tried: nothing is written."""
    packet(planned, "onion/seed", 320, 2026)
    before = parts_of(planned)["stock"]
    with pytest.raises(FaultsFoundError):
        try_packet(planned, trial, AT)
    assert parts_of(planned)["stock"] == before


def test_old_seed_counts_on_the_list_for_what_it_is_worth(planned: Path) -> None:
    """Sixty seeds of which half live spare fewer bought ones than sixty fresh, dead ones none."""
    bought = []
    for year in (2027, 2026, 2020):
        packet(planned, "onion/seed", 60, year)
        line = next(one for one in seed_of(planned, DAY).lines if one.kind == "onion/seed")
        bought.append((line.in_hand, line.to_buy))
        (part,) = parts_of(planned)["stock"]
        change_garden(planned, [Change("stock", mark_of(part), None)], AT)
    fresh, old, dead = bought
    assert fresh[0] == pytest.approx(60)
    assert old[0] == pytest.approx(60 * 0.5 / 0.9)
    assert dead[0] == 0
    assert fresh[1] < old[1] < dead[1]


def test_sets_are_no_seed_and_are_kept(planned: Path) -> None:
    """Nobody tests a set on damp paper: its age is not counted."""
    packet(planned, "onion/sets", 100, 2026)
    found = told(planned)
    assert found.now is None
    assert sorted_out(seed_of(planned, DAY)) == ((SeedVerdict.KEEP, (found,)),)


def test_what_one_plan_has_sown_the_next_does_not_count_on(
    small_toml: Path, tmp_path: Path
) -> None:
    """A packet told once and used up in the first year is not in hand in the second: it is told as
    used up, and the list buys anew; the packet that was not asked for is whole.
    """
    path, _ = import_garden(small_toml, tmp_path / "small.haulm")
    first = plan_garden(path, DAY, QUICK, seed=1).plan
    sown = next(one for one in first.plantings if one.stock_unit == "seed" and not one.standing)
    packet(path, sown.kind, 5, 2027)
    packet(path, "parsnip/winter", 500, 2027)
    plan_garden(path, DAY, QUICK, seed=1)
    used, whole = seed_of(path, DAY).packets
    assert (used.left, whole.left) == (5, 500)
    autumn = date(2027, 11, 1)
    plan_garden(path, autumn, QUICK, seed=1)
    found = seed_of(path, autumn)
    assert found.packets[0].used_up
    assert not found.packets[1].used_up
    assert all(line.in_hand == 0 for line in found.lines if line.kind == sown.kind)


def test_the_oldest_packet_is_used_first() -> None:
    """Of 300 seeds in two packets 120 are left: the older is empty, the newer holds them all."""
    packets = (PlantingStock("leek", 150, 2027), PlantingStock("leek", 150, 2025))
    assert [left for _, left in units_left(packets, {"leek": 120})] == [120, 0]
    assert [left for _, left in units_left(packets, {"onion": 1})] == [150, 150]
