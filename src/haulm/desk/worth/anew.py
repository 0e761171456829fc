"""What one more would bring to a garden planned anew with it: a tunnel, ground, hours, a shelf.

The programme that holds a plan still says what its own patches make of one more. A garden planned
anew may also choose other sowings, and a tunnel opens sowings that were none before. Both the
garden as it is and the garden with one more are planned after the kept plan, by one effort.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

from haulm.desk.planning.plans import Made
from haulm.desk.planning.question import ask, on_offer
from haulm.desk.worth.worths import Worths, question_of
from haulm.ground.outlines import rectangle
from haulm.ground.records import Bed, Cover
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan
from haulm.planner.counted import as_counted
from haulm.planner.held import patches_of
from haulm.planner.make import make_plan
from haulm.planner.one_more import TELLING_KG
from haulm.planner.pieces import pieces
from haulm.planner.question import Before, Effort, PlanQuestion, Progress, Watcher
from haulm.planner.records import Fed, OneMore, Scarce

TUNNEL_WIDTH_M = 2.0
TUNNEL_ID = "one more tunnel"


@dataclass(frozen=True, slots=True)
class Anew:
    """What one more brought to a garden planned anew.

    Attributes
    ----------
    more
        What there was one more of; None for a tunnel put up beside the beds.
    area_m2
        The tunnel's ground [m²]; 0 for all else.
    worth_kg
        By how much the plan with it is better than the plan without [weighted kg]; no less than
        what the kept plan's own patches make of it.
    fed
        By line of the table, what more comes to it, and what less.
    doubt_kg
        By how much either plan may fall short of the best there can be [weighted kg].
    """

    more: OneMore | None
    area_m2: float
    worth_kg: float
    fed: Fed
    doubt_kg: float


def planned_anew(
    made: Made, worths: Worths, effort: Effort, watch: Watcher | None = None
) -> tuple[Anew, ...]:
    """Plan a garden anew with a tunnel, and with one more of what is scarcest of each sort.

    Parameters
    ----------
    made, worths
        The kept plan, and what is told beside it.
    effort, watch
        As for any plan; all of them are planned by the same effort.

    Raises
    ------
    FaultsFoundError, AuditFailedError, InterruptedPlanError
        As any plan.
    """
    before = tuple(Before(s, bed, m2) for (s, bed), m2 in patches_of(made.plan).items())
    question = replace(question_of(made), before=before)
    scarcest = list(_scarcest(worths))
    steps = len(scarcest) + 2
    told = [partial(_told, watch, steps, step) for step in range(steps)]
    base = make_plan(question, effort, told[0])
    covered = make_plan(replace(_with_tunnel(made), before=before), effort, told[1])
    found = [_anew(None, pieces().tunnel_m2.value, base, covered)]
    for step, more in enumerate(scarcest, start=2):
        plan = make_plan(with_one_more(question, more), effort, told[step])
        found.append(_anew(more, 0.0, base, plan))
    return tuple(sorted(found, key=lambda each: -each.worth_kg))


def tunnel_anew(made: Made, worths: Worths, effort: Effort) -> tuple[Anew, ...]:
    """Plan a garden anew with a tunnel alone.

    Raises
    ------
    FaultsFoundError, AuditFailedError
        As any plan.
    """
    return planned_anew(made, replace(worths, more=()), effort)


def _told(watch: Watcher | None, steps: int, step: int, progress: Progress) -> None:
    """Tell whoever watches how far all the plans together have come."""
    if watch is not None:
        watch(replace(progress, done=(step + progress.done) / steps))


def _scarcest(worths: Worths) -> Iterator[OneMore]:
    """Give, of each sort, the thing of which one more through all weeks would bring most."""
    last = worths.question.horizon.weeks - 1
    for what in Scarce:
        found = [
            more
            for more in worths.more
            if more.what is what
            and (what is Scarce.HOURS or more.last_week - more.first_week == last)
        ]
        if found:
            yield max(found, key=lambda more: more.worth_kg)


def with_one_more(question: PlanQuestion, more: OneMore) -> PlanQuestion:
    """Ask with one more of a thing, in the weeks in which there would be more of it.

    A bed is larger in all weeks.
    """
    if more.what is Scarce.GROUND:
        beds = [
            replace(b, area_m2=b.area_m2 + more.amount * (b.id == more.where))
            for b in question.beds
        ]
        return replace(question, beds=tuple(beds))
    if more.what is Scarce.HOURS:
        hours = [
            h + more.amount * (more.first_week <= week <= more.last_week)
            for week, h in enumerate(question.hours_week)
        ]
        return replace(question, hours_week=tuple(hours))
    if more.what is Scarce.TRAYS:
        return replace(question, tray_cells=(question.tray_cells or 0) + round(more.amount))
    stores = [
        replace(s, capacity_l=s.capacity_l + more.amount)
        if s.id == more.where and s.capacity_l is not None
        else s
        for s in question.stores
    ]
    return replace(question, stores=tuple(stores))


def _with_tunnel(made: Made) -> PlanQuestion:
    """Ask again with a tunnel beside the beds there are: what may be sown is worked out anew."""
    garden: Garden = made.begun_from
    length_m = pieces().tunnel_m2.value / TUNNEL_WIDTH_M
    outline = rectangle(TUNNEL_WIDTH_M, length_m, "tunnel")
    tunnel = Bed(TUNNEL_ID, TUNNEL_ID, outline, cover=Cover.TUNNEL)
    larger = replace(garden, beds=(*garden.beds, tunnel))
    day, seed = made.plan.made_on, made.plan.solver.seed
    offer = on_offer(larger, made.catalogue, day, seed, made.planned)
    asked = ask(larger, made.catalogue, day, seed, offer=offer)
    return as_counted(asked.question, made.plan.certainty)


def _anew(more: OneMore | None, area_m2: float, base: Plan, plan: Plan) -> Anew:
    """Hold a plan with one more against the plan without."""
    short: dict[str, float] = {}
    for sign, each in ((1.0, base), (-1.0, plan)):
        for row in each.table:
            short[row.line] = short.get(row.line, 0.0) + sign * row.short_kg
    fed = [(line, kg) for line, kg in short.items() if abs(kg) >= TELLING_KG]
    worth = base.solver.objective - plan.solver.objective
    least = 0.0 if more is None else more.worth_kg
    if worth < least and more is not None:
        fed = list(more.fed)
    return Anew(
        more,
        area_m2,
        max(worth, least),
        tuple(sorted(fed, key=lambda each: (-each[1], each[0]))),
        max(p.solver.objective - p.solver.bound for p in (base, plan)),
    )
