"""A garden's weather told for its own height and drawn to the frosts it is known to have."""

from pathlib import Path

import numpy as np
import pytest

from haulm.ground.records import Spot
from haulm.measure.errors import FaultsFoundError
from haulm.notebook.file import create_notebook, open_notebook
from haulm.notebook.toml_reader import read_garden_toml, read_toml
from haulm.site.frost import frost_odds
from haulm.site.records import MonthlyNormals

GARDEN = """
[garden]
name = "Wren Bank"
[place]
latitude = 46.4
longitude = 8.9
height = "700 m"
soil = "loam"
{place}
[weather]
{weather}
[weather.normals]
tmin = [-4, -3, 0, 3, 7, 10, 12, 12, 8, 5, 0, -3]
tmax = [3, 5, 10, 14, 18, 22, 25, 24, 20, 14, 8, 4]
rain = [60, 58, 68, 82, 100, 100, 90, 100, 88, 82, 67, 55]
[[eater]]
name = "Ada"
age = 40
[[bed]]
id = "long"
width = "1.2 m"
length = "6 m"
{bed}
"""


def garden_toml(folder: Path, place: str = "", weather: str = "", bed: str = "") -> Path:
    """Write a garden.toml with some lines more."""
    path = folder / "garden.toml"
    path.write_text(GARDEN.format(place=place, weather=weather, bed=bed), encoding="utf-8")
    return path


def test_normals_are_told_for_the_gardens_height(tmp_path: Path) -> None:
    """Normals of a station 250 m below are nearly 1 °C colder by night, and words say so."""
    garden, _ = read_garden_toml(garden_toml(tmp_path, weather='height = "450 m"'), None)
    assert isinstance(garden.weather, MonthlyNormals)
    np.testing.assert_allclose(garden.weather.tmin_c[0], -4.95)
    assert "read at 450 m and told for 700 m" in garden.weather.origin


def test_a_usual_last_frost_draws_the_weather(tmp_path: Path) -> None:
    """With a last frost told as usual about 20 May, half the years have theirs later."""
    garden, _ = read_garden_toml(garden_toml(tmp_path, 'last_frost = "05-20"'), None)
    middle = frost_odds(garden.weather, garden.place, 0.0).last_spring[2]
    assert middle == pytest.approx(139, abs=3)


def test_a_garden_without_them_keeps_its_weather(tmp_path: Path) -> None:
    """Where neither is told the normals are those that were typed."""
    garden, _ = read_garden_toml(garden_toml(tmp_path), None)
    assert garden.weather == MonthlyNormals(
        "monthly normals given in the garden's file",
        (-4, -3, 0, 3, 7, 10, 12, 12, 8, 5, 0, -3),
        (3, 5, 10, 14, 18, 22, 25, 24, 20, 14, 8, 4),
        (60, 58, 68, 82, 100, 100, 90, 100, 88, 82, 67, 55),
    )


@pytest.mark.parametrize(
    ("place", "weather", "bed", "where", "words"),
    [
        ('last_frost = "08-20"', "", "", "[place], last_frost", "before midsummer"),
        ('last_frost = "20 May"', "", "", "[place], last_frost", "no day of the year"),
        ('first_frost = "12-20"', "", "", "[place], first_frost", "6 °C warmer"),
        ("", 'height = "3000 m"', "", "the weather's height", "lies at 700 m"),
        ("", 'height = "9000 m"', "", "[weather], height", "no land lies"),
        ("", "", 'spot = "cellar"', "[[bed]] 1, spot", "not one that haulm knows"),
        ("", "", 'cover = "tunnel"\nspot = "fleece"', "[[bed]] 1, spot", "tunnel already"),
    ],
)
def test_what_cannot_be_is_told_at_its_place(
    place: str, weather: str, bed: str, where: str, words: str, tmp_path: Path
) -> None:
    """A last frost in August, a height of no land, a spot nobody knows: each is told in place."""
    with pytest.raises(FaultsFoundError) as caught:
        read_garden_toml(garden_toml(tmp_path, place, weather, bed), None)
    (finding,) = (one for one in caught.value.findings if words in one.what)
    assert where in finding.where


def test_a_height_without_the_gardens_own_is_told(tmp_path: Path) -> None:
    """Where the garden's own height is missing, the weather's is no use, and that is said."""
    path = garden_toml(tmp_path, weather='height = "450 m"')
    path.write_text(path.read_text(encoding="utf-8").replace('height = "700 m"', ""), "utf-8")
    _, findings = read_garden_toml(path, None)
    assert any("not corrected for" in one.what for one in findings)


def test_all_of_it_is_kept_in_the_notebook(tmp_path: Path) -> None:
    """Frost days, the weather's height and spots come back from a notebook as they were typed."""
    lines = ('last_frost = "05-20"\nfirst_frost = "10-05"', 'height = "450 m"')
    read = read_toml(garden_toml(tmp_path, *lines, 'spot = ["frost hollow", "fleece"]'), None)
    with create_notebook(tmp_path / "g.haulm") as notebook:
        notebook.write_garden(read.document, read.record)
    with open_notebook(tmp_path / "g.haulm") as notebook:
        assert notebook.document() == read.document
        garden, _ = notebook.garden(None)
    assert garden.beds[0].spot == (Spot.FROST_HOLLOW, Spot.FLEECE)
    assert garden.weather == read.garden.weather
