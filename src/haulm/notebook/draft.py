"""The raw tables of garden.toml made into a document, every misfit told in the grower's words.

What cannot be read is set aside, key by key where a part can do without it, so that everything else
is still checked in one go.
"""

from collections.abc import Mapping
from typing import Any

import tomli_w
from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from haulm.notebook.document import GardenDocument
from haulm.notebook.faults import Gathered, Place
from haulm.notebook.names import one_of, suggest
from haulm.notebook.parts import SINGLE_PARTS, model_in
from haulm.notebook.values import EARLIEST_YEAR, LATEST_YEAR

Raw = dict[str, Any]

SEE_KEYS = "See docs/garden.md for every key."
STAND_INS: Mapping[str, Raw] = {
    "garden": {"name": "garden"},
    "place": {"latitude": 45, "longitude": 0, "height": 0, "soil": "loam"},
    "weather": {"normals": {"tmin": [0] * 12, "tmax": [9] * 12, "rain": [0] * 12}},
    "hours": {"every_week": 1},
}
"""What takes the place of a part that could not be read while the rest is checked."""

INDEPENDENT_KEYS = frozenset({"garden", "place"})
"""Parts of which each key can be checked without the others."""


def document_from(raw: Raw, gathered: Gathered) -> GardenDocument:
    """Make a document of raw tables; misfits are noted and their parts set aside.

    The document is whole exactly when no fault was noted. Otherwise parts that could not be read
    are missing from it, or have stand-ins, and ``gathered`` keeps count of them.
    """
    try:
        return GardenDocument.model_validate(raw)
    except ValidationError as error:
        misfits = error.errors()
    for misfit in misfits:
        _tell(misfit, gathered)
    return GardenDocument.model_validate(_set_aside(raw, misfits, gathered))


def _set_aside(raw: Raw, misfits: list[ErrorDetails], gathered: Gathered) -> Raw:
    """Leave out each key that misfits, and each part that cannot be read without it.

    ``gathered`` keeps count of which parts are left, and of which keys in those read by half.
    """
    left = {key: value for key, value in raw.items() if key in GardenDocument.model_fields}
    half: dict[Place, frozenset[str]] = {}
    numbers: dict[str, tuple[int, ...]] = {}
    lost_ids: set[str] = set()
    for part in {str(misfit["loc"][0]) for misfit in misfits} & GardenDocument.model_fields.keys():
        if part in STAND_INS:
            left[part] = STAND_INS[part] | _sound_keys(part, left.get(part), misfits)
            continue
        typed = left.pop(part)
        parts = _by_place(part, typed)
        read = {place: _readable(one, place, misfits) for place, one in parts.items()}
        there = {place: one for place, one in read.items() if one is not None}
        half |= {place: frozenset(one) for place, one in there.items() if one is not parts[place]}
        lost = [one for place, one in parts.items() if place not in there]
        lost_ids |= {str(one.get("id", one.get("name"))) for one in lost if isinstance(one, dict)}
        if part not in SINGLE_PARTS:
            numbers[part] = tuple(int(number) for _, number in there)
            left[part] = list(there.values())
        elif there:
            left[part] = there[part,]
    gathered.numbers, gathered.lost_ids, gathered.half_read = numbers, frozenset(lost_ids), half
    return left


def _by_place(part: str, typed: object) -> dict[Place, object]:
    """Give each part of a name that was typed, by its place."""
    if part in SINGLE_PARTS:
        return {(part,): typed}
    return {
        (part, number): one for number, one in enumerate(typed if isinstance(typed, list) else [])
    }


def _readable(typed: object, place: Place, misfits: list[ErrorDetails]) -> Any:  # noqa: ANN401 (a raw part)
    """Give a part without the keys that misfit; None where it cannot be read without them."""
    mine = [misfit["loc"] for misfit in misfits if misfit["loc"][: len(place)] == place]
    model = _model(place)
    if not mine:
        return typed
    if model is None or not isinstance(typed, dict) or place in mine:
        return None
    wrong = {misfit[len(place)] for misfit in mine}
    left = {key: value for key, value in typed.items() if key not in wrong}
    try:
        model.model_validate(left)
    except ValidationError:
        return None
    return left


def _sound_keys(part: str, typed: object, misfits: list[ErrorDetails]) -> Raw:
    """Keep what can be read of a part whose keys stand each for themselves."""
    wrong = {misfit["loc"][1:2] for misfit in misfits if misfit["loc"][0] == part}
    if part not in INDEPENDENT_KEYS or not isinstance(typed, dict):
        return {}
    return {key: value for key, value in typed.items() if (key,) not in wrong}


def _tell(misfit: ErrorDetails, gathered: Gathered) -> None:
    """Say one misfit in the grower's words, the key's own example in the remedy."""
    place, kind, value = misfit["loc"], misfit["type"], misfit["input"]
    key = next(step for step in reversed(place) if isinstance(step, str))
    field = _field(place)
    if kind == "extra_forbidden":
        keys = _keys_beside(place)
        if len(place) == 1:
            where: Place = place
            what = f"haulm knows no part “{key}”."
        else:
            where = place[:-1]
            what = f"haulm knows no key “{key}” here."
        gathered.fault(where, what, suggest(key, keys, f"Take it out. {SEE_KEYS}"))
        return
    if kind == "missing" and len(place) == 1:
        gathered.fault(place, "this part is missing.", f"Add it. {SEE_KEYS}")
        return
    example = _example(field)
    if kind == "missing":
        gathered.fault(place, "this is missing.", f"Add it{example}.")
    elif kind == "enum":
        choices = [choice.strip("'") for choice in _choices(misfit)]
        gathered.fault(
            place,
            f"“{value}” is not one that haulm knows.",
            suggest(str(value), choices, one_of(choices)),
        )
    else:
        gathered.fault(place, _what(misfit), f"Write it{example}.")


def _what(misfit: ErrorDetails) -> str:
    """Say what is wrong with a value of the wrong sort or size."""
    kind, context = misfit["type"], misfit.get("ctx", {})
    if kind == "typed_wrongly":
        return misfit["msg"]
    if kind in {"too_short", "too_long"}:
        wanted = context.get("min_length", context.get("max_length"))
        return f"entries given: {context['actual_length']}; needed: {wanted}."
    if kind in {"greater_than_equal", "less_than_equal"}:
        if "year" in misfit["loc"]:
            return f"{misfit['input']} is no year from {EARLIEST_YEAR} to {LATEST_YEAR}."
        size = "less than nothing" if kind == "greater_than_equal" else "too many"
        return f"{misfit['input']} is {size}."
    wanted = {
        "string_type": "a text",
        "int_type": "a whole number",
        "bool_type": "true or false",
        "tuple_type": "a list",
        "model_type": "a part of its own",
    }.get(kind)
    return f"this must be {wanted}." if wanted else f"this does not fit: {misfit['msg']}."


def _choices(misfit: ErrorDetails) -> list[str]:
    """Give the choices that a misfit's key has."""
    expected = str(misfit["ctx"]["expected"])
    return expected.replace(" or ", ", ").split(", ")


def _keys_beside(place: Place) -> list[str]:
    """List the keys that a place's part may have."""
    model = _model(place[:-1])
    return [field.alias or name for name, field in model.model_fields.items()] if model else []


def _example(field: FieldInfo | None) -> str:
    """Say how a value looks, by its key's example: `` as in 1.2 m``."""
    example = field.examples[0] if field is not None and field.examples else None
    if example is None or isinstance(example, dict | bool):
        return " as docs/garden.md shows it" if isinstance(example, dict) else ""
    return f" as in {shown(example)}"


def shown(example: object) -> str:
    """Show an example's value as words: a list by its entries, a corner in brackets."""
    if isinstance(example, list):
        return ", ".join(
            f"({shown(entry)})" if isinstance(entry, list) else str(entry) for entry in example
        )
    return str(example)


def typed(key: str, value: object) -> str:
    """Write a key and its value on one line of TOML."""
    line = " ".join(tomli_w.dumps({key: value}).split())
    return line.replace("[ ", "[").replace(", ]", "]")


def _field(place: Place) -> FieldInfo | None:
    """Find the field of the document that a place lies in: the last step that is a key."""
    names = [step for step in place if isinstance(step, str)]
    model = _model(place[: place.index(names[-1])]) if names else None
    if model is None:
        return None
    return next(
        (field for name, field in model.model_fields.items() if (field.alias or name) == names[-1]),
        None,
    )


def _model(place: Place) -> type[BaseModel] | None:
    """Find the model that the keys at a place belong to."""
    model: type[BaseModel] = GardenDocument
    for step in place:
        if isinstance(step, int):
            continue
        fields = {field.alias or name: field for name, field in model.model_fields.items()}
        inner = model_in(fields[step].annotation) if step in fields else None
        if inner is None:
            return None
        model = inner
    return model
