"""Beds and their patches laid out as tables of days and rows, before any weather is run."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.water.evaporation import covered_share, highest_coefficient, mulched
from haulm.water.figures import water_figures
from haulm.water.records import Array, Climate, CropWater, Patch, WaterBed
from haulm.water.stages import adjusted_coefficient, season_curve

_SLACK_M2 = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class BalanceTables:
    """What each row of a ground is on each day.

    A row is a patch, or a bed's bare ground, which comes last of its bed.

    Attributes
    ----------
    labels
        Bed and patch of each row; the patch is empty for bare ground.
    area_m2
        Shape (days, rows) [m²].
    basal, highest, covered, root_m
        Basal and highest coefficients, shaded share [1] and depth of root [m], (days, rows).
    mm_per_m, deep_m, ready_mm, top_mm
        The soil's water in a metre, depth of the bed's deepest root, and the drying top, (rows,).
    table_share, open_share, use_share, kept_in, wetted
        Easy share of the table, share of the rain that falls on it, share of the reference use
        that its air takes, share of evaporation left by mulch, share wetted by watering, (rows,).
    grown
        Which rows are patches.
    bare_row
        The row of each row's bed's bare ground, (rows,).
    """

    labels: tuple[tuple[str, str], ...]
    area_m2: Array
    basal: Array
    highest: Array
    covered: Array
    root_m: Array
    mm_per_m: Array
    deep_m: Array
    ready_mm: Array
    top_mm: Array
    table_share: Array
    open_share: Array
    use_share: Array
    kept_in: Array
    wetted: Array
    grown: NDArray[np.bool_]
    bare_row: NDArray[np.int64]


def balance_tables(beds: Sequence[WaterBed], climate: Climate) -> BalanceTables:
    """Lay out beds and their patches, and the bare ground between them, day by day.

    Coefficients are adjusted to the place's mean air over a patch's middle and late season, the
    roots deepen with the basal coefficient, and leaves shade the ground as it rises.

    Raises
    ------
    FaultsFoundError
        When patches overfill a bed, a season's progress has the wrong length, or a figure is
        beyond its range.

    Notes
    -----
    FAO-56, equations 66, 70, 72 and 76; roots as in its annex 8.
    """
    _refuse_wrong(beds)
    days = climate.use_mm.shape[-1]
    figures = water_figures()
    columns = [_rows_of(bed, climate, days) for bed in beds]
    area, basal, highest, shade, root = (
        np.concatenate(parts, axis=1) for parts in zip(*columns, strict=True)
    )
    bare_row = np.cumsum([len(bed.patches) + 1 for bed in beds]) - 1
    relief = figures.mulch_relief.value

    def each(values: Sequence[float]) -> Array:
        """Repeat a bed's value for each of its rows."""
        return np.repeat(np.array(values), [len(bed.patches) + 1 for bed in beds])

    rows: list[tuple[WaterBed, Patch | None]] = [
        (bed, patch) for bed in beds for patch in (*bed.patches, None)
    ]
    return BalanceTables(
        tuple((bed.id, patch.id if patch else "") for bed, patch in rows),
        area_m2=area,
        basal=basal,
        highest=highest,
        covered=shade,
        root_m=root,
        mm_per_m=each([bed.soil.mm_per_m for bed in beds]),
        deep_m=each([_deepest_m(bed) for bed in beds]),
        ready_mm=each([bed.soil.ready_mm for bed in beds]),
        top_mm=each([bed.soil.top_mm for bed in beds]),
        table_share=np.array([patch.crop.table_share if patch else 0.5 for _, patch in rows]),
        open_share=each([0.0 if bed.covered else 1.0 for bed in beds]),
        use_share=each(
            [figures.under_cover_use_share.value if bed.covered else 1.0 for bed in beds]
        ),
        kept_in=each([float(mulched(1.0, bed.mulch_share, relief)) for bed in beds]),
        wetted=each([bed.wetted for bed in beds]),
        grown=np.array([patch is not None for _, patch in rows]),
        bare_row=each([float(row) for row in bare_row]).astype(np.int64),
    )


def first_days(tables: BalanceTables, days: int) -> BalanceTables:
    """Give the same ground for its first days alone."""
    daily = ("area_m2", "basal", "highest", "covered", "root_m")
    return replace(tables, **{name: getattr(tables, name)[:days] for name in daily})


def _deepest_m(bed: WaterBed) -> float:
    """Give the depth of a bed's deepest root, and a little more than the drying top at least."""
    top = water_figures().evaporating_depth_m.value
    return max([patch.crop.root_m for patch in bed.patches] + [2 * top])


def _rows_of(bed: WaterBed, climate: Climate, days: int) -> tuple[Array, ...]:
    """Give area, basal, highest, shade and root of a bed's rows, each (days, rows)."""
    figures = water_figures()
    shape = (days, len(bed.patches) + 1)
    area, basal, shade = np.zeros(shape), np.zeros(shape), np.zeros(shape)
    root = np.full(shape, figures.evaporating_depth_m.value)
    highest = np.broadcast_to(
        highest_coefficient(climate.wind_m_s, climate.least_humidity_pct, 0.0, 0.0)[:, None], shape
    ).copy()
    for row, patch in enumerate(bed.patches):
        first, until = max(patch.first_day, 0), min(patch.until_day, days)
        if first >= until:
            continue
        when = slice(first, until)
        seen = slice(first - patch.first_day, until - patch.first_day)
        curve = _basal_curve(patch, climate, when, patch.progress[seen])
        crop = patch.crop
        grown = _grown(crop, patch.progress)[seen]
        tall = crop.height_m * grown
        area[when, row] = patch.area_m2
        basal[when, row] = curve
        humidity = climate.least_humidity_pct[when]
        highest[when, row] = highest_coefficient(climate.wind_m_s, humidity, tall, curve)
        shade[when, row] = covered_share(
            curve, highest[when, row], tall, figures.bare_coefficient.value
        )
        start_m = min(figures.root_start_m.value, crop.root_m)
        root[when, row] = start_m + (crop.root_m - start_m) * grown
    area[:, -1] = np.maximum(bed.area_m2 - area.sum(axis=1), 0.0)
    return area, basal, highest, shade, root


def _basal_curve(patch: Patch, climate: Climate, when: slice, progress: Array) -> Array:
    """Give a patch's basal coefficient on its days, adjusted to the air of its later season."""
    crop = patch.crop
    start, middle, end = crop.basal
    humidity = climate.least_humidity_pct[when]
    late = progress >= crop.shares[0] + crop.shares[1]
    mean = float(np.mean(humidity[late] if late.any() else humidity))
    told = [
        adjusted_coefficient(one, climate.wind_m_s, mean, crop.height_m) for one in (middle, end)
    ]
    return season_curve(crop.shares, (start, told[0], told[1]), progress)


def _grown(crop: CropWater, progress: Array) -> Array:
    """Give how far a crop has grown up, 0 to 1, as its coefficient rises; it does not shrink."""
    start, middle, _end = crop.basal
    if middle <= start:
        return np.ones_like(progress)
    curve = season_curve(crop.shares, crop.basal, progress)
    return np.clip(np.maximum.accumulate(curve - start) / (middle - start), 0.0, 1.0)


def _refuse_wrong(beds: Sequence[WaterBed]) -> None:
    """Refuse beds that cannot be, all at once."""
    findings = []
    for bed in beds:
        where = f"bed {bed.id}"
        if not 0 <= bed.mulch_share <= 1 or not 0 < bed.wetted <= 1:
            findings.append(
                Finding(where, "mulch and wetted ground are shares up to 1.", "Mend them.")
            )
        ends = sorted({patch.first_day for patch in bed.patches})
        held = (
            sum(p.area_m2 for p in bed.patches if p.first_day <= day < p.until_day) for day in ends
        )
        if max(held, default=0.0) > bed.area_m2 + _SLACK_M2:
            findings.append(
                Finding(where, "its patches hold more ground than it has.", "Mend the plan.")
            )
        findings += [
            Finding(f"{where}, {patch.id}", "its season has the wrong length.", "Mend it.")
            for patch in bed.patches
            if patch.progress.size != patch.until_day - patch.first_day
        ]
    if findings:
        raise FaultsFoundError(findings)
