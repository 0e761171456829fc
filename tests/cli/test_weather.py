"""The verbs about weather, on a terminal; nothing here asks the network."""

from datetime import date
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.cli import weather
from haulm.desk.garden.asking import Reply
from haulm.desk.garden.exchange import import_garden
from power_file import power_file
from shell import Haulm


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Put a service out of reach in the network's place, and give what it is asked for."""
    addresses: list[str] = []

    def ask(address: str) -> Reply:
        """Refuse."""
        addresses.append(address)
        return Reply(422, b"out of range")

    monkeypatch.setattr(weather, "over_https", ask)
    return addresses


def test_fetching_says_what_it_sends(haulm: Haulm, asked: list[str], tmp_path: Path) -> None:
    """Before it asks, the command says to whom the degrees go; a refusal is told in words."""
    notebook, _ = import_garden(small_garden(tmp_path), tmp_path / "yard.haulm")
    ran = haulm("weather", "fetch", notebook, "--from", 2001, "--to", 2010)
    assert ran.code == 1
    assert "it is sent latitude" in ran.out
    assert "out of range" in ran.err
    assert len(asked) == 1


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("yard.haulm", "--from", "1900"), "no years of the service"),
        (("garden.toml",), "is fetched into a notebook"),
        (("nothing.haulm",), "there is no such notebook"),
    ],
)
def test_nothing_is_asked_for_what_cannot_be(
    haulm: Haulm, asked: list[str], words: tuple[str, ...], said: str, tmp_path: Path
) -> None:
    """Years the service does not have, a garden.toml or a missing notebook send nothing."""
    import_garden(small_garden(tmp_path), tmp_path / "yard.haulm")
    first, *rest = words
    ran = haulm("weather", "fetch", tmp_path / first, *rest)
    assert ran.code == 1
    assert said in ran.err
    assert not asked


def test_a_file_of_the_service_beside_garden_toml_is_read(haulm: Haulm, tmp_path: Path) -> None:
    """Named as the record in garden.toml, a downloaded file is read with the height of its cell,
    which the notebook then keeps.
    """
    (tmp_path / "cell.csv").write_text(power_file(date(2022, 1, 1), 1461), encoding="utf-8")
    path = small_garden(tmp_path)
    text = path.read_text(encoding="utf-8")
    before, _, rest = text.partition("[weather.normals]")
    after = rest[rest.index("\n[") :] if "\n[" in rest else ""
    path.write_text(f'{before}[weather]\nrecord = "cell.csv"\n{after}', encoding="utf-8")
    notebook, _ = import_garden(path, tmp_path / "yard.haulm")
    told = haulm("climate", notebook)
    assert told.code == 0, told.err
    assert "read at 1228 m and told for" in " ".join(told.out.split())


def test_the_coming_days_are_told_and_listed(haulm: Haulm, tmp_path: Path) -> None:
    """A night's minimum is typed in one line and read back; what was not told is said to be so."""
    notebook, _ = import_garden(small_garden(tmp_path), tmp_path / "yard.haulm")
    words = ("--day", "2027-05-03", "--min", "-1", "--max", "14", "--humid", "7")
    ran = haulm("weather", "ahead", notebook, *words, "--on", "2027-05-02")
    assert ran.code == 0, ran.err
    said = " ".join(ran.out.split())
    assert "2027-05-03 −1 °C 14 °C not told not told 7 h typed" in said
    data = haulm("weather", "ahead", notebook, "--on", "2027-05-02", "--json").out
    assert '"tmin_c": -1.0' in data
    assert '"rain_mm": null' in data


def test_asking_for_the_coming_days_says_what_it_sends(
    haulm: Haulm, asked: list[str], tmp_path: Path
) -> None:
    """Nothing is asked unless the grower says so; then it is told to whom the place goes."""
    notebook, _ = import_garden(small_garden(tmp_path), tmp_path / "yard.haulm")
    haulm("weather", "ahead", notebook, "--on", "2027-05-02")
    assert not asked
    ran = haulm("weather", "ahead", notebook, "--ask")
    assert ran.code == 1
    assert "it is sent latitude 47.60, longitude 8.10, height 120 m, and nothing else" in ran.err
    assert len(asked) == 1
