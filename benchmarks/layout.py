"""Time 10,000 stations in an awkward outline against a plain square grid.

The plain grid is what anyone would write first: every point of a square grid, kept when it lies
inside the outline less its edge. Run with ``python -m benchmarks.layout`` from the root.
"""

from time import perf_counter

import numpy as np
import shapely

from haulm.planting.layout import lay_out

STATIONS = 10_000
SIDES = 40


def awkward_outline(seed: int = 1) -> tuple[tuple[float, float], ...]:
    """Draw a three-armed outline of 40 ragged sides [m]."""
    draw = np.random.default_rng(seed)
    turn = np.linspace(0, 2 * np.pi, SIDES, endpoint=False)
    reach = 8 * (1 + 0.35 * np.sin(3 * turn) + 0.2 * draw.uniform(-1, 1, SIDES))
    points = np.column_stack((reach * np.cos(turn), reach * np.sin(turn)))
    return tuple((float(x), float(y)) for x, y in points - points.min(axis=0))


def plain_grid(corners_m: tuple[tuple[float, float], ...], spacing_m: float) -> int:
    """Count the points of one square grid that keep half a spacing from the edge."""
    left = shapely.Polygon(corners_m).buffer(-spacing_m / 2)
    west, base, east, top = left.bounds
    x, y = np.meshgrid(np.arange(west, east, spacing_m), np.arange(base, top, spacing_m))
    shapely.prepare(left)
    return int(shapely.intersects_xy(left, x.ravel(), y.ravel()).sum())


def main() -> None:
    """Lay out, time and print both."""
    corners = awkward_outline()
    spacing = float(np.sqrt(shapely.Polygon(corners).area / STATIONS / np.sqrt(0.75)))
    started = perf_counter()
    plain = plain_grid(corners, spacing)
    plain_s = perf_counter() - started
    started = perf_counter()
    layout = lay_out(corners, spacing)
    layout_s = perf_counter() - started
    print(f"plain square grid   {plain:6d} stations  {plain_s:7.3f} s")
    print(f"best square grid    {layout.square_count:6d} stations")
    print(f"rows chosen         {layout.count:6d} stations  {layout_s:7.3f} s  {layout.pattern}")
    print(f"stations against the plain grid: {layout.count / plain:.3f}")
    print(f"time: {layout_s / plain_s:.1f} times, {layout_s - plain_s:.3f} s more (aim: under 2 s)")


if __name__ == "__main__":
    main()
