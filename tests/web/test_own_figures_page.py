"""Crops: a figure of one's own given and taken back, a kind of one's own added and taken out."""

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.naming import figures_by_name
from haulm.desk.garden.editing import mark_of, parts_of
from haulm.desk.garden.opening import open_garden
from haulm.desk.showing.crop_pages import crop_page

DEPTH = {"crop": "garlic", "of": "garlic/hard-necked", "figure": "stand.depth_m"}
FORM = {"of": DEPTH["of"], "figure": DEPTH["figure"]}


def own(client: TestClient, part: str) -> tuple[dict[str, object], ...]:
    """Give what a garden has of its own, as typed."""
    return tuple(dict(one) for one in parts_of(notebook(client))[part])


def notebook(client: TestClient) -> Path:
    """Give the notebook whose pages a client shows."""
    path: Path = client.app.state.shelf.own  # type: ignore[attr-defined]
    return path


@pytest.mark.parametrize("crop", sorted(load_catalogue().crops))
def test_every_figure_on_a_crop_s_page_can_be_given(crop: str) -> None:
    """Each figure of a page is named as a garden names it, so that its form changes that one."""
    catalogue = load_catalogue()
    found = crop_page(catalogue, catalogue.crops[crop], ())
    groups = [*(group for one in found.kinds for group in one.groups), *found.foods, found.family]
    tables = (catalogue.kinds, catalogue.foods, catalogue.families)
    for one in (one for group in [*groups, *found.diseases] for one in group.figures):
        holders = [table[one.of] for table in (*tables, catalogue.diseases) if one.of in table]
        places = [at for holder in holders for at in figures_by_name(holder).items()]
        assert [at.figure for name, at in places if name == one.at] == [one.figure]


def test_a_figure_is_given_and_taken_back(visit: TestClient) -> None:
    """What a household typed is shown as its own beside the catalogue's, and reckoned with; taken
    back, the page is as it was.
    """
    before = visit.get("/crops/garlic").text
    assert "give yours" in before
    form = visit.get("/crops/garlic", params=FORM).text
    assert 'id="own-value"' in form
    visit.post("/own/figure", data=DEPTH | {"value": "8 cm", "note": "a dibber", "act": "give"})
    text = visit.get("/crops/garlic").text
    row = text[text.index(">depth<") :].split("</tr>")[0]
    assert "8 cm" in row
    assert "yours</strong>: a dibber" in row
    assert "the catalogue says 5.5 cm, common practice" in row
    assert open_garden(notebook(visit)).catalogue.kinds[DEPTH["of"]].stand.depth_m.value == 0.08
    filled = visit.get("/crops/garlic", params=FORM).text
    assert 'value="8 cm"' in filled
    (part,) = own(visit, "own_figure")
    visit.post("/own/figure", data=DEPTH | {"act": "back", "seen": mark_of(part)})
    assert own(visit, "own_figure") == ()
    assert "yours</strong>" not in visit.get("/crops/garlic").text


def test_what_is_wrong_with_a_figure_stands_at_its_field(visit: TestClient) -> None:
    """A weight for a depth is refused beside the field, what was typed is kept, nothing written."""
    answer = visit.post("/own/figure", data=DEPTH | {"value": "8 kg", "act": "give"})
    assert answer.status_code == 422
    field = answer.text[answer.text.index('id="own-value"') :]
    assert 'value="8 kg"' in field
    assert "unit of mass, but a length" in field.split("</div>")[0]
    assert own(visit, "own_figure") == ()
    hostile = visit.post("/own/figure", data=DEPTH | {"value": "<b>", "act": "give"})
    assert "<b>" not in hostile.text.split("<main", 1)[1]


def test_two_windows_do_not_give_one_figure_twice(visit: TestClient) -> None:
    """A figure given in one window is not overwritten unseen by another's form."""
    visit.post("/own/figure", data=DEPTH | {"value": "8 cm", "act": "give"})
    again = visit.post("/own/figure", data=DEPTH | {"value": "9 cm", "act": "give"})
    assert "given this figure already" in again.text
    late = {"value": "9 cm", "act": "give", "seen": "0" * 16}
    assert visit.post("/own/figure", data=DEPTH | late).status_code == 409
    assert [part["value"] for part in own(visit, "own_figure")] == ["8 cm"]


def test_a_kind_of_ones_own_is_added_and_taken_out(visit: TestClient) -> None:
    """It stands among the crop's kinds by its name, may have figures, is chosen from where kinds
    were left out, and goes with all that is its own.
    """
    seen = mark_of(parts_of(notebook(visit))["garden"][0])
    visit.post("/crops/garlic", data={"kind": "garlic/soft-necked", "seen": seen})
    visit.post(
        "/own/kind",
        data={"crop": "garlic", "name": "Grandmother's garlic", "like": "garlic/hard-necked"},
    )
    (kind,) = own(visit, "own_kind")
    grown = parts_of(notebook(visit))["garden"][0]["grow"]
    assert kind["id"] in grown
    text = visit.get("/crops/garlic").text
    assert "Grandmother&#39;s garlic" in text
    assert "like garlic/hard-necked in all" in text
    of = {"of": str(kind["id"]), "value": "8 cm", "act": "give"}
    visit.post("/own/figure", data=DEPTH | of)
    assert "stand.depth_m: 8 cm" in visit.get("/crops").text
    visit.post("/own/kind", data={"crop": "garlic", "kind": str(kind["id"]), "act": "out"})
    assert own(visit, "own_kind") == own(visit, "own_figure") == ()
    assert kind["id"] not in parts_of(notebook(visit))["garden"][0]["grow"]


def test_a_kind_without_a_name_of_its_own_is_refused(visit: TestClient) -> None:
    """A kind called as another is not added; nor is one like no kind."""
    data = {"crop": "garlic", "name": "soft-necked garlic", "like": "garlic/hard-necked"}
    assert "Give yours another name" in visit.post("/own/kind", data=data).text
    data = {"crop": "garlic", "name": "mine", "like": "garlic/none"}
    assert visit.post("/own/kind", data=data).status_code == 422
    assert own(visit, "own_kind") == ()


def test_whatever_is_ones_own_can_be_taken_out_from_the_list(visit: TestClient) -> None:
    """The page of all crops lists what is the household's own, and a press takes it out."""
    visit.post("/own/figure", data=DEPTH | {"value": "8 cm", "act": "give"})
    (part,) = own(visit, "own_figure")
    out = {"part": "own_figure", "seen": mark_of(part)}
    assert "Take it out" in visit.get("/crops").text
    visit.post("/own/out", data=out)
    assert own(visit, "own_figure") == ()
    assert visit.post("/own/out", data=out).status_code == 409
    assert visit.post("/own/out", data=out | {"part": "bed"}).status_code == 404
