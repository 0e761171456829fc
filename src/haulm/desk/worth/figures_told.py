"""What a figure of the catalogue rests on, in words."""

from haulm.catalogue.records import Basis, Catalogue, Figure
from haulm.desk.showing.crop_pages import plain_number


def rests_on(figure: Figure, catalogue: Catalogue) -> str:
    """Say what a figure rests on, whose it is, and what is to be known of it."""
    basis = str(figure.basis) if figure.basis is not Basis.OWN else yours(figure)
    if figure.source is not None:
        source = catalogue.sources[figure.source]
        basis += f": {source.title}, {source.publisher}"
    parts = [
        f"stands in from {catalogue.kinds[figure.borrowed_from].name}"
        if figure.borrowed_from
        else "",
        basis,
        f"printed as {figure.printed}" if figure.printed else "",
        f"agrees with: {figure.check}" if figure.check else "",
        figure.note,
    ]
    return ". ".join(part.rstrip(". ") for part in parts if part)


def yours(figure: Figure) -> str:
    """Say that a figure is the household's own, and what the catalogue's is."""
    was = figure.replaced
    if was is None:
        return "yours; the catalogue has none"
    unit = "" if was.unit == "1" else f" {was.unit}"
    return f"yours; the catalogue says {plain_number(was.value)}{unit}, {was.basis}"
