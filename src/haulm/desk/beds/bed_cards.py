"""Each bed with what stands on it today and what is kept off it: the ground at a glance."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from haulm.catalogue.records import Catalogue, Kind
from haulm.desk.beds.ground import closed_ground, kept_off
from haulm.desk.beds.soil_told import NOT_TESTED, SoilTold, feeds_of, soil_of
from haulm.ground.closures import closure_sentence
from haulm.ground.records import Bed, Closure, Cover
from haulm.measure.errors import FaultsFoundError
from haulm.notebook.garden import Garden
from haulm.sheets.bundle import SheetBundle
from haulm.site.frost import frost_date
from haulm.site.spots import night_gain_c, spot_frosts


@dataclass(frozen=True, slots=True)
class Stands:
    """One crop that stands on a bed: its name and the ground it holds [m²]."""

    name: str
    area_m2: float


@dataclass(frozen=True, slots=True)
class Closed:
    """A family kept off a bed: the sentence that says until when and why, and what to do."""

    sentence: str
    advice: str


@dataclass(frozen=True, slots=True)
class OtherNights:
    """A bed whose nights are other than the garden's.

    Attributes
    ----------
    colder
        Whether they are colder.
    last, first
        Middle day of the last frost of spring and of the first of autumn there; None where too few
        years freeze.
    last_in_garden, first_in_garden
        The garden's own.
    """

    colder: bool
    last: date | None
    first: date | None
    last_in_garden: date | None
    first_in_garden: date | None


@dataclass(frozen=True, slots=True)
class BedCard:
    """One bed at a glance, by its number in the grower's order, from 1.

    ``nights`` is None for a bed whose nights are the garden's.
    """

    number: int
    bed: Bed
    stands: tuple[Stands, ...]
    closed: tuple[Closed, ...]
    nights: OtherNights | None = None
    soil: SoilTold = NOT_TESTED
    feeds: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class GroundSum:
    """The ground of one cover: how many beds, how much [m²], how much of it stands full [m²]."""

    cover: Cover
    beds: int
    area_m2: float
    stands_m2: float


def bed_cards(
    garden: Garden, catalogue: Catalogue, bundle: SheetBundle | None, day: date
) -> tuple[BedCard, ...]:
    """Give every bed at a glance.

    What stands is taken from the plan where there is one, else from what the grower told.
    """
    closed = closed_ground(garden, catalogue)
    return tuple(
        BedCard(
            number,
            bed,
            _stands(bed, garden, catalogue, bundle, day),
            _closed(bed, closed, catalogue),
            _nights(bed, garden, day),
            soil_of(bed, [kind.crop for kind in kinds], catalogue),
            feeds_of(kinds, garden.units),
        )
        for number, bed in enumerate(garden.beds, start=1)
        for kinds in [_kinds(bed, garden, catalogue, bundle)]
    )


def _kinds(
    bed: Bed, garden: Garden, catalogue: Catalogue, bundle: SheetBundle | None
) -> list[Kind]:
    """List the kinds that stand in a bed or are planned for it."""
    if bundle is not None and bed.id in {planned.id for planned in bundle.beds}:
        return [bundle.kind_of(planting) for planting in bundle.plantings_in(bed.id)]
    return [catalogue.kinds[stand.kind] for stand in garden.standing if stand.bed == bed.id]


def _nights(bed: Bed, garden: Garden, day: date) -> OtherNights | None:
    """Tell a bed's own frosts; None where its nights are the garden's, or no odds are known."""
    if not bed.spot:
        return None
    place = garden.place
    try:
        here = spot_frosts(garden.weather, place, bed.spot)
        garden_s = spot_frosts(garden.weather, place, ())
    except FaultsFoundError:
        # Weather too thin to tell any odds; the place's page says so.
        return None
    days = [
        frost_date(odds, place, day.year, which, 0.5)
        for odds in (here, garden_s)
        for which in ("last_spring", "first_autumn")
    ]
    return OtherNights(night_gain_c(bed.spot) < 0, *days)


def ground_sums(cards: Sequence[BedCard]) -> tuple[GroundSum, ...]:
    """Add up the ground by what stands over it; covers that no bed has are left out."""
    return tuple(
        GroundSum(
            cover,
            len(under),
            sum(card.bed.outline.area_m2 for card in under),
            sum(stand.area_m2 for card in under for stand in card.stands),
        )
        for cover in Cover
        if (under := [card for card in cards if card.bed.cover is cover])
    )


def _stands(
    bed: Bed, garden: Garden, catalogue: Catalogue, bundle: SheetBundle | None, day: date
) -> tuple[Stands, ...]:
    """List what stands on a bed on a day."""
    if bundle is not None and bed.id in {planned.id for planned in bundle.beds}:
        return tuple(
            Stands(bundle.full_name(planting), planting.area_m2)
            for planting in bundle.plantings_in(bed.id)
            if planting.in_ground_from <= day < planting.clear_by
        )
    return tuple(
        Stands(catalogue.kinds[stand.kind].name, stand.area_m2)
        for stand in garden.standing
        if stand.bed == bed.id and stand.sown_on <= day
    )


def _closed(bed: Bed, closed: Sequence[Closure], catalogue: Catalogue) -> tuple[Closed, ...]:
    """Say what is kept off a bed."""
    told = []
    for closure in closed:
        if closure.bed == bed.id:
            disease, kept = catalogue.diseases[closure.disease], kept_off(closure, catalogue)
            sentence = closure_sentence(closure, bed.name, kept, disease.name)
            told.append(Closed(f"{sentence}.", disease.advice))
    return tuple(told)
