"""A kind of the catalogue as the water balance knows it."""

from haulm.catalogue.records import Absent, Figure, Water
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.water.figures import WaterFigures, water_figures
from haulm.water.records import CropWater


def crop_water(water: Water) -> CropWater:
    """Give what the balance takes of a kind's figures.

    Where no row of table 17 was found the basal coefficients are a little under those of table 12,
    and where none of table 11 was, the stages are the usual ones: `stood_in` says which.

    Raises
    ------
    FaultsFoundError
        When a figure without which nothing can be reckoned is absent.
    """
    figures = water_figures()
    depth, share = _there(water, "rooting_m"), _there(water, "depletion_fraction")
    full, last = _there(water, "kc_middle"), _there(water, "kc_end")
    start, middle, end = water.kcb_initial, water.kcb_middle, water.kcb_end
    shares = _stages(water, figures)
    whole = sum(shares)
    return CropWater(
        shares=(shares[0] / whole, shares[1] / whole, shares[2] / whole, shares[3] / whole),
        basal=(
            (start or figures.basal_start).value,
            _basal(middle, full, figures),
            _basal(end, last, figures),
        ),
        height_m=(water.height_m or figures.usual_height_m).value,
        root_m=depth.value,
        table_share=share.value,
        yield_response=water.yield_response.value if water.yield_response else None,
    )


def _there(water: Water, name: str) -> Figure:
    """Give a figure, or say that nobody has it."""
    figure: Figure | Absent = getattr(water, name)
    if isinstance(figure, Absent):
        what = f"what it drinks cannot be reckoned, for this is not known: {figure.why}."
        remedy = "Give your own figure, or water it by eye."
        raise FaultsFoundError([Finding(f"water, {name}", what, remedy)])
    return figure


def stood_in(water: Water) -> tuple[str, ...]:
    """Say which figures of a kind nobody has given, so that usual ones stand in."""
    missing = {
        "the stages of its season": water.stage_initial,
        "what its leaves alone take": water.kcb_middle,
        "how tall it stands": water.height_m,
        "what thirst costs it": water.yield_response,
    }
    return tuple(name for name, figure in missing.items() if figure is None)


def _basal(basal: Figure | None, whole: Figure, figures: WaterFigures) -> float:
    """Give a basal coefficient; one that is not under its whole coefficient is of another kind."""
    if basal is not None and basal.value <= whole.value:
        return basal.value
    return max(whole.value - figures.basal_less.value, figures.basal_start.value)


def _stages(water: Water, figures: WaterFigures) -> tuple[float, float, float, float]:
    """Give the four stages as shares, the usual ones where any is missing."""
    own: tuple[Figure | None, ...] = (
        water.stage_initial,
        water.stage_growth,
        water.stage_middle,
        water.stage_late,
    )
    usual = (
        figures.usual_stage_initial,
        figures.usual_stage_growth,
        figures.usual_stage_middle,
        figures.usual_stage_late,
    )
    initial, growth, middle, late = (
        own_one.value if own_one and all(own) else usual_one.value
        for own_one, usual_one in zip(own, usual, strict=True)
    )
    return initial, growth, middle, late
