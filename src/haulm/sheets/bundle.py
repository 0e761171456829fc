"""What a set of sheets is made from, gathered once and checked by label."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from enum import Enum

from haulm.catalogue.records import Catalogue, Family, Kind, Method
from haulm.ground.records import Bed, Closure
from haulm.larder.records import StorePlace
from haulm.measure.errors import LabelsDifferError
from haulm.measure.sentences import capital
from haulm.measure.units import Units
from haulm.plan.records import Plan, Planting
from haulm.planting.records import PatchLayout
from haulm.sheets.store_odds import StoreOdds
from haulm.site.records import FrostOdds, Place


class Paper(Enum):
    """A sheet upright: width and height [mm]. A4 by ISO 216; Letter is 8.5 × 11 in."""

    A4 = (210.0, 297.0)
    LETTER = (215.9, 279.4)

    @property
    def upright(self) -> tuple[float, float]:
        """Width and height with the long side upright [mm]."""
        return self.value

    @property
    def lying(self) -> tuple[float, float]:
        """Width and height with the long side lying [mm]."""
        width, height = self.value
        return height, width


def usual_paper(units: Units) -> Paper:
    """Give the paper that is usual where such units are."""
    return Paper.LETTER if units == "us" else Paper.A4


@dataclass(frozen=True, slots=True)
class SheetBundle:
    """Everything that the sheets of one plan need.

    Attributes
    ----------
    plan
        The plan to be printed.
    beds
        Every bed of the plan with its outline, in the grower's order.
    layouts
        By bed id: the stations of its plantings; a layout's name is the planting's id.
    catalogue
        What the kinds and foods of the plan are.
    lines
        The display name of every line of the table, by id.
    stores, closures
        Where food is kept, and which families are kept off which beds.
    frost
        Frost odds by threshold, that for 0 °C first; empty where none are known.
    place
        Where the garden lies.
    stock_in_hand
        Planting stock in hand by kind id [units].
    units
        ``metric`` or ``us``: how measures are written.
    printed_on
        The day of printing.
    invented
        Whether the garden is made up, which every sheet then says.
    ages
        The ages of those who eat [years]; None where nobody is named.
    store_odds
        What many seasons say of the stores; None where they were not reckoned.
    """

    plan: Plan
    beds: tuple[Bed, ...]
    layouts: Mapping[str, tuple[PatchLayout, ...]]
    catalogue: Catalogue
    lines: Mapping[str, str]
    stores: tuple[StorePlace, ...]
    closures: tuple[Closure, ...]
    frost: tuple[FrostOdds, ...]
    place: Place
    stock_in_hand: Mapping[str, float]
    units: Units
    printed_on: date
    invented: bool
    ages: tuple[int, ...] | None = None
    store_odds: StoreOdds | None = None

    def bed(self, bed_id: str) -> Bed:
        """Give the bed of an id.

        Raises
        ------
        LabelsDifferError
            If no bed has that id.
        """
        for bed in self.beds:
            if bed.id == bed_id:
                return bed
        message = f"No bed is called {bed_id}; the beds are {', '.join(b.id for b in self.beds)}."
        raise LabelsDifferError(message)

    def plantings_in(self, bed_id: str) -> tuple[Planting, ...]:
        """Give the plantings of a bed in order of the day they take its ground, then by id."""
        found = (planting for planting in self.plan.plantings if planting.bed == bed_id)
        return tuple(sorted(found, key=lambda planting: (planting.in_ground_from, planting.id)))

    def layout_of(self, planting: Planting) -> PatchLayout:
        """Give the layout of a planting.

        Raises
        ------
        LabelsDifferError
            If the planting has none.
        """
        for layout in self.layouts.get(planting.bed, ()):
            if layout.name == planting.id:
                return layout
        message = f"Planting {planting.id} has no layout in bed {planting.bed}."
        raise LabelsDifferError(message)

    def stays(self, planting: Planting) -> bool:
        """Whether a planting stays for years, past the plan's end."""
        kind = self.catalogue.kinds.get(planting.kind)
        return kind is not None and kind.perennial is not None

    def kind_of(self, planting: Planting) -> Kind:
        """Give the catalogue's entry for a planting's kind."""
        return self.catalogue.kinds[planting.kind]

    def crop_name(self, planting: Planting) -> str:
        """Give the name of a planting's crop, as it stands at the head of a table."""
        return capital(self.catalogue.crops[planting.crop].name)

    def kind_detail(self, kind_id: str) -> str:
        """Give what a kind's name adds to its crop's: maincrop, of maincrop potato; or nothing."""
        kind = self.catalogue.kinds[kind_id]
        crop = self.catalogue.crops[kind.crop].name
        if kind.name.lower() == crop.lower():
            return ""
        detail = kind.name.removesuffix(f" {crop}").removeprefix(f"{crop} ")
        # A bean for drying, of French bean, is for drying.
        return detail.removeprefix(f"{crop.split()[-1]} ")

    def kind_words(self, kind_id: str) -> str:
        """Name a kind with its crop first, as in Potato, maincrop."""
        crop = capital(self.catalogue.crops[self.catalogue.kinds[kind_id].crop].name)
        detail = self.kind_detail(kind_id)
        return f"{crop}, {detail}" if detail else crop

    def full_name(self, planting: Planting) -> str:
        """Name a planting's kind with its crop first, as in Potato, maincrop."""
        return self.kind_words(planting.kind)

    @property
    def garden_words(self) -> str:
        """The garden's name, with its place where the name does not say it."""
        garden, place = self.plan.garden, self.place.name
        return garden if place in garden else f"{garden}, {place}"

    def family_of(self, planting: Planting) -> Family:
        """Give a planting's family."""
        return self.catalogue.families[planting.family]

    def method_of(self, planting: Planting) -> Method | None:
        """Give how a planting was started; None where the catalogue no longer lists the method."""
        for method in self.kind_of(planting).methods:
            if method.id == planting.method:
                return method
        return None


def check_labels(bundle: SheetBundle) -> None:
    """Hold every label of a bundle against the table it points into.

    Raises
    ------
    LabelsDifferError
        Naming every planting without bed, layout or catalogue entry, and every line of the table
        without a name.
    """
    beds = {bed.id for bed in bundle.beds}
    laid_out = {(bed, layout.name) for bed, some in bundle.layouts.items() for layout in some}
    tables = bundle.catalogue
    faults = []
    for planting in bundle.plan.plantings:
        lacks = {
            "bed": planting.bed in beds,
            "layout": (planting.bed, planting.id) in laid_out,
            "crop": planting.crop in tables.crops,
            "kind": planting.kind in tables.kinds,
            "family": planting.family in tables.families,
        }
        missing = [word for word, there in lacks.items() if not there]
        if missing:
            faults.append(f"Planting {planting.id}: {' and '.join(missing)} unknown.")
    lines = {row.line for row in bundle.plan.table} - set(bundle.lines)
    faults += [f"Line {line} of the table has no name." for line in sorted(lines)]
    if faults:
        raise LabelsDifferError("\n".join(faults))
