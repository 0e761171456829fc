"""Words put together into sentences."""


def capital(words: str) -> str:
    """Begin words with a capital letter; the rest stays as it is written."""
    return words[:1].upper() + words[1:]
