"""Say how sure a plan made for a certainty is, and what of it is less sure than was asked."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from haulm.forecast.records import PlanOdds, Promise
from haulm.forecast.rules import forecast_rules
from haulm.measure.findings import Finding, Grade
from haulm.measure.weeks import WEEKS_A_YEAR
from haulm.plan.records import Held, Plan
from haulm.planner.counted import sure_lines
from haulm.planner.question import PlanQuestion

SAMPLING_ERRORS = 2
"""A promise short of its certainty by more standard errors than this is told not to hold."""


def sure_promises(odds: PlanOdds, wanted: Mapping[str, float]) -> Iterator[Promise]:
    """Give the promises of more than nothing to the lines that are to be sure."""
    least_kg = forecast_rules().empty_kg.value
    return (p for p in odds.promises if p.line in wanted and p.promised_kg > least_kg)


def told_how_sure(plan: Plan, odds: PlanOdds, question: PlanQuestion, *, stopped: bool) -> Plan:
    """Write into a plan how often its promises held in fresh seasons, and which are not so sure."""
    wanted = dict(sure_lines(question))
    promises = tuple(sure_promises(odds, wanted))
    held = tuple(Held(p.line, p.year, p.held, p.error) for p in promises)
    if plan.certainty is None:
        return plan
    certainty = replace(plan.certainty, held=held, seasons=odds.seasons)
    told = replace(plan, certainty=certainty)
    return replace(told, findings=(*plan.findings, *not_so_sure(told, question, stopped=stopped)))


def not_so_sure(
    plan: Plan, question: PlanQuestion, *, stopped: bool = False
) -> tuple[Finding, ...]:
    """Tell which promises of a plan hold less often than its lines ask, beyond sampling error."""
    if plan.certainty is None:
        return ()
    wanted = dict(plan.certainty.lines)
    short = [
        f"{question.names.get(one.line, one.line)} {_years(plan, one.year)} holds"
        f" {10 * one.share:.1f} years in 10, not {10 * wanted[one.line]:g}"
        for one in plan.certainty.held
        if is_short(one, wanted[one.line])
    ]
    if not short:
        return ()
    what = f"not all is as sure as was asked: {'; '.join(short)}."
    remedy = (
        "Planning was stopped early; let it run to the end."
        if stopped
        else "Give these foods another bed or kind to spread the risk over, or ask for less."
    )
    return (Finding("how sure the plan is", what, remedy, Grade.WARNING),)


def is_short(held: Held, wanted: float) -> bool:
    """Say whether a promise holds less often than asked, by more than its sampling error."""
    return held.share < wanted - SAMPLING_ERRORS * held.error


def _years(plan: Plan, year: int) -> str:
    """Name one of the plan's years by the calendar years it lies in, as in 2027/28."""
    first = plan.horizon.monday(year * WEEKS_A_YEAR).year
    last = plan.horizon.monday((year + 1) * WEEKS_A_YEAR - 1).year
    return f"{first}" if first == last else f"{first}/{last % 100:02d}"
