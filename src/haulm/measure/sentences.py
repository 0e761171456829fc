"""Words put together into sentences."""

from collections.abc import Sequence


def capital(words: str) -> str:
    """Begin words with a capital letter; the rest stays as it is written."""
    return words[:1].upper() + words[1:]


def listed(words: Sequence[str]) -> str:
    """List words: *one*, *one and two*, *one, two and three*."""
    return " and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else "".join(words)
