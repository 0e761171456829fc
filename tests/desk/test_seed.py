"""Seed in hand: judged before the order, its tests written down, counted for what it is worth."""

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from haulm.desk.garden.editing import Change, change_garden, mark_of, parts_of
from haulm.desk.season.seed import PacketTold, Trial, seed_of, sorted_out, try_packet
from haulm.measure.errors import FaultsFoundError
from haulm.season.seed_age import SeedVerdict

AT = datetime(2027, 1, 5, 9, tzinfo=UTC)
DAY = date(2027, 1, 20)


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
