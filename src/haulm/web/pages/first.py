"""The first visit: three questions, a garden made of the answers, and its first plan at once."""

from collections.abc import Mapping

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from haulm.desk.first.first_garden import FirstAnswers, first_notes
from haulm.desk.first.first_visit import FirstRead, begin, read_first, town_key, town_label
from haulm.desk.garden.towns import towns_like
from haulm.desk.garden.uploads import load_garden
from haulm.desk.planning.plans import Made
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.web.forms import Form, with_form
from haulm.web.planning import State
from haulm.web.show import by_field, go, page, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import noted

PLAN = "/first/plan"
FIELDS = (
    "place_name",
    "town",
    "latitude_deg",
    "longitude_deg",
    "height_m",
    "last_frost",
    "adults",
    "children",
    "ground_m2",
    "units",
)
MENDED_AT = {
    "table": ("/table", noted("Change the table")),
    "hours": ("/table-household", noted("Change the hours")),
    "place": ("/place", noted("Change the place")),
    "weather": ("/place", noted("Load a daily record")),
    "store": ("/larder", noted("Change the stores")),
    "bed": ("/ground", noted("Draw the beds")),
}
"""Where what was taken for granted is changed, by the part of the garden."""


def show(request: Request) -> Response:
    """Ask the three questions; where there is a garden already, lead on to it."""
    return _ask(request, {"children": "0"})


def make(request: Request, form: Form) -> Response:
    """Make a garden of the answers, and begin its first plan."""
    shelf = shelf_of(request)
    typed = {field: form.text(field) for field in FIELDS}
    if shelf.own.exists():
        return go("/first")
    read = read_first(typed)
    if read.answers is None:
        return _ask(request, typed, read)
    try:
        begin(shelf.own, read.answers)
    except FaultsFoundError as error:
        return _ask(request, typed, FirstRead(None, error.findings))
    request.app.state.first_answers = read.answers
    return _plan_own(request)


def take_file(request: Request, form: Form) -> Response:
    """Make the notebook of a garden file."""
    shelf = shelf_of(request)
    dropped = form.files.get("file")
    if shelf.own.exists():
        return go("/first")
    if dropped is None:
        what = _("no file was chosen.")
        return _ask(request, {}, file_findings=(Finding("garden.toml", what, _("Choose one.")),))
    try:
        load_garden(shelf.own, dropped.data, shelf.now())
    except FaultsFoundError as error:
        return _ask(request, {}, file_findings=error.findings)
    request.app.state.first_answers = None
    return _plan_own(request)


def watch(request: Request) -> Response:
    """Show how the first plan comes on, what was taken for granted, and then what came of it."""
    shelf = shelf_of(request)
    making = shelf.planner.making
    if not shelf.garden.there:
        return go("/first")
    running = making is not None and making.state is State.RUNNING
    failed = making is not None and making.state in {State.FAILED, State.GIVEN_UP}
    if failed and not shelf.garden.has_plan:
        return go("/planning")
    answers: FirstAnswers | None = getattr(request.app.state, "first_answers", None)
    made = None if running else shelf.garden.made
    return page(
        request,
        "first_plan.html",
        running=running,
        steps=len(making.steps) if making else 0,
        made=made,
        brings=_brings(made),
        notes=first_notes(answers) if answers else (),
        limits=shelf.garden.opened.findings,
        mended_at=MENDED_AT,
    )


def demo(request: Request, _form: Form) -> Response:
    """Open the invented garden, planned at once where it has no plan yet."""
    shelf = shelf_of(request)
    shelf.open_demo()
    if shelf.garden.has_plan:
        return go("/week")
    shelf.plan("usual")
    return go("/planning")


def own(request: Request) -> Response:
    """Go back to the grower's own garden, or to the questions where there is none."""
    shelf = shelf_of(request)
    shelf.open_own()
    return go("/" if shelf.garden.there else "/first")


def towns(request: Request) -> Response:
    """Offer towns whose name starts as typed."""
    found = towns_like(request.query_params.get("like", "")[:80])
    return JSONResponse([{"key": town_key(town), "name": town_label(town)} for town in found])


def _ask(
    request: Request,
    typed: Mapping[str, str],
    read: FirstRead | None = None,
    file_findings: tuple[Finding, ...] = (),
) -> Response:
    findings = read.findings if read else ()
    faults = by_field(findings, "first")
    return page(
        request,
        "first.html",
        here="/first",
        status=200 if read is None and not file_findings else 422,
        typed=dict.fromkeys(FIELDS, "") | dict(typed),
        faults=faults,
        elsewhere=[finding for finding in findings if finding.place[:1] != ("first",)],
        towns=[(town_key(town), town_label(town)) for town in read.towns] if read else [],
        file_findings=file_findings,
        there=shelf_of(request).own.exists(),
    )


def _plan_own(request: Request) -> Response:
    """Begin the first plan of the grower's own garden; another garden's makes way for it."""
    shelf = shelf_of(request)
    shelf.open_own()
    making = shelf.planner.making
    if making is not None and making.order.notebook != shelf.own:
        shelf.planner.give_up()
    shelf.plan("usual")
    return go(PLAN)


def _brings(made: Made | None) -> tuple[float, float] | None:
    """Add up what the table wants and what the plan brings to it [kg]."""
    if made is None:
        return None
    wanted = sum(week.wanted_kg for week in made.plan.table)
    short = sum(week.short_kg for week in made.plan.table)
    return wanted, wanted - short


routes = [
    Route("/first", show),
    Route("/first", with_form(make), methods=["POST"]),
    Route("/first/file", with_form(take_file), methods=["POST"]),
    Route("/first/demo", with_form(demo), methods=["POST"]),
    Route("/first/own", own),
    Route(PLAN, watch),
    Route("/towns", towns),
]
