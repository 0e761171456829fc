"""The diary's page: write with one thumb, put right, take back; a job ticked off is an entry."""

import re
from collections.abc import Callable
from datetime import UTC, datetime
from html import unescape
from pathlib import Path
from urllib.parse import parse_qsl, urlsplit

from starlette.testclient import TestClient

from gardens import small_garden
from haulm.desk.garden.exchange import import_garden
from haulm.desk.planning.plans import kept_plan
from haulm.desk.season.diary import diary_of
from haulm.season.records import EntryKind


def sent(visit: TestClient, address: str, **typed: str) -> str:
    """Send a form as the page would, and give the page it leads to."""
    mark = re.search(r'name="haulm-garden" value="(\w+)"', visit.get("/diary").text)
    assert mark
    return visit.post(address, data={"haulm-garden": mark[1], **typed}).text


def test_the_first_entry_of_a_week_brings_a_copy_and_the_page_tells_its_age(
    visit: TestClient,
) -> None:
    """An entry written makes the week's copy; where none can be made the entry stands, and the page
    says so.
    """
    own = visit.app.state.shelf.own  # type: ignore[attr-defined]
    assert "There is no copy" in visit.get("/diary").text
    (own.parent / "copies").write_text("no folder", encoding="utf-8")
    entry = {"kind": "frost seen", "day": "2027-01-31"}
    assert visit.post("/diary", data=entry).status_code == 200
    text = visit.get("/diary").text
    assert "copy could not be made" in text
    assert text.count("/diary?right=") == 1
    (own.parent / "copies").unlink()
    assert visit.post("/diary", data=entry).status_code == 200
    text = visit.get("/diary").text
    assert "copy could not be made" not in text
    assert "newest copy of the notebook is of today" in text


def test_every_kind_of_entry_has_its_form(visit: TestClient) -> None:
    """Each key of the diary opens a form that asks for what such an entry tells."""
    text = visit.get("/diary").text
    for kind in EntryKind:
        address = f"/diary?kind={kind.value.replace(' ', '%20')}"
        assert address in text
        assert 'name="day"' in visit.get(address).text


def test_an_entry_is_written_read_and_taken_back(visit: TestClient, planned: Path) -> None:
    """What is sent stands on the page; taken back, it no longer does."""
    told = {"kind": "picked", "day": "2027-01-20", "food": "garlic", "amount": "2 kg"}
    text = sent(visit, "/diary", **told)
    assert "picked 2 kg garlic" in text
    entry = diary_of(planned).entries[0]
    assert "Taken back" in sent(visit, "/diary/back", entry=entry.id)
    assert diary_of(planned).entries == ()


def test_a_slip_of_the_pen_is_asked_about_and_counts_till_put_right(
    visit: TestClient, planned: Path
) -> None:
    """Forty inches typed for four tenths are written down, and the page asks whether that is right;
    an ordinary rain is not asked about.
    """
    told = {"kind": "rained", "day": "2027-01-20"}
    assert "Is that right?" not in sent(visit, "/diary", **told, amount="12 mm")
    text = sent(visit, "/diary", **told, amount="40 in")
    assert "Is that right? 1016 mm of rain is more than falls in a day" in text
    assert len(diary_of(planned).entries) == 2


def test_what_does_not_fit_stands_beside_its_field(visit: TestClient, planned: Path) -> None:
    """A number without a unit is asked about where it was typed, and nothing typed is lost."""
    told = {"kind": "picked", "day": "2027-01-20", "food": "garlic", "amount": "2"}
    text = sent(visit, "/diary", **told, words="the big ones")
    assert "without a unit" in text
    assert 'value="garlic"' in text
    assert "the big ones" in text
    assert diary_of(planned).entries == ()


def test_an_amount_is_put_right_in_the_garden_s_own_units(
    tmp_path: Path, door: Callable[[Path], TestClient]
) -> None:
    """In a garden of pounds and inches the form to put right shows these, and no kilograms."""
    toml = small_garden(tmp_path, ("invented = true", 'invented = true\nunits = "us"'))
    notebook, _ = import_garden(toml, None, datetime(2027, 2, 1, tzinfo=UTC))
    visit = door(notebook)
    picked = {"kind": "picked", "day": "2027-01-20", "food": "garlic", "amount": "88 lb"}
    rain = {"kind": "rained", "day": "2027-01-21", "amount": "0.2 in"}
    for told in (picked, rain):
        sent(visit, "/diary", **told)
    for entry in diary_of(notebook).entries:
        shown = visit.get("/diary", params={"right": entry.id}).text
        assert ('value="88 lb"' in shown) or ('value="0.2 in"' in shown)


def test_an_entry_is_put_right_and_shows_what_it_said(visit: TestClient, planned: Path) -> None:
    """Put right, an entry tells the new weight and, below it, the old."""
    told = {"kind": "picked", "day": "2027-01-20", "food": "garlic", "amount": "20 kg"}
    sent(visit, "/diary", **told)
    wrong = diary_of(planned).entries[0]
    assert 'value="20 kg"' in visit.get("/diary", params={"right": wrong.id}).text
    text = sent(visit, "/diary", **{**told, "amount": "2 kg"}, right=wrong.id)
    assert "before: 20 Jan 2027 picked 20 kg" in text


def test_a_job_ticked_off_is_an_entry(visit: TestClient, planned: Path) -> None:
    """The week's job leads to a form filled in; sent as it is, the job is done in both places."""
    weeks = (f"2027-W{number:02d}" for number in range(5, 30))
    week, address = next(
        (week, unescape(found[0]))
        for week in weeks
        if (found := re.findall(r'href="(/diary\?kind=s[^"]+)"', _week(visit, week)))
    )
    assert "selected" in visit.get(address).text
    said = dict(parse_qsl(urlsplit(address).query))
    before = _week(visit, week).count("Done<span")
    told = sent(visit, "/diary", **said)
    assert "Written: " in told
    assert diary_of(planned).entries[0].about.planting == said["planting"]
    assert _week(visit, week).count("Done<span") == before - 1
    assert "is-done" in _week(visit, week)


def _week(visit: TestClient, label: str) -> str:
    return visit.get("/week", params={"of": label}).text


def test_no_such_entry_or_kind_is_said_to_be_none(visit: TestClient) -> None:
    """What names no entry and no kind is answered so."""
    assert visit.get("/diary", params={"right": "none"}).status_code == 404
    assert visit.get("/diary", params={"kind": "dreamt"}).status_code == 404


def test_what_was_written_is_found_by_its_month(visit: TestClient, planned: Path) -> None:
    """Of old entries a month is shown at a time, day by day, each by the grower's own names."""
    plan = kept_plan(planned).plan
    kind = plan.plantings[0].kind
    bed = plan.beds[0]
    sent(visit, "/diary", kind="weeded", day="2026-05-02", bed=bed.id, crop_kind=kind)
    sent(visit, "/diary", kind="rained", day="2026-06-03", amount="4 mm")
    written = visit.get("/diary").text.split('class="written"')[1]
    assert "weeded" not in written
    may = visit.get("/diary?month=2026-05").text.split('class="written"')[1]
    assert re.search(rf"weeded [^<]+ in {bed.name}", may)
    assert kind not in may
    assert "Saturday 2 May 2026" in may
    assert "rained" not in may
    assert "/diary?month=2026-06" in may
    assert visit.get("/diary?month=May").status_code == 404
