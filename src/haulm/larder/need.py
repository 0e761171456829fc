"""The transparent sum: from the kilograms wanted at table to ground, plants and planting stock.

Every step can be checked with pencil and paper, and every loss is a division by what survives it:
wanting 250 heads where a quarter fails means 250 / 0.75 = 334 sown, not 250 × 1.25 = 313.
"""

from dataclasses import dataclass
from math import ceil, floor, log10, prod

from haulm.catalogue.known import known
from haulm.catalogue.records import Absent, Food, Giving, Kind, Method
from haulm.catalogue.stand import plants_m2
from haulm.household.records import Appetite, Wanted
from haulm.larder.records import KeepRule, NeedSum, SumStep
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.weeks import WEEKS_A_YEAR, Horizon

SPAN_WEEKS = 13
"""Food eaten from store is summed quarter by quarter, so that the sum stays short."""


@dataclass(frozen=True, slots=True)
class ReadyInfo:
    """The weeks of the horizon in which a kind's food can be taken from the ground, both counted.

    Before 0 or past the horizon's end is allowed. What is stored is put by in the last of them.
    """

    first_week: int
    last_week: int


@dataclass(frozen=True, slots=True)
class NeedCase:
    """One kind's way of serving a line of the table.

    Attributes
    ----------
    kind, food, method
        What is grown, for which food, started how.
    ready
        When it can be taken.
    keep
        How it keeps in the household's store; None if it is only eaten fresh.
    seed_weeks
        Weeks from lifting until pieces kept back are planted again [weeks]; None if planting
        stock is bought.
    """

    kind: Kind
    food: Food
    method: Method
    ready: ReadyInfo
    keep: KeepRule | None = None
    seed_weeks: int | None = None


def divide_by_survival(wanted: float, *shares: float) -> float:
    """Give how many must be started for ``wanted`` to be left after each share has survived.

    Parameters
    ----------
    wanted
        What must be left.
    shares
        Shares that survive each loss, one after another, above 0 and at most 1 [1].

    Raises
    ------
    FaultsFoundError
        If a share is outside that range.
    """
    for share in shares:
        if not 0 < share <= 1:
            what = f"{share:g} is no share that survives: it must be above 0 and at most 1."
            raise FaultsFoundError([Finding("the sum of need", what, "Mend the share.")])
    return wanted / prod(shares)


def with_seed_back(wanted: float, share_back: float) -> float | None:
    """Give what must be lifted for ``wanted`` to be left once a share is kept back for planting.

    Each lifted piece must also replace the stock it grew from: N (1 − share) = wanted. For pieces
    of ``parts`` units each, share = units per station / (parts × survival): with 10 cloves in a
    bulb and 9 in 10 growing on, 1 / (10 × 0.9) of all bulbs go back into the ground.

    Parameters
    ----------
    wanted
        What must be left.
    share_back
        Share of all that is lifted which is needed for planting [1].

    Returns
    -------
    What must be lifted; None where planting takes all that it gives, so that stock must be bought.
    """
    return None if share_back >= 1 else wanted / (1 - share_back)


def seed_units_per_kg(method: Method, food: Food) -> float | None:
    """Give the units of planting stock that a kilogram of a food, kept back, gives [1/kg].

    A piece of ``food.piece_kg`` gives ``method.parts_per_unit`` units: a bulb of 50 g with 10
    cloves gives 200 cloves a kilogram. None where the food is no planting stock, or nobody has
    the weight of a piece.
    """
    piece_kg = known(food.piece_kg)
    if method.parts_per_unit is None or piece_kg is None:
        return None
    return method.parts_per_unit.value / piece_kg


def need_for(appetite: Appetite, horizon: Horizon, case: NeedCase) -> NeedSum:
    """Sum up what one kind must give, stand on and start from to serve one line for a year.

    The year runs from the week the food is first ready (from the week it is put by, where only
    kept food is wanted). Weeks past the horizon's end take the appetite of the same week a year
    before. What is wanted in weeks that this kind can serve neither fresh nor from store is shown
    and left out. Amounts are as lifted or bought, kitchen waste being part of them; what then
    reaches the plate is shown beside.

    The yield is what a square metre gives with the gaps a usual stand has; planting stock is
    divided by what comes up and by what then lives, so that every station is filled.

    Parameters
    ----------
    appetite
        What the line wants, one figure for each week of the horizon.
    horizon
        The weeks looked over; a year at least.
    case
        The kind, food and method, when it is ready, how it keeps.

    Raises
    ------
    FaultsFoundError
        If the horizon is under a year, or the kind does not give the food.
    """
    giving = _giving(case)
    _check_year(appetite, horizon)
    weeks = _Weeks.of(appetite, case)
    steps = [*_table_steps(weeks, horizon)]
    lifted, store_steps = _lifted(weeks, case)
    steps += store_steps
    area, ground_steps = _ground(lifted, giving, case)
    steps += ground_steps
    plants, stock, start_steps = _start(area, case)
    steps += start_steps
    steps.append(_plate_step(weeks.eaten_kg, case.food))
    return NeedSum(
        line=appetite.line,
        food=case.food.id,
        kind=case.kind.id,
        eaten_kg=weeks.eaten_kg,
        lifted_kg=lifted,
        plants=plants,
        area_m2=area,
        stock=stock,
        stock_unit=case.method.unit,
        steps=tuple(steps),
    )


@dataclass(frozen=True, slots=True)
class _Weeks:
    """A year's appetite, parted by how it is served: [kg], and (age in store, kg)."""

    first_week: int
    wanted_kg: float
    fresh_kg: float
    stored: tuple[tuple[int, float], ...]

    @property
    def stored_kg(self) -> float:
        return sum(kg for _, kg in self.stored)

    @property
    def eaten_kg(self) -> float:
        return self.fresh_kg + self.stored_kg

    @staticmethod
    def of(appetite: Appetite, case: NeedCase) -> "_Weeks":
        """Part the year week by week."""
        ready, keep = case.ready, case.keep
        put_by = ready.last_week
        kept_only = appetite.wanted is Wanted.KEPT
        start = put_by if kept_only else ready.first_week
        year = {week: _kg_in(appetite, week) for week in range(start, start + WEEKS_A_YEAR)}
        fresh = {week for week in year if week <= ready.last_week and not kept_only}
        stored: list[tuple[int, float]] = []
        if keep is not None and appetite.wanted is not Wanted.FRESH:
            stored = [
                (week - put_by, kg)
                for week, kg in year.items()
                if week not in fresh
                and keep.wait_weeks <= week - put_by < len(keep.sound)
                and kg > 0
            ]
        fresh_kg = sum(year[week] for week in fresh)
        return _Weeks(start, sum(year.values()), fresh_kg, tuple(stored))


def _table_steps(weeks: _Weeks, horizon: Horizon) -> list[SumStep]:
    start = horizon.label(weeks.first_week)
    wanted = SumStep("wanted in a year, as lifted", f"52 weeks from {start}", weeks.wanted_kg, "kg")
    unserved = weeks.wanted_kg - weeks.eaten_kg
    steps = [wanted]
    if unserved > 1e-9 * max(weeks.wanted_kg, 1.0):
        steps.append(
            SumStep(
                "left out: neither fresh nor sound in store then",
                f"{_kg(weeks.wanted_kg)} − {_kg(weeks.eaten_kg)} = {_kg(unserved)}",
                unserved,
                "kg",
            )
        )
    steps.append(
        SumStep(
            "eaten fresh and from store",
            f"{_kg(weeks.fresh_kg)} + {_kg(weeks.stored_kg)} = {_kg(weeks.eaten_kg)}",
            weeks.eaten_kg,
            "kg",
        )
    )
    return steps


def _lifted(weeks: _Weeks, case: NeedCase) -> tuple[float, list[SumStep]]:
    """Divide what is eaten from store by what is sound at that age; add what is eaten fresh."""
    if not weeks.stored or case.keep is None:
        return weeks.fresh_kg, []
    spans: dict[int, list[tuple[float, float]]] = {}
    for age, kg in weeks.stored:
        put_by_kg = divide_by_survival(kg, case.keep.sound[age])
        spans.setdefault(age // SPAN_WEEKS, []).append((kg, put_by_kg))
    steps = []
    total = weeks.fresh_kg
    for span, parts in sorted(spans.items()):
        eaten, put_by = sum(kg for kg, _ in parts), sum(kg for _, kg in parts)
        total += put_by
        first, last = span * SPAN_WEEKS, span * SPAN_WEEKS + SPAN_WEEKS - 1
        steps.append(
            SumStep(
                f"put by for store weeks {first} to {last}: eaten / sound share",
                f"{_kg(eaten)} / {_n(eaten / put_by)} = {_kg(put_by)}",
                put_by,
                "kg",
            )
        )
    addends = [weeks.fresh_kg, *(step.value for step in steps)]
    arithmetic = f"{' + '.join(_kg(addend) for addend in addends)} = {_kg(total)}"
    return total, [*steps, SumStep("to lift: fresh and put by", arithmetic, total, "kg")]


def _ground(lifted: float, giving: Giving, case: NeedCase) -> tuple[float, list[SumStep]]:
    """Divide by the yield; add the ground whose crop goes back into the ground."""
    yield_kg_m2 = giving.yield_kg_m2.value
    area = lifted / yield_kg_m2
    arithmetic = f"{_kg(lifted)} / {_n(yield_kg_m2)} = {_n(area)}"
    steps = [SumStep("ground: kilograms / yield", arithmetic, area, "m²")]
    if case.seed_weeks is None:
        return area, steps
    share = _share_back(yield_kg_m2, case, case.seed_weeks)
    with_seed = with_seed_back(area, share.value) if share else None
    if share is None or with_seed is None:
        return area, [*steps, SumStep(_bought(case), "none kept back", 0.0, case.method.unit)]
    arithmetic = f"{_n(area)} / (1 − {_n(share.value)}) = {_n(with_seed)}"
    grown = SumStep("ground with seed kept back", arithmetic, with_seed, "m²")
    return with_seed, [*steps, share, grown]


def _bought(case: NeedCase) -> str:
    """Say why the planting stock is bought."""
    piece = case.food.piece_kg
    if case.method.parts_per_unit is not None and isinstance(piece, Absent):
        return (
            "what planting would take of its own harvest is not known: nobody has the weight of a "
            f"{case.food.piece} ({piece.why})"
        )
    return "its own harvest cannot give the planting stock: it must be bought"


def _share_back(yield_kg_m2: float, case: NeedCase, seed_weeks: int) -> SumStep | None:
    """Sum up the share of the harvest that planting the same ground again takes [1].

    None where the food gives no planting stock, or does not keep until it is planted.
    """
    units_kg = seed_units_per_kg(case.method, case.food)
    sound = case.keep.sound if case.keep is not None else ()
    if units_kg is None or seed_weeks >= len(sound):
        return None
    stock_m2 = divide_by_survival(
        plants_m2(case.kind.stand) * case.method.units_per_station.value, *_shares(case.method)
    )
    share = divide_by_survival(stock_m2 / units_kg / yield_kg_m2, sound[seed_weeks])
    return SumStep(
        f"share kept back: {case.method.unit}s a m² / (a kg × yield × sound when planted)",
        f"{_n(stock_m2)} / ({_n(units_kg)} × {_n(yield_kg_m2)} × {_n(sound[seed_weeks])})"
        f" = {_n(share)}",
        share,
        "1",
    )


def _start(area: float, case: NeedCase) -> tuple[int, float, list[SumStep]]:
    """Count stations on the ground, and stock to start so that each is filled."""
    method = case.method
    density = plants_m2(case.kind.stand)
    plants = _up(area * density)
    per_station = method.units_per_station.value
    germination, survival = _shares(method)
    stock = float(_up(divide_by_survival(plants * per_station, germination, survival)))
    start = f"{plants}" if per_station == 1 else f"{plants} × {_n(per_station)}"
    return (
        plants,
        stock,
        [
            SumStep(
                "plants: ground × plants a m², rounded up",
                f"{_n(area)} × {_n(density)} = {plants}",
                float(plants),
                "plants",
            ),
            SumStep(
                f"{method.unit}s to start: plants / (come up × live), rounded up",
                f"{start} / ({_n(germination)} × {_n(survival)}) = {stock:.0f}",
                stock,
                method.unit,
            ),
        ],
    )


def _plate_step(eaten: float, food: Food) -> SumStep:
    plate = eaten * food.kitchen_share.value
    arithmetic = f"{_kg(eaten)} × {_n(food.kitchen_share.value)} = {_kg(plate)}"
    return SumStep("of which on the plate", arithmetic, plate, "kg")


def _shares(method: Method) -> tuple[float, float]:
    return method.germination.value, method.survival.value


def _giving(case: NeedCase) -> Giving:
    for giving in case.kind.givings:
        if giving.food == case.food.id:
            return giving
    what = f"it does not give {case.food.name}."
    raise FaultsFoundError([Finding(case.kind.name, what, "Choose a kind that gives it.")])


def _check_year(appetite: Appetite, horizon: Horizon) -> None:
    if len(appetite.kg) < WEEKS_A_YEAR or len(appetite.kg) != horizon.weeks:
        what = f"the appetite holds {len(appetite.kg)} weeks; a year of need wants 52 or more."
        raise FaultsFoundError([Finding(appetite.name, what, "Look over a whole year.")])


def _kg_in(appetite: Appetite, week: int) -> float:
    """Give the appetite of a week, from the same week of another year if it lies outside."""
    while week < 0:
        week += WEEKS_A_YEAR
    while week >= len(appetite.kg):
        week -= WEEKS_A_YEAR
    return appetite.kg[week]


def _up(count: float) -> int:
    """Round up to a whole count, passing over the dust of binary arithmetic."""
    return ceil(count - 1e-9 * max(count, 1.0))


def _kg(kilograms: float) -> str:
    """Write kilograms to 10 g, small amounts to three figures, so that sums of them add up."""
    if kilograms < 1:
        return _n(kilograms)
    return f"{kilograms:.2f}".rstrip("0").rstrip(".")


def _n(number: float) -> str:
    """Write a number to three figures, or all of a whole number's."""
    if number == 0:
        return "0"
    decimals = max(0, 2 - floor(log10(abs(number))))
    text = f"{number:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
