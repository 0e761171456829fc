"""plan.json is a promise to other programs: its keys, its labels and its arithmetic.

The keys named here are those promised; the published schema says the same in JSON Schema
(draft 2020-12).
"""

import json
import re
from collections.abc import Iterator
from datetime import date
from itertools import chain
from pathlib import Path
from typing import Any

import pytest

from gardens import small_garden
from haulm.cli.data import as_json
from haulm.desk.planning.plans import plan_garden
from haulm.desk.showing.sheets import plan_as_json
from haulm.planner.question import Effort
from haulm.sheets.plan_json import plan_schema
from shell import Haulm

Json = dict[str, Any]

DAY = date(2027, 2, 1)
QUICK = Effort("quick", rounds=0, target_gap=0.05)

STANDING_AND_STORED = """
[[standing]]
bed = "north"
kind = "garlic/soft-necked"
method = "cloves"
started = 2026-11-02
area = "1 m2"

[[in_store]]
food = "onion"
kind = "onion/sets"
form = "cured"
place = "pantry"
amount = "6 kg"
put_by = 2026-08-20

[[stock]]
kind = "leek/winter"
units = 50
year = 2026
"""

PROMISED = {
    "beds": ("id", "area_m2"),
    "plantings": (
        "id",
        "crop",
        "kind",
        "bed",
        "area_m2",
        "plants",
        "sow_on",
        "in_ground_from",
        "clear_by",
        "expected_kg",
        "serves",
    ),
    "weeks": ("food", "week", "wanted_kg", "fresh_kg", "stored_kg", "short_kg"),
    "lots": ("food", "form", "place", "put_by_week", "kg_in", "eaten", "lost_kg"),
}
ENDS = ("from_week", "to_week")
SOLVER = ("bound", "objective", "gap", "seconds")
TYPES: dict[str, tuple[type, ...]] = {
    "object": (dict,),
    "array": (list,),
    "string": (str,),
    "boolean": (bool,),
    "integer": (int,),
    "number": (int, float),
    "null": (type(None),),
}
WORDS_KNOWN = {
    "$defs",
    "$ref",
    "$schema",
    "additionalProperties",
    "const",
    "description",
    "enum",
    "format",
    "items",
    "maxItems",
    "minItems",
    "minimum",
    "oneOf",
    "pattern",
    "properties",
    "required",
    "title",
    "type",
}


def garden(folder: Path) -> Path:
    """Write the small garden with something standing, stored and in hand, and give its path."""
    toml = small_garden(folder)
    toml.write_text(toml.read_text(encoding="utf-8") + STANDING_AND_STORED, encoding="utf-8")
    return toml


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Give the small garden's plan as ``haulm plan --json`` prints it, planned once."""
    toml = garden(tmp_path_factory.mktemp("contract"))
    return as_json(plan_as_json(plan_garden(toml, DAY, QUICK, seed=1), DAY))


@pytest.fixture
def told(printed: str) -> Json:
    """Give the plan read back, for each test anew."""
    read: Json = json.loads(printed)
    return read


def misfits(value: object, schema: Json, at: str = "plan") -> Iterator[str]:
    """Hold a value against a schema, by the words of JSON Schema that ours uses."""
    assert set(schema) <= WORDS_KNOWN, f"this test knows no {set(schema) - WORDS_KNOWN}"
    if "$ref" in schema:
        yield from misfits(value, plan_schema()["$defs"][schema["$ref"].rsplit("/", 1)[1]], at)
    if "oneOf" in schema:
        fits = [not list(misfits(value, one, at)) for one in schema["oneOf"]]
        if fits.count(True) != 1:
            yield f"{at}: {value!r} fits no single form"
    yield from misfits_of_one(value, schema, at)
    if isinstance(value, dict):
        yield from misfits_of_object(value, schema, at)
    if isinstance(value, list):
        if not schema.get("minItems", 0) <= len(value) <= schema.get("maxItems", len(value)):
            yield f"{at}: {len(value)} items"
        for number, one in enumerate(value, start=1):
            yield from misfits(one, schema.get("items", {}), f"{at} {number}")


def misfits_of_one(value: object, schema: Json, at: str) -> Iterator[str]:
    """Hold a value's type, bounds and pattern against a schema."""
    named = schema.get("type", list(TYPES))
    names = [named] if isinstance(named, str) else named
    types = tuple(chain.from_iterable(TYPES[name] for name in names))
    if not isinstance(value, types) or (isinstance(value, bool) and "boolean" not in names):
        yield f"{at}: {value!r} is no {named}"
        return
    if "const" in schema and value != schema["const"]:
        yield f"{at}: {value!r} is not {schema['const']!r}"
    if "enum" in schema and value not in schema["enum"]:
        yield f"{at}: {value!r} is none of {schema['enum']}"
    if isinstance(value, int | float) and value < schema.get("minimum", value):
        yield f"{at}: {value} is too small"
    if isinstance(value, str) and not re.search(schema.get("pattern", ""), value):
        yield f"{at}: {value!r} is not as it should be written"
    if isinstance(value, str) and schema.get("format") == "date" and not is_day(value):
        yield f"{at}: {value!r} is no day"


def misfits_of_object(value: Json, schema: Json, at: str) -> Iterator[str]:
    """Hold an object's keys against a schema."""
    known = schema.get("properties", {})
    yield from (f"{at}: lacks {key}" for key in schema.get("required", ()) if key not in value)
    for key, one in value.items():
        wanted = known.get(key, schema.get("additionalProperties", {}))
        if wanted is False:
            yield f"{at}: {key} is not known"
        else:
            yield from misfits(one, wanted, f"{at}, {key}")


def is_day(text: str) -> bool:
    """Say whether a text is a day of the calendar by ISO 8601."""
    try:
        return date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False


def is_week(text: str) -> bool:
    """Say whether a text is a week of the calendar by ISO 8601."""
    year, number = text.split("-W")
    try:
        date.fromisocalendar(int(year), int(number), 1)
    except ValueError:
        return False
    return True


def test_the_plan_is_as_its_published_schema_says(told: Json) -> None:
    """Every figure is there, under its key, of its kind and written as promised; none beside."""
    assert list(misfits(told, plan_schema())) == []


def test_a_breach_of_the_schema_would_be_seen(told: Json) -> None:
    """A key too few or too many, a word for a figure, less than nothing, no day: all are told."""
    del told["beds"][0]["area_m2"]
    told["beds"][0]["colour"] = "green"
    told["plantings"][0]["plants"] = "twelve"
    told["weeks"][0]["short_kg"] = -1
    told["plantings"][0]["sow_on"] = "2027-02-30"
    assert len(list(misfits(told, plan_schema()))) == 5


@pytest.mark.parametrize("part", PROMISED)
def test_each_part_has_rows_with_the_keys_promised(told: Json, part: str) -> None:
    """Beds, plantings, weeks and lots are there, and each row has every key it was promised."""
    assert told[part]
    for row in told[part]:
        assert set(PROMISED[part]) <= set(row)


def test_the_schema_promises_the_same_keys() -> None:
    """A program that reads the schema alone may count on every key promised."""
    parts = plan_schema()["properties"]
    for part, keys in PROMISED.items():
        assert set(keys) <= set(parts[part]["items"]["required"])
    assert set(SOLVER) <= set(parts["solver"]["required"])
    assert {*PROMISED, "solver", "findings"} <= set(plan_schema()["required"])


def test_the_solver_says_how_good_the_plan_is(told: Json) -> None:
    """Bound, objective, gap and seconds are figures, and the gap follows from the first two."""
    bound, objective, gap, seconds = (told["solver"][key] for key in SOLVER)
    assert 0 <= bound <= objective
    assert gap == pytest.approx((objective - bound) / objective)
    assert seconds > 0


def test_every_id_is_the_only_one_of_its_kind(told: Json) -> None:
    """No two beds, plantings or lots share an id, and no line has a week twice."""
    for part in ("beds", "plantings", "lots"):
        ids = [row["id"] for row in told[part]]
        assert len(ids) == len(set(ids))
    weeks = [(row["food"], row["week"]) for row in told["weeks"]]
    assert len(weeks) == len(set(weeks))


def test_every_id_named_is_one_that_is_there(told: Json) -> None:
    """Plantings stand in beds of the plan, serve lines of the table, and name their own crop."""
    beds = {bed["id"] for bed in told["beds"]}
    lines = set(told["lines"])
    for planting in told["plantings"]:
        assert planting["bed"] in beds
        assert planting["kind"].startswith(planting["crop"] + "/")
        assert {serves["line"] for serves in planting["serves"]} <= lines
        assert {serves["food"] for serves in planting["serves"]} <= set(planting["expected_kg"])
        assert set(planting["expected_kg_8_in_10"]) == set(planting["expected_kg"])
    assert {row["food"] for row in told["weeks"]} == lines
    assert {row["food"] for row in told["shortages"]} <= lines
    assert {lot["place"] for lot in told["lots"]} <= {"pantry", "shed"}


def test_every_week_named_is_a_week_of_the_plan(told: Json) -> None:
    """Weeks are weeks of the calendar by ISO 8601 and lie within the plan's own."""
    first, last = told["horizon"]["first_day"], told["horizon"]["last_day"]
    named = {row["week"] for row in told["weeks"]} | {row["week"] for row in told["hours"]}
    named |= {lot["put_by_week"] for lot in told["lots"]}
    named |= {meal["week"] for lot in told["lots"] for meal in lot["eaten"]}
    named |= {s[key] for p in told["plantings"] for s in p["serves"] for key in ENDS}
    for week in named:
        assert is_week(week)
        year, number = (int(part) for part in week.split("-W"))
        assert first <= date.fromisocalendar(year, number, 1).isoformat() <= last


def test_dates_follow_one_another(told: Json) -> None:
    """What is sown is set out, then holds ground, then is cleared; never the other way round."""
    for planting in told["plantings"]:
        assert planting["sow_on"] <= planting["set_on"] < planting["clear_by"]
        assert planting["in_ground_from"] < planting["clear_by"]
        for ready in planting["ready"]:
            assert ready["early"] <= ready["middle"] <= ready["late"]
        for low, high in planting["expected_kg_8_in_10"].values():
            assert low <= high


def test_weeks_and_lots_add_up(told: Json) -> None:
    """Wanted = fresh + stored + short in each week; what went into a lot came out, lies or rots."""
    for row in told["weeks"]:
        parts = row["fresh_kg"] + row["stored_kg"] + row["short_kg"]
        assert parts == pytest.approx(row["wanted_kg"], abs=0.002)
    for lot in told["lots"]:
        eaten = [meal["kg"] for meal in lot["eaten"]]
        out = sum(eaten) + lot["seed_kg"] + lot["left_kg"] + lot["lost_kg"]
        assert out == pytest.approx(lot["kg_in"], abs=0.001 * (4 + len(eaten)))


def test_what_stands_and_what_lies_in_store_is_marked(told: Json) -> None:
    """The garlic in the ground and the onions in the pantry are in the plan, marked as there."""
    standing = [one for one in told["plantings"] if one["standing"]]
    assert [(one["kind"], one["area_m2"]) for one in standing] == [("garlic/soft-necked", 1.0)]
    in_hand = [lot for lot in told["lots"] if lot["in_hand"]]
    assert {lot["food"] for lot in in_hand} == {"onion"}
    assert sum(lot["kg_in"] for lot in in_hand) == pytest.approx(6.0)


def test_findings_are_graded_and_placed(told: Json) -> None:
    """Every finding says how grave it is, where and what; a plan that is shown has no fault."""
    assert told["findings"]
    for finding in told["findings"]:
        assert finding["grade"] in {"warning", "note"}
        assert finding["where"]
        assert finding["what"]


def test_the_file_says_what_the_command_prints(haulm: Haulm, tmp_path: Path, told: Json) -> None:
    """``haulm plan --json`` prints what plan.json among the sheets holds, but for the seconds."""
    toml, book = garden(tmp_path), tmp_path / "garden.haulm"
    options = ("--on", str(DAY), "--effort", "quick")
    printed = json.loads(haulm("plan", toml, *options, "--json").out)
    haulm("import", toml, book)
    haulm("plan", book, *options)
    assert haulm("sheets", book, "--out", tmp_path / "out", "--on", str(DAY)).code == 0
    filed = json.loads((tmp_path / "out" / "plan.json").read_text(encoding="utf-8"))
    for plan in (printed, filed, told):
        del plan["solver"]["seconds"]
        # Findings name the file they were found in, which is garden.toml or the notebook.
        del plan["findings"]
    assert printed == filed == told
