"""An entry of the diary as a sentence."""

from haulm.season.records import Amount, Entry, Measured

SIGNS = {
    Measured.KG: "kg",
    Measured.PIECES: "pieces",
    Measured.LITRES: "l",
    Measured.MINUTES: "min",
    Measured.MILLIMETRES: "mm",
    Measured.CELSIUS: "°C",
    Measured.SQUARE_METRES: "m²",
}


def sentence(entry: Entry) -> str:
    """Write an entry as it would be read out: day, what, how much, of what, where."""
    about = entry.about
    what = about.food or about.trouble or about.kind or ""
    where = [name for name in (about.store, about.bed) if name]
    said = [f"{entry.day.isoformat()} {entry.kind}"]
    if entry.count is not None and entry.amount is not None:
        sign = SIGNS[entry.amount.measured]
        parts = {"sound": entry.count.sound, "soft": entry.count.soft}
        parts["sprouted"] = entry.count.sprouted
        said.append(", ".join(f"{number:g} {sign} {word}" for word, number in parts.items()))
    elif entry.amount is not None:
        said.append(amount_text(entry.amount))
    said.extend(word for word in (what, about.severity or "", about.form or "") if word)
    if where:
        said.append(f"in {' and '.join(where)}")
    if about.planting and not about.kind:
        said.append(f"({about.planting})")
    if entry.minutes is not None:
        said.append(f"{entry.minutes:g} min")
    if entry.words:
        said.append(f"“{entry.words}”")
    return " ".join(said)


def amount_text(amount: Amount) -> str:
    """Write an amount with its unit."""
    return f"{amount.number:g} {SIGNS[amount.measured]}"
