"""Small invented gardens for tests, written as a grower would."""

from pathlib import Path

SMALL = """
[garden]
name = "Quill Yard"
invented = true
least_patch = "0.5 m2"
tray_cells = 200

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
every_week = 8

[[eater]]
name = "Ines"
age = 40

[[eater]]
name = "Pau"
age = 10

[[table]]
eat = "garlic"
amount = "0.1 kg"
priority = 4

[[table]]
eat = "onion"
amount = "0.5 kg"

[[table]]
eat = "green beans"
amount = "0.5 kg"
from = "06-15"
to = "09-30"
wanted = "fresh"

[[table]]
eat = "leek"
amount = "0.4 kg"
from = "10-01"
to = "03-31"

[[bed]]
id = "north"
name = "North"
width = "1.2 m"
length = "6 m"

[[bed]]
id = "south"
name = "South"
width = "1.2 m"
length = "6 m"
past = [{ crop = "onion", year = 2026 }]
found = [{ disease = "white rot", year = 2026 }]

[[store]]
id = "pantry"
name = "Pantry"
kind = "shelf"
room = "200 l"

[[store]]
id = "shed"
name = "Shed"
kind = "shed"
room = "200 l"
"""


def small_garden(folder: Path, *changes: tuple[str, str]) -> Path:
    """Write the small garden, with some of its words replaced, and give its path."""
    text = SMALL
    for old, new in changes:
        assert old in text, f"the small garden has no {old!r}"
        text = text.replace(old, new, 1)
    path = folder / "garden.toml"
    path.write_text(text, encoding="utf-8")
    return path
