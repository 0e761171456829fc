"""An entry of the diary as a sentence."""

from collections.abc import Callable, Mapping

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


def sentence(entry: Entry, units: Units) -> str:
    """Write an entry as it would be read out: day, what, how much, of what, where."""
    about = entry.about
    what = about.food or about.trouble or about.kind or ""
    if entry.kind is EntryKind.TANK_READ:
        what = about.tank or ""
    where = [name for name in (about.store, about.bed) if name]
    out_of = about.tank if entry.kind is EntryKind.WATERED else None
    said = [f"{entry.day.isoformat()} {entry.kind}"]
    if entry.count is not None and entry.amount is not None:
        show = SHOWN[entry.amount.measured]
        parts = {"sound": entry.count.sound, "soft": entry.count.soft}
        parts["sprouted"] = entry.count.sprouted
        said.append(", ".join(f"{show(number, units)} {word}" for word, number in parts.items()))
    elif entry.amount is not None:
        said.append(amount_text(entry.amount, units))
    if entry.leaves is not None:
        said.append(leaves_text(entry.leaves))
    said.extend(word for word in (what, about.severity or "", about.form or "") if word)
    if where:
        said.append(f"in {' and '.join(where)}")
    if out_of:
        said.append(f"from {out_of}")
    if about.planting and not about.kind:
        said.append(f"({about.planting})")
    if entry.minutes is not None:
        said.append(f"{entry.minutes:g} min")
    if entry.words:
        said.append(f"“{entry.words}”")
    return " ".join(said)


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
