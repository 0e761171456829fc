"""A bed sheet says what the bed's soil test means for what is planted there."""

from dataclasses import replace

from haulm.sheets.bed_facts import facts_of
from haulm.sheets.bundle import SheetBundle


def on_sheet(schoolhouse: SheetBundle, ph: float | None) -> str:
    """Give what the potatoes' sheet says of soil."""
    planting = next(one for one in schoolhouse.plan.plantings if one.crop == "potato")
    beds = tuple(replace(bed, ph=ph) for bed in schoolhouse.beds)
    bundle = replace(schoolhouse, beds=beds)
    rows = [row.says[0] for row in facts_of(bundle, [planting]) if row.word == "soil"]
    return "".join(rows)


def test_limed_ground_is_told_on_the_potatoes_sheet(schoolhouse: SheetBundle) -> None:
    """Potatoes in ground of pH 6.8 have a row that says so; in ground that was never tested, or
    that suits them, there is no such row.
    """
    assert "6 or less is better (common scab" in on_sheet(schoolhouse, 6.8)
    assert on_sheet(schoolhouse, None) == ""
    assert on_sheet(schoolhouse, 5.6) == ""


def test_sour_ground_is_to_be_limed_with_care(schoolhouse: SheetBundle) -> None:
    """Where lime is wanted the sheet says when, and names no amount."""
    says = on_sheet(schoolhouse, 4.5)
    assert "5.2 or so is wanted" in says
    assert "in the autumn before" in says
    assert "the sack or a soil laboratory says" in says
