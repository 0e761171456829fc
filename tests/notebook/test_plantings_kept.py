"""Plantings of all plans kept are found by their lasting names, and odd records keep their word."""

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

from sqlalchemy import delete

from haulm.notebook.file import open_notebook
from haulm.notebook.learning_tables import PLANTINGS
from haulm.notebook.odd_records import SaidOfRecord, said_of_records, say_of_record
from haulm.notebook.plantings import list_all_plantings, plantings_kept
from haulm.season.records import planting_key

AT = datetime(2028, 1, 5, 9, tzinfo=UTC)


def test_every_planting_is_found_as_the_newest_plan_has_it(planned: Path) -> None:
    """A planting that a later plan found standing is known both as it stood and as planned."""
    with open_notebook(planned, writing=True) as notebook:
        plan = notebook.plan()
        first = plan.plantings[0]
        stood = replace(first, standing=True, area_m2=first.area_m2 / 2)
        later = replace(plan, made_on=date(2027, 6, 1), plantings=(stood,))
        notebook.write_plan(later, "later", "0.1.0")
        found = plantings_kept(notebook.connection)
    key = planting_key(first.kind, first.method, first.sow_on, first.bed)
    assert found[key].newest == stood
    assert found[key].as_planned == first
    assert len(found) == len(plan.plantings)


def test_a_proposal_is_listed_once_it_is_kept(planned: Path) -> None:
    """What nobody has agreed to was never planned."""
    with open_notebook(planned, writing=True) as notebook:
        plan = notebook.plan()
        before = plantings_kept(notebook.connection)
        moved = replace(plan.plantings[0], bed="elsewhere")
        number = notebook.write_plan(replace(plan, plantings=(moved,)), "x", "0.1.0", kept=False)
        assert plantings_kept(notebook.connection) == before
        notebook.keep(number)
        assert len(plantings_kept(notebook.connection)) == len(before) + 1


def test_the_list_is_made_again_from_the_plans(planned: Path) -> None:
    """A notebook from before the list was kept, or a rescued one, gets the very same list."""
    with open_notebook(planned, writing=True) as notebook:
        before = plantings_kept(notebook.connection)
        notebook.connection.execute(delete(PLANTINGS))
        list_all_plantings(notebook.connection)
        assert plantings_kept(notebook.connection) == before


def test_the_last_word_on_a_record_holds(planned: Path) -> None:
    """What was said of an odd record may be said otherwise, and taken back."""
    with open_notebook(planned, writing=True) as notebook:
        mark = notebook.mark()
        for said in (SaidOfRecord.RIGHT, SaidOfRecord.ASIDE):
            say_of_record(notebook, "e1", said, AT)
        say_of_record(notebook, "e2", SaidOfRecord.RIGHT, AT)
        say_of_record(notebook, "e2", SaidOfRecord.NOTHING, AT)
        assert said_of_records(notebook) == {"e1": SaidOfRecord.ASIDE}
        assert notebook.mark() == mark
