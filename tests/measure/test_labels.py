"""Tables joined by label."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.measure.errors import LabelsDifferError
from haulm.measure.labels import join


def test_missing_and_extra_labels_are_all_named() -> None:
    """A bed in one table and not in the other is named, whichever side it is missing from."""
    with pytest.raises(LabelsDifferError) as refused:
        join({"Bench": 1, "Long": 2, "Round": 3}, {"Long": 4, "Elbow": 5}, "beds and their sun")
    said = str(refused.value)
    assert said.startswith("beds and their sun")
    assert "only in the first: Bench, Round" in said
    assert "only in the second: Elbow" in said


@settings(max_examples=40, deadline=None)
@given(table=st.dictionaries(st.text(max_size=3), st.integers(), max_size=8))
def test_order_never_matters(table: dict[str, int]) -> None:
    """Each value meets the value of its own label, in whatever order the tables come."""
    other = {label: f"of {label}" for label in reversed(table)}
    joined = join(table, other, "tables")
    assert joined == {label: (value, f"of {label}") for label, value in table.items()}
