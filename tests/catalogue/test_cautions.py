"""Which cautions are due: with a food, a crop or a piece of work, in which deed, for whom."""

import ast
import re
import tomllib
from collections.abc import Iterator
from importlib.resources import as_file, files
from pathlib import Path

import pytest
from babel.messages.pofile import read_po

import haulm
from haulm.catalogue.caution_records import Deed
from haulm.catalogue.cautions import (
    EVERY_DEED,
    cautions_at_work,
    cautions_for,
    cautions_for_the_young,
    cautions_of_crop,
    told,
)
from haulm.catalogue.loader import load_catalogue

CATALOGUE = load_catalogue()
SOURCE = Path(haulm.__file__).parent

DUE = [
    ("dry beans", Deed.EAT, "raw beans"),
    ("dry beans", Deed.LIFT, "raw beans"),
    ("dry beans", Deed.PUT_BY, "raw beans"),
    ("runner beans", Deed.EAT, "raw beans"),
    ("broad beans", Deed.EAT, "broad bean illness"),
    ("lentils", Deed.EAT, "raw pulses"),
    ("potato", Deed.EAT, "green potatoes"),
    ("potato", Deed.LIFT, "green potatoes"),
    ("potato", Deed.PUT_BY, "green potatoes"),
    ("potato", Deed.CARRY, "heavy loads"),
    ("garlic", Deed.PUT_BY, "garlic in oil"),
    ("garlic", Deed.SOW, "flower bulbs"),
    ("shallot", Deed.PUT_BY, "flower bulbs"),
    ("green garlic", Deed.LIFT, "wild garlic look-alikes"),
    ("tomato", Deed.PUT_BY, "tomato acidity"),
    ("tomato", Deed.EAT, "green tomatoes"),
    ("carrot", Deed.PUT_BY, "low-acid bottling"),
    ("courgette", Deed.EAT, "bitter gourds"),
    ("winter squash", Deed.SOW, "bitter gourds"),
    ("parsnip", Deed.LIFT, "parsnip sap"),
    ("spinach", Deed.EAT, "nitrate and the very young"),
    ("cabbage", Deed.LIME, "lime"),
    ("dry maize", Deed.PUT_BY, "mouldy grain"),
    ("spinach", Deed.EAT, "oxalic acid"),
    ("rhubarb", Deed.EAT, "rhubarb leaves"),
    ("rhubarb", Deed.LIFT, "rhubarb leaves"),
    ("lovage", Deed.LIFT, "hemlock look-alikes"),
    ("mint", Deed.PUT_BY, "herb oil"),
    ("parsley root", Deed.LIFT, "hemlock look-alikes"),
    ("carrot", Deed.LIFT, "hemlock look-alikes"),
]


@pytest.mark.parametrize(("food", "deed", "caution"), DUE)
def test_a_caution_is_due_where_it_can_help(food: str, deed: Deed, caution: str) -> None:
    """Each food carries its caution in the deed in which someone could be hurt."""
    assert caution in {one.id for one in cautions_for(CATALOGUE, (food,), (deed,))}


@pytest.mark.parametrize(
    ("food", "deed", "caution"),
    [
        ("carrot", Deed.SOW, "low-acid bottling"),
        ("parsnip", Deed.PUT_BY, "parsnip sap"),
        ("garlic", Deed.EAT, "flower bulbs"),
        ("lettuce", Deed.CARRY, "heavy loads"),
    ],
)
def test_a_caution_is_not_told_where_it_would_only_be_noise(
    food: str, deed: Deed, caution: str
) -> None:
    """Nobody is told of bottling while sowing, nor of sap at the larder's door."""
    assert caution not in {one.id for one in cautions_for(CATALOGUE, (food,), (deed,))}


def test_cautions_for_the_young_are_told_where_someone_is_so_young() -> None:
    """Spinach is no food for infants: told with a child of two at the table, not among adults, and
    where nobody asks who eats.
    """
    with_child = cautions_for(CATALOGUE, ("spinach",), (Deed.EAT,), ages=(40, 2))
    adults = cautions_for(CATALOGUE, ("spinach",), (Deed.EAT,), ages=(40, 4))
    anybody = cautions_for(CATALOGUE, ("spinach",), (Deed.EAT,))
    nitrate = "nitrate and the very young"
    assert nitrate in {one.id for one in with_child}
    assert nitrate not in {one.id for one in adults}
    assert nitrate in {one.id for one in anybody}


def test_honey_is_told_of_under_twelve_months_only() -> None:
    """No honey before the first birthday (INSPQ): told where an eater is 0 years old."""
    assert [one.id for one in cautions_for_the_young(CATALOGUE, (40, 0))] == ["honey and infants"]
    assert cautions_for_the_young(CATALOGUE, (40, 1)) == ()
    assert "12 months" in CATALOGUE.cautions["honey and infants"].text


def test_work_has_cautions_of_its_own() -> None:
    """Compost is heavy and its dust can make ill, whatever is grown with it."""
    assert {one.id for one in cautions_at_work(CATALOGUE, (Deed.CARRY,))} == {
        "heavy loads",
        "compost dust",
    }
    assert "compost dust" in {one.id for one in cautions_at_work(CATALOGUE, (Deed.SOW,))}


def test_a_crop_carries_what_its_foods_do() -> None:
    """Garlic's page warns of oil, of bulbs and of wild leaves; every caution once."""
    ids = [one.id for one in cautions_of_crop(CATALOGUE, "garlic")]
    assert {"garlic in oil", "flower bulbs", "wild garlic look-alikes"} <= set(ids)
    assert len(ids) == len(set(ids))


def test_every_caution_is_due_somewhere_and_names_whom_to_ask() -> None:
    """No caution lies idle; each names an authority, and where its text was read or defers to the
    reader's own authority or a physician.
    """
    reached = {one.id for crop in CATALOGUE.crops for one in cautions_of_crop(CATALOGUE, crop)}
    reached |= {one.id for one in cautions_at_work(CATALOGUE, EVERY_DEED)}
    reached |= {one.id for one in cautions_for_the_young(CATALOGUE, (0,))}
    assert set(CATALOGUE.cautions) == reached
    for caution in CATALOGUE.cautions.values():
        assert caution.authority in told(caution)
        if caution.source is None:
            assert re.search("your country's|physician", caution.authority)


def test_an_unknown_food_carries_nothing() -> None:
    """What the catalogue does not know of, as an old lot's food, is passed over."""
    assert cautions_for(CATALOGUE, ("unobtainium",)) == ()


PRESERVING = re.compile(
    r"bottl|cann(?:ed|ing|er)|\bjars?\b|pressure|autoclave|sterili", re.IGNORECASE
)
TIME = re.compile(
    r"\d+\s*(?:(?:to|–|-)\s*\d+\s*)?(?:min\b|minutes?|hours?|h\b|psi|kPa|bar\b|pounds? pressure)",
    re.IGNORECASE,
)


def texts_in(value: object) -> Iterator[str]:
    """Walk the words in a file's data."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for one in value.values():
            yield from texts_in(one)
    elif isinstance(value, list):
        for one in value:
            yield from texts_in(one)


def every_text() -> Iterator[tuple[str, str]]:
    """Give every text of the catalogue, the pages, and the code, with its file."""
    with as_file(files("haulm.catalogue") / "data") as folder:
        for path in folder.rglob("*.toml"):
            for text in texts_in(tomllib.loads(path.read_text(encoding="utf-8"))):
                yield path.name, text
    with (SOURCE / "web" / "locale" / "haulm.pot").open("rb") as pages:
        for message in read_po(pages):
            for text in (message.id,) if isinstance(message.id, str) else message.id:
                yield "haulm.pot", text
    for path in SOURCE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                yield path.name, node.value


def test_no_text_gives_a_time_or_pressure_for_bottling() -> None:
    """Times and pressures for bottling stand in officially tested recipes, never in haulm: not in
    the catalogue, not on a page, not in what the terminal prints.
    """
    found = list(every_text())
    assert sum(bool(PRESERVING.search(text)) for _, text in found) > 5
    assert [one for one in found if PRESERVING.search(one[1]) and TIME.search(one[1])] == []


def test_the_guard_would_catch_a_canning_time() -> None:
    """Words as a canning table has them are caught."""
    for text in ("Process jars for 25 minutes", "bottled at 10 psi", "can be canned in 1 h"):
        assert PRESERVING.search(text)
        assert TIME.search(text)
