"""Every word of the pages stands in one catalogue, ready to be put into another language."""

import io
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from babel.messages.extract import extract_from_dir
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po
from starlette.testclient import TestClient

import haulm.web
from haulm.web import words

WEB = Path(haulm.web.__file__).parent
METHODS = [("**.py", "python"), ("**/templates/**.html", "jinja2")]
JINJA = {
    "**/templates/**.html": {
        "extensions": "jinja2.ext.i18n,jinja2.ext.do",
        "trim_blocks": "true",
        "lstrip_blocks": "true",
        "silent": "false",
    }
}
KEYWORDS = {"_": None, "gettext": None, "ngettext": (1, 2), "noted": None}
LOGIC = re.compile(r"{#.*?#}|{%.*?%}|{{.*?}}", re.DOTALL)
WORDS_BETWEEN_TAGS = re.compile(r">([^<>{}=]*[A-Za-z]{3}[^<>{}=]*)<")
NAMES = {"haulm", "garden.toml", "weather.csv"}
"""The same in every language."""


def messages() -> Iterator[str]:
    """Give every message that pages and templates ask for."""
    for _, _, message, _, _ in extract_from_dir(WEB, METHODS, JINJA, KEYWORDS):
        yield message[0] if isinstance(message, tuple) else message


def test_the_catalogue_holds_every_word_of_the_pages() -> None:
    """A translator who works from the catalogue leaves no sentence untranslated."""
    held = read_po(io.BytesIO((WEB / "locale" / "haulm.pot").read_bytes()))
    known = {one.id[0] if isinstance(one.id, tuple) else one.id for one in held if one.id}
    assert set(messages()) - known == set(), "make words brings the catalogue up to date"
    assert known - set(messages()) == set(), "make words brings the catalogue up to date"


def test_no_template_speaks_past_the_catalogue() -> None:
    """No sentence of a page is written where a translation could not reach it."""
    bare = {
        (template.name, words.strip(" ·"))
        for template in (WEB / "templates").glob("*.html")
        for words in WORDS_BETWEEN_TAGS.findall(LOGIC.sub("", template.read_text(encoding="utf-8")))
    }
    assert {words for words in bare if words[1] not in NAMES} == set()


def test_a_translation_that_is_put_there_is_spoken(
    visit: TestClient, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Once a translation lies in its folder, a reader can choose it and reads it."""
    catalogue = read_po(io.BytesIO((WEB / "locale" / "haulm.pot").read_bytes()))
    for message in catalogue:
        if message.id == "Ground":
            message.string = "Grund"
    compiled = tmp_path / "de" / "LC_MESSAGES" / "haulm.mo"
    compiled.parent.mkdir(parents=True)
    with compiled.open("wb") as file:
        write_mo(file, catalogue)
    monkeypatch.setattr(words, "FOLDER", tmp_path)
    assert ">Deutsch<" in visit.get("/table").text
    visit.post("/reading", data={"back": "/table", "language": "de"})
    page = visit.get("/table").text
    assert ">Grund<" in page
    assert '<html lang="de">' in page
