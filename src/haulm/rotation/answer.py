"""The rotation, written from the programme's values: what is given, broken and left out."""

from collections import defaultdict

from haulm.planner.arrays import Floats
from haulm.rotation.covers import sow_covers
from haulm.rotation.ground import bare_m2
from haulm.rotation.programme import RotationColumns
from haulm.rotation.records import (
    BedYearFamily,
    BrokenRest,
    GoneWithout,
    NewStand,
    Rotation,
    RotationQuestion,
    Share,
    StandYearGiven,
)
from haulm.rotation.rests import (
    in_time,
    last_stand_year,
    past_lifts,
    seasons_of,
    serves_until,
    years_missing,
)
from haulm.rotation.words import (
    going_without_words,
    line_left_words,
    notes,
    rest_words,
    stand_words,
)

NOISE = 1e-6
HALF = 0.5


def write_rotation(
    question: RotationQuestion, columns: RotationColumns, values: Floats, bound: float
) -> Rotation:
    """Write a rotation from the values of a programme's columns.

    What it costs is reckoned from what is written, not taken from the programme.
    """
    shares = tuple(
        Share(question.beds[b].id, year, question.needs[n].id, float(values[column]))
        for (b, year, n), column in columns.area.items()
        if values[column] > NOISE
    )
    stands = _stands(question, columns, values)
    families = _families(question, shares, stands)
    broken = _broken(question, families, stands)
    left = (*_needs_left(question, shares), *_lines_left(question, stands))
    pieces = sum(bool(one.area_m2) for one in families) + len(stands)
    objective = (
        sum(one.price for one in broken)
        + sum(one.price for one in left)
        + question.prices.patch * pieces
    )
    bound = min(bound, objective)
    return Rotation(
        garden=question.garden,
        made_on=question.made_on,
        first_year=question.first_year,
        years=question.years,
        shares=shares,
        families=families,
        stands=stands,
        covers=sow_covers(
            question, families, stands, bare_m2(question, shares, stands, for_cover=True)
        ),
        broken=broken,
        going_without=left,
        notes=notes(question),
        objective=objective,
        bound=bound,
        gap=(objective - bound) / objective if objective > NOISE else 0.0,
    )


def _stands(
    question: RotationQuestion, columns: RotationColumns, values: Floats
) -> tuple[NewStand, ...]:
    made = []
    for (b, year, k), column in columns.stand.items():
        area = float(values[column])
        if area <= NOISE:
            continue
        choice = question.stands[k]
        full_kg = choice.eaten_kg * area / choice.full_m2
        gives = tuple(
            StandYearGiven(year + age - 1, age, full_kg * choice.share(age))
            for age in range(1, choice.life_years + 1)
        )
        bed = question.beds[b].id
        last = last_stand_year(choice, year)
        words = stand_words(question, choice, (bed, year, area), gives)
        made.append(
            NewStand(bed, choice.kind, choice.family, choice.line, year, area, gives, last, words)
        )
    return tuple(made)


def _families(
    question: RotationQuestion, shares: tuple[Share, ...], stands: tuple[NewStand, ...]
) -> tuple[BedYearFamily, ...]:
    """Add shares up by bed, year and family, with the room each family has there."""
    needs = {need.id: need for need in question.needs}
    area: dict[tuple[str, int, str], float] = defaultdict(float)
    seasons: dict[tuple[str, int, str], set[int]] = defaultdict(set)
    for share in shares:
        key = (share.bed, share.year, needs[share.need].family)
        area[key] += share.area_m2
        seasons[key].update(seasons_of(needs[share.need], share.year))
    bare = bare_m2(question, shares, stands)
    order = {bed.id: number for number, bed in enumerate(question.beds)}
    return tuple(
        BedYearFamily(
            bed,
            year,
            family,
            area[bed, year, family],
            area[bed, year, family] + min(bare[bed, s] for s in seasons[bed, year, family]),
            tuple(sorted(seasons[bed, year, family])),
        )
        for bed, year, family in sorted(area, key=lambda key: (order[key[0]], key[1], key[2]))
    )


def _broken(
    question: RotationQuestion, families: tuple[BedYearFamily, ...], stands: tuple[NewStand, ...]
) -> tuple[BrokenRest, ...]:
    """Find every family that comes back too soon, by the stand before it that misses most."""
    takes = [(one.bed, one.year, one.family, one.area_m2) for one in families]
    takes += [(one.bed, one.planted_year, one.family, one.area_m2) for one in stands]
    lifts: dict[tuple[str, str], list[int]] = defaultdict(list)
    for bed in question.beds:
        for family in {family for _, _, family, _ in takes}:
            lifts[bed.id, family] += past_lifts(question, bed, family)
    for one in families:
        lifts[one.bed, one.family].append(one.year)
    for stand in stands:
        lifts[stand.bed, stand.family].append(stand.last_year)
    found = []
    for bed_id, year, family, area in takes:
        gap = question.gap_years[family]
        missing, lifted = max(
            ((years_missing(gap, year, lift), lift) for lift in lifts[bed_id, family]),
            default=(0, 0),
        )
        if missing > 0:
            price = question.prices.rest_m2_year * missing * area
            words = rest_words(question, (bed_id, year, family, area), missing, lifted)
            found.append(BrokenRest(bed_id, year, family, area, missing, lifted, price, words))
    return tuple(sorted(found, key=lambda one: (one.year, -one.price, one.bed, one.family)))


def _needs_left(question: RotationQuestion, shares: tuple[Share, ...]) -> list[GoneWithout]:
    """Find what of each family's ground is left out in each year, and price it slice by slice."""
    given: dict[tuple[int, str], float] = defaultdict(float)
    for share in shares:
        given[share.year, share.need] += share.area_m2
    area: dict[tuple[int, str], float] = defaultdict(float)
    whole: dict[tuple[int, str], float] = defaultdict(float)
    price: dict[tuple[int, str], float] = defaultdict(float)
    for year in question.span:
        for need in question.needs:
            if not in_time(question, need, year):
                continue
            short = max(0.0, need.area_m2 - given[year, need.id])
            key = (year, need.family)
            whole[key] += need.area_m2
            area[key] += short
            for share_of, each in question.prices.slices:
                here = min(short, share_of * need.area_m2)
                price[key] += need.worth_m2 * each * here
                short -= here
    return [
        GoneWithout(
            year,
            family,
            area[year, family],
            area[year, family] / whole[year, family],
            price[year, family],
            going_without_words(question, year, family, (area[year, family], whole[year, family])),
        )
        for year, family in sorted(area)
        if area[year, family] > NOISE
    ]


def _lines_left(question: RotationQuestion, stands: tuple[NewStand, ...]) -> list[GoneWithout]:
    """Find what of each line that wants a stand none is planted for."""
    found = []
    choices = {(choice.kind, choice.line): choice for choice in question.stands}
    for line in sorted({choice.line for choice in question.stands}):
        of_line = [choice for choice in question.stands if choice.line == line]
        whole = max(choice.weight * choice.eaten_kg for choice in of_line)
        for year in question.span:
            served = max(dict(choice.there).get(year, 0.0) for choice in of_line)
            for stand in stands:
                choice = choices[stand.kind, stand.line]
                until = serves_until(choice, stand.planted_year)
                if stand.line == line and stand.planted_year <= year <= until:
                    served += stand.area_m2 / choice.full_m2
            share = max(0.0, 1.0 - served)
            if share > NOISE:
                words = line_left_words(question, line, year, share)
                found.append(GoneWithout(year, line, 0.0, share, whole * share, words))
    return found
