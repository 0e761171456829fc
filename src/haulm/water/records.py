"""What the water room hands on."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class SoilWater:
    """What a class of soil holds, ``(lowest, highest)``.

    Attributes
    ----------
    field_capacity, wilting_point
        Shares of its volume [m³/m³].
    ready_mm, top_mm
        What the top 0.10 m loses to the air freely, and at all [mm].
    """

    name: str
    field_capacity: tuple[float, float]
    wilting_point: tuple[float, float]
    ready_mm: tuple[float, float]
    top_mm: tuple[float, float]


@dataclass(frozen=True, slots=True)
class SoilMiddle:
    """What a soil is taken to hold: shares of its volume [m³/m³] and its drying top [mm]."""

    field_capacity: float
    wilting_point: float
    ready_mm: float
    top_mm: float

    @property
    def mm_per_m(self) -> float:
        """The water between field capacity and wilting point in a metre of depth [mm]."""
        return 1000 * (self.field_capacity - self.wilting_point)


@dataclass(frozen=True, slots=True)
class Balance:
    """The root zone day by day; every array is shaped as the rain it was reckoned from [mm]."""

    depletion_mm: Array
    crop_use_mm: Array
    drained_mm: Array
    stress: Array


@dataclass(frozen=True, slots=True)
class CropWater:
    """A crop as the balance knows it.

    Attributes
    ----------
    shares
        The four stages of its season, as shares of it [1].
    basal
        Basal coefficients at start, middle and end, for air of table 17 [1].
    height_m
        How tall it stands in the middle of its season [m].
    root_m, table_share
        Depth of its roots when grown [m], and the share of the water in their reach that it takes
        without stress when it uses 5 mm a day [1].
    yield_response
        Share of the yield lost for each share of its water use that it has to go without [1]; None
        where nobody has said.
    """

    shares: tuple[float, float, float, float]
    basal: tuple[float, float, float]
    height_m: float
    root_m: float
    table_share: float
    yield_response: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Patch:
    """One crop's stay on a bed.

    Attributes
    ----------
    id
        Its label, unique on its bed.
    area_m2
        Its ground [m²].
    first_day, until_day
        Days of the run it stands through, the second not counted; both may lie outside the run.
    progress
        How far its season has gone on each of those days, 0 to 1.
    crop
        What stands there.
    """

    id: str
    area_m2: float
    first_day: int
    until_day: int
    progress: Array
    crop: CropWater


@dataclass(frozen=True, slots=True, eq=False)
class WaterBed:
    """A bed with all that stands on it during a run.

    Attributes
    ----------
    id, area_m2, soil, patches
        What and how large it is [m²], its soil, and what stands on it.
    covered
        Whether a tunnel or glass keeps the rain off.
    mulch_share
        Share of its ground under organic mulch [1].
    wetted
        Share of the ground that watering wets [1].
    """

    id: str
    area_m2: float
    soil: SoilMiddle
    patches: tuple[Patch, ...]
    covered: bool = False
    mulch_share: float = 0.0
    wetted: float = 1.0


@dataclass(frozen=True, slots=True, eq=False)
class Climate:
    """The weather a ground is reckoned through.

    Attributes
    ----------
    rain_mm, use_mm
        Rain and reference evapotranspiration, shape (runs, days) [mm].
    least_humidity_pct
        Least humidity of each day, mean over the runs, shape (days,) [%].
    wind_m_s
        Mean wind at 2 m [m/s].
    """

    rain_mm: Array
    use_mm: Array
    least_humidity_pct: Array
    wind_m_s: float


@dataclass(frozen=True, slots=True)
class Tank:
    """A tank that a roof's rain runs into.

    Attributes
    ----------
    name
        What it is called.
    roof_m2
        The ground the roof covers, as rain sees it from above [m²].
    holds_l
        What it holds [l].
    caught_share
        Share of the rain on the roof that reaches it [1].
    """

    name: str
    roof_m2: float
    holds_l: float
    caught_share: float


@dataclass(frozen=True, slots=True)
class WateringMeans:
    """With what a garden is watered.

    Attributes
    ----------
    can_l
        What one can holds [l].
    flow_l_min
        What the hose gives [l/min]; None where nobody told.
    cans_a_day
        How many cans can be carried in a day; None for not limited.
    can_told
        Whether the garden tells its can; else a usual one stands in.
    """

    can_l: float
    flow_l_min: float | None = None
    cans_a_day: int | None = None
    can_told: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Watering:
    """How a ground is watered.

    Attributes
    ----------
    when_due
        Whether a patch is watered on the morning its depletion has passed the easy water.
    until_day
        The day of the run from which on it no longer is; None for never.
    refill
        The share of the depletion that is then given back [1]; 1 fills to field capacity.
    given_mm
        Water given by hand, shape (days, rows) [mm]; None for none.
    tanks
        The only tanks that what is due is drawn from, full on the first morning. What they do not
        hold is not given: each thirsty patch goes short by the same share. Empty where there is
        always enough.
    """

    when_due: bool = False
    until_day: int | None = None
    refill: float = 1.0
    given_mm: Array | None = None
    tanks: tuple[Tank, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class GroundNow:
    """What the ground of many patches lacks at a moment, shape (rows, runs) [mm].

    Attributes
    ----------
    depletion, below, top
        In the root zone, under it, and in the drying top layer.
    wetted
        The share of the ground that the last wetting reached [1].
    """

    depletion: Array
    below: Array
    top: Array
    wetted: Array


@dataclass(frozen=True, slots=True, eq=False)
class GroundBalance:
    """The water of many patches, day by day.

    A row is one patch or, last of each bed, the ground of a bed on which nothing stands. All
    arrays but ``area_m2`` have the shape (rows, runs, days) [mm]; on days a row has no ground its
    flows are 0 and its depletion is not a number.

    Attributes
    ----------
    labels
        Bed and patch of each row; the patch is empty for bare ground.
    area_m2
        Ground of each row on each day, shape (rows, days) [m²].
    depletion_mm, below_mm, easy_mm
        What the root zone lacks at the day's end, what the ground under it lacks down to the bed's
        deepest root, and what may be lacking without stress.
    watered_mm, rained_mm, crop_use_mm, evaporated_mm, drained_mm
        What was given, what rain counted, what leaves took, what the soil gave to the air, and
        what sank beyond the bed's deepest root.
    stress
        The part of its full use the crop still takes, 1 unstressed.
    left
        How the ground is left when the last day is over, to carry on from.
    """

    labels: tuple[tuple[str, str], ...]
    area_m2: Array
    depletion_mm: NDArray[np.float32]
    below_mm: NDArray[np.float32]
    easy_mm: NDArray[np.float32]
    watered_mm: NDArray[np.float32]
    rained_mm: NDArray[np.float32]
    crop_use_mm: NDArray[np.float32]
    evaporated_mm: NDArray[np.float32]
    drained_mm: NDArray[np.float32]
    stress: NDArray[np.float32]
    left: GroundNow


@dataclass(frozen=True, slots=True, eq=False)
class TankRun:
    """What tanks do through runs of days, all of them together, shape (runs, days) [l].

    ``stock_l`` lies in them at the day's end; ``given_l`` was drawn, ``short_l`` was wanted and not
    there, ``spilt_l`` found no room.
    """

    stock_l: Array
    given_l: Array
    short_l: Array
    spilt_l: Array
