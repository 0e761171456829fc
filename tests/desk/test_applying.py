"""Changes applied to parts: what two windows do is the same in either order."""

from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.desk.garden.applying import Change, apply, mark_of, new_id
from haulm.measure.errors import ChangedElsewhereError
from haulm.notebook.parts import MODELS, Parts

LINES = st.lists(
    st.fixed_dictionaries(
        {"eat": st.sampled_from(["leek", "kale", "pea"]), "priority": st.integers(1, 5)}
    ),
    min_size=2,
    max_size=6,
    unique_by=mark_of,
)
NEW = st.one_of(st.none(), st.just({"eat": "chard", "amount": "1 kg"}))


def with_table(lines: list[Mapping[str, object]]) -> Parts:
    """Give a garden of nothing but a table."""
    return dict.fromkeys(MODELS, ()) | {"table": tuple(lines)}


@settings(max_examples=60, deadline=None)
@given(lines=LINES, mine=NEW, theirs=NEW, data=st.data())
def test_changes_of_different_parts_come_to_the_same_in_any_order(
    lines: list[Mapping[str, object]],
    mine: Mapping[str, object] | None,
    theirs: Mapping[str, object] | None,
    data: st.DataObject,
) -> None:
    """Of two changes to different lines of the table either may come first, or both at once."""
    first, second = data.draw(st.permutations(range(len(lines))))[:2]
    garden = with_table(lines)
    one = Change("table", mark_of(lines[first]), mine)
    other = Change("table", mark_of(lines[second]), theirs)
    after = apply(apply(garden, [one]).parts, [other]).parts
    assert after == apply(apply(garden, [other]).parts, [one]).parts
    assert after == apply(garden, [one, other]).parts
    left = len(lines) - (mine is None) - (theirs is None)
    assert len(after["table"]) == left


@settings(max_examples=40, deadline=None)
@given(lines=LINES, data=st.data())
def test_a_line_moved_up_or_down_is_still_found(
    lines: list[Mapping[str, object]], data: st.DataObject
) -> None:
    """Wherever a line of the table has got to, it is the one that is changed, and it only."""
    moved = data.draw(st.permutations(lines))
    chosen = data.draw(st.sampled_from(lines))
    new = {"eat": "chard", "amount": "1 kg"}
    applied = apply(with_table(moved), [Change("table", mark_of(chosen), new)])
    place = moved.index(chosen)
    assert applied.places == (("table", place),)
    assert applied.parts["table"] == (*moved[:place], new, *moved[place + 1 :])


@settings(max_examples=40, deadline=None)
@given(lines=LINES, data=st.data())
def test_the_second_change_of_one_part_is_refused(
    lines: list[Mapping[str, object]], data: st.DataObject
) -> None:
    """Whichever line two windows change, the second of them is told, and never overwrites."""
    chosen = data.draw(st.sampled_from(lines))
    first = Change("table", mark_of(chosen), {"eat": "chard", "amount": "1 kg"})
    second = Change("table", mark_of(chosen), {"eat": "chard", "amount": "2 kg"})
    after = apply(with_table(lines), [first]).parts
    with pytest.raises(ChangedElsewhereError):
        apply(after, [second])
    with pytest.raises(ChangedElsewhereError):
        apply(with_table(lines), [first, second])


@given(st.dictionaries(st.text(max_size=4), st.one_of(st.text(max_size=4), st.integers())))
def test_a_mark_does_not_rest_on_the_order_of_keys(typed: dict[str, object]) -> None:
    """The same words in another order have the same mark; lists and tuples are alike."""
    turned = dict(reversed(typed.items()))
    assert mark_of(typed) == mark_of(turned)
    assert mark_of(typed | {"list": [1, 2]}) == mark_of(turned | {"list": (1, 2)})
    assert mark_of(typed | {"list": [1, 2]}) != mark_of(typed | {"list": [2, 1]})


@given(st.lists(st.text(min_size=1, max_size=6), max_size=8))
def test_ids_made_of_names_are_never_alike(names: list[str]) -> None:
    """However alike beds are called, each has an id of its own."""
    ids: list[str] = []
    for name in names:
        ids.append(new_id(name, ids))
    assert len(set(ids)) == len(names)
    assert all(ids)
