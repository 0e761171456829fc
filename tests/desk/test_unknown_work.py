"""Work whose minutes nobody has: hours leave it out, and it is said."""

from dataclasses import replace

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Absent
from haulm.desk.planning.unknown_work import hours_left_out, work_unknown
from haulm.measure.findings import Grade

LEEK = load_catalogue().kinds["leek/winter"]
UNTIMED = replace(LEEK, labour=replace(LEEK.labour, pick_min_kg=Absent("untimed", "minutes/kg")))


def test_work_nobody_has_timed_is_told_with_the_reason() -> None:
    """A leek whose lifting nobody has timed is warned of; one that was timed is not."""
    (told,) = hours_left_out((LEEK, UNTIMED))
    assert told.grade is Grade.WARNING
    assert "lifting or picking" in told.what
    assert "untimed" in told.what
    assert told.remedy


def test_untimed_kitchen_work_counts_for_the_food_it_belongs_to() -> None:
    """Freezing that nobody has timed is missing from the leek's hours, not from another food's."""
    giving = LEEK.givings[0]
    keeping = replace(giving.keeping[0], work_min_kg=Absent("untimed", "minutes/kg"))
    kind = replace(LEEK, givings=(replace(giving, keeping=(keeping,)),))
    assert work_unknown(kind, giving.food)
    assert not work_unknown(kind, "carrot")
    assert not work_unknown(LEEK)
