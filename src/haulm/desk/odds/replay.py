"""The kept plan through the real years of its record: when it ran out, why, what would help."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from enum import StrEnum
from pathlib import Path

import numpy as np

from haulm.desk.beds.weather import WEEKS_AFTER, WEEKS_BEFORE
from haulm.desk.odds.living import dealt_in, setting_in
from haulm.desk.odds.thirst import Drought, Thirst, WateredHow, thirsting
from haulm.desk.planning.plans import UNLAID, Made, kept_plan
from haulm.forecast.coming import comings
from haulm.forecast.records import Coming
from haulm.forecast.replay import Replay, Usual, middle_luck, replay_of, usual_left
from haulm.forecast.trial import live_through
from haulm.ground.records import Spot
from haulm.growing.weather import GrowingWeather, growing_weather
from haulm.measure.weeks import DAYS_A_WEEK
from haulm.plan.records import Plan
from haulm.site.real_years import RealYears, real_years
from haulm.site.records import Seasons
from haulm.site.spots import night_gain
from haulm.site.without import (
    Part,
    Span,
    together,
    with_usual_warmth,
    with_warmer_nights,
    without_frost,
)

WORTH_TELLING_KG = 0.1
"""A cause or a measure that moves less than this is not told [kg]."""

A_WEEK = timedelta(weeks=1)


class Cause(StrEnum):
    """What may have made a year bad."""

    LATE_FROST = "late frost"
    EARLY_FROST = "early frost"
    DROUGHT = "drought"
    BLIGHT = "weather for late blight"
    COLD = "cold"
    WARMTH = "warmth"


class Measure(StrEnum):
    """What might have saved a year."""

    WATER = "water"
    LATER = "later"
    EARLIER = "earlier"
    FLEECE = "fleece"
    GROUND = "ground"


@dataclass(frozen=True, slots=True)
class FoundCause:
    """What a year would have had more, without one of its misfortunes [kg].

    ``part`` is the part of the year that was too cold or too warm, by ``off_c`` [°C].
    """

    cause: Cause
    saved_kg: float
    part: Part | None = None
    off_c: float = 0.0


@dataclass(frozen=True, slots=True)
class TriedMeasure:
    """What a measure would have brought: in the worst year, and in the mean of all years [kg].

    ``line`` is the line of the table that one more square metre was given to.
    """

    measure: Measure
    saved_kg: float
    usual_kg: float
    line: str = ""


@dataclass(frozen=True, slots=True)
class Replayed:
    """A garden's plan lived through the real years of its record.

    Attributes
    ----------
    made, how, told
        The plan, how the garden was watered, and what came of it year by year.
    missing, unfinished
        Years of the record in which too little was read, and those whose plan outlasts the record.
    unknown
        Names of kinds whose water nobody knows: they are taken as watered.
    causes, measures
        Why the worst year was bad, and what would have saved it; the largest first.
    """

    made: Made
    how: WateredHow
    told: Replay
    missing: tuple[int, ...]
    unfinished: tuple[int, ...]
    unknown: tuple[str, ...]
    causes: tuple[FoundCause, ...]
    measures: tuple[TriedMeasure, ...]

    @property
    def worst_year(self) -> int:
        """The year that fell shortest of its promises."""
        return self.told.years[self.told.worst]


def replay_kept(path: Path, how: WateredHow | None = None, seed: int = 1) -> Replayed:
    """Live a notebook's kept plan through the real years of its record.

    Raises
    ------
    FaultsFoundError
        When there is no plan, no record of days, or no tank to water from.
    """
    return replay_made(kept_plan(path, UNLAID), how, seed)


def replay_made(made: Made, how: WateredHow | None = None, seed: int = 1) -> Replayed:
    """Live a plan through the real years of its garden's record.

    Yields, stores and appetites are those of the mean of years; only weather differs.

    Parameters
    ----------
    made
        The plan and its garden.
    how
        How it is watered; by default from its tanks where it has any and rain was measured, else
        whenever it is due.
    seed
        The seed of what nobody read, which is drawn.

    Raises
    ------
    FaultsFoundError
        When there is no record of days, or no tank to water from.
    """
    horizon = made.plan.horizon
    first_day = horizon.first_day - timedelta(weeks=WEEKS_BEFORE)
    days = DAYS_A_WEEK * (WEEKS_BEFORE + horizon.weeks + WEEKS_AFTER)
    window = horizon.first_day, horizon.last_day + timedelta(days=1)
    real = real_years(made.garden.weather, made.garden.place, first_day, days, window, seed)
    if how is None:
        dry = not made.garden.tanks or bool(np.isnan(real.seasons.rain_mm).any())
        how = WateredHow.USUAL if dry else WateredHow.TANKS
    return _Again(made, real, how, seed).told()


@dataclass(frozen=True, slots=True, eq=False)
class _Lived:
    """What came of a plan in some runs of weather."""

    comings: tuple[Coming, ...]
    told: Replay

    @property
    def missed_kg(self) -> np.ndarray:
        """What all promises together went short by, run by run [kg]."""
        return np.array(self.told.missed_kg)


class _Again:
    """Lives one plan again and again, with one thing changed each time."""

    def __init__(self, made: Made, real: RealYears, how: WateredHow, seed: int) -> None:
        self._made, self._real, self._how = made, real, how
        self._plan = made.plan
        self._setting = setting_in(made.garden, made.catalogue, made.plan, seed)
        self._weather = growing_weather(real.seasons, made.garden.place)
        self._thirst = self._thirst_in(self._weather)
        self._usual: Usual = {}
        first = self._weather.column_of(self._plan.horizon.first_day)
        self._span = Span(first, first + DAYS_A_WEEK * self._plan.horizon.weeks)

    def told(self) -> Replayed:
        """Tell of all years, why the worst was bad, and what would have saved it."""
        come = comings(self._plan, self._setting.kinds, self._weather)
        self._usual = usual_left(come)
        lived = self._live(self._plan, self._weather, self._thirst, come)
        return Replayed(
            made=self._made,
            how=self._how,
            told=lived.told,
            missing=self._real.missing,
            unfinished=self._real.unfinished,
            unknown=tuple(self._made.names.get(kind, kind) for kind in self._thirst.unknown),
            causes=self._causes(lived),
            measures=self._measures(lived),
        )

    def _live(
        self,
        plan: Plan,
        weather: GrowingWeather,
        thirst: Thirst,
        come: Sequence[Coming] | None = None,
        *,
        blight: bool = True,
    ) -> _Lived:
        """Live a plan through runs of weather."""
        if come is None:
            come = comings(plan, self._setting.kinds, weather)
        come = thirsting(come, thirst)
        luck = middle_luck(dealt_in(self._setting, plan, come), self._usual, blight=blight)
        trial = live_through(plan, come, self._setting.household, luck)
        years = self._real.years if luck.seasons == len(self._real.years) else range(luck.seasons)
        return _Lived(tuple(come), replay_of(plan, trial, years))

    def _thirst_in(self, weather: GrowingWeather) -> Thirst:
        """Reckon what drought leaves of the plan in runs of weather."""
        if self._how is WateredHow.USUAL:
            return Thirst({}, ())
        made = self._made
        return Drought(made.garden, made.catalogue, self._plan, weather).thirst(self._how)

    def _causes(self, lived: _Lived) -> tuple[FoundCause, ...]:
        """Live the worst year again without each of its misfortunes in turn."""
        run, place, seasons = lived.told.worst, self._made.garden.place, self._real.seasons
        found: list[tuple[Cause, Seasons, Part | None, float]] = [
            (Cause.LATE_FROST, without_frost(seasons, run, place, self._span, late=True), None, 0),
            (
                Cause.EARLY_FROST,
                without_frost(seasons, run, place, self._span, late=False),
                None,
                0,
            ),
        ]
        for part in Part:
            changed, off_c = with_usual_warmth(seasons, run, place, self._span, part)
            found.append((Cause.COLD if off_c < 0 else Cause.WARMTH, changed, part, off_c))
        weather = growing_weather(together([changed for _, changed, _, _ in found]), place)
        again = self._live(self._plan, weather, self._thirst_in(weather))
        missed = lived.missed_kg[run]
        saved = [
            FoundCause(cause, float(missed - kg), part, off_c)
            for (cause, _, part, off_c), kg in zip(found, again.missed_kg, strict=True)
        ]
        spared = self._live(self._plan, self._weather, self._thirst, lived.comings, blight=False)
        saved.append(FoundCause(Cause.BLIGHT, float(missed - spared.missed_kg[run])))
        if self._how is not WateredHow.USUAL:
            wet = self._live(self._plan, self._weather, Thirst({}, ()))
            saved.append(FoundCause(Cause.DROUGHT, float(missed - wet.missed_kg[run])))
        told = [one for one in saved if one.saved_kg >= WORTH_TELLING_KG]
        return tuple(sorted(told, key=lambda one: -one.saved_kg))

    def _measures(self, lived: _Lived) -> tuple[TriedMeasure, ...]:
        """Live all years again with each measure in turn."""
        run = lived.told.worst
        gain_c = night_gain(Spot.FLEECE).value
        covered = growing_weather(
            with_warmer_nights(self._real.seasons, gain_c, self._span), self._made.garden.place
        )
        week = timedelta(weeks=1)
        tried = [
            (Measure.LATER, "", self._live(_moved(self._plan, week), self._weather, self._thirst)),
            (
                Measure.EARLIER,
                "",
                self._live(_moved(self._plan, -week), self._weather, self._thirst),
            ),
            (Measure.FLEECE, "", self._live(self._plan, covered, self._thirst)),
        ]
        if self._how is not WateredHow.USUAL:
            wet = self._live(self._plan, self._weather, Thirst({}, ()))
            tried.append((Measure.WATER, "", wet))
        line = max(lived.told.lines, key=lambda one: one.missed_kg[run], default=None)
        if line is not None and line.missed_kg[run] >= WORTH_TELLING_KG:
            come = _with_more_ground(self._plan, line.line, lived.comings)
            larger = self._live(self._plan, self._weather, self._thirst, come)
            tried.append((Measure.GROUND, line.line, larger))
        told = [
            TriedMeasure(
                measure,
                float(lived.missed_kg[run] - again.missed_kg[run]),
                float((lived.missed_kg - again.missed_kg).mean()),
                of_line,
            )
            for measure, of_line, again in tried
        ]
        return tuple(sorted(told, key=lambda one: -one.saved_kg))


def _moved(plan: Plan, by: timedelta) -> Plan:
    """Sow and set everything that is still to be sown earlier or later."""
    return replace(
        plan,
        plantings=tuple(
            planting
            if planting.standing
            else replace(planting, sow_on=planting.sow_on + by, set_on=planting.set_on + by)
            for planting in plan.plantings
        ),
    )


def _with_more_ground(plan: Plan, line: str, come: Sequence[Coming]) -> tuple[Coming, ...]:
    """Give one more square metre to the planting that brings a line most, year by year."""
    serves = {
        planting.id: sum(one.kg for one in planting.serves if one.line == line)
        for planting in plan.plantings
        if not planting.standing
    }
    area_m2 = {planting.id: planting.area_m2 for planting in plan.plantings}
    most: Mapping[int, str] = {
        year: max(of_year, key=lambda id_: serves[id_])
        for year in {one.year for one in come}
        if (of_year := {c.planting for c in come if c.year == year and serves.get(c.planting)})
    }
    return tuple(
        replace(one, kg=one.kg * (1 + 1 / area_m2[one.planting]))
        if most.get(one.year) == one.planting
        else one
        for one in come
    )


def as_data(replayed: Replayed) -> Mapping[str, object]:
    """Give what real years come to as plain data."""
    told = replayed.told
    return {
        "watered": replayed.how.value,
        "years": told.years,
        "missed_kg": told.missed_kg,
        "missing": replayed.missing,
        "unfinished": replayed.unfinished,
        "taken_as_watered": replayed.unknown,
        "lines": told.lines,
        "stores": told.stores,
        "worst": {
            "year": replayed.worst_year,
            "causes": replayed.causes,
            "measures": replayed.measures,
        },
    }
