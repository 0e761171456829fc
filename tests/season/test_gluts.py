"""What is more than the table eats and the stores take, and what may be done with it."""

from datetime import date

import pytest

from haulm.season.gluts import Glut, OtherUses, OtherWay, PlantedOn, TakenByPlan
from haulm.sheets.glut_words import GlutWords

WORDS = GlutWords(str, "metric")


def uses(*ways: OtherWay, planted: PlantedOn | None = None, otherwise: str = "") -> OtherUses:
    """Make the other uses of a food."""
    return OtherUses(
        "garlic", stands=False, keeps=ways, planted=planted, otherwise=otherwise, cautions=()
    )


def test_what_is_picked_again_and_again_is_taken_week_by_week() -> None:
    """Courgettes of a week are held against that week; before their first, against the first."""
    taken = TakenByPlan({30: 2.0, 31: 3.0}, again=True)
    assert taken.near(31, 0.0) == 3.0
    assert taken.near(28, 0.0) == 2.0


def test_what_is_lifted_at_once_is_no_glut_for_coming_early() -> None:
    """Onions planned for two weeks on are all taken; what came before is taken off them."""
    taken = TakenByPlan({32: 12.0}, again=False)
    assert taken.near(30, 0.0) == 12.0
    assert taken.near(32, 9.0) == 3.0


def test_of_what_no_plan_grows_about_then_nothing_is_said() -> None:
    """Nobody has reckoned what the table wants of it then: that is not a glut of all of it."""
    assert TakenByPlan({32: 12.0}, again=False).near(20, 0.0) is None


def test_no_time_for_preserving_is_ever_told() -> None:
    """Bottled, dried and fermented food goes by tested recipes alone; haulm gives no times."""
    for form in ("bottled", "dried", "fermented"):
        (said, *_rest) = WORDS.uses(uses(OtherWay(form, "Pantry", None, 52.0)))
        assert "officially tested recipes alone: haulm gives no times" in said
        assert "minute" not in said


def test_a_full_store_is_said_to_be_full() -> None:
    """Where the plan leaves no room in the freezer, freezing is not told as a way out."""
    (said, *_rest) = WORDS.uses(uses(OtherWay("frozen", "Freezer", 0.0, 35.0)))
    assert said == "Freeze it: by the plan there is no room in Freezer this week."


def test_what_cannot_be_kept_is_given_away() -> None:
    """Without a store that keeps it, it says so, and giving it away is left."""
    said = WORDS.uses(uses())
    assert said[0] == "haulm knows no other way to keep it in the stores there are."
    assert said[-1].startswith("Give some away")


def test_none_is_planted_of_what_was_ill() -> None:
    """White rot seen on the crop: none of it is planted, and the day is told."""
    seen = (("white rot", date(2027, 6, 3)),)
    (_keep, said, _give) = WORDS.uses(uses(planted=PlantedOn("clove", 200.0, ("white rot",), seen)))
    assert said.startswith("Plant none of it: white rot was seen on 3 June")


def test_planting_stock_is_told_by_the_pound_where_pounds_are_used() -> None:
    """A kilogram gives 200 cloves, a pound 91."""
    told = uses(planted=PlantedOn("clove", 200.0, (), ()))
    assert "a kilogram gives about 200 cloves" in WORDS.uses(told)[1]
    assert "a pound gives about 91 cloves" in GlutWords(str, "us").uses(told)[1]


@pytest.mark.parametrize(("picked", "words"), [(None, "the plan has"), (3.0, "by the diary")])
def test_a_glut_says_who_tells_of_it(picked: float | None, words: str) -> None:
    """The plan or the diary: whichever tells of it is named."""
    assert words in WORDS.over(Glut("garlic", picked, 1.0, uses()))
