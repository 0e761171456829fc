"""The phone's page without a browser: what it is served, what it carries, what it may send."""

import json
from datetime import datetime
from pathlib import Path
from typing import Any

from starlette.testclient import TestClient

from haulm.desk.season.diary import diary_of
from haulm.season.grammar import GRAMMARS
from haulm.season.records import EntryKind
from haulm.web.shelf import machine_time

JPEG = b"\xff\xd8\xff\xda\x00\x08\x01\x01\x00\x00\x3f\x00\x12\xff\xd9"


def parcel(*entries: dict[str, Any], at: datetime | None = None) -> str:
    """Write entries as a phone sends them."""
    sent_at = (at or machine_time()).isoformat()
    return json.dumps({"sent_at": sent_at, "device": "phone 1a2b", "entries": entries})


def picked(number: int, **said: str) -> dict[str, Any]:
    """Make an entry as a phone sends it."""
    typed = {"kind": "picked", "day": "2027-01-20", "food": "garlic", "amount": "2 kg"}
    at = f"2027-01-20T18:{number:02d}:00+01:00"
    return {"id": f"{number:032x}", "written_at": at, "typed": typed | said}


def test_everything_that_keeps_the_page_on_the_phone_is_served(visit: TestClient) -> None:
    """The page names its manifest; the worker's files and the icons are all there."""
    text = visit.get("/phone/").text
    assert "/phone/manifest.webmanifest" in text
    manifest = visit.get("/phone/manifest.webmanifest").json()
    assert manifest["scope"] == manifest["start_url"] == "/phone/"
    for icon in manifest["icons"]:
        assert visit.get(icon["src"]).headers["content-type"] == "image/png"
    worker = visit.get("/phone/worker.js")
    assert worker.headers["content-type"].startswith("text/javascript")
    kept = json.loads(worker.text.split("const KEPT = ", 1)[1].split(";\n", 1)[0])
    assert [path for path in kept if visit.get(path).status_code != 200] == []


def test_the_page_runs_no_script_of_its_own_text(visit: TestClient) -> None:
    """Nothing on the phone's page needs the strict policy loosened."""
    answer = visit.get("/phone/")
    assert "unsafe" not in answer.headers["content-security-policy"]
    assert " onclick=" not in answer.text
    assert " style=" not in answer.text


def test_the_page_knows_how_to_ask_for_every_kind_of_entry(visit: TestClient) -> None:
    """Each kind has its word, its fields, and units that the reader of entries understands."""
    text = visit.get("/phone/").text
    setup = json.loads(text.split('id="setup">', 1)[1].split("</script>", 1)[0])
    assert set(setup["kinds"]) == {kind.value for kind in EntryKind}
    assert {kind for _, kinds in setup["groups"] for kind in kinds} == set(setup["kinds"])
    for name, kind in setup["kinds"].items():
        assert bool(kind["units"]) == bool(GRAMMARS[EntryKind(name)].measures)


def test_the_units_of_the_keys_are_understood(visit: TestClient, planned: Path) -> None:
    """An amount of each unit that a key offers, metric or US, can be taken."""
    kinds = {
        "kg": "picked", "g": "picked", "lb": "picked", "oz": "picked", "pieces": "picked",
        "l": "watered", "US gal": "watered", "min": "watered", "h": "watered",
        "mm": "rained", "in": "rained", "°C": "frost seen", "°F": "frost seen",
        "m²": "sown", "sq ft": "sown",
    }  # fmt: skip
    named = {
        "picked": {},
        "watered": {"bed": "north", "food": ""},
        "sown": {"crop_kind": "leek/winter", "food": ""},
    }
    entries = [
        picked(number, kind=kind, amount=f"2 {unit}", **named.get(kind, {"food": ""}))
        for number, (unit, kind) in enumerate(kinds.items())
    ]
    answer = visit.post("/phone/send", content=parcel(*entries)).json()
    assert answer["refused"] == {}
    assert len(diary_of(planned).entries) == len(kinds)


def test_the_phone_carries_what_entries_name_and_two_weeks_of_jobs(visit: TestClient) -> None:
    """Beds, plantings, foods, stores, and jobs that say how they are written down as done."""
    carried = visit.get("/phone/carried").json()
    assert ["north", "North"] in carried["beds"]
    assert carried["plantings"]
    assert all("@" in planting["key"] for planting in carried["plantings"])
    assert len(carried["foods"]) > 50
    assert carried["foods"][0][0] in {food for one in carried["plantings"] for food in one["foods"]}
    weeks = visit.get("/phone/weeks").json()["weeks"]
    assert [week["monday"] for week in weeks] == ["2027-02-01", "2027-02-08"]


def test_what_is_sent_is_answered_by_name(visit: TestClient, planned: Path) -> None:
    """Taken and refused are told by the names the phone gave; sent again, nothing is doubled."""
    good, bad = picked(1), picked(2, amount="2")
    for _ in range(2):
        answer = visit.post("/phone/send", content=parcel(good, bad)).json()
        assert answer["taken"] == [good["id"]]
        assert "without a unit" in answer["refused"][bad["id"]][0]["what"]
    assert [entry.device for entry in diary_of(planned).entries] == ["phone 1a2b"]


def test_a_slip_of_the_pen_is_taken_and_asked_about(visit: TestClient) -> None:
    """Four hundred kilograms of garlic are taken as sent, and the phone asks about them."""
    got = visit.post("/phone/send", content=parcel(picked(1, amount="400 kg"))).json()
    assert len(got["taken"]) == 1
    (told,) = [one for one in got["told"] if "in all" in one["what"]]
    assert "put it right if it is a slip" in told["remedy"]


def test_what_is_no_parcel_is_told(visit: TestClient) -> None:
    """A torn request is answered as such, and nothing is taken."""
    answer = visit.post("/phone/send", content=b"{")
    assert answer.status_code == 400
    assert "cannot be read" in answer.json()["told"][0]["what"]


def test_a_page_of_another_site_sends_nothing(visit: TestClient, planned: Path) -> None:
    """The phone's door is guarded like every other."""
    headers = {"Origin": "http://garden.example"}
    answer = visit.post("/phone/send", content=parcel(picked(1)), headers=headers)
    assert answer.status_code == 403
    assert diary_of(planned).entries == ()


def test_a_photo_follows_its_entry(visit: TestClient, planned: Path) -> None:
    """A photo without its entry, and what is no photo, is told back; else it is shown."""
    entry = picked(1)
    address = f"/phone/photo/{entry['id']}"
    assert visit.post(address, content=JPEG).status_code == 422
    visit.post("/phone/send", content=parcel(entry))
    told = visit.post(address, content=b"<svg><script>alert(1)</script></svg>").json()["told"]
    assert "neither a JPEG" in told[0]["what"]
    assert visit.post(address, content=JPEG).json() == {"kept": True}
    assert f"/diary/photo/{entry['id']}" in visit.get("/diary?month=2027-01").text
    shown = visit.get(f"/diary/photo/{entry['id']}")
    assert shown.content == JPEG
    assert shown.headers["content-type"] == "image/jpeg"
    assert shown.headers["x-content-type-options"] == "nosniff"
    assert "sandbox" in shown.headers["content-security-policy"]
    assert diary_of(planned).entries[0].id == entry["id"]
    assert visit.get("/diary/photo/none").status_code == 404
