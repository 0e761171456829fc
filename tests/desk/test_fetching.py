"""A daily record fetched from the public service: no network is used here."""

from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.desk.garden.asking import LONGEST_WAIT_S, TRIES, Reply, ask_patiently, over_https
from haulm.desk.garden.editing import parts_of, undo_last
from haulm.desk.garden.exchange import import_garden
from haulm.desk.garden.fetching import Network, fetch_record, years_to_fetch
from haulm.measure.errors import FaultsFoundError
from haulm.notebook.file import open_notebook
from power_file import power_file

AT = datetime(2027, 2, 1, tzinfo=UTC)
YEARS = (2023, 2025)


@dataclass
class Service:
    """Answers in order as it is told to, the last answer again and again; remembers all."""

    replies: list[Reply]
    asked: list[str] = field(default_factory=list)
    waited: list[float] = field(default_factory=list)

    def ask(self, address: str) -> Reply:
        """Answer."""
        self.asked.append(address)
        return self.replies[min(len(self.asked), len(self.replies)) - 1]

    @property
    def network(self) -> Network:
        """Give what fetching needs of it."""
        return Network(self.ask, self.waited.append)


def good() -> Reply:
    """Give an answer that is a record of three years with two days missing."""
    return Reply(200, power_file(date(2023, 1, 1), 1096, (40, 41)).encode())


@pytest.fixture
def notebook(tmp_path: Path) -> Path:
    """Give a small garden in a notebook."""
    path, _ = import_garden(small_garden(tmp_path), None, AT)
    return path


def test_a_record_becomes_the_gardens_weather(notebook: Path) -> None:
    """One request is made; the record, its origin and the cell's height are the garden's, a copy
    lies beside the notebook, gaps are told, and the change can be taken back.
    """
    before = parts_of(notebook)["weather"]
    service = Service([good()])
    fetched = fetch_record(notebook, YEARS, service.network, AT)
    assert len(service.asked) == 1
    assert fetched.asked
    assert fetched.copy.parent == notebook.parent
    assert any("2 of 1096 days" in one.what for one in fetched.findings)
    (weather,) = parts_of(notebook)["weather"]
    assert weather == {"record": fetched.copy.name, "height": "1228.15 m"}
    with open_notebook(notebook) as opened:
        record = opened.record()
    assert record is not None
    assert "NASA POWER" in record.origin
    undo_last(notebook)
    assert parts_of(notebook)["weather"] == before


def test_a_copy_is_taken_instead_of_asking_again(notebook: Path) -> None:
    """Fetched a second time nothing is sent, and that is said."""
    fetch_record(notebook, YEARS, Service([good()]).network, AT)
    silent = Service([Reply(0, b"")])
    again = fetch_record(notebook, YEARS, silent.network, AT)
    assert not silent.asked
    assert not again.asked
    assert "nothing was sent" in again.findings[0].what


@pytest.mark.parametrize("status", [0, 429, 503])
def test_a_busy_service_is_asked_again_after_a_while(notebook: Path, status: int) -> None:
    """Out of reach, too busy or failing, it is asked again after longer and longer waits."""
    service = Service([Reply(status, b"busy"), Reply(status, b"busy"), good()])
    fetch_record(notebook, YEARS, service.network, AT)
    assert len(service.asked) == 3
    assert service.waited == sorted(service.waited)
    assert service.waited[0] > 0


def test_it_waits_as_long_as_the_service_asks() -> None:
    """A service that asks to be left for 20 seconds is left so long, but no more than a minute."""
    service = Service([Reply(429, b"", 20.0), Reply(429, b"", 9000.0), Reply(200, b"x")])
    ask_patiently("https://example.invalid", service.ask, service.waited.append, "the service")
    assert service.waited == [20.0, LONGEST_WAIT_S]


@pytest.mark.parametrize(
    ("replies", "times", "words"),
    [
        ([Reply(0, b"no route")], TRIES, "not reached: no route"),
        ([Reply(500, b"")], TRIES, "status 500"),
        ([Reply(422, b'{"message": "no such year"}')], 1, "no such year"),
        ([Reply(200, b"<html>hello</html>")], 1, "not in its documented form"),
        ([Reply(200, b"-BEGIN HEADER-\nNASA/POWER\n")], 1, "cut short"),
    ],
)
def test_where_it_fails_nothing_changes(
    replies: list[Reply], times: int, words: str, notebook: Path
) -> None:
    """A refusal is told in words after one try, silence after four; the weather stays as it was
    and no copy is kept.
    """
    before = parts_of(notebook)
    service = Service(replies)
    with pytest.raises(FaultsFoundError, match=words):
        fetch_record(notebook, YEARS, service.network, AT)
    assert len(service.asked) == times
    assert parts_of(notebook) == before
    assert not list(notebook.parent.glob("*.csv"))


@pytest.mark.parametrize(
    ("first", "last", "years"),
    [
        (None, None, (1997, 2026)),
        (2000, None, (2000, 2026)),
        (None, 2005, (1981, 2005)),
        (2010, 2012, (2010, 2012)),
    ],
)
def test_thirty_whole_years_are_usual(
    first: int | None, last: int | None, years: tuple[int, int]
) -> None:
    """Untold, the thirty whole years before this one are asked for, as far as there are any."""
    assert years_to_fetch(first, last, date(2027, 2, 1)) == years


@pytest.mark.parametrize(("first", "last"), [(1970, 1990), (2012, 2010), (2020, 2040)])
def test_years_that_cannot_be_are_refused(first: int, last: int) -> None:
    """Years before the service begins, out of order or to come are refused."""
    with pytest.raises(FaultsFoundError, match="no years of the service"):
        years_to_fetch(first, last, date(2027, 2, 1))


def test_a_garden_file_is_refused(tmp_path: Path) -> None:
    """A record is kept in a notebook, so garden.toml is sent to be imported first."""
    with pytest.raises(FaultsFoundError, match="is fetched into a notebook"):
        fetch_record(tmp_path / "garden.toml", YEARS, Service([good()]).network, AT)


def test_only_https_is_asked() -> None:
    """An address of another kind is never asked for."""
    assert over_https("file:///etc/hosts").status == 0
