"""Where phones come in: an address in the household's network, and what it is certified by."""

import socket
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.web.phone_door.certificates import LOCAL, THERE, Certified, certify, is_private
from haulm.web.phone_door.guard import PAIR
from haulm.web.phone_door.keys import Phones
from haulm.web.shelf import machine_time

PORT = 4200
"""The port of the phones' door; a page kept on a phone belongs to address and port, so it stays."""
NOWHERE = ("192.0.2.1", 9)
"""An address that is nobody's (RFC 5737): asked for the way there, a machine tells its own."""


@dataclass(frozen=True, slots=True)
class PhoneDoor:
    """The door for phones.

    Attributes
    ----------
    listening
        The socket it listens on.
    address, name, port
        Under what it is reached.
    certified
        What it is certified by; None where this machine cannot, and it speaks plain HTTP.
    phones
        The phones that may come in.
    """

    listening: socket.socket
    address: str
    name: str
    port: int
    certified: Certified | None
    phones: Phones

    @property
    def scheme(self) -> str:
        """How it is spoken to."""
        return "https" if self.certified else "http"

    @property
    def hosts(self) -> frozenset[str]:
        """The names it answers to."""
        return frozenset(f"{one}:{self.port}" for one in (self.address, self.name))

    def new_address(self) -> str:
        """Give an address by which one phone can be let in."""
        return f"{self.scheme}://{self.address}:{self.port}{PAIR}{self.phones.offer()}"


def folder_of(notebook: Path) -> Path:
    """Give the folder of a notebook's keys and certificates, beside it."""
    return notebook.with_name(f".{notebook.name}.phones")


@contextmanager
def open_door(notebook: Path, address: str | None, port: int, now: datetime) -> Iterator[PhoneDoor]:
    """Open the door for phones of a notebook.

    Parameters
    ----------
    notebook
        The notebook.
    address, port
        Where to listen; the address that this machine has in its network where it is None.
    now
        The time, with its zone.

    Raises
    ------
    FaultsFoundError
        When the address is none of this machine's, or none of a private network.
    """
    address = address or _own_address()
    try:
        private = is_private(address)
    except ValueError:
        private = False
    if not private:
        what = "it is no address of a private network."
        remedy = "Name this machine's address in your own network with --address."
        raise FaultsFoundError([Finding(f"the phones' door at {address}", what, remedy)])
    listening = _listen(address, port)
    try:
        name = f"{socket.gethostname().split('.')[0].lower()}.{LOCAL}"
        folder = folder_of(notebook)
        certified = certify(folder, address, name, notebook.stem, now) if THERE else None
        phones = Phones(folder, machine_time)
        yield PhoneDoor(listening, address, name, listening.getsockname()[1], certified, phones)
    finally:
        listening.close()


def _own_address() -> str:
    """Give the address that this machine has in its network; nothing is sent to find it."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        try:
            asking.connect(NOWHERE)
            return str(asking.getsockname()[0])
        except OSError:
            return "127.0.0.1"


def _listen(address: str, port: int) -> socket.socket:
    taken = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    taken.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        taken.bind((address, port))
        taken.listen()
    except OSError as error:
        taken.close()
        where = f"the phones' door at {address}, port {port}"
        remedy = "Name this machine's address in your own network with --address."
        finding = Finding(where, f"it cannot be opened: {error.strerror}.", remedy)
        raise FaultsFoundError([finding]) from None
    return taken
