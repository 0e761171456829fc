"""How long food keeps in store, against storage tables."""

from functools import partial

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Keeping
from truth.published import Check, Rule, Section, Span, Table
from truth.rows import rows_of

TABLES = {
    "usda-66-1954": "USDA, Agriculture Handbook 66, 1954, table of vegetables",
    "usda-garden-produce": "USDA, Canning, Freezing, Storing Garden Produce",
    "ucdavis-storage": "UC Davis, Properties and Recommended Conditions for Storage",
    "suslow-onion": "Suslow, Onions, Dry: Produce Facts, UC Davis",
    "umass-storage": "UMass Extension, Optimal Storage Conditions of Fall Storage Crops",
    "wisconsin-storage": "H. C. Harrison, Optimal Storage Conditions, UW Extension",
    "new-england-16": "New England Vegetable Management Guide, Table 16",
}
AS_QUOTED = {
    "usda-66-1954": "as a text copy of its table gives it",
    "usda-garden-produce": "as an online copy of the chapter gives it",
    "ucdavis-storage": "as North Carolina State University quotes it",
    "wisconsin-storage": "as a market garden adapts it",
}


def kept(kind: str, food: str, form: str) -> Keeping:
    """Give one form in which a kind's food keeps."""
    givings = load_catalogue().kinds[kind].givings
    giving = next(giving for giving in givings if giving.food == food)
    return next(keeping for keeping in giving.keeping if keeping.form == form)


def sound_weeks(kind: str, food: str, form: str) -> Span:
    """Give the weeks from nine tenths sound to half sound."""
    keeping = kept(kind, food, form)
    return keeping.sound_90_weeks.value, keeping.sound_50_weeks.value


SECTION = Section(
    "In store",
    tuple(
        Table(
            claim="The weeks from nine tenths sound to half sound meet the weeks of the table.",
            source=title,
            unit="weeks",
            tolerance=0.5,
            rule=Rule.MEETS,
            why="whole months are printed, and no share lost is named",
            carried=True,
            read=AS_QUOTED.get(source, "read itself"),
            checks=tuple(
                Check(
                    f"{row['kind']}, {row['form']}",
                    (float(row["least_weeks"]), float(row["most_weeks"])),
                    partial(sound_weeks, row["kind"], row["food"], row["form"]),
                    row["why_ours_differs"],
                )
                for row in rows_of("catalogue_storage.csv")
                if row["source"] == source
            ),
        )
        for source, title in TABLES.items()
    ),
)
