"""Every word of the pages in one catalogue, so that haulm can be translated."""

from contextvars import ContextVar
from functools import cache
from pathlib import Path

from babel import Locale
from babel.support import NullTranslations, Translations

FOLDER = Path(__file__).with_name("locale")
DOMAIN = "haulm"
ENGLISH = "en"
_chosen: ContextVar[str] = ContextVar("language", default=ENGLISH)


def languages() -> tuple[str, ...]:
    """List the languages there are: English, in which haulm is written, and each translation."""
    found = (path.parent.parent.name for path in FOLDER.glob(f"*/LC_MESSAGES/{DOMAIN}.mo"))
    return (ENGLISH, *sorted(found))


def named_languages() -> tuple[tuple[str, str], ...]:
    """Give each language's code with its name in that language."""
    return tuple((code, Locale.parse(code).get_language_name(code) or code) for code in languages())


def choose(language: str) -> None:
    """Speak a language for the rest of this request; English where it is not known."""
    _chosen.set(language if language in languages() else ENGLISH)


def language() -> str:
    """Give the language spoken in this request."""
    return _chosen.get()


def noted(message: str) -> str:
    """Mark a message that is put into the reader's language later, where it is shown."""
    return message


def gettext(message: str) -> str:
    """Give a message in the language of this request."""
    return _texts(_chosen.get()).ugettext(message)


def ngettext(one: str, many: str, number: int) -> str:
    """Give a message about a number of things in the language of this request."""
    return _texts(_chosen.get()).ungettext(one, many, number)


@cache
def _texts(name: str) -> NullTranslations:
    return NullTranslations() if name == ENGLISH else Translations.load(FOLDER, [name], DOMAIN)
