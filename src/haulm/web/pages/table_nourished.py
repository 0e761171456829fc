"""What the table's page says of the household's need of energy and vitamins."""

from collections.abc import Mapping

from babel.dates import get_month_names

from haulm.desk.at_hand import AtHand
from haulm.desk.table.foods_held import amount_text
from haulm.desk.table.nourishing import RESTS_ON, nourished
from haulm.plan.records import Plan
from haulm.web.words import language

FIRST_TOLD = ("energy_kcal", "protein_g", "vitamin_a_ug", "vitamin_c_mg")
"""What is told before the table is opened."""


def nourishing(garden: AtHand, plan: Plan | None) -> Mapping[str, object]:
    """Give the page's template all it shows of the need that a plan covers; nothing without one."""
    if plan is None:
        return {"nourished": None}
    opened = garden.opened
    found = garden.once(
        "nourished", garden.day, lambda: nourished(plan, opened.garden, opened.catalogue)
    )
    months = get_month_names("abbreviated", locale=language())
    return {
        "nourished": found,
        "amount_text": amount_text,
        "first_told": FIRST_TOLD,
        "rests_on": RESTS_ON,
        "short_months": tuple(months[number] for number in range(1, 13)),
    }
