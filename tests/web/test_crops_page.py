"""Crops: the catalogue with what each figure rests on, and the kinds that plans may choose."""

from collections.abc import Callable
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Basis, Figure, Hardy
from haulm.desk.garden.editing import mark_of, parts_of
from haulm.desk.showing.crop_pages import HARDY, crop_lines, crop_page

Door = Callable[[Path], TestClient]


def own(client: TestClient) -> Path:
    """Give the notebook whose pages a client shows."""
    path: Path = client.app.state.shelf.own  # type: ignore[attr-defined]
    return path


def seen(client: TestClient) -> str:
    """Give the mark of the garden's part as a page would carry it."""
    return mark_of(parts_of(own(client))["garden"][0])


def grown(client: TestClient) -> object:
    """Give the kinds that a garden names, as typed."""
    return parts_of(own(client))["garden"][0].get("grow")


def figures_in(record: object) -> list[Figure]:
    """Give every figure that a record holds, however deep."""
    if isinstance(record, Figure):
        return [record]
    if isinstance(record, tuple):
        return [figure for part in record for figure in figures_in(part)]
    names = getattr(record, "__dataclass_fields__", {})
    return [figure for name in names for figure in figures_in(getattr(record, name))]


def test_every_crop_is_listed(visit: TestClient) -> None:
    """The list has a link to each crop of the catalogue."""
    text = visit.get("/crops").text
    for crop in load_catalogue().crops.values():
        assert f">{crop.name.replace(chr(39), '&#39;')}</a>" in text


@pytest.mark.parametrize(
    ("words", "found"),
    [("leek", "leek"), ("Allium sat", "garlic"), ("dry beans", "French bean"), ("LEEK", "leek")],
)
def test_crops_are_found_by_any_of_their_names(words: str, found: str) -> None:
    """The name of a crop, its botanical one, a kind's or a food's finds it, capitals or not."""
    lines, findings = crop_lines(load_catalogue(), words, ())
    assert found in [line.crop.name for line in lines]
    assert not findings


def test_a_mistyped_crop_is_answered_with_near_names(visit: TestClient) -> None:
    """Where nothing is called so, what looks like it is told."""
    text = visit.get("/crops", params={"name": "garlik"}).text
    assert "Did you mean" in text
    assert 'value="garlik"' in text
    hostile = visit.get("/crops", params={"name": "<script>"}).text
    assert "<script>" not in hostile.split("<main", 1)[1]


def test_a_crop_tells_how_soon_its_seed_shows(visit: TestClient) -> None:
    """Carrots show after 17 days at 10 °C, by a table of their own; dill goes by that of carrot,
    and basil, for which there is none, is told nothing.
    """
    carrot, dill, basil = (visit.get(f"/crops/{crop}").text for crop in ("carrot", "dill", "basil"))
    assert "<td>17</td><td>93</td>" in carrot
    assert "Published, of its own seed." in carrot
    assert "Judged, by the table of carrot; near kin of carrot." in dill
    assert "How soon seed shows" not in basil


@pytest.mark.parametrize("crop", sorted(load_catalogue().crops))
def test_no_figure_of_a_crop_is_left_out(crop: str) -> None:
    """Each figure of each kind stands in a group, and each published one has its source."""
    catalogue = load_catalogue()
    found = crop_page(catalogue, catalogue.crops[crop], ())
    for one in found.kinds:
        shown = [named.figure for group in one.groups for named in group.figures if named.figure]
        assert len(shown) == len(figures_in(one.kind))
    used = {source.id for source in found.sources}
    groups = [group for one in found.kinds for group in one.groups]
    for group in groups:
        for named in group.figures:
            if named.figure is not None and named.figure.basis is Basis.PUBLISHED:
                assert named.figure.source in used


def test_what_is_unknown_is_said(visit: TestClient) -> None:
    """A figure without a spread says so; a kind that no frost is known to kill says so."""
    assert "not known" in visit.get("/crops/garlic").text
    catalogue = load_catalogue()
    hardy = next(
        kind for kind in catalogue.kinds.values() if isinstance(kind.warmth.killing_frost_c, Hardy)
    )
    frost = hardy.warmth.killing_frost_c
    assert isinstance(frost, Hardy)
    assert f"{HARDY}: {frost.why}" in visit.get(f"/crops/{hardy.crop}").text


def test_each_figure_has_unit_basis_and_source(visit: TestClient) -> None:
    """The page of leek gives the distance in the row, what it rests on, and the sources' titles."""
    text = visit.get("/crops/leek").text
    assert "apart in the row" in text
    assert "15 cm" in text
    assert "common practice" in text
    assert "FAO Irrigation and Drainage Paper 56" in text
    assert 'href="#source-1"' in text


def test_cautions_stand_before_the_figures(visit: TestClient) -> None:
    """Where a food can hurt someone its crop's page says so first, and whom to ask."""
    text = visit.get("/crops/potato").text
    assert "Take care" in text
    assert text.index("green") < text.index("How it stands")
    assert "Ask " in text


def test_no_such_crop_is_said(visit: TestClient) -> None:
    """A crop that the catalogue does not hold has no page."""
    for name in ("unobtainium", "../x", "leek/winter"):
        assert visit.get(f"/crops/{name}").status_code == 404


def test_the_catalogue_is_open_before_there_is_a_garden(door: Door, tmp_path: Path) -> None:
    """Without a garden the crops can be read; there is nothing to choose yet."""
    pages = door(tmp_path / "none.haulm")
    assert pages.get("/crops").status_code == 200
    text = pages.get("/crops/leek").text
    assert "How it stands" in text
    assert "Kinds that plans may choose" not in text


def test_a_kind_can_be_left_out_and_let_in_again(visit: TestClient) -> None:
    """Leaving one kind out keeps every other crop's kinds; all ticked again asks for any kind."""
    kinds = len(load_catalogue().kinds)
    visit.post("/crops/leek", data={"kind": "leek/winter", "seen": seen(visit)})
    chosen = grown(visit)
    assert isinstance(chosen, list | tuple)
    assert len(chosen) == kinds - 1
    assert "<s>summer and autumn leek</s>" in visit.get("/crops").text
    both = {"kind": ["leek/winter", "leek/summer"], "seen": seen(visit)}
    visit.post("/crops/leek", data=both)
    assert not grown(visit)


def test_every_kind_is_let_in_by_one_press(visit: TestClient) -> None:
    """However many were left out, one press lets every kind in again."""
    visit.post("/crops/leek", data={"seen": seen(visit)})
    visit.post("/crops/garlic", data={"seen": seen(visit)})
    assert grown(visit)
    assert "any kind again" in visit.post("/crops").text
    assert not grown(visit)


def test_a_choice_drawn_before_anothers_is_refused(visit: TestClient) -> None:
    """Two windows do not overwrite one another's choice."""
    old = seen(visit)
    visit.post("/crops/leek", data={"kind": "leek/winter", "seen": old})
    answer = visit.post("/crops/garlic", data={"seen": old})
    assert answer.status_code == 409


def test_the_last_kind_of_all_cannot_be_left_out(visit: TestClient) -> None:
    """A garden in which nothing may be grown is refused in words, not planned in silence."""
    catalogue = load_catalogue()
    for crop in catalogue.crops.values():
        answer = visit.post(f"/crops/{crop.id}", data={"seen": seen(visit)})
    assert answer.status_code == 422
    assert "Leave at least one." in answer.text


def test_an_opened_crop_says_what_its_foods_hold(visit: TestClient) -> None:
    """The page gives each food's energy and vitamins in 100 g, its row and whose it is; a food
    without a row says why.
    """
    text = visit.get("/crops/potato").text
    assert "What 100 g of the edible part hold" in text
    assert "77 kcal" in text
    assert "Potatoes, flesh and skin, raw" in text
    assert "USDA FoodData Central" in text
    assert "no row is of this relative of the leek" in visit.get("/crops/elephant garlic").text
    assert "not known" in visit.get("/crops/broad bean").text.split("What 100 g", 1)[1]
