"""The whole-number programme of years: what is given where, and what that spends.

For each bed, year and need it chooses an area, and for each bed, year and family whether the
family stands there at all, since a bed remembers a family as a whole. Everything is soft but
ground, cover, sun and disease clocks: what is left out and what rests break has its price.
"""

from collections import defaultdict
from dataclasses import dataclass, field

import numpy as np

from haulm.planner.assembler import Assembler, LinearModel
from haulm.rotation.records import RotationQuestion
from haulm.rotation.rests import (
    held_m2,
    in_time,
    last_stand_year,
    may_stand,
    past_missing,
    seasons_of,
    serves_until,
    stand_may_be_planted,
    stand_seasons,
    years_missing,
)
from haulm.rotation.seasons import season_of

BedYearNeed = tuple[int, int, int]
"""Numbers of a bed and a need, with a calendar year between."""
BedYearFamilyKey = tuple[int, int, str]
BedYearStand = tuple[int, int, int]


@dataclass(slots=True)
class RotationColumns:
    """Where the unknowns stand, by what they are about.

    ``area`` and ``stand`` are areas [m²], ``used`` and ``planted`` are yes or no, ``left`` are the
    slices of a need left out [m²], ``unserved`` the share of a line without a stand [1].
    """

    area: dict[BedYearNeed, int] = field(default_factory=dict)
    used: dict[BedYearFamilyKey, int] = field(default_factory=dict)
    stand: dict[BedYearStand, int] = field(default_factory=dict)
    planted: dict[BedYearStand, int] = field(default_factory=dict)
    left: dict[tuple[int, int], tuple[int, ...]] = field(default_factory=dict)
    unserved: dict[tuple[int, str], int] = field(default_factory=dict)


class _Rows:
    """Lays single rows: name, lower, upper and (column, coefficient)."""

    def __init__(self, model: Assembler) -> None:
        self._model = model

    def add(self, rule: str, bounds: tuple[float, float], terms: list[tuple[int, float]]) -> None:
        """Lay one row."""
        none = np.zeros(len(terms), dtype=np.int64)
        columns = np.array([column for column, _ in terms], dtype=np.int64)
        values = np.array([value for _, value in terms], dtype=np.float64)
        self._model.rows(
            rule, (np.array([bounds[0]]), np.array([bounds[1]])), [(none, columns, values)]
        )


def lay_programme(question: RotationQuestion) -> tuple[LinearModel, RotationColumns]:
    """Lay down the programme of a question, and say where its unknowns stand."""
    layer = _Layer(question)
    layer.areas()
    layer.stands()
    layer.needs()
    layer.ground()
    layer.rests()
    return layer.model.seal(), layer.columns


class _Layer:
    """Lays the programme down, rule by rule."""

    def __init__(self, question: RotationQuestion) -> None:
        self._question = question
        self.model = Assembler()
        self.columns = RotationColumns()
        self._rows = _Rows(self.model)
        end = season_of(question.first_year + question.years, 0)
        self._room = [
            max(0.0, bed.area_m2 - held_m2(question, bed.id, end - 1)) for bed in question.beds
        ]

    def _column(self, cost: float, upper: float, *, whole: bool = False) -> int:
        return int(self.model.columns(1, cost=cost, upper=upper, whole=whole)[0])

    def areas(self) -> None:
        """Lay an area for every bed, year and need that may meet, and a yes or no by family."""
        question, prices = self._question, self._question.prices
        by_family: dict[BedYearFamilyKey, list[BedYearNeed]] = defaultdict(list)
        for b, bed in enumerate(question.beds):
            for year in question.span:
                for n, need in enumerate(question.needs):
                    most = min(self._room[b], need.area_m2)
                    if most < min(question.least_m2, need.area_m2) or not may_stand(
                        question, need, bed, year
                    ):
                        continue
                    self.columns.area[b, year, n] = self._column(0.0, most)
                    by_family[b, year, need.family].append((b, year, n))
        for key, members in by_family.items():
            used = self._column(prices.patch, 1.0, whole=True)
            self.columns.used[key] = used
            uppers = [min(self._room[key[0]], question.needs[n].area_m2) for _, _, n in members]
            for member, upper in zip(members, uppers, strict=True):
                self._rows.add(
                    "used", (-np.inf, 0.0), [(self.columns.area[member], 1.0), (used, -upper)]
                )
            terms = [(self.columns.area[member], 1.0) for member in members]
            least = min(question.least_m2, sum(uppers))
            self._rows.add("patch", (0.0, np.inf), [*terms, (used, -least)])

    def stands(self) -> None:
        """Lay an area and a yes or no for every stand that may be planted."""
        question, prices = self._question, self._question.prices
        for k, stand in enumerate(question.stands):
            for b, bed in enumerate(question.beds):
                most = min(self._room[b], stand.full_m2)
                least = min(question.least_m2, stand.full_m2)
                if most < least:
                    continue
                for year in question.span:
                    if not stand_may_be_planted(question, stand, bed, year):
                        continue
                    area = self._column(0.0, most)
                    planted = self._column(prices.patch, 1.0, whole=True)
                    self.columns.stand[b, year, k] = area
                    self.columns.planted[b, year, k] = planted
                    self._rows.add("stand", (-np.inf, 0.0), [(area, 1.0), (planted, -most)])
                    self._rows.add("stand", (0.0, np.inf), [(area, 1.0), (planted, -least)])

    def needs(self) -> None:
        """Let what is given and what is left out come to what is needed, in every year."""
        question = self._question
        for n, need in enumerate(question.needs):
            for year in question.span:
                if not in_time(question, need, year):
                    continue
                left = tuple(
                    self._column(need.worth_m2 * price, share * need.area_m2)
                    for share, price in question.prices.slices
                )
                self.columns.left[year, n] = left
                given = [
                    (column, 1.0)
                    for (_, when, what), column in self.columns.area.items()
                    if (when, what) == (year, n)
                ]
                self._rows.add("need", (need.area_m2, np.inf), [*given, *((c, 1.0) for c in left)])
        for line in sorted({stand.line for stand in question.stands}):
            for year in question.span:
                self._line(line, year)

    def _line(self, line: str, year: int) -> None:
        """Let what is planted for a line, and what is not, come to the ground it asks for."""
        choices = self._question.stands
        of_line = [k for k, stand in enumerate(choices) if stand.line == line]
        cost = max(choices[k].weight * choices[k].eaten_kg for k in of_line)
        unserved = self._column(cost, 1.0)
        self.columns.unserved[year, line] = unserved
        there = max(dict(choices[k].there).get(year, 0.0) for k in of_line)
        terms = [
            (column, 1.0 / choices[k].full_m2)
            for (_, planted, k), column in self.columns.stand.items()
            if k in of_line and planted <= year <= serves_until(choices[k], planted)
        ]
        self._rows.add("line", (1.0 - min(1.0, there), np.inf), [*terms, (unserved, 1.0)])

    def ground(self) -> None:
        """Let no bed hold more than its area in the middle of any season."""
        question = self._question
        for b, bed in enumerate(question.beds):
            terms: dict[int, list[tuple[int, float]]] = defaultdict(list)
            for (of, year, n), column in self.columns.area.items():
                if of == b:
                    for season in seasons_of(question.needs[n], year):
                        terms[season].append((column, 1.0))
            last = season_of(question.first_year + question.years, 0)
            for (of, year, k), column in self.columns.stand.items():
                if of == b:
                    first, until = stand_seasons(question.stands[k], year)
                    for season in range(first, min(until, last)):
                        terms[season].append((column, 1.0))
            for season in sorted(terms):
                free = max(0.0, bed.area_m2 - held_m2(question, bed.id, season))
                self._rows.add("ground", (-np.inf, free), terms[season])

    def rests(self) -> None:
        """Let a family that comes back too soon break its rest by its ground × the years missing.

        What the bed's past costs is charged on the ground itself; of stands the programme chooses,
        the one that misses most counts: broken ≥ missing · (ground − most · (1 − there before)).
        """
        question = self._question
        visits: dict[tuple[int, str], list[_Visit]] = defaultdict(list)
        for (b, year, family), used in self.columns.used.items():
            areas = tuple(
                column
                for (of, when, n), column in self.columns.area.items()
                if (of, when) == (b, year) and question.needs[n].family == family
            )
            # Two crops a year may share one piece of ground: their patches add up to more than it.
            most = sum(
                min(self._room[b], need.area_m2) for need in question.needs if need.family == family
            )
            visits[b, family].append(_Visit(year, year, used, areas, most))
        for (b, year, k), area in self.columns.stand.items():
            stand = question.stands[k]
            most = min(self._room[b], stand.full_m2)
            last = last_stand_year(stand, year)
            planted = self.columns.planted[b, year, k]
            visits[b, stand.family].append(_Visit(year, last, planted, (area,), most))
        for (b, family), members in visits.items():
            for visit in members:
                self._rest(b, family, visit, members)

    def _rest(self, b: int, family: str, visit: "_Visit", members: list["_Visit"]) -> None:
        """Price one family's coming to one bed in one year."""
        question = self._question
        price, gap = question.prices.rest_m2_year, question.gap_years[family]
        past = past_missing(question, question.beds[b], family, visit.year)
        self.model.price(np.array(visit.areas, dtype=np.int64), price * past)
        earlier = [(years_missing(gap, visit.year, one.last) - past, one.used) for one in members]
        earlier = [(more, used) for more, used in earlier if more > 0]
        if not earlier:
            return
        broken = self._column(price, np.inf)
        for more, used in earlier:
            terms = [(area, float(more)) for area in visit.areas]
            terms += [(used, more * visit.most), (broken, -1.0)]
            self._rows.add("rest", (-np.inf, more * visit.most), terms)


@dataclass(frozen=True, slots=True)
class _Visit:
    """A family in a bed: the year it comes, its last, whether it does, its areas, its most."""

    year: int
    last: int
    used: int
    areas: tuple[int, ...]
    most: float
