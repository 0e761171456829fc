"""The plan as JSON and CSV: complete, and as its published schema says."""

import csv
import io
import json
from typing import Any

import jsonschema
import pytest

from haulm.sheets.bundle import SheetBundle
from haulm.sheets.plan_json import plan_json, plan_schema
from haulm.sheets.tables import lots_csv, plantings_csv, weeks_csv


def faults(
    value: object, schema: dict[str, Any], root: dict[str, Any], at: str = "plan"
) -> list[str]:
    """Hold a value against the few words of JSON Schema that the plan's schema uses."""
    if "$ref" in schema:
        schema = root["$defs"][schema["$ref"].rsplit("/", 1)[1]]
    if "oneOf" in schema:
        some = [faults(value, one, root, at) for one in schema["oneOf"]]
        return [] if sum(not found for found in some) == 1 else [f"{at}: fits no single form"]
    kinds = {"object": dict, "array": list, "string": str, "boolean": bool, "null": type(None)}
    named = schema.get("type", [])
    names = [named] if isinstance(named, str) else named
    number = isinstance(value, int | float) and not isinstance(value, bool)
    fits = [
        number and (name == "number" or isinstance(value, int))
        if name in {"number", "integer"}
        else isinstance(value, kinds[name])
        for name in names
    ]
    if names and not any(fits):
        return [f"{at}: {value!r} is no {named}"]
    found = []
    if "const" in schema and value != schema["const"]:
        found.append(f"{at}: {value!r} is not {schema['const']!r}")
    if "enum" in schema and value not in schema["enum"]:
        found.append(f"{at}: {value!r} is none of {schema['enum']}")
    if isinstance(value, dict):
        known = schema.get("properties", {})
        found += [f"{at}: lacks {key}" for key in schema.get("required", []) if key not in value]
        for key, one in value.items():
            more = known.get(key, schema.get("additionalProperties", {}))
            found += [f"{at}: {key} unknown"] if more is False else faults(one, more, root, key)
    if isinstance(value, list):
        for number_, one in enumerate(value, start=1):
            found += faults(one, schema.get("items", {}), root, f"{at} {number_}")
    return found


def test_the_plan_is_as_its_schema_says(schoolhouse: SheetBundle) -> None:
    """Every key the schema asks is there, of the kind it says, and no key beside."""
    made = json.loads(json.dumps(plan_json(schoolhouse)))
    assert faults(made, plan_schema(), plan_schema()) == []


def test_an_independent_validator_agrees(schoolhouse: SheetBundle) -> None:
    """A general JSON Schema library (draft 2020-12) finds schema and plan valid."""
    validator = jsonschema.Draft202012Validator
    validator.check_schema(plan_schema())
    validator(plan_schema(), format_checker=validator.FORMAT_CHECKER).validate(
        plan_json(schoolhouse)
    )


def test_a_plan_that_breaks_the_schema_is_seen(schoolhouse: SheetBundle) -> None:
    """A missing figure, a figure that is a word and a key too many are each found."""
    made = plan_json(schoolhouse)
    del made["solver"]["gap"]
    made["beds"][0]["area_m2"] = "36"
    made["colour"] = "green"
    assert len(faults(made, plan_schema(), plan_schema())) == 3


def test_every_planting_says_what_it_gives_and_serves(schoolhouse: SheetBundle) -> None:
    """Kilograms by food, and the weeks in which they reach the table, go with each planting."""
    made = {one["id"]: one for one in plan_json(schoolhouse)["plantings"]}
    celeriac = made["celeriac-1"]
    assert celeriac["expected_kg"] == {"celeriac": 13.0}
    assert celeriac["sow_on"] == "2027-03-08"
    assert celeriac["clear_by"] == "2027-11-05"
    assert celeriac["serves"][0]["from_week"] == "2027-W40"


def test_the_weeks_add_up(schoolhouse: SheetBundle) -> None:
    """In each week of each line wanted is fresh + stored + short, to the gram."""
    for row in plan_json(schoolhouse)["weeks"]:
        parts = row["fresh_kg"] + row["stored_kg"] + row["short_kg"]
        assert parts == pytest.approx(row["wanted_kg"], abs=0.002)


def test_tables_say_what_the_json_says(schoolhouse: SheetBundle) -> None:
    """The CSV files carry the same rows as the JSON, under named columns."""
    made = plan_json(schoolhouse)
    weeks = list(csv.DictReader(io.StringIO(weeks_csv(schoolhouse))))
    assert [float(row["short_kg"]) for row in weeks] == [row["short_kg"] for row in made["weeks"]]
    plantings = list(csv.DictReader(io.StringIO(plantings_csv(schoolhouse))))
    assert [row["id"] for row in plantings] == [row["id"] for row in made["plantings"]]
    lots = list(csv.DictReader(io.StringIO(lots_csv(schoolhouse))))
    eaten = sum(float(row["eaten_kg"]) for row in lots)
    meals = (meal["kg"] for lot in made["lots"] for meal in lot["eaten"])
    assert eaten == pytest.approx(sum(meals))
