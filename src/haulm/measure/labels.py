"""Tables meet by label, never by position; a label that one of them lacks is told."""

from collections.abc import Iterable, Mapping
from typing import TypeVar

from haulm.measure.errors import LabelsDifferError

K = TypeVar("K")
A = TypeVar("A")
B = TypeVar("B")


def join(left: Mapping[K, A], right: Mapping[K, B], what: str) -> dict[K, tuple[A, B]]:
    """Join two tables by label, in the order of the left one.

    Parameters
    ----------
    left, right
        Tables that should hold the same labels.
    what
        What is joined, in words, for the message.

    Raises
    ------
    LabelsDifferError
        If either table has a label that the other lacks; every such label is named.
    """
    only_left = [label for label in left if label not in right]
    only_right = [label for label in right if label not in left]
    if only_left or only_right:
        parts = [f"{what}: the two tables do not hold the same labels"]
        if only_left:
            parts.append(f"only in the first: {_listed(only_left)}")
        if only_right:
            parts.append(f"only in the second: {_listed(only_right)}")
        raise LabelsDifferError("; ".join(parts))
    return {label: (value, right[label]) for label, value in left.items()}


def _listed(labels: Iterable[object]) -> str:
    return ", ".join(str(label) for label in labels)
