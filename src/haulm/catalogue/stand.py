"""How densely a kind stands: the two distances that every count of plants rests on.

Plants stand in offset rows. Where a kind's rows may be as near as the equilateral triangle allows,
its offset spacing alone rules: stations that far apart, rows √3/2 of it apart. Where the rows must
be wider (room to hoe, to earth up, to pick), the distance along the row and the row gap rule.
"""

from math import sqrt

from haulm.catalogue.records import Stand

#: Row gap of the equilateral triangle, as a share of the distance between stations.
EQUILATERAL_ROW_GAP = sqrt(3) / 2


def station_spacing(stand: Stand) -> tuple[float, float]:
    """Give the distance between stations along a row and the gap between rows.

    Parameters
    ----------
    stand
        How the kind stands.

    Returns
    -------
    Distance along the row [m] and row gap [m]. When the kind's row gap is larger than √3/2 of its
    offset spacing, these are its spacing in the row and its row gap; otherwise the rows are
    equilateral at the offset spacing.
    """
    offset = stand.spacing_offset_m.value
    wide = stand.spacing_between_rows_m.value
    if wide > offset * EQUILATERAL_ROW_GAP + 1e-9:
        return stand.spacing_in_row_m.value, wide
    return offset, offset * EQUILATERAL_ROW_GAP


def plants_m2(stand: Stand) -> float:
    """Count the stations of a square metre in a bed too large for its edges to matter [1/m²]."""
    along, across = station_spacing(stand)
    return 1 / (along * across)
