"""An entry of the diary as a sentence."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date

from haulm.desk.garden.opening import Opened
from haulm.measure.units import (
    Units,
    show_area,
    show_mass,
    show_rain,
    show_temperature,
    show_volume,
)
from haulm.season.records import Amount, Entry, EntryKind, Leaves, Measured

SHOWN: Mapping[Measured, Callable[[float, Units], str]] = {
    Measured.KG: show_mass,
    Measured.PIECES: lambda number, _: f"{number:g} pieces",
    Measured.LITRES: show_volume,
    Measured.MINUTES: lambda number, _: f"{number:g} min",
    Measured.MILLIMETRES: show_rain,
    Measured.CELSIUS: show_temperature,
    Measured.SQUARE_METRES: show_area,
}
"""How each amount is written in a garden's units."""


@dataclass(frozen=True, slots=True)
class DiaryWords:
    """Reads entries of the diary out, in a garden's units and by the names it gives.

    Attributes
    ----------
    units
        ``metric`` or ``us``.
    foods, kinds, places
        Display names by id: of foods, of kinds, and of beds and stores. What is not among them is
        told by its id.
    """

    units: Units = "metric"
    foods: Mapping[str, str] = field(default_factory=dict)
    kinds: Mapping[str, str] = field(default_factory=dict)
    places: Mapping[str, str] = field(default_factory=dict)

    def sentence(self, entry: Entry, day: Callable[[date], str] = date.isoformat) -> str:
        """Write an entry as it would be read out: day, what, how much, of what, where."""
        return f"{day(entry.day)} {self.undated(entry)}"

    def undated(self, entry: Entry) -> str:
        """Write an entry without its day."""
        about = entry.about
        said = [str(entry.kind), *self._amounts(entry), *self._what(entry)]
        said += [word for word in (about.severity or "", about.form or "") if word]
        where = [self.places.get(name, name) for name in (about.store, about.bed) if name]
        if where:
            said.append(f"in {' and '.join(where)}")
        if about.tank and entry.kind is EntryKind.WATERED:
            said.append(f"from {about.tank}")
        if about.planting and not about.kind:
            said.append(f"({about.planting})")
        if entry.minutes is not None:
            said.append(f"{entry.minutes:g} min")
        if entry.words:
            said.append(f"“{entry.words}”")
        return " ".join(word for word in said if word)

    def _amounts(self, entry: Entry) -> Iterator[str]:
        """Write how much, or what was found sound, soft and sprouted; and what leaves say."""
        if entry.count is not None and entry.amount is not None:
            show = SHOWN[entry.amount.measured]
            parts = {"sound": entry.count.sound, "soft": entry.count.soft}
            parts["sprouted"] = entry.count.sprouted
            yield ", ".join(f"{show(number, self.units)} {word}" for word, number in parts.items())
        elif entry.amount is not None:
            yield amount_text(entry.amount, self.units)
        if entry.leaves is not None:
            yield leaves_text(entry.leaves)

    def _what(self, entry: Entry) -> Iterator[str]:
        about = entry.about
        kind = self.kinds.get(about.kind or "", about.kind or "")
        if entry.kind is EntryKind.TANK_READ:
            yield about.tank or ""
        elif about.trouble:
            yield f"{about.trouble} on {kind}" if kind else about.trouble
        elif about.food:
            yield self.foods.get(about.food, about.food)
        else:
            yield kind


def words_of(opened: Opened) -> DiaryWords:
    """Give the words in which a garden's diary is read out."""
    garden, catalogue = opened.garden, opened.catalogue
    return DiaryWords(
        garden.units,
        {food.id: food.name for food in catalogue.foods.values()},
        {kind.id: kind.name for kind in catalogue.kinds.values()},
        {bed.id: bed.name for bed in garden.beds}
        | {store.id: store.name for store in garden.stores},
    )


def leaves_text(leaves: Leaves) -> str:
    """Write what leaves say."""
    said = []
    if leaves.green is not None:
        said.append(f"{leaves.green:g} leaves green")
    if leaves.brown is not None:
        said.append(f"{leaves.brown:g} brown")
    if leaves.down is not None:
        said.append(f"{100 * leaves.down:g} % of tops down")
    return ", ".join(said)


def amount_text(amount: Amount, units: Units) -> str:
    """Write an amount with its unit."""
    return SHOWN[amount.measured](amount.number, units)
