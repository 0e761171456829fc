"""Whatever stands in garden.toml, the answer is a garden or findings, never a crash."""

import copy
import tomllib
from contextlib import suppress
from datetime import UTC, date, datetime, time
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.checked import garden_from
from haulm.notebook.draft import document_from
from haulm.notebook.faults import Gathered
from haulm.notebook.garden import Garden

SOUND = tomllib.loads((Path(__file__).with_name("data") / "sound.toml").read_text("utf-8"))
LEAVES = st.one_of(
    st.booleans(),
    st.integers(),
    st.floats(),
    st.text(max_size=6),
    st.sampled_from(["-3 ft", "2 kg", "70 F", "110 %", "slate", "02-30", "2027-02-30"]),
    st.dates(date(1000, 1, 1)),
    st.just(time(7, 30)),
    st.just(datetime(2027, 2, 1, tzinfo=UTC)),
)
ANYTHING = st.recursive(
    LEAVES,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=6), inner, max_size=3)
    ),
    max_leaves=4,
)


def places(value: Any, at: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:  # noqa: ANN401
    """List every place in a tree of tables and lists."""
    keys: list[str | int] = []
    if isinstance(value, dict):
        keys = list(value)
    elif isinstance(value, list):
        keys = list(range(len(value)))
    return [at, *(place for key in keys for place in places(value[key], (*at, key)))][not at :]


def put(raw: Any, place: tuple[str | int, ...], junk: object) -> None:  # noqa: ANN401
    """Put junk in a place, if an earlier change has left the place there."""
    with suppress(KeyError, IndexError, TypeError):
        for step in place[:-1]:
            raw = raw[step]
        raw[place[-1]] = junk


def answer(raw: dict[str, Any]) -> Garden | tuple[Finding, ...]:
    """Give the garden of raw tables, or what is said against it."""
    gathered = Gathered("garden.toml")
    try:
        return garden_from(document_from(raw, gathered), None, gathered)
    except FaultsFoundError as refused:
        return refused.findings


@settings(max_examples=120, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(places(SOUND)), ANYTHING), min_size=1, max_size=3))
def test_anything_at_any_place_is_answered(
    changes: list[tuple[tuple[str | int, ...], object]],
) -> None:
    """Junk in the place of any value gives a garden or faults in words, never a crash."""
    raw = copy.deepcopy(SOUND)
    for place, junk in changes:
        put(raw, place, junk)
    answered = answer(raw)
    if not isinstance(answered, Garden):
        assert answered
        assert all(finding.what and finding.remedy for finding in answered)
