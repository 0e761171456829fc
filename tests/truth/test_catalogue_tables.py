"""What the catalogue says in words, against whole published tables."""

import re

import pytest

from haulm.catalogue.loader import load_catalogue
from truth.checks.stores import kept
from truth.rows import rows_of

# Families as older lists name them, and the ones the Angiosperm Phylogeny Group put them in (2016).
TODAY = {
    "Alliaceae": "Amaryllidaceae",
    "Chenopodiaceae": "Amaranthaceae",
    "Gramineae": "Poaceae",
    "Liliaceae": "Amaryllidaceae",
    "Valerianaceae": "Caprifoliaceae",
}


@pytest.mark.parametrize("row", rows_of("catalogue_families.csv"), ids=lambda row: row["crop"])
def test_a_crop_stands_in_its_botanical_family(row: dict[str, str]) -> None:
    """Rotation goes by the family that lists of vegetables by family print, under today's name.

    A to Z of Vegetable Families (Mother Earth News); Healthy Soil for a Good Harvest, crop
    families; Grouping Vegetables According to Plant Families (Fondation Louis Bonduelle); a booklet
    on food plants, chapter of vegetables; Food Plant Families and Botanical Definitions. Old names
    are turned into today's from memory.
    """
    catalogue = load_catalogue()
    ours = catalogue.families[catalogue.crops[row["crop"]].family].latin
    assert ours == TODAY.get(row["family_printed"], row["family_printed"])


@pytest.mark.parametrize(
    "row",
    [row for row in rows_of("catalogue_storage.csv") if row["celsius"]],
    ids=lambda row: f"{row['kind']}-{row['form']}-{row['source']}",
)
def test_stores_are_as_cold_as_storage_tables_ask(row: dict[str, str]) -> None:
    """The temperature a table stores a food at lies within 2 °C of the one we tell to aim for.

    Sources as in ``checks/stores.py``; early potatoes of one table are unripe and stored warm.
    Tolerance: printed in °F to the nearest whole or as a span, and cellars are no steadier.
    """
    words = kept(row["kind"], row["food"], row["form"]).conditions
    told = [float(number) for number in re.findall(r"(-?\d+)(?= to -?\d+ °C| °C)", words)]
    near = any(abs(number - float(row["celsius"])) <= 2 for number in told)
    assert near or row["why_ours_differs"].startswith("unripe")
