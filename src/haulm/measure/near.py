"""Names that look like a mistyped word, to offer in its place."""

from collections.abc import Iterable
from difflib import get_close_matches


def near_names(word: str, known: Iterable[str]) -> tuple[str, ...]:
    """Give up to three known names that look like a word, the nearest first.

    Case is passed over; the names come back as they are written in ``known``.
    """
    by_folded: dict[str, str] = {}
    for name in known:
        by_folded.setdefault(name.casefold(), name)
    near = get_close_matches(word.casefold(), by_folded, n=3, cutoff=0.6)
    return tuple(by_folded[folded] for folded in near)
