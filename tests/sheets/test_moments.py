"""Which plantings share a bed sheet."""

from haulm.sheets.bundle import SheetBundle
from haulm.sheets.moments import doings_text, moments_of
from sheets.schoolhouse import planting

MAY = ("2027-05-01", "2027-05-01", "2027-08-01", "2027-08-08", "2027-08-15", "2027-09-01")
LATE_MAY = ("2027-05-19", "2027-05-19", "2027-08-01", "2027-08-08", "2027-08-15", "2027-09-01")
JUNE = ("2027-06-10", "2027-06-10", "2027-08-01", "2027-08-08", "2027-08-15", "2027-09-01")


def ids(plantings: tuple[object, ...]) -> list[str]:
    """Name plantings by their ids."""
    return [str(getattr(one, "id", "")) for one in plantings]


def test_what_is_planted_within_four_weeks_shares_a_sheet() -> None:
    """Two plantings eighteen days apart are carried out with one sheet; a third waits its turn."""
    some = [
        planting("bean/french", 1, "atlas", MAY),
        planting("bean/french", 2, "atlas", LATE_MAY),
        planting("bean/french", 3, "atlas", JUNE),
    ]
    moments = moments_of(some)
    assert [ids(moment.fresh) for moment in moments] == [["bean-1", "bean-2"], ["bean-3"]]
    assert ids(moments[1].older) == ["bean-1", "bean-2"]


def test_a_sheet_never_shows_two_crops_on_one_ground() -> None:
    """A planting that follows another on its ground has a sheet of its own."""
    some = [
        planting("bean/french", 1, "atlas", (*MAY[:5], "2027-05-15")),
        planting("bean/french", 2, "atlas", LATE_MAY),
    ]
    assert [ids(moment.fresh) for moment in moments_of(some)] == [["bean-1"], ["bean-2"]]


def test_what_stands_is_not_planted_again(schoolhouse: SheetBundle) -> None:
    """The garlic that stood when the plan was made is outlined, never new."""
    moments = moments_of(schoolhouse.plantings_in("atlas"))
    assert all("garlic-1" not in ids(moment.fresh) for moment in moments)
    assert "garlic-1" in ids(moments[0].older)


def test_every_planting_to_be_made_has_exactly_one_sheet(schoolhouse: SheetBundle) -> None:
    """Nothing to be planted is forgotten or printed twice."""
    for bed in schoolhouse.beds:
        plantings = schoolhouse.plantings_in(bed.id)
        shown = [one for moment in moments_of(plantings) for one in ids(moment.fresh)]
        assert sorted(shown) == sorted(one.id for one in plantings if not one.standing)


def test_the_head_says_what_is_done_when(schoolhouse: SheetBundle) -> None:
    """The head of a sheet names the work and its days."""
    moments = moments_of(schoolhouse.plantings_in("set-square"))
    assert doings_text(moments[0].fresh) == "set out 24 May and 7 June 2027"
    assert doings_text(moments[1].fresh) == "plant 15 Nov 2027"


def test_a_sheet_takes_four_plantings_and_no_more() -> None:
    """Five plantings on one day make a sheet of four and a sheet of one."""
    some = [planting("bean/french", number, "atlas", MAY) for number in range(1, 6)]
    assert [len(moment.fresh) for moment in moments_of(some)] == [4, 1]


def test_plantings_share_a_sheet_only_if_that_saves_paper() -> None:
    """Where two plantings would need two pages together, each has a sheet of its own."""
    some = [planting("bean/french", number, "atlas", MAY) for number in (1, 2)]
    assert len(moments_of(some, lambda moment: len(moment.fresh))) == 2


def test_many_days_are_told_from_first_to_last() -> None:
    """Three days do not crowd the head of a sheet."""
    june = ("2027-05-27", "2027-05-27", *JUNE[2:])
    fresh = [
        planting("bean/french", 1 + n, "atlas", days)
        for n, days in enumerate((MAY, LATE_MAY, june))
    ]
    assert doings_text(fresh) == "sow 1 to 27 May 2027"
