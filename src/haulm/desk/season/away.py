"""The note for whoever looks after the garden, gathered from plan, diary and weather."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path

import numpy as np

from haulm.catalogue.records import Figure, Picking
from haulm.desk.beds.bed_water import (
    From,
    RainTold,
    WaterWeather,
    midwinter_before,
    water_beds,
    water_weather,
)
from haulm.desk.beds.ground import closed_ground, is_covered
from haulm.desk.beds.stood import as_stood
from haulm.desk.beds.water_diary import asked_of
from haulm.desk.beds.water_today import cans_for
from haulm.desk.planning.plans import Made
from haulm.desk.season.away_records import AwayBed, AwayNote, Chore, ToPick, VisitWater
from haulm.ground.records import Bed
from haulm.household.records import Away
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan, Planting
from haulm.season.ahead import DayAhead
from haulm.season.away_rules import away_rules
from haulm.season.blight_rules import blight_rules
from haulm.season.frost_tonight import BedNight, Night, kill_odds
from haulm.site.frost import FROST_C
from haulm.water.balance_tables import BalanceTables, balance_tables, first_days
from haulm.water.ground_balance import ground_balance
from haulm.water.records import Array, Climate, GroundNow, Watering

LONGEST = 60
"""A longer absence is no note's matter [d]."""

YEAR = 366


def next_away(garden: Garden, day: date) -> Away | None:
    """Give the household's next days away that are not over; None where none are told."""
    coming = [one for one in garden.household.away if one.last_day >= day]
    return min(coming, key=lambda one: one.first_day, default=None)


def away_note(path: Path, made: Made, day: date, first: date | None, last: date | None) -> AwayNote:
    """Make the note for the days away.

    Every bed is taken as watered full on the evening before, which the household is told to do.

    Parameters
    ----------
    path, made
        The notebook and its kept plan.
    day
        Today.
    first, last
        The first and the last day away; None for those the garden tells next.

    Raises
    ------
    FaultsFoundError
        When no days away are told or given, or they cannot be.
    """
    garden = made.garden
    told = next_away(garden, day)
    span = _span(told, day, first, last)
    asked = asked_of(path, made, day)
    plan = as_stood(made.plan, asked.entries, garden.noted)
    plan = replace(
        plan,
        plantings=tuple(
            p for p in plan.plantings if p.in_ground_from <= span[1] and p.clear_by > span[0]
        ),
    )
    start = midwinter_before(garden.place, span[0])
    until = max(span[1] + timedelta(days=1), start + timedelta(days=YEAR))
    weather = water_weather(garden, span[0], until, RainTold(ahead=asked.ahead))
    whole = _Away(made, plan, weather, span, _nights(asked.ahead, day, span))
    who = told.eaters if told is not None and first is None else ()
    at_home = [one.name for one in garden.household.eaters if who and one.name not in who]
    return AwayNote(
        garden=made.plan.garden,
        invented=garden.invented,
        first=span[0],
        last=span[1],
        at_home=tuple(at_home),
        can_l=garden.watering.can_l,
        visits=whole.visits,
        beds=whole.beds(),
        pick=tuple(whole.pick()),
        leave=whole.leave(),
        frost_odds=whole.frost_odds,
        tender=whole.tender(),
        blight=whole.blight(),
        rain_mm=float(np.median(whole.rain_mm.sum(axis=1))),
        before=tuple(_before(made.plan, made, span)),
        after=tuple(_after(made.plan, made, span)),
        rain_told=int(np.sum(weather.rain_from[whole.days] == From.TOLD)),
        frost_nights=whole.frost_nights,
    )


def _nights(ahead: Sequence[DayAhead], day: date, span: tuple[date, date]) -> Mapping[date, Night]:
    """Give the nights of the days away whose lowest was told, by the day on which each ends."""
    return {
        one.day: Night(one.tmin_c, max(0, (one.day - day).days - 1))
        for one in ahead
        if one.tmin_c is not None and span[0] <= one.day <= span[1]
    }


def _span(told: Away | None, day: date, first: date | None, last: date | None) -> tuple[date, date]:
    """Settle the first and the last day away."""
    if first is None and last is None:
        if told is None:
            what = "the garden tells no days away that are still to come."
            raise FaultsFoundError([Finding("days away", what, "Give the first and last day.")])
        return max(told.first_day, day), told.last_day
    if first is None or last is None:
        what = "of the days away one end is missing."
        raise FaultsFoundError([Finding("days away", what, "Give the first and the last day.")])
    if last < first or (last - first).days >= LONGEST:
        what = f"{first} to {last} are no days away that a note is for."
        remedy = f"Give a last day after the first, within {LONGEST} days."
        raise FaultsFoundError([Finding("days away", what, remedy)])
    return first, last


GARDEN = BedNight("", 0.0, 0.0)
"""The garden's own nights, no bed's."""


@dataclass(frozen=True, slots=True, eq=False)
class _Away:
    """The plan and the weather over the days away."""

    made: Made
    plan: Plan
    weather: WaterWeather
    span: tuple[date, date]
    nights: Mapping[date, Night]

    @property
    def days(self) -> slice:
        """The columns of the days away."""
        return slice(self.weather.column(self.span[0]), self.weather.column(self.span[1]) + 1)

    @property
    def rain_mm(self) -> Array:
        """The rain of the days away, shape (runs, days) [mm]."""
        return np.asarray(self.weather.climate.rain_mm[:, self.days])

    @property
    def visits(self) -> tuple[date, ...]:
        """The days of the visits: the first after a stretch, and then one each stretch."""
        every = round(away_rules().visit_days.value)
        first, last = self.span
        count = (last - first).days // every
        return tuple(first + timedelta(days=every * number) for number in range(1, count + 1))

    @property
    def frost_odds(self) -> float:
        """The odds of some night of frost: by what was told where it was, else by the runs."""
        tmin_c = self.weather.seasons.tmin_c[:, self.days].copy()
        for day in self.nights:
            tmin_c[:, (day - self.span[0]).days] = np.inf
        spared = 1.0 - float(np.mean((tmin_c <= FROST_C).any(axis=1)))
        for night in self.nights.values():
            spared *= 1.0 - kill_odds(night, FROST_C, GARDEN)
        return 1.0 - spared

    @property
    def frost_nights(self) -> tuple[date, ...]:
        """The days on which a night ends that was told so cold that frost may come."""
        least = away_rules().frost_odds.value
        return tuple(
            day
            for day, night in sorted(self.nights.items())
            if kill_odds(night, FROST_C, GARDEN) >= least
        )

    def beds(self) -> tuple[AwayBed, ...]:
        """Give every bed with its waterings."""
        tables = balance_tables(
            water_beds(self.made.garden, self.made.catalogue, self.plan, self.weather),
            self.weather.climate,
        )
        dry_l, likely = self._wanted(tables)
        closed = {
            one.bed: self.made.catalogue.diseases[one.disease].name
            for one in closed_ground(self.made.garden, self.made.catalogue)
            if one.until_year > self.span[0].year
        }
        return tuple(
            AwayBed(
                bed.id,
                bed.name,
                bed.outline,
                tuple(dict.fromkeys(self.name(p) for p in self.standing(bed.id))),
                likely.get(bed.id, 0.0),
                self._visits(bed, tables, dry_l.get(bed.id)),
                is_covered(bed),
                closed.get(bed.id, ""),
            )
            for bed in self.made.garden.beds
        )

    def standing(self, bed: str = "") -> list[Planting]:
        """Give what stands while the household is away, in one bed or in all."""
        return [one for one in self.plan.plantings if not bed or one.bed == bed]

    def name(self, planting: Planting) -> str:
        """Give a planting's kind by name."""
        return self.made.names.get(planting.kind, planting.kind)

    def _wanted(self, tables: BalanceTables) -> tuple[dict[str, Array], dict[str, float]]:
        """Give each bed's litres by day if no rain falls, and in what share of runs it wants any.

        All ground is full on the first morning. The air takes the mean of the runs.
        """
        at, until = self.days.start, self.days.stop
        climate = self.weather.climate
        use = climate.use_mm[:, :until]
        mean = np.broadcast_to(use.mean(axis=0), (1, until))
        dry = Climate(np.zeros((1, until)), mean, climate.least_humidity_pct, climate.wind_m_s)
        wet = replace(climate, rain_mm=climate.rain_mm[:, :until], use_mm=use)
        short = first_days(tables, until)
        water = Watering(when_due=True)
        told = []
        for weather in (dry, wet):
            runs = weather.rain_mm.shape[0]
            full = np.zeros((len(tables.labels), runs))
            now = GroundNow(full, full, full, np.ones_like(full))
            balance = ground_balance(short, weather, water, begun=(at, now))
            litres = balance.area_m2[:, None, at:] * balance.watered_mm[:, :, at:]
            told.append(litres)
        beds = [bed for bed, _ in tables.labels]
        named = list(dict.fromkeys(beds))
        rows = {bed: [n for n, one in enumerate(beds) if one == bed] for bed in named}
        by_day = {bed: told[0][rows[bed]].sum(axis=0)[0] for bed in named}
        wants = {bed: float(np.mean(told[1][rows[bed]].sum(axis=(0, 2)) > 0)) for bed in named}
        return by_day, wants

    def _visits(
        self, bed: Bed, tables: BalanceTables, litres: Array | None
    ) -> tuple[VisitWater, ...]:
        """Put what a bed wants until the next visit on the visit before it."""
        if litres is None or not litres.any():
            return ()
        can_l = self.made.garden.watering.can_l
        days = [(day - self.span[0]).days for day in self.visits]
        found = []
        for at, (start, day) in enumerate(zip(days, self.visits, strict=True)):
            # What falls due before the first visit is given at it: a day late, not never.
            first = 0 if at == 0 else start
            until = days[at + 1] if at + 1 < len(days) else len(litres)
            wanted = float(litres[first:until].sum())
            if wanted > can_l * away_rules().skip_can_share.value:
                grown = [
                    row for row, (one, patch) in enumerate(tables.labels) if one == bed.id and patch
                ]
                column = min(self.days.start + start, tables.area_m2.shape[0] - 1)
                area = float(tables.area_m2[column, grown].sum()) or bed.outline.area_m2
                found.append(VisitWater(day, cans_for(wanted, can_l), wanted / area))
        return tuple(found)

    def pick(self) -> Iterator[ToPick]:
        """Give the foods that go on giving while they are picked."""
        first, last = (self.plan.horizon.week_of(day) for day in self.span)
        names = {bed.id: bed.name for bed in self.made.garden.beds}
        for planting in self.standing():
            for giving in self.made.catalogue.kinds[planting.kind].givings:
                weeks = [pick.week for pick in planting.picks if pick.food == giving.food]
                here = any(first <= week <= last for week in weeks)
                if giving.picking is Picking.SPREAD and here:
                    name = self.made.catalogue.foods[giving.food].name
                    yield ToPick(name, names[planting.bed])

    def leave(self) -> tuple[str, ...]:
        """Name what must be left: foods that the plan puts by later out of what stands."""
        free = {one.food for one in self.pick()}
        kept = {lot.food for lot in self.plan.lots if not lot.in_hand}
        foods = {one.food for planting in self.standing() for one in planting.expects}
        names = {self.made.catalogue.foods[food].name for food in foods & kept}
        return tuple(sorted(names - free))

    def tender(self) -> tuple[str, ...]:
        """Name what frost kills of what stands in the open; empty where frost is not likely."""
        if self.frost_odds < away_rules().frost_odds.value:
            return ()
        names, tender_c = [], away_rules().tender_c.value
        for planting in self.standing():
            kills = self.made.catalogue.kinds[planting.kind].warmth.killing_frost_c
            if isinstance(kills, Figure) and kills.value >= tender_c and not planting.under_cover:
                names.append(self.name(planting))
        return tuple(dict.fromkeys(names))

    def blight(self) -> bool:
        """Say whether late blight may come: its hosts stand, and nights are warm."""
        stands = any(planting.crop in blight_rules().hosts for planting in self.standing())
        night = np.median(self.weather.seasons.tmin_c[:, self.days])
        return stands and bool(night >= away_rules().blight_night_c.value)


def _before(plan: Plan, made: Made, span: tuple[date, date]) -> Iterator[Chore]:
    """Give what is done before leaving: what is ready, and what cannot be started later."""
    names = {bed.id: bed.name for bed in made.garden.beds}
    week = plan.horizon.week_of(span[0])
    for planting in plan.plantings:
        crop, bed = made.names.get(planting.kind, planting.kind), names[planting.bed]
        weeks = [pick.week for pick in planting.picks]
        if week in weeks and planting.in_ground_from < span[0]:
            yield Chore("pick what is ready of", crop, bed)
        if _starts_away(planting, span) and planting.latest_sowing <= span[1]:
            yield Chore("sow or set", crop, bed)


def _after(plan: Plan, made: Made, span: tuple[date, date]) -> Iterator[Chore]:
    """Give what waits until the household is back, with its last day where that is known."""
    names = {bed.id: bed.name for bed in made.garden.beds}
    for planting in plan.plantings:
        crop, bed = made.names.get(planting.kind, planting.kind), names[planting.bed]
        if _starts_away(planting, span) and planting.latest_sowing > span[1]:
            yield Chore("sow or set", crop, bed, planting.latest_sowing)
        if span[0] < planting.clear_by <= span[1] and planting.in_ground_from < span[0]:
            yield Chore("lift and clear", crop, bed)


def _starts_away(planting: Planting, span: tuple[date, date]) -> bool:
    raised = planting.tray_weeks[0] < planting.tray_weeks[1]
    days = [planting.sow_on, *([planting.set_on] if raised else [])]
    return not planting.standing and any(span[0] <= day <= span[1] for day in days)


def visit_lists(note: AwayNote) -> Sequence[tuple[date, tuple[tuple[AwayBed, VisitWater], ...]]]:
    """Give each visit's waterings, beds that are visited last at the end."""
    beds = sorted(note.beds, key=lambda bed: bool(bed.closed_for))
    return [
        (
            day,
            tuple(
                (bed, water)
                for bed in beds
                if bed.likely >= away_rules().likely.value
                for water in bed.visits
                if water.day == day
            ),
        )
        for day in note.visits
    ]
