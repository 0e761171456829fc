"""The audit of a rotation: re-added from its records alone, by code that knows no programme."""

from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from haulm.measure.errors import AuditFailedError
from haulm.measure.findings import Finding
from haulm.rotation.records import FamilyNeed, Rotation, RotationBed, RotationQuestion, StandChoice

AREA_M2 = 1e-5
"""Ground is re-added to this [m²]."""
KG = 1e-4
NEAR = 1e-5
"""How near the objective is re-added, as a share of it [1]."""
REMEDY = "Do not plant by this rotation: make it again, and report the fault if it comes back."
SEASONS = 4
MIDDLES = ((2, 15), (5, 15), (8, 15), (11, 15))


@dataclass(frozen=True, slots=True)
class Ledger:
    """A rotation and its question, with beds and needs by id."""

    rotation: Rotation
    question: RotationQuestion
    beds: dict[str, RotationBed]
    needs: dict[str, FamilyNeed]
    choices: dict[tuple[str, str], StandChoice]

    def wrong(self, where: str, what: str) -> Finding:
        """State a disagreement."""
        return Finding(where, what, REMEDY)

    def presence(self) -> list[tuple[str, str, int, int, float]]:
        """List (bed, family, year it comes, year it is lifted, area) of everything given."""
        area: dict[tuple[str, str, int], float] = defaultdict(float)
        for share in self.rotation.shares:
            area[share.bed, self.needs[share.need].family, share.year] += share.area_m2
        given = [(bed, family, year, year, m2) for (bed, family, year), m2 in area.items()]
        given += [
            (s.bed, s.family, s.planted_year, s.last_year, s.area_m2) for s in self.rotation.stands
        ]
        return given

    def gone_by(self, season: int) -> bool:
        """Say whether the middle of a season has gone by when the rotation is made."""
        day = self.question.made_on
        month, of_month = MIDDLES[season % SEASONS]
        return (season // SEASONS, month, of_month) < (day.year, day.month, day.day)


def check_labels(ledger: Ledger) -> Iterator[Finding]:
    """Everything given names a bed, a need, a kind and a year that were asked about."""
    span = ledger.question.span
    for share in ledger.rotation.shares:
        if share.bed not in ledger.beds or share.need not in ledger.needs:
            yield ledger.wrong(share.bed, f"nobody asked about {share.need} there.")
        if share.year not in span:
            yield ledger.wrong(share.bed, f"{share.year} is no year of the rotation.")
    for stand in ledger.rotation.stands:
        if stand.bed not in ledger.beds or (stand.kind, stand.line) not in ledger.choices:
            yield ledger.wrong(stand.bed, f"nobody asked for {stand.kind} there.")


def check_allowed(ledger: Ledger) -> Iterator[Finding]:
    """Nothing is given a bed of another cover, too dark, closed by disease, or too late."""
    for share in ledger.rotation.shares:
        need, bed = ledger.needs[share.need], ledger.beds[share.bed]
        first = SEASONS * share.year + min(need.seasons)
        if need.under_cover != bed.under_cover or bed.id in need.dark:
            yield ledger.wrong(bed.id, f"{need.family} cannot grow there.")
        if ledger.gone_by(first):
            yield ledger.wrong(bed.id, f"{need.family} of {share.year} should be begun by now.")
        yield from _closed(ledger, bed.id, need.family, need.crop, first // SEASONS)
    for stand in ledger.rotation.stands:
        choice = ledger.choices[stand.kind, stand.line]
        if stand.bed in choice.dark or ledger.beds[stand.bed].under_cover:
            yield ledger.wrong(stand.bed, f"{stand.kind} cannot grow there.")
        yield from _closed(ledger, stand.bed, stand.family, None, stand.planted_year)


def _closed(
    ledger: Ledger, bed: str, family: str, crop: str | None, year: int
) -> Iterator[Finding]:
    for closure in ledger.question.closures:
        meant = closure.crop is None or closure.crop == crop
        if meant and (closure.bed, closure.family) == (bed, family) and year < closure.until_year:
            what = f"{closure.disease} keeps {family} off it until {closure.until_year}."
            yield ledger.wrong(bed, what)


def check_ground(ledger: Ledger) -> Iterator[Finding]:
    """No bed holds more than its area in the middle of any season."""
    held = _held(ledger)
    for (bed, season), m2 in sorted(held.items()):
        most = ledger.beds[bed].area_m2
        if m2 > most + AREA_M2:
            when = f"quarter {season % SEASONS + 1} of {season // SEASONS}"
            yield ledger.wrong(bed, f"it holds {m2:.2f} m² of {most:.2f} m² in {when}.")


def _held(ledger: Ledger, *, for_cover: bool = False) -> dict[tuple[str, int], float]:
    """Add up what each bed holds in each season in which it is given anything [m²]."""
    held: dict[tuple[str, int], float] = defaultdict(float)
    for share in ledger.rotation.shares:
        need = ledger.needs[share.need]
        for offset in {*need.seasons, *(need.touches if for_cover else ())}:
            held[share.bed, SEASONS * share.year + offset] += share.area_m2
    for stand in ledger.rotation.stands:
        for season in range(SEASONS * stand.planted_year + 1, SEASONS * (stand.last_year + 1)):
            held[stand.bed, season] += stand.area_m2
    first = min((season for _, season in held), default=0)
    for bed in ledger.beds:
        for season in range(first, SEASONS * ledger.question.span.stop):
            held[bed, season] += sum(
                one.area_m2
                for one in ledger.question.held
                if one.bed == bed and season < one.until_season
            )
    return held


def check_families(ledger: Ledger) -> Iterator[Finding]:
    """Each family has of a bed and year what its needs have there, and room for no less."""
    told = {(f.bed, f.family, f.year): f for f in ledger.rotation.families}
    held = _held(ledger)
    added = {
        (bed, family, year): m2
        for bed, family, year, last, m2 in ledger.presence()
        if (bed, family, year) in told or year == last
    }
    stands = {(s.bed, s.family, s.planted_year) for s in ledger.rotation.stands}
    for key in sorted(set(told) | (set(added) - stands)):
        area = sum(
            share.area_m2
            for share in ledger.rotation.shares
            if (share.bed, ledger.needs[share.need].family, share.year) == key
        )
        one = told.get(key)
        if one is None or abs(one.area_m2 - area) > AREA_M2 or one.room_m2 < area - AREA_M2:
            yield ledger.wrong(key[0], f"{key[1]} of {key[2]} is told otherwise than it adds up.")
            continue
        fullest = max((held[one.bed, season] for season in one.seasons), default=0.0)
        if one.room_m2 - area > ledger.beds[one.bed].area_m2 - fullest + AREA_M2:
            yield ledger.wrong(key[0], f"{key[1]} of {key[2]} has more room than there is.")


def check_rests(ledger: Ledger) -> Iterator[Finding]:
    """Every rest that is broken is told, with its ground, years and price; and no other."""
    question = ledger.question
    told = sorted(
        (b.bed, b.family, b.year, b.years_missing, b.area_m2, b.price)
        for b in ledger.rotation.broken
    )
    found = sorted(
        (bed, family, year, missing, m2, question.prices.rest_m2_year * missing * m2)
        for bed, family, year, missing, m2 in _broken(ledger)
    )
    if [one[:4] for one in told] != [one[:4] for one in found]:
        yield ledger.wrong("rests", f"{len(found)} are broken, and {len(told)} are told.")
        return
    for one, other in zip(told, found, strict=True):
        if abs(one[4] - other[4]) > AREA_M2 or abs(one[5] - other[5]) > AREA_M2:
            yield ledger.wrong(one[0], f"{one[1]} of {one[2]}: the rest broken is told wrong.")


def _broken(ledger: Ledger) -> Iterator[tuple[str, str, int, int, float]]:
    given = ledger.presence()
    for bed, family, year, _, m2 in given:
        lifted = [when for one, when in ledger.beds[bed].lifted if one == family]
        lifted += [
            held.lifted_year
            for held in ledger.question.held
            if (held.bed, held.family) == (bed, family)
        ]
        lifted += [last for b, f, _, last, _ in given if (b, f) == (bed, family)]
        before = [when for when in lifted if when < year]
        missing = ledger.question.gap_years[family] - (year - max(before)) if before else 0
        if missing > 0:
            yield bed, family, year, missing, m2


def check_stands(ledger: Ledger) -> Iterator[Finding]:
    """Each stand gives what its age gives, year by year, and is cleared when it is worn out."""
    for stand in ledger.rotation.stands:
        choice = ledger.choices[stand.kind, stand.line]
        for age in range(1, choice.life_years + 1):
            shares = [share for year, share in choice.year_shares if year <= age]
            kg = choice.eaten_kg * stand.area_m2 / choice.full_m2 * (shares[-1] if shares else 0.0)
            year = stand.planted_year + age - 1
            told = [one.kg for one in stand.gives if (one.year, one.age) == (year, age)]
            if len(told) != 1 or abs(told[0] - kg) > KG:
                yield ledger.wrong(stand.bed, f"{stand.kind} is told wrong for {year}.")
        if stand.last_year != stand.planted_year + choice.life_years - 1:
            yield ledger.wrong(stand.bed, f"{stand.kind} is told worn out in {stand.last_year}.")


def check_covers(ledger: Ledger) -> Iterator[Finding]:
    """Each green manure has room all the while, and spends no rest before it or after it."""
    held = _held(ledger, for_cover=True)
    for cover in ledger.rotation.covers:
        for season in range(cover.first_season, cover.last_season + 1):
            held[cover.bed, season] += cover.area_m2
            if held[cover.bed, season] > ledger.beds[cover.bed].area_m2 + AREA_M2:
                yield ledger.wrong(cover.bed, f"{cover.kind} has no room there.")
    given = ledger.presence()
    for cover in ledger.rotation.covers:
        gap, year = ledger.question.gap_years[cover.family], cover.last_season // SEASONS
        others = [
            when
            for bed, f, first, last, _ in given
            for when in range(first, last + 1)
            if (bed, f) == (cover.bed, cover.family)
        ]
        others += [when for f, when in ledger.beds[cover.bed].lifted if f == cover.family]
        others += [
            one.last_season // SEASONS
            for one in ledger.rotation.covers
            if one != cover and (one.bed, one.family) == (cover.bed, cover.family)
        ]
        if any(abs(year - other) < gap for other in others):
            yield ledger.wrong(cover.bed, f"{cover.kind} of {year} spends a rest.")


def check_objective(ledger: Ledger) -> Iterator[Finding]:
    """No rotation costs other than what it leaves out, breaks and parts, or less than its bound."""
    rotation, prices = ledger.rotation, ledger.question.prices
    pieces = {(bed, family, year, last) for bed, family, year, last, _ in ledger.presence()}
    annual = {piece for piece in pieces if piece[2] == piece[3]}
    cost = prices.patch * (len(annual) + len(rotation.stands))
    cost += sum(prices.rest_m2_year * one[3] * one[4] for one in _broken(ledger))
    cost += sum(_going_without(ledger, year) for year in ledger.question.span)
    if abs(cost - rotation.objective) > NEAR * max(1.0, cost):
        what = f"it comes to {cost:.4f}, and is told to cost {rotation.objective:.4f}."
        yield ledger.wrong("what it costs", what)
    told = sum(one.price for one in rotation.going_without)
    if abs(told - sum(_going_without(ledger, year) for year in ledger.question.span)) > NEAR * max(
        1.0, cost
    ):
        yield ledger.wrong("what is left out", "it is not told as it adds up.")
    if rotation.bound > rotation.objective + NEAR:
        yield ledger.wrong("the bound", "it lies above what the rotation costs.")


def _going_without(ledger: Ledger, year: int) -> float:
    """Price what one year leaves out, needs slice by slice and lines by their stands."""
    total = 0.0
    for need in ledger.question.needs:
        if ledger.gone_by(SEASONS * year + min(need.seasons)):
            continue
        given = sum(
            s.area_m2 for s in ledger.rotation.shares if (s.need, s.year) == (need.id, year)
        )
        short = max(0.0, need.area_m2 - given)
        for share, price in ledger.question.prices.slices:
            total += need.worth_m2 * price * min(short, share * need.area_m2)
            short -= min(short, share * need.area_m2)
    for line in {line for _, line in ledger.choices}:
        choices = [choice for (_, of), choice in ledger.choices.items() if of == line]
        served = max(dict(choice.there).get(year, 0.0) for choice in choices)
        for stand in ledger.rotation.stands:
            choice = ledger.choices[stand.kind, stand.line]
            bearing = min(age for age, _ in choice.year_shares)
            if stand.line == line and 0 <= year - stand.planted_year <= choice.life_years - bearing:
                served += stand.area_m2 / choice.full_m2
        total += max(choice.weight * choice.eaten_kg for choice in choices) * max(0.0, 1 - served)
    return total


CHECKS: tuple[Callable[[Ledger], Iterator[Finding]], ...] = (
    check_labels,
    check_allowed,
    check_ground,
    check_families,
    check_rests,
    check_stands,
    check_covers,
    check_objective,
)
"""Every check, in the order its findings are told."""


def audit_rotation(rotation: Rotation, question: RotationQuestion) -> tuple[Finding, ...]:
    """Re-add a rotation and tell everything that does not agree; empty where all does."""
    ledger = Ledger(
        rotation,
        question,
        {bed.id: bed for bed in question.beds},
        {need.id: need for need in question.needs},
        {(choice.kind, choice.line): choice for choice in question.stands},
    )
    labels = tuple(check_labels(ledger))
    if labels:
        return labels
    return tuple(finding for check in CHECKS for finding in check(ledger))


def insist_on_rotation(rotation: Rotation, question: RotationQuestion) -> Rotation:
    """Give a rotation back if it survives its audit.

    Raises
    ------
    AuditFailedError
        With every finding, when it does not.
    """
    findings = audit_rotation(rotation, question)
    if findings:
        raise AuditFailedError(findings)
    return rotation
