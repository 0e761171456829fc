"""The bundle: every label points at something."""

from dataclasses import replace

import pytest

from haulm.measure.errors import LabelsDifferError
from haulm.sheets.bundle import SheetBundle, check_labels


def test_a_sound_bundle_passes(schoolhouse: SheetBundle) -> None:
    """A garden whose every planting has bed, layout and catalogue entry is drawn."""
    check_labels(schoolhouse)


def test_all_that_is_missing_is_told_at_once(schoolhouse: SheetBundle) -> None:
    """Every planting without a layout and every line without a name is named in one message."""
    without_layouts = {**schoolhouse.layouts, "easel": ()}
    lines = {line: name for line, name in schoolhouse.lines.items() if line != "beans"}
    lame = replace(schoolhouse, layouts=without_layouts, lines=lines)
    with pytest.raises(LabelsDifferError) as refused:
        check_labels(lame)
    told = str(refused.value)
    assert "cabbage-2: layout unknown" in told
    assert "potato-2: layout unknown" in told
    assert "Line beans of the table has no name" in told


def test_a_bed_that_is_not_there_is_named(schoolhouse: SheetBundle) -> None:
    """Asking for a bed that does not exist names the beds there are."""
    with pytest.raises(LabelsDifferError, match=r"No bed is called attic; the beds are atlas"):
        schoolhouse.bed("attic")


def test_plantings_come_in_order_of_their_ground(schoolhouse: SheetBundle) -> None:
    """A bed's plantings are listed by the day they take its ground."""
    ids = [planting.id for planting in schoolhouse.plantings_in("atlas")]
    assert ids == ["garlic-1", "potato-1", "bean-1", "leek-1"]


@pytest.mark.parametrize(
    ("crop", "kind", "said"),
    [
        ("potato", "maincrop potato", "Potato, maincrop"),
        ("onion", "onion from sets", "Onion, from sets"),
        ("French bean", "bean for drying", "French bean, for drying"),
        ("celeriac", "celeriac", "Celeriac"),
    ],
)
def test_a_kind_is_named_with_its_crop_once(
    schoolhouse: SheetBundle, crop: str, kind: str, said: str
) -> None:
    """The crop's name stands first and is not said twice."""
    tables = schoolhouse.catalogue
    crops = {**tables.crops, "potato": replace(tables.crops["potato"], name=crop)}
    kinds = {**tables.kinds}
    kinds["potato/maincrop"] = replace(kinds["potato/maincrop"], name=kind)
    changed = replace(schoolhouse, catalogue=replace(tables, crops=crops, kinds=kinds))
    assert changed.kind_words("potato/maincrop") == said
