"""A plan in the making, as the pages tell it: in words, with its distance to the best closing."""

import os
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from haulm.desk.planning.beside import Order
from haulm.measure.findings import Finding
from haulm.web.pages.planning import told
from haulm.web.planning import Making, State, Step
from haulm.web.reader import Reader, reader_from

Door = Callable[[Path], TestClient]
DAY = date(2027, 2, 1)


def making_of(notebook: Path, state: State, **more: object) -> Making:
    """Give a plan in the making of a notebook."""
    order = Order(notebook, DAY, "quick", 1, propose=False, parent=os.getpid())
    return Making(order, state, **more)  # type: ignore[arg-type]


def put(visit: TestClient, making: Making) -> None:
    """Put a plan in the making before the pages."""
    visit.app.state.shelf.planner.making = making  # type: ignore[attr-defined]


def test_a_step_is_told_in_words_with_its_distance() -> None:
    """What is done now is said as a gardener would, and how far from the best it may be."""
    step = told(Step("improving", 0.0841, 0.5), Reader())
    assert step["words"] == "Looking for better"
    assert step["close"] == "within 8.4 % of the best there can be"
    comma = told(Step("improving", 0.0841, 0.5), reader_from("comma.day", "metric"))
    assert comma["close"] == "within 8,4 % of the best there can be"


def test_a_distance_that_is_not_known_is_not_told() -> None:
    """Before anything is proven no distance is told, and nothing is drawn for it."""
    step = told(Step("a first plan", None, 0.1), Reader())
    assert (step["close"], step["at"]) == ("", "")


@pytest.mark.parametrize(
    ("gap", "at"),
    [(0.0, "200.0,95.0"), (0.25, "200.0,47.5"), (0.9, "200.0,0.0"), (-1e-9, "200.0,95.0")],
)
def test_the_curve_falls_to_its_foot_as_the_distance_closes(gap: float, at: str) -> None:
    """Half a plan's distance stands at the chart's upper edge, none at its foot; the chart holds
    both, and no rounding leaves it.
    """
    assert told(Step("improving", gap, 0.5), Reader())["at"] == at


def test_the_page_shows_the_steps_without_script(visit: TestClient, planned: Path) -> None:
    """A browser without script sees how far planning has come, and looks again by itself."""
    steps = [Step("a first plan", 0.4, 0.2), Step("improving", 0.1, 0.6)]
    put(visit, making_of(planned, State.RUNNING, steps=steps))
    text = visit.get("/planning").text
    assert "Looking for better" in text
    assert "within 10.0 % of the best there can be" in text
    assert 'points="80.0,19.0 240.0,76.0"' in text
    assert '<noscript><meta http-equiv="refresh"' in text
    assert "Stop here and keep the best so far" in text


def test_asked_to_stop_the_button_says_that_it_was_heard(visit: TestClient, planned: Path) -> None:
    """Once stopping was asked for, the button says so and takes no second press."""
    put(visit, making_of(planned, State.RUNNING, stopping=True))
    assert "Stopping: the best so far is being written" in visit.get("/planning").text


def test_with_nothing_in_the_making_the_page_says_that_nothing_is_lost(visit: TestClient) -> None:
    """After haulm was stopped and started again no plan is in the making: the page says so, that
    nothing is lost, and leads back.
    """
    text = visit.get("/planning").text
    assert "No plan is in the making" in text
    assert "nothing is lost" in text
    assert 'href="/year"' in text


def test_what_kept_a_plan_from_being_made_is_told(visit: TestClient, planned: Path) -> None:
    """Where planning failed, what to mend stands there; a name in it is shown as a name."""
    finding = Finding("bed <b>", "it has no ground.", "Give its size.")
    put(visit, making_of(planned, State.FAILED, findings=(finding,)))
    text = visit.get("/planning").text
    assert "No plan came of it" in text
    assert "bed &lt;b&gt;" in text
    put(visit, making_of(planned, State.FAILED))
    assert "Planning ended before there was a plan" in visit.get("/planning").text


def test_a_plan_of_another_garden_is_not_taken_for_this_ones(
    visit: TestClient, planned: Path
) -> None:
    """A plan that was made for another garden leads nowhere here; one in the making says whose it
    is.
    """
    other = planned.with_name("elsewhere.haulm")
    put(visit, making_of(other, State.MADE))
    assert "No plan is in the making" in visit.get("/planning").text
    put(visit, making_of(other, State.RUNNING))
    assert "another garden: elsewhere" in visit.get("/planning").text


def test_a_plan_that_was_made_leads_to_what_came_of_it(visit: TestClient, planned: Path) -> None:
    """A first plan leads to the Year, a later one to what it would change."""
    put(visit, making_of(planned, State.MADE))
    assert visit.get("/planning", follow_redirects=False).headers["location"] == "/year"


class _EndsMeanwhile(Making):
    """A plan that is made while its page reads the steps."""

    @property
    def steps(self) -> list[Step]:
        """Give the steps, and be made."""
        self.state = State.MADE
        return []

    @steps.setter
    def steps(self, _steps: list[Step]) -> None:
        """Leave the steps as they are."""


def test_a_plan_that_ends_while_its_page_is_written_is_no_failure(
    visit: TestClient, planned: Path
) -> None:
    """Whoever looks in the very moment at which a plan is made is not told that none came of it."""
    order = Order(planned, DAY, "quick", 1, propose=True, parent=os.getpid())
    put(visit, _EndsMeanwhile(order))
    assert "No plan came of it" not in visit.get("/planning").text
    assert visit.get("/planning", follow_redirects=False).headers["location"] == "/proposal"


def test_the_button_begins_a_plan_and_giving_up_ends_it(visit: TestClient, planned: Path) -> None:
    """A press of the button begins a plan; given up, everything is as it was."""
    before = planned.read_bytes()
    answer = visit.post("/planning", data={"effort": "<b>"}, follow_redirects=False)
    assert answer.headers["location"] == "/planning"
    assert visit.app.state.shelf.planner.making.order.effort == "usual"  # type: ignore[attr-defined]
    assert "Planning was given up" in visit.post("/planning/give-up").text
    assert planned.read_bytes() == before
    assert "No plan is in the making" in visit.get("/planning").text


def test_the_stream_tells_every_step_and_then_ends(visit: TestClient, planned: Path) -> None:
    """Whoever watches is told each step once, in its order, and at last that it has ended."""
    steps = [Step("a first plan", None, 0.2), Step("improving", 0.1, 0.6)]
    put(visit, making_of(planned, State.MADE, steps=steps))
    lines = [line for line in visit.get("/planning/events").text.splitlines() if line]
    assert "Making a first plan" in lines[0]
    assert "Looking for better" in lines[1]
    assert lines[2] == "event: ended"
