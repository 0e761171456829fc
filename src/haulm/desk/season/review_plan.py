"""The plan that a review counts by, with the garden as it was when it was made."""

from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.plans import Made
from haulm.desk.planning.question import display_names
from haulm.desk.planning.state import garden_on
from haulm.desk.season.diary_state import with_diary
from haulm.desk.season.review import Reviewed
from haulm.notebook.file import open_notebook


def made_then(reviewed: Reviewed) -> Made:
    """Give the plan that counts with what stood and lay in store when it was made.

    Raises
    ------
    FaultsFoundError
        When the garden has faults.
    """
    opened = open_garden(reviewed.path)
    with open_notebook(reviewed.path) as notebook:
        earlier = [one.number for one in notebook.plans() if one.number < reviewed.number]
        before = notebook.plan(earlier[-1]) if earlier else None
    plan, catalogue = reviewed.plan, opened.catalogue
    told, day = with_diary(opened, before, plan.made_on), plan.made_on
    return Made(
        plan,
        opened.garden,
        catalogue,
        {},
        display_names(opened.garden, catalogue),
        number=reviewed.number,
        now=garden_on(told.garden, catalogue, before, day, books_kept=told.books_kept),
    )
