"""The phones' door: who is let in, to what, by which key, and how a phone is shut out again."""

import json
import ssl
from collections.abc import Iterator
from contextlib import suppress
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from haulm.desk.season.diary import diary_of
from haulm.measure.errors import FaultsFoundError
from haulm.web.app import create_app
from haulm.web.guard import cookie_name
from haulm.web.phone_app import create_phone_app
from haulm.web.phone_door import certificates, square
from haulm.web.phone_door.certificates import certify, is_private
from haulm.web.phone_door.door import PhoneDoor, folder_of, open_door
from haulm.web.phone_door.guard import COOKIE
from haulm.web.phone_door.keys import CODE_LASTS, Phones
from haulm.web.run import hosts_of
from haulm.web.shelf import Shelf

NOW = datetime(2027, 2, 1, 12, tzinfo=UTC)
DAY = date(2027, 2, 1)
needs_certificates = pytest.mark.skipif(
    not certificates.THERE, reason="the part for phones is not installed"
)


@pytest.fixture
def door(unplanned: Path) -> Iterator[PhoneDoor]:
    """Open the door for phones on this machine."""
    with open_door(unplanned, "127.0.0.1", 0, NOW) as opened:
        yield opened


def at(door: PhoneDoor, notebook: Path) -> TestClient:
    """Give a phone that stands before the door."""
    app = create_phone_app(Shelf(notebook, lambda: DAY), door)
    ours = f"{door.scheme}://127.0.0.1:{door.port}"
    return TestClient(app, base_url=ours, headers={"Origin": ours}, follow_redirects=False)


def let_in(phone: TestClient, door: PhoneDoor, name: str = "Ines's") -> str:
    """Let a phone in as its grower does, and give its key."""
    address = door.new_address()
    assert phone.get(address).status_code == 200
    answer = phone.post(address, data={"name": name})
    assert answer.headers["location"] == "/phone/"
    return phone.cookies[COOKIE]


def rain(number: int) -> str:
    """Write an entry as a phone sends it."""
    typed = {"kind": "rained", "day": "2027-01-31", "amount": "4 mm"}
    entry = {"id": f"{number:032x}", "written_at": NOW.isoformat(), "typed": typed}
    return json.dumps({"sent_at": NOW.isoformat(), "device": "x", "entries": [entry]})


def test_a_stranger_sees_nothing(door: PhoneDoor, unplanned: Path) -> None:
    """Without a key of its own a phone reads no page and writes no entry."""
    stranger = at(door, unplanned)
    for path in ("/", "/phone/", "/phone/carried", "/phone/weeks", "/phone/worker.js"):
        assert stranger.get(path).status_code == 403
    assert stranger.post("/phone/send", content=rain(1)).status_code == 403
    assert stranger.get("/phone/pair/guess").status_code == 403
    assert stranger.get("/phone/again/guess").status_code == 403
    assert diary_of(unplanned).entries == ()


def test_a_phone_that_was_let_in_writes_under_its_name(door: PhoneDoor, unplanned: Path) -> None:
    """It may write, send photos and read what it carries; the rest of the garden is not there."""
    phone = at(door, unplanned)
    let_in(phone, door)
    assert phone.get("/phone/").status_code == 200
    assert phone.get("/phone/carried").json()["garden"] == "Quill Yard"
    assert len(phone.post("/phone/send", content=rain(1)).json()["taken"]) == 1
    assert diary_of(unplanned).entries[0].device == "Ines's"
    for path in ("/table", "/diary", "/week", "/place", "/phones", "/open/x", "/alive"):
        assert phone.get(path).status_code == 404


def test_an_address_lets_one_phone_in_once(door: PhoneDoor, unplanned: Path) -> None:
    """Whoever finds the address later finds it used."""
    first, second = at(door, unplanned), at(door, unplanned)
    address = door.new_address()
    assert first.post(address, data={"name": "a"}).status_code == 303
    assert second.get(address).status_code == 403
    assert second.post(address, data={"name": "b"}).status_code == 403
    assert [phone.name for phone in door.phones.there] == ["a"]


def test_an_address_runs_out(tmp_path: Path) -> None:
    """An address that nobody used within a quarter of an hour lets nobody in."""
    now = NOW
    phones = Phones(tmp_path, lambda: now)
    code = phones.offer()
    now = NOW + CODE_LASTS + timedelta(seconds=1)
    assert not phones.holds(code)
    assert phones.let_in(code, "late") is None


def test_a_phone_that_is_shut_out_is_out(door: PhoneDoor, unplanned: Path) -> None:
    """A lost phone opens nothing any more; the others go on."""
    lost, other = at(door, unplanned), at(door, unplanned)
    let_in(lost, door, "lost")
    let_in(other, door, "other")
    gone = next(phone for phone in door.phones.there if phone.name == "lost")
    assert door.phones.shut_out(gone.id) == "lost"
    assert lost.post("/phone/send", content=rain(1)).status_code == 403
    assert other.post("/phone/send", content=rain(2)).status_code == 200


def test_a_phone_starts_again_by_its_own_key(door: PhoneDoor, unplanned: Path) -> None:
    """A page put among a phone's programs opens though it has no cookie of the browser's."""
    phone = at(door, unplanned)
    let_in(phone, door)
    start = phone.get("/phone/manifest.webmanifest").json()["start_url"]
    bare = at(door, unplanned)
    assert bare.get(start).status_code == 303
    assert bare.get("/phone/").status_code == 200


def test_two_phones_of_one_name_are_told_apart(door: PhoneDoor, unplanned: Path) -> None:
    """The entries of two phones called alike do not pass for one's."""
    for _ in range(2):
        let_in(at(door, unplanned), door, "phone")
    assert [phone.name for phone in door.phones.there] == ["phone", "phone 2"]


@pytest.mark.parametrize("origin", ["http://garden.example", "null", "{other}://127.0.0.1:{port}"])
def test_a_change_from_another_site_is_refused(
    door: PhoneDoor, unplanned: Path, origin: str
) -> None:
    """A page of another site, or of this address by another scheme, writes nothing."""
    phone = at(door, unplanned)
    let_in(phone, door)
    other = "http" if door.scheme == "https" else "https"
    headers = {"Origin": origin.format(other=other, port=door.port)}
    assert phone.post("/phone/send", content=rain(1), headers=headers).status_code == 403
    assert phone.post(door.new_address(), data={}, headers=headers).status_code == 403
    assert diary_of(unplanned).entries == ()


def test_a_name_that_is_not_the_doors_is_refused(door: PhoneDoor, unplanned: Path) -> None:
    """A foreign name that was pointed at this machine reads nothing."""
    phone = at(door, unplanned)
    let_in(phone, door)
    for host in ("garden.example", "127.0.0.1", f"127.0.0.1:{door.port}.example", ""):
        assert phone.get("/phone/carried", headers={"Host": host}).status_code == 403


def test_keys_lie_beside_the_notebook_for_the_grower_alone(
    door: PhoneDoor, unplanned: Path
) -> None:
    """No other user reads the keys; the file has no key that would open anything."""
    key = let_in(at(door, unplanned), door)
    folder = folder_of(unplanned)
    assert folder.stat().st_mode & 0o077 == 0
    for file in folder.iterdir():
        assert file.stat().st_mode & 0o077 == 0
        assert key.encode() not in file.read_bytes()


def test_the_door_opens_in_private_networks_alone(unplanned: Path) -> None:
    """An address that the whole world could reach is refused with the reason."""
    for address in ("8.8.8.8", "0.0.0.0", "garden.example"):  # noqa: S104 - it is refused
        with (
            pytest.raises(FaultsFoundError, match="no address of a private network"),
            open_door(unplanned, address, 0, NOW),
        ):
            pass
    assert is_private("192.168.1.20")
    assert not is_private("192.169.1.20")


def greet(certified: certificates.Certified, name: str) -> dict[str, object]:
    """Shake hands as a phone that trusts the authority would, and give what it was shown."""
    trusting = ssl.create_default_context(cadata=certified.authority)
    serving = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    serving.load_cert_chain(certified.chain, certified.key)
    here, there = ssl.MemoryBIO(), ssl.MemoryBIO()
    phone = trusting.wrap_bio(here, there, server_hostname=name)
    server = serving.wrap_bio(there, here, server_side=True)
    for side in 4 * (phone, server):
        with suppress(ssl.SSLWantReadError):
            side.do_handshake()
    return dict(phone.getpeercert() or {})


@needs_certificates
def test_a_phone_that_trusts_the_authority_trusts_the_server(tmp_path: Path) -> None:
    """By name and address, for less than 825 days; another address is not vouched for.

    825 days are the most that Apple's systems take ("Requirements for trusted certificates in
    iOS 13 and macOS 10.15").
    """
    certified = certify(tmp_path, "127.0.0.1", "shed.local", "yard", datetime.now(UTC))
    seen = greet(certified, "127.0.0.1")
    assert greet(certified, "shed.local") == seen
    begun, ends = (ssl.cert_time_to_seconds(str(seen[at])) for at in ("notBefore", "notAfter"))
    assert ends - begun < timedelta(days=825).total_seconds()
    with pytest.raises(ssl.SSLCertVerificationError):
        greet(certified, "127.0.0.2")


@needs_certificates
def test_the_authority_stays_the_same_from_start_to_start(tmp_path: Path) -> None:
    """A phone trusts once; each start of the server has a new certificate of the same authority."""
    first = certify(tmp_path, "192.168.1.20", "shed.local", "yard", NOW)
    chain = first.chain.read_bytes()
    again = certify(tmp_path, "192.168.1.21", "shed.local", "yard", NOW + timedelta(days=300))
    assert again.fingerprint == first.fingerprint
    assert again.chain.read_bytes() != chain
    much_later = certify(tmp_path, "192.168.1.20", "shed.local", "yard", NOW + timedelta(days=3400))
    assert much_later.fingerprint != first.fingerprint


@needs_certificates
def test_the_authority_cannot_vouch_for_the_internet(tmp_path: Path) -> None:
    """A certificate that it signed for a public name is refused by whoever trusts it."""
    certified = certify(tmp_path, "127.0.0.1", "bank.example", "yard", datetime.now(UTC))
    with pytest.raises(ssl.SSLCertVerificationError, match="permitted subtree violation"):
        greet(certified, "bank.example")


def test_an_address_is_drawn_where_it_can_be() -> None:
    """The square holds the address; where the part for phones is missing there is none."""
    address = "https://192.168.1.20:4200/phone/pair/abc"
    drawing = square.drawn(address)
    assert drawing.startswith("<svg") == square.THERE
    assert " style=" not in drawing


def test_the_laptop_tells_how_phones_are_let_in(door: PhoneDoor, unplanned: Path) -> None:
    """Without the door the page says how to open it; a phone listed there can be shut out."""
    let_in(at(door, unplanned), door)
    ours = "http://127.0.0.1:4180"
    pages = create_app(Shelf(unplanned, lambda: DAY), "key", 4180, hosts_of("127.0.0.1", 4180))
    laptop = TestClient(pages, base_url=ours, headers={"Origin": ours})
    laptop.cookies.set(cookie_name(4180), "key")
    text = laptop.get("/phones").text
    assert "haulm serve --phone" in text
    assert "Ines" in text
    id_ = door.phones.there[0].id
    mark = text.split('name="haulm-garden" value="', 1)[1].split('"', 1)[0]
    laptop.post("/phones", data={"haulm-garden": mark, "phone": id_})
    assert door.phones.there == ()
