"""A household's two doors: its laptop's pages, and its phone, let in with a key of its own.

Whatever is written here goes by a form that a page shows, or by what the phone's page sends; a page
that fails, or an entry that is not taken, ends the story.
"""

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import asdict, dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from html.parser import HTMLParser
from pathlib import Path
from time import sleep
from typing import Any

from starlette.testclient import TestClient

from haulm.desk.season.diary_typed import TypedEntry, Written
from haulm.season.slips import REMEDY
from haulm.web.app import create_app
from haulm.web.guard import cookie_name
from haulm.web.phone_app import create_phone_app
from haulm.web.phone_door.door import open_door
from haulm.web.run import hosts_of
from haulm.web.shelf import Shelf

TOKEN, PORT = "a-key-for-a-story", 4181
ORIGIN = f"http://127.0.0.1:{PORT}"
OK, GO = 200, 303
AT_ONCE = 100
"""So many entries the phone's page sends at once."""
EVENING = time(20, tzinfo=UTC)
RIGHT = re.compile(r"/diary\?right=([^\"&]+)\"")
CHECK = re.compile(r"\"(/larder/check/[^/\"]+)\"")


@dataclass(frozen=True)
class Held:
    """An entry that a phone holds until it is sent: what was typed, and when."""

    typed: TypedEntry
    written: Written


class Evening:
    """The household's clock: a second passes with each look at it, and a day when that is said."""

    def __init__(self, day: date) -> None:
        self._at = datetime.combine(day, EVENING)

    def turn_to(self, day: date) -> None:
        """Let it be the evening of a day."""
        self._at = datetime.combine(day, EVENING)

    def today(self) -> date:
        """Give the day."""
        return self._at.date()

    def now(self) -> datetime:
        """Give the time, with its zone."""
        self._at += timedelta(seconds=1)
        return self._at


@dataclass
class Doors:
    """The laptop's pages and the phone's, over one notebook and one clock.

    ``asked`` is what the phone was asked about as hardly meant.
    """

    shelf: Shelf
    clock: Evening
    laptop: TestClient
    phone: TestClient
    asked: list[str] = field(default_factory=list)

    def look(self, *addresses: str) -> str:
        """Look at some of the laptop's pages and sheets; give the last one's text."""
        text = ""
        for address in addresses:
            answer = self.laptop.get(address)
            assert answer.status_code == OK, (address, answer.status_code)
            text = str(answer.text) if "text" in answer.headers["content-type"] else ""
        return text

    def fill(self, page: str, action: str, typed: Mapping[str, str]) -> str:
        """Fill in and send the form of a page that goes to an address; give where it leads.

        Fields that are not filled in go as the page shows them.
        """
        return self.send_off(action, _fields(self.look(page), action), typed)

    def send_off(self, action: str, shown: Mapping[str, str], typed: Mapping[str, str]) -> str:
        """Send a form that was looked at before, as filled in; give where it leads."""
        assert shown.keys() >= typed.keys(), (action, typed.keys() - shown.keys())
        answer = self.laptop.post(action, data={**shown, **typed})
        assert answer.status_code == GO, (action, typed, answer.text)
        return str(answer.headers["location"])

    def write(self, typed: TypedEntry, right: str = "") -> str:
        """Write an entry on the laptop, or put one right; give its id."""
        before = set(RIGHT.findall(self.look("/diary")))
        page = f"/diary?right={right}" if right else f"/diary?kind={typed.kind}"
        self.fill(page, "/diary", _said(typed))
        (new,) = set(RIGHT.findall(self.look("/diary"))) - before
        return str(new)

    def take_back(self, entry: str) -> None:
        """Take an entry back by its button in the diary."""
        assert f'name="entry" value="{entry}"' in self.look("/diary")
        answer = self.laptop.post("/diary/back", data={"entry": entry})
        assert answer.status_code == GO

    def send(self, held: Sequence[Held]) -> None:
        """Send what the phone holds; every entry is taken."""
        for first in range(0, len(held), AT_ONCE):
            part = held[first : first + AT_ONCE]
            entries = [
                {
                    "id": one.written.id,
                    "written_at": one.written.at.isoformat(),
                    "typed": _said(one.typed),
                }
                for one in part
            ]
            parcel = {"sent_at": self.clock.now().isoformat(), "device": "", "entries": entries}
            answer = self.phone.post("/phone/send", content=json.dumps(parcel))
            assert answer.status_code == OK, answer.text
            got = answer.json()
            assert not got["refused"], got["refused"]
            assert all(one["remedy"] == REMEDY for one in got["told"]), got["told"]
            self.asked += [one["what"] for one in got["told"]]
            assert set(got["taken"]) == {one.written.id for one in part}

    def carry(self) -> Mapping[str, Mapping[str, Any]]:
        """Load onto the phone what it carries to the plot; give its jobs by id."""
        assert self.phone.get("/phone/carried").status_code == OK
        weeks = self.phone.get("/phone/weeks")
        assert weeks.status_code == OK
        return {job["id"]: job for week in weeks.json()["weeks"] for job in week["jobs"]}

    def checks(self) -> Iterator[tuple[str, Mapping[str, str]]]:
        """Go to each store's check page; give its address and the form's fields as shown."""
        for address in dict.fromkeys(CHECK.findall(self.look("/larder/books"))):
            yield address, _fields(self.look(address), address)

    def plan(self, page: str, action: str, typed: Mapping[str, str]) -> None:
        """Have a plan made, and where it is proposed look at it and keep it."""
        assert self.fill(page, action, typed) == "/planning"
        while (answer := self.laptop.get("/planning")).status_code == OK:
            assert "No plan came of it" not in answer.text, answer.text
            sleep(0.2)
        if answer.headers["location"] == "/proposal":
            kept = self.fill("/proposal", "/proposal/keep", {})
            assert kept == "/year"
        self.look("/year")


@contextmanager
def doors_of(notebook: Path, day: date) -> Iterator[Doors]:
    """Open a notebook's pages, and let a phone in as its grower does."""
    clock = Evening(day)
    shelf = Shelf(notebook, clock.today, now=clock.now)
    app = create_app(shelf, TOKEN, PORT, hosts_of("127.0.0.1", PORT))
    with (
        open_door(notebook, "127.0.0.1", 0, clock.now()) as door,
        TestClient(
            app, base_url=ORIGIN, headers={"Origin": ORIGIN}, follow_redirects=False
        ) as laptop,
    ):
        laptop.cookies.set(cookie_name(PORT), TOKEN)
        ours = f"{door.scheme}://127.0.0.1:{door.port}"
        phone = TestClient(
            create_phone_app(shelf, door),
            base_url=ours,
            headers={"Origin": ours},
            follow_redirects=False,
        )
        assert phone.post(door.new_address(), data={"name": "phone"}).status_code == GO
        yield Doors(shelf, clock, laptop, phone)


def _said(typed: TypedEntry) -> dict[str, str]:
    """Give the fields of an entry that were filled in."""
    return {name: value for name, value in asdict(typed).items() if value}


def _fields(page: str, action: str) -> dict[str, str]:
    """Give the fields of a page's form that goes to an address, as the page shows them."""
    reading = _FormReader(action)
    reading.feed(page)
    assert reading.fields is not None, (action, "no such form")
    return reading.fields


class _FormReader(HTMLParser):
    """Reads the first form that goes to an address."""

    def __init__(self, action: str) -> None:
        super().__init__()
        self._action = action
        self._inside = False
        self._choice = self._long = ""
        self.fields: dict[str, str] | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Take in a form's field with what stands in it."""
        said = {name: value or "" for name, value in attrs}
        if tag == "form" and self.fields is None:
            self._inside = said.get("method") == "post" and said.get("action") == self._action
            self.fields = {} if self._inside else None
        if not self._inside or self.fields is None:
            return
        if tag == "select":
            self._choice = said["name"]
            self.fields[self._choice] = ""
        elif tag == "option" and "selected" in said:
            self.fields[self._choice] = said["value"]
        elif tag in {"input", "textarea"} and said.get("name") and said.get("type") != "file":
            off = said.get("type") in {"checkbox", "radio"} and "checked" not in said
            self.fields |= {} if off else {said["name"]: said.get("value", "")}
            self._long = said["name"] if tag == "textarea" else ""

    def handle_data(self, data: str) -> None:
        """Take in what stands in a field of several lines."""
        if self._inside and self._long and self.fields is not None:
            self.fields[self._long] += data

    def handle_endtag(self, tag: str) -> None:
        """Leave a field of several lines, or the form."""
        self._long = "" if tag == "textarea" else self._long
        self._inside = self._inside and tag != "form"
