"""Show on a terminal what is weakest in the catalogue."""

from haulm.catalogue.gaps import CatalogueGap
from haulm.cli.show import line, table
from haulm.desk.showing.crop_footing import counted_gaps, lacking_words


def gaps(found: tuple[CatalogueGap, ...]) -> None:
    """Print what is weakest, the gravest first, with where it stands and what would mend it."""
    counts = ", ".join(f"{count} {sort}" for sort, count in counted_gaps(found).items())
    line(f"What is weakest in the catalogue: {counts}.")
    table(
        ("crop", "gap", "of", "figures", "where", "what would mend it"),
        (
            (
                gap.crop,
                gap.sort.value,
                gap.matter,
                lacking_words(gap),
                "; ".join(gap.where),
                gap.mend,
            )
            for gap in found
        ),
    )
    whys = dict.fromkeys(gap.what for gap in found if gap.sort.value == "absent")
    for why in whys:
        line(why)
