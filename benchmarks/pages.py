"""How soon a page is there, while a plan is made beside it: a large garden, a real server.

Forty beds, sixty lines of the table and ten years of daily weather, drawn from a seed. Every page
is asked again and again over one connection while a thorough plan runs in its own process. Run from
the root of the repository: ``python -m benchmarks.pages [seed]``.
"""

import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from http.client import HTTPConnection
from pathlib import Path
from statistics import median, quantiles
from time import perf_counter

import numpy as np

from haulm.catalogue.loader import load_catalogue
from haulm.desk.garden.exchange import import_garden
from haulm.desk.planning.plans import plan_garden
from haulm.planner.solve import EFFORTS

DAY = date(2027, 2, 1)
BEDS, LINES, YEARS = 40, 60, 10
ROUNDS = 25
PAGES = ("/table", "/ground", "/year", "/larder", "/week", "/sheets", "/place", "/crops")
ASKED = re.compile(rb'(?:href|src)="(/(?:static|type)[^"]*)"')
FACE = re.compile(rb"url\('([^']+)'\)")


def large_garden(folder: Path, seed: int) -> Path:
    """Write a garden of forty beds and sixty lines, with ten years of invented daily weather."""
    draw = np.random.default_rng(seed)
    foods = sorted(load_catalogue().foods)
    beds = "".join(
        f'[[bed]]\nid = "bed-{number}"\nwidth = "1.2 m"\nlength = "{draw.uniform(3, 9):.2f} m"\n'
        for number in range(BEDS)
    )
    lines = "".join(
        f'[[table]]\nname = "line {number}"\neat = "{foods[number % len(foods)]}"\n'
        f'amount = "{draw.uniform(0.1, 1.2):.2f} kg"\npriority = {draw.integers(1, 6)}\n'
        for number in range(LINES)
    )
    (folder / "weather.csv").write_text(weather(draw), encoding="utf-8")
    toml = folder / "garden.toml"
    toml.write_text(
        '[garden]\nname = "Bench"\ninvented = true\ntoday = 2027-02-01\n[place]\nlatitude = 47\n'
        'longitude = 8\nsoil = "loam"\n[weather]\nrecord = "weather.csv"\n[hours]\n'
        'every_week = 30\n[[eater]]\nname = "A"\nage = 40\n[[store]]\nid = "cellar"\n'
        f'kind = "cellar"\n{lines}{beds}',
        encoding="utf-8",
    )
    return toml


def weather(draw: np.random.Generator) -> str:
    """Draw ten years of daily minimum, maximum and rain."""
    rows = ["date,tmin,tmax,rain"]
    for number in range(365 * YEARS):
        day = date(2014, 1, 1) + timedelta(days=number)
        middle = 10 - 10 * np.cos(2 * np.pi * (number - 20) / 365.25) + draw.normal(0, 3)
        span = draw.uniform(4, 12)
        rain = draw.exponential(6) * (draw.random() < 0.35)
        rows.append(f"{day},{middle - span / 2:.1f},{middle + span / 2:.1f},{rain:.1f}")
    return "\n".join(rows) + "\n"


@contextmanager
def served(notebook: Path) -> Iterator[tuple[HTTPConnection, dict[str, str], float]]:
    """Serve a notebook; give a connection, what it has to send, and the time to the first page."""
    command = [sys.executable, "-m", "haulm", "serve", str(notebook), "--no-browser", "--port", "0"]
    started = perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)  # noqa: S603 - ours
    try:
        assert process.stdout is not None
        port, key = re.findall(r":(\d+)/open/(\S+)", process.stdout.readline())[0]
        asking = HTTPConnection("127.0.0.1", int(port), timeout=600)
        sends = {
            "Cookie": f"haulm-{port}={key}",
            "Accept-Encoding": "gzip",
            "Origin": f"http://127.0.0.1:{port}",
        }
        get(asking, "/table", sends)
        yield asking, sends, perf_counter() - started
    finally:
        process.terminate()
        process.wait()


def get(asking: HTTPConnection, path: str, sends: dict[str, str], method: str = "GET") -> bytes:
    """Ask for a path; the bytes as they came over the wire."""
    asking.request(method, path, headers=sends)
    answer = asking.getresponse()
    body = answer.read()
    assert answer.status < 400, (path, answer.status)
    return body


def first_page_bytes(asking: HTTPConnection, sends: dict[str, str]) -> int:
    """Add up the first page and all it asks for, as they come over the wire."""
    plain = {name: value for name, value in sends.items() if name != "Accept-Encoding"}
    wanted = set(ASKED.findall(get(asking, "/table", plain))) | {b"/static/live.js"}
    wanted |= set(FACE.findall(get(asking, "/type.css", plain)))
    parts = [get(asking, path.decode(), sends) for path in wanted]
    return len(get(asking, "/table", sends)) + sum(map(len, parts))


def times_ms(asking: HTTPConnection, path: str, sends: dict[str, str]) -> list[float]:
    """Ask for a page again and again [ms]."""
    found = []
    for _ in range(ROUNDS):
        started = perf_counter()
        get(asking, path, sends)
        found.append(1000 * (perf_counter() - started))
    return found


def told(name: str, found: list[float]) -> str:
    """Put a page's times into a line: median and 95th percentile."""
    return f"{name:<12}{median(found):>8.1f}{quantiles(found, n=20)[-1]:>8.1f}"


def main(seed: int) -> None:
    """Measure every page at rest and while a plan is made; print both."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        notebook, _ = import_garden(large_garden(folder, seed), folder / "bench.haulm")
        plan_garden(notebook, DAY, EFFORTS["quick"], seed)
        with served(notebook) as (asking, sends, start_s):
            print(f"start to first page    {start_s:.2f} s")
            for page in PAGES:
                get(asking, page, sends)
            print(f"first page, all parts  {first_page_bytes(asking, sends) / 1000:.0f} kB")
            rest = {page: times_ms(asking, page, sends) for page in PAGES}
            get(asking, "/planning", sends, "POST")
            busy = {page: times_ms(asking, page, sends) for page in PAGES}
            print(f"\n{'page':<12}{'median':>8}{'95th':>8}   at rest [ms]")
            print("\n".join(told(page, found) for page, found in rest.items()))
            print(f"\n{'page':<12}{'median':>8}{'95th':>8}   while a plan is made [ms]")
            print("\n".join(told(page, found) for page, found in busy.items()))
            every = [one for found in busy.values() for one in found]
            calm = [one for found in rest.values() for one in found]
            print(told("all", every), f"  {median(every) / median(calm):.1f} times as long")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1)
