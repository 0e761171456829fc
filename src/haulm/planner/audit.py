"""The audit: a plan re-added from its records alone, by code that knows nothing of the solver.

Every check reads the plan and the question and yields what does not agree. A plan with findings is
not to be shown or planted by.
"""

from haulm.measure.errors import AuditFailedError
from haulm.measure.findings import Finding
from haulm.plan.records import Plan
from haulm.planner.audit_allotment import check_allotment
from haulm.planner.audit_books import open_books
from haulm.planner.audit_certainty import (
    check_asked,
    check_counted,
    check_counted_told,
    check_held,
)
from haulm.planner.audit_cost import check_cost
from haulm.planner.audit_ground import (
    check_closed_beds,
    check_cover,
    check_dates,
    check_ground,
    check_names,
    check_patch_size,
    check_question,
    check_ready,
    check_rotation,
    check_sowing,
    check_spread,
    check_standing,
    check_stock,
    check_sun,
    check_trays,
)
from haulm.planner.audit_larder import (
    check_bed_to_plate,
    check_expects,
    check_in_hand,
    check_keeping,
    check_lots,
    check_picks,
    check_seed_back,
    check_serves,
    check_store_space,
)
from haulm.planner.audit_perennials import check_lasting_food, check_lasting_ground
from haulm.planner.audit_pins import check_apart, check_at_most, check_forbidden, check_kept
from haulm.planner.audit_rest import check_rest
from haulm.planner.audit_table import (
    check_helpings,
    check_helpings_from_lots,
    check_hours,
    check_shortages,
    check_solver,
    check_table,
    check_work,
)
from haulm.planner.question import PlanQuestion

CHECKS = (
    check_question,
    check_names,
    check_ground,
    check_patch_size,
    check_standing,
    check_sowing,
    check_dates,
    check_ready,
    check_cover,
    check_closed_beds,
    check_rotation,
    check_rest,
    check_allotment,
    check_sun,
    check_spread,
    check_trays,
    check_stock,
    check_picks,
    check_expects,
    check_bed_to_plate,
    check_lots,
    check_in_hand,
    check_keeping,
    check_store_space,
    check_seed_back,
    check_serves,
    check_lasting_ground,
    check_lasting_food,
    check_table,
    check_helpings,
    check_helpings_from_lots,
    check_shortages,
    check_work,
    check_hours,
    check_forbidden,
    check_at_most,
    check_apart,
    check_kept,
    check_asked,
    check_counted,
    check_counted_told,
    check_held,
    check_cost,
    check_solver,
)
"""Every check, in the order its findings are told."""


def audit(plan: Plan, question: PlanQuestion) -> tuple[Finding, ...]:
    """Re-add a plan and tell everything that does not agree.

    Parameters
    ----------
    plan
        The plan, as it would be shown.
    question
        What it was made from.

    Returns
    -------
    tuple of Finding
        Empty when the plan agrees with itself and with its question.
    """
    books = open_books(plan, question)
    return tuple(finding for check in CHECKS for finding in check(books))


def insist(plan: Plan, question: PlanQuestion) -> Plan:
    """Give a plan back if it survives its audit.

    Raises
    ------
    AuditFailedError
        With every finding, when it does not.
    """
    findings = audit(plan, question)
    if findings:
        raise AuditFailedError(findings)
    return plan
