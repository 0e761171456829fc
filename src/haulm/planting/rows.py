"""Rows for one bed as asked at the door: an outline or two lengths in, a layout out."""

from math import isfinite
from typing import Any

from haulm.ground.records import Outline
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.planting.layout import lay_out
from haulm.planting.measure_rows import to_centimetres
from haulm.planting.records import Layout


def rows_of(
    outline: Outline,
    spacing_m: float,
    edge_m: float | None = None,
    row_gap_m: float | None = None,
    *,
    whole_centimetres: bool = False,
) -> Layout:
    """Lay most stations into a bed's outline.

    Parameters
    ----------
    outline
        The bed's edge.
    spacing_m
        Least distance between stations [m].
    edge_m
        Least distance from the outline [m]; half the spacing where none is given.
    row_gap_m
        Least distance between rows [m]; none means what the spacing allows.
    whole_centimetres
        Whether to put the measure to whole centimetres, as for a printed sheet.

    Raises
    ------
    FaultsFoundError
        When a length is missing, zero or negative, or the outline crosses itself.
    """
    diameter = outline.diameter_m
    layout = lay_out(outline.corners_m, spacing_m, edge_m, row_gap_m, diameter_m=diameter)
    return to_centimetres(layout, outline.corners_m, diameter) if whole_centimetres else layout


def rows_in_rectangle(
    width_m: float,
    length_m: float,
    spacing_m: float,
    edge_m: float | None = None,
    row_gap_m: float | None = None,
) -> Layout:
    """Lay most stations into a rectangle, its length along the base [m].

    Raises
    ------
    FaultsFoundError
        When a length is missing, zero or negative.
    """
    lengths = (("width", width_m), ("length", length_m))
    findings = [
        Finding("bed", f"its {what} is {value:g} m.", f"Give a {what} above 0, as in 1.2 m.")
        for what, value in lengths
        if not (isfinite(value) and value > 0)
    ]
    if findings:
        raise FaultsFoundError(findings)
    corners = ((0.0, 0.0), (length_m, 0.0), (length_m, width_m), (0.0, width_m))
    return lay_out(corners, spacing_m, edge_m, row_gap_m)


def rows_as_dict(layout: Layout) -> dict[str, Any]:
    """Write a layout as plain values, ready for JSON; lengths in metres to a micrometre."""
    return {
        "count": layout.count,
        "pattern": layout.pattern.value,
        "square_count": layout.square_count,
        "spacing_m": _micro(layout.spacing_m),
        "row_gap_m": _micro(layout.row_gap_m),
        "edge_m": _micro(layout.edge_m),
        "angle_deg": _micro(layout.angle_deg),
        "rows": [
            {
                "name": row.name,
                "from_base_m": _micro(row.from_base_m),
                "first_m": _micro(row.first_m),
                "step_m": _micro(row.step_m),
                "half_step": row.half_step,
                "stations_m": [[_micro(x), _micro(y)] for x, y in row.stations_m],
            }
            for row in layout.rows
        ],
    }


def _micro(length: float) -> float:
    """Round to the sixth place, writing −0 as 0."""
    return round(length, 6) + 0.0
