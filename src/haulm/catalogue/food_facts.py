"""What foods hold: energy, protein, vitamins and minerals in 100 g of the edible part."""

import csv
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from io import StringIO

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.near import near_names

ORIGIN = "USDA FoodData Central, SR Legacy, U.S. Department of Agriculture"
FOODS, ROWS = "foods.toml", "usda_rows.csv"
NOT_LOOKED_FOR = "nobody has looked for its row yet"


@dataclass(frozen=True, slots=True)
class Nutrient:
    """Something that food holds: its field without ``_100g``, its name, unit, and USDA column."""

    id: str
    name: str
    unit: str
    column: str


NUTRIENTS = (
    Nutrient("energy_kcal", "energy", "kcal", "Energy"),
    Nutrient("protein_g", "protein", "g", "Protein"),
    Nutrient("fat_g", "fat", "g", "Total fat"),
    Nutrient("carbohydrate_g", "carbohydrate", "g", "Carbohydrate"),
    Nutrient("fibre_g", "fibre", "g", "Fiber"),
    Nutrient("vitamin_a_ug", "vitamin A", "µg", "Vitamin A, RAE"),
    Nutrient("vitamin_c_mg", "vitamin C", "mg", "Vitamin C"),
    Nutrient("vitamin_e_mg", "vitamin E", "mg", "Vitamin E"),
    Nutrient("vitamin_k_ug", "vitamin K", "µg", "Vitamin K1"),
    Nutrient("folate_ug", "folate", "µg", "Folate, total"),
    Nutrient("calcium_mg", "calcium", "mg", "Calcium"),
    Nutrient("iron_mg", "iron", "mg", "Iron"),
    Nutrient("magnesium_mg", "magnesium", "mg", "Magnesium"),
    Nutrient("potassium_mg", "potassium", "mg", "Potassium"),
    Nutrient("zinc_mg", "zinc", "mg", "Zinc"),
)


@dataclass(frozen=True, slots=True)
class FoodFacts:
    """What 100 g of the edible part of a food hold, raw unless ``note`` says otherwise.

    ``food`` is the food's id, ``row`` the description of the USDA row, ``note`` where the two are
    not quite the same. A nutrient that nobody measured is None. Vitamin A is in retinol activity
    equivalents, carbohydrate is by difference and holds the fibre.
    """

    food: str
    row: str
    note: str
    energy_kcal_100g: float | None
    protein_g_100g: float | None
    fat_g_100g: float | None
    carbohydrate_g_100g: float | None
    fibre_g_100g: float | None
    vitamin_a_ug_100g: float | None
    vitamin_c_mg_100g: float | None
    vitamin_e_mg_100g: float | None
    vitamin_k_ug_100g: float | None
    folate_ug_100g: float | None
    calcium_mg_100g: float | None
    iron_mg_100g: float | None
    magnesium_mg_100g: float | None
    potassium_mg_100g: float | None
    zinc_mg_100g: float | None

    def of(self, nutrient: Nutrient) -> float | None:
        """Give one nutrient in 100 g, in its unit; None where it is not known."""
        amount: float | None = getattr(self, f"{nutrient.id}_100g")
        return amount


@dataclass(frozen=True, slots=True)
class FactsKnown:
    """The facts by food, and for foods without any the reason."""

    facts: Mapping[str, FoodFacts]
    absent: Mapping[str, str]

    def why_absent(self, food: str) -> str:
        """Say why nothing is known of what a food holds."""
        return self.absent.get(food, NOT_LOOKED_FOR)


@cache
def load_food_facts() -> FactsKnown:
    """Load the facts that come with haulm; read once, then kept.

    Raises
    ------
    FaultsFoundError
        When its files have faults.
    """
    return read_food_facts(files("haulm.catalogue") / "data" / "food_facts")


def read_food_facts(folder: Traversable) -> FactsKnown:
    """Read which row each food is, and the rows, from a folder with ``foods.toml`` and its table.

    Raises
    ------
    FaultsFoundError
        With every fault found: a row that is not in the table, a food with both a row and a reason
        for having none or with neither, an amount below nothing, a row that no food is.
    """
    foods = tomllib.loads((folder / FOODS).read_text(encoding="utf-8"))
    table = csv.DictReader(StringIO((folder / ROWS).read_text(encoding="utf-8")))
    rows = {row["foodName"]: row for row in table}
    findings = [
        *(found for name, row in rows.items() for found in _row_faults(name, row)),
        *(found for food, told in foods.items() for found in _food_faults(food, told, rows)),
        *_idle_rows(rows, foods),
    ]
    if findings:
        raise FaultsFoundError(findings)
    facts = {
        food: _facts(food, told, rows[told["row"]]) for food, told in foods.items() if "row" in told
    }
    absent = {food: told["absent"] for food, told in foods.items() if "absent" in told}
    return FactsKnown(facts, absent)


def _facts(food: str, told: Mapping[str, str], row: Mapping[str, str]) -> FoodFacts:
    amounts = {f"{one.id}_100g": _amount(row[one.column]) for one in NUTRIENTS}
    return FoodFacts(food=food, row=told["row"], note=told.get("note", ""), **amounts)


def _amount(cell: str) -> float | None:
    return float(cell) if cell.strip() else None


def _row_faults(name: str, row: Mapping[str, str | None]) -> Iterator[Finding]:
    for one in NUTRIENTS:
        cell = row.get(one.column)
        try:
            sound = cell is not None and (not cell.strip() or 0 <= float(cell) < float("inf"))
        except ValueError:
            sound = False
        if not sound:
            what = f"“{cell}” is no amount of {one.name}."
            yield Finding(f"{ROWS}, {name}", what, "Give 0 or more, or leave it blank.")


def _food_faults(
    food: str, told: Mapping[str, str], rows: Mapping[str, object]
) -> Iterator[Finding]:
    where = f"{FOODS}, {food}"
    unknown = set(told) - {"row", "note", "absent"}
    if unknown:
        yield Finding(where, f"no such field: {', '.join(sorted(unknown))}.", "Take it out.")
    if ("row" in told) == ("absent" in told):
        what = "it needs either a row or the reason why there is none."
        yield Finding(where, what, "Give exactly one of row and absent.")
    elif "row" in told and told["row"] not in rows:
        near = near_names(told["row"], rows)
        remedy = f"Is {' or '.join(near)} meant?" if near else f"Add the row to {ROWS}."
        yield Finding(where, f"no row “{told['row']}” is in the table.", remedy)


def _idle_rows(
    rows: Mapping[str, object], foods: Mapping[str, Mapping[str, str]]
) -> Iterator[Finding]:
    used = {told.get("row") for told in foods.values()}
    for name in rows:
        if name not in used:
            yield Finding(f"{ROWS}, {name}", "no food is this row.", "Take the row out.")
