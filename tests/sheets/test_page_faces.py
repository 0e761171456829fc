"""The faces of the pages: small, whole, and the same each time."""

from io import BytesIO

import pytest
from fontTools.ttLib import TTFont

from haulm.measure.errors import LabelsDifferError
from haulm.sheets.page.faces import FACES, web_face

LETTERS = "Äpfel, größer, œuf, łąka, žluťoučký, ősz, țară, ārā"
SIGNS = "× − ° ½ ¼ ¾ m² – ‘’“”… · € 0123456789"
# The slab face is drawn without primes, and sets no measures.
PRIMES = "′″"
MOST_BYTES = 18_000
MOST_IN_ALL = 100_000


@pytest.mark.parametrize("name", FACES)
def test_a_face_has_the_letters_of_western_and_central_europe(name: str) -> None:
    """German, French, Polish, Czech, Hungarian, Romanian, Latvian, and the signs of the trade."""
    font = TTFont(BytesIO(web_face(name)))
    assert font.flavor == "woff2"
    there = font.getBestCmap()
    needed = LETTERS + SIGNS + ("" if name.startswith("zilla") else PRIMES)
    assert [letter for letter in needed if ord(letter) not in there] == []
    assert len(web_face(name)) < MOST_BYTES


def test_all_faces_together_are_light() -> None:
    """A first page that takes every face stays well under 150 kB."""
    assert sum(len(web_face(name)) for name in FACES) < MOST_IN_ALL


def test_a_face_is_the_same_each_time() -> None:
    """Cutting a face anew gives the same bytes, so that a browser may keep it."""
    name = next(iter(FACES))
    assert web_face.__wrapped__(name) == web_face(name)


def test_a_face_is_what_its_rule_says() -> None:
    """Weight and slope of each file are those under which it is served."""
    for name, face in FACES.items():
        font = TTFont(BytesIO(web_face(name)))
        assert font["OS/2"].usWeightClass == face.weight
        assert (font["post"].italicAngle != 0) == (face.style == "italic")


def test_an_unknown_face_is_refused() -> None:
    """A face nobody serves is named."""
    with pytest.raises(LabelsDifferError, match="No face is called comic"):
        web_face("comic")
