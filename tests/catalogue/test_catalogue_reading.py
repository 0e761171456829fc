"""Reading tables into records, whatever stands in them."""

import tomllib
from collections.abc import Iterator, Mapping
from importlib.resources import files
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.catalogue.loader import fill_from_shared
from haulm.catalogue.reading import Table, read_record, with_names
from haulm.catalogue.records import Family, Kind, Phase, PhaseRule
from haulm.measure.errors import FaultsFoundError

FILE = files("haulm.catalogue") / "data" / "crops" / "garlic.toml"
PARSED = tomllib.loads(FILE.read_text(encoding="utf-8"))
HARD_NECKED = {
    **fill_from_shared(PARSED["shared"], PARSED["kinds"]["hard-necked"]),
    "id": "garlic/hard-necked",
    "crop": "garlic",
}


def places(table: Mapping[str, Any], way: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Walk every place in nested tables."""
    for name, value in table.items():
        yield (*way, name)
        if isinstance(value, Mapping):
            yield from places(value, (*way, name))


def put(table: Table, way: tuple[str, ...], value: object) -> dict[str, Any]:
    """Copy nested tables with one value replaced."""
    first, *rest = way
    inner = put(table[first], tuple(rest), value) if rest else value
    return {**table, first: inner}


@settings(max_examples=100, deadline=None)
@given(
    way=st.sampled_from(sorted(places(HARD_NECKED))),
    value=st.one_of(
        st.none(), st.booleans(), st.integers(), st.text(), st.just([]), st.just({}), st.just([1])
    ),
)
def test_no_slip_in_a_file_goes_unexplained(way: tuple[str, ...], value: object) -> None:
    """Whatever is written in whichever place, a kind is read or its faults are told."""
    told = []
    try:
        read_record(Kind, put(HARD_NECKED, way, value), "garlic.toml")
    except FaultsFoundError as error:
        told = [(finding.where, finding.remedy) for finding in error.findings]
    for where, remedy in told:
        assert where.startswith("garlic.toml")
        assert remedy


@pytest.mark.parametrize(
    ("rule", "unit"),
    [("days", "d"), ("degree days", "°C d"), ("day length", "h"), ("chill days", "d")],
)
def test_a_phase_is_counted_in_the_unit_of_its_rule(rule: str, unit: str) -> None:
    """Days are counted in days, warmth in degree-days, light in hours."""
    table = {"id": "growing", "rule": rule, "amount": {"value": 12, "basis": "judged"}}
    phase = read_record(Phase, table, "test")
    assert phase.rule is PhaseRule(rule)
    assert phase.amount.unit == unit


def test_everything_missing_is_told_together() -> None:
    """An empty table is met with every field it lacks."""
    with pytest.raises(FaultsFoundError) as caught:
        read_record(Family, {"id": "onion"}, "families.toml, onion")
    missing = {finding.where.rpartition(", ")[2] for finding in caught.value.findings}
    assert missing == {"name", "latin", "mark", "rotation_gap_years"}


def test_a_thing_that_names_itself_otherwise_than_its_place_is_a_fault() -> None:
    """A table called leek that says it is garlic is not taken for either."""
    assert with_names({"name": "leek"}, {"id": "leek"}) == {"name": "leek", "id": "leek"}
    with pytest.raises(FaultsFoundError, match="its id says “garlic”"):
        with_names({"id": "garlic"}, {"id": "leek"})
