"""Names that look like a mistyped word, to offer in its place."""

from collections.abc import Iterable
from difflib import get_close_matches


def near_names(word: str, known: Iterable[str]) -> tuple[str, ...]:
    """Give up to three known names that look like a word, the nearest first.

    Case is passed over, and a name that holds the word whole counts as near (``garlic`` in ``green
    garlic``); names come back as they are written in ``known``.
    """
    by_folded: dict[str, str] = {}
    for name in known:
        by_folded.setdefault(name.casefold(), name)
    folded = word.casefold()
    alike = get_close_matches(folded, by_folded, n=3, cutoff=0.6)
    holding = [name for name in by_folded if folded in name.replace("/", " ").split()]
    return tuple(by_folded[name] for name in dict.fromkeys([*alike, *holding]))[:3]
