"""A small invented garden with what stays for years, for tests of several rooms."""

from pathlib import Path

HEDGE_END = """
[garden]
name = "Hedge End"
invented = true

[place]
latitude = 47.6
longitude = 8.1
height = "120 m"
soil = "loam"

[weather.normals]
tmin = [2, 2, 4, 5, 8, 11, 13, 13, 11, 8, 4, 2]
tmax = [8, 10, 12, 15, 19, 21, 25, 25, 22, 16, 11, 8]
rain = [140, 90, 95, 70, 50, 40, 18, 22, 40, 85, 165, 140]

[hours]
every_week = 4

[[eater]]
name = "Ines"
age = 40

[[table]]
eat = "asparagus"
amount = "0.3 kg"
from = "04-01"
to = "07-01"
wanted = "fresh"

[[table]]
eat = "strawberry"
amount = "0.3 kg"

[[table]]
eat = "rhubarb"
amount = "0.3 kg"
from = "03-01"
to = "07-15"

[[table]]
eat = "carrot"
amount = "0.4 kg"

[[bed]]
id = "hedge"
name = "Hedge"
width = "1.2 m"
length = "6 m"

[[bed]]
id = "low"
name = "Low"
width = "1.2 m"
length = "6 m"

[[store]]
id = "cold"
name = "Freezer"
kind = "freezer"
room = "120 l"

[[standing]]
bed = "hedge"
kind = "asparagus/green"
method = "crowns"
started = 2022-04-10
area = "4 m2"

[[standing]]
bed = "low"
kind = "strawberry/summer"
method = "runners"
started = 2025-08-20
area = "3 m2"
"""


def hedge_end(folder: Path, *changes: tuple[str, str]) -> Path:
    """Write the garden to a folder, with some of its text changed."""
    text = HEDGE_END
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    path = folder / "garden.toml"
    path.write_text(text, encoding="utf-8")
    return path
