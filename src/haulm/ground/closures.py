"""Ground that disease has closed: to which family, until when, by common advice and by survival.

Common garden advice and published survival of soil-borne diseases differ by decades at times. Both
are kept; the longer one rules.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from haulm.ground.records import Bed, Closure, DiseaseFound
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.near import near_names


@dataclass(frozen=True, slots=True)
class DiseaseClock:
    """How long one disease closes ground, and to which families.

    Attributes
    ----------
    disease, name
        Its id, and the name it is spoken of by.
    closes
        Ids of the families it keeps off.
    closes_crops
        Crops it keeps off besides, each with its family.
    common_years, published_years
        Whole years without a host, by common garden advice and by survival in published work.
    """

    disease: str
    name: str
    closes: tuple[str, ...]
    common_years: int
    published_years: int
    closes_crops: tuple[tuple[str, str], ...] = ()


def closures(beds: Sequence[Bed], clocks: Mapping[str, DiseaseClock]) -> tuple[Closure, ...]:
    """Find every family, and every crop by itself, that disease keeps off every bed.

    A disease last seen in 2024 that needs 10 years without a host keeps its families off from 2025
    to 2034: they may return in 2035. Where a disease was found more than once, the last time rules.
    One whose clock stands at nothing does not live in soil, and closes none.

    Parameters
    ----------
    beds
        Beds with what was found on them.
    clocks
        Disease clocks by disease id.

    Raises
    ------
    FaultsFoundError
        With a finding for every disease that has no clock.
    """
    findings = [
        _unknown(bed.name, "disease", found.disease, clocks)
        for bed in beds
        for found in bed.found
        if found.disease not in clocks
    ]
    if findings:
        raise FaultsFoundError(findings)
    return tuple(
        _closure(bed.id, kept, found, clocks[found.disease])
        for bed in beds
        for found in _last_found(bed)
        for kept in _kept_off(clocks[found.disease])
    )


def _kept_off(clock: DiseaseClock) -> tuple[tuple[str | None, str], ...]:
    """Give what a disease keeps off: crops by themselves, each with its family, and families."""
    if not clock.common_years and not clock.published_years:
        return ()
    return (*((None, family) for family in clock.closes), *clock.closes_crops)


def closed_until(closures: Iterable[Closure], bed: str, family: str, crop: str = "") -> int | None:
    """Give the first year in which a crop of a family may grow on a bed again; None if it may now.

    Several diseases may close one bed to one family: the last to lift rules. Where no crop is
    named, what is closed to single crops of the family does not count.
    """
    last = last_closure(closures, bed, family, crop)
    return last.until_year if last else None


def last_closure(closures: Iterable[Closure], bed: str, family: str, crop: str) -> Closure | None:
    """Find what keeps a crop of a family off a bed the longest; None where nothing does."""
    keeping_off = (closure for closure in closures if closure.keeps_off(bed, family, crop))
    return max(keeping_off, key=lambda closure: closure.until_year, default=None)


def last_year_of_family(bed: Bed, family_of_crop: Mapping[str, str]) -> tuple[tuple[str, int], ...]:
    """Give, by family, the last calendar year in which a crop of it was lifted from a bed.

    Raises
    ------
    FaultsFoundError
        With a finding for every past crop of no known family.
    """
    findings = [
        _unknown(bed.name, "crop", past.crop, family_of_crop)
        for past in bed.past
        if past.crop not in family_of_crop
    ]
    if findings:
        raise FaultsFoundError(findings)
    last: dict[str, int] = {}
    for past in bed.past:
        family = family_of_crop[past.crop]
        last[family] = max(past.year, last.get(family, past.year))
    return tuple(sorted(last.items()))


def closure_sentence(closure: Closure, bed_name: str, kept_off: str, disease_name: str) -> str:
    """Say a closure in one sentence, with both counts of years and the longer one's outcome.

    ``kept_off`` is the name of the family or crop.
    """
    common = closure.common_until_year - closure.found_year - 1
    published = closure.published_until_year - closure.found_year - 1
    return (
        f"{bed_name}: no {kept_off} until {closure.until_year} "
        f"({disease_name} found {closure.found_year}; common advice {common} years, "
        f"published survival {published} or more)"
    )


def _last_found(bed: Bed) -> list[DiseaseFound]:
    last: dict[str, DiseaseFound] = {}
    for found in sorted(bed.found, key=lambda found: found.year):
        last[found.disease] = found
    return list(last.values())


def _closure(
    bed: str, kept: tuple[str | None, str], found: DiseaseFound, clock: DiseaseClock
) -> Closure:
    crop, family = kept
    common = found.year + clock.common_years + 1
    published = found.year + clock.published_years + 1
    return Closure(
        bed=bed,
        family=family,
        disease=found.disease,
        found_year=found.year,
        until_year=max(common, published),
        common_until_year=common,
        published_until_year=published,
        crop=crop,
    )


def _unknown(where: str, what: str, word: str, known: Iterable[str]) -> Finding:
    near = near_names(word, known)
    remedy = f"Is {' or '.join(near)} meant?" if near else f"Name a {what} of the catalogue."
    return Finding(where, f"the {what} “{word}” is not known.", remedy)
