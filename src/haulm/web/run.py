"""Serve one garden on this machine: find the server that is there already, or start one."""

import json
import logging
import multiprocessing
import os
import signal
import socket
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import date
from functools import partial
from http.client import HTTPConnection, HTTPException
from pathlib import Path
from secrets import token_urlsafe
from threading import Thread
from time import sleep

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.web.app import create_app
from haulm.web.guard import OPENING, cookie_name
from haulm.web.phone_app import create_phone_app
from haulm.web.phone_door.door import PORT, PhoneDoor, open_door
from haulm.web.run_together import serve_pages, tell_of_phones
from haulm.web.shelf import Shelf, machine_time

LOOPBACK = "127.0.0.1"
FIRST_PORT = 4180
PORTS_TRIED = 20
ANSWER_S = 2.0
LOOK_ROUND_S = 1.0


@dataclass(frozen=True, slots=True)
class Wish:
    """How a garden is to be served.

    Attributes
    ----------
    notebook
        The notebook; it need not be there yet.
    port
        The port; None for the first that is free.
    address
        The address to listen on: this machine alone, unless the grower asks for more.
    on
        The day that counts as today, in an invented garden too; None for the true one, which moves
        on while pages stand, or the garden's own.
    phone
        Whether phones are listened to as well; the address is then that of their door, and the
        pages are for this machine alone.
    phone_port
        The port of the phones' door.
    """

    notebook: Path
    port: int | None = None
    address: str | None = None
    on: date | None = None
    phone: bool = False
    phone_port: int = PORT

    @property
    def pages_at(self) -> str:
        """The address at which the pages are served."""
        return LOOPBACK if self.phone or self.address is None else self.address


def serve(
    wish: Wish, tell: Callable[[str], None], open_page: Callable[[str], object] | None = None
) -> None:
    """Serve a garden until it is stopped from the keyboard.

    ``tell`` is given the opening address in a sentence, and ``open_page`` the address itself. Where
    a server is there already nothing is started, and the address is the first one's.

    Raises
    ------
    FaultsFoundError
        When the folder is not there, or no port is free.
    """
    note = wish.notebook.with_name(f".{wish.notebook.name}.serving")
    if not wish.notebook.parent.is_dir():
        what = "its folder does not exist."
        raise FaultsFoundError([Finding(str(wish.notebook), what, "Make the folder first.")])
    there = _served_already(note, wish.notebook)
    if there:
        _open(there, f"haulm is served already at {there}", tell, open_page)
        if wish.on is not None:
            tell(f"It was started without --on {wish.on}, or with another day: end it first.")
        return
    with _listening(wish) as sockets:
        port = sockets[0].getsockname()[1]
        token = token_urlsafe(24)
        address = f"http://{LOOPBACK}:{port}{OPENING}{token}"
        _log_to(wish.notebook.with_name(f"{wish.notebook.name}.log"))
        with (
            _phones_heard(wish) as door,
            _noted(note, {"address": address, "port": port, "token": token}),
            _helper() as beside,
        ):
            shelf = Shelf(wish.notebook, partial(_today, wish), beside, wish.on)
            pages = create_app(shelf, token, port, hosts_of(wish.pages_at, port), door)
            _open(address, f"haulm is at {address}", tell, open_page)
            if door is not None:
                tell_of_phones(door, tell)
            tell("Ctrl-C ends it; what you entered is kept.")
            serve_pages(pages, sockets, (create_phone_app(shelf, door), door) if door else None)


@contextmanager
def _phones_heard(wish: Wish) -> Iterator[PhoneDoor | None]:
    """Open the door for phones where it is wished for."""
    if not wish.phone:
        yield None
        return
    with open_door(wish.notebook, wish.address, wish.phone_port, machine_time()) as door:
        yield door


def _open(
    address: str,
    words: str,
    tell: Callable[[str], None],
    open_page: Callable[[str], object] | None,
) -> None:
    tell(words)
    if open_page is not None:
        open_page(address)


def hosts_of(address: str, port: int) -> frozenset[str]:
    """Name the hosts a server answers to."""
    names = {LOOPBACK, "localhost", address}
    return frozenset(f"{name}:{port}" for name in names)


def _served_already(note: Path, notebook: Path) -> str:
    """Give the opening address of the server that serves a notebook; empty where none answers."""
    try:
        held = json.loads(note.read_text(encoding="utf-8"))
        asking = HTTPConnection(LOOPBACK, held["port"], timeout=ANSWER_S)
        with closing(asking):
            key = {"Cookie": f"{cookie_name(held['port'])}={held['token']}"}
            asking.request("GET", "/alive", headers=key)
            same = asking.getresponse().read().decode() == str(notebook.resolve())
        return str(held["address"]) if same else ""
    except (OSError, ValueError, KeyError, HTTPException):
        return ""


@contextmanager
def _noted(note: Path, held: dict[str, object]) -> Iterator[None]:
    """Keep a note of the server beside the notebook while it runs, for the grower's eyes alone."""
    try:
        note.unlink(missing_ok=True)
        with os.fdopen(os.open(note, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as file:
            json.dump(held, file)
    except OSError:
        # A folder that can't be written to can still be looked at.
        yield
        return
    try:
        yield
    finally:
        note.unlink(missing_ok=True)


@contextmanager
def _helper() -> Iterator[ProcessPoolExecutor]:
    """Have two processes for long reckoning; they are started by the first that asks."""
    spawn = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(2, spawn, initializer=_end_with, initargs=(os.getpid(),)) as beside:
        yield beside


def _end_with(parent: int) -> None:
    """End this process once the server is gone, however it went; Ctrl-C is the server's to hear."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)

    def watch() -> None:
        while os.getppid() == parent:
            sleep(LOOK_ROUND_S)
        os._exit(0)

    Thread(target=watch, daemon=True).start()


@contextmanager
def _listening(wish: Wish) -> Iterator[list[socket.socket]]:
    """Take a port: the one named, or the first free one."""
    ports = [wish.port] if wish.port is not None else range(FIRST_PORT, FIRST_PORT + PORTS_TRIED)
    for port in ports:
        # Only of a socket that says it is TCP does the server's loop send small packets at once.
        taken = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        taken.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            taken.bind((wish.pages_at, port))
            # From here on early browsers wait in the queue until they are answered.
            taken.listen()
        except OSError:
            taken.close()
            continue
        try:
            yield [taken]
        finally:
            taken.close()
        return
    at = wish.pages_at
    where = f"{at}, port {wish.port}" if wish.port is not None else at
    what = "no port is free there, or it is not an address of this machine."
    raise FaultsFoundError([Finding(where, what, "Name another with --port.")])


def _today(wish: Wish) -> date:
    """Give the day asked for, or the true one."""
    return wish.on or date.today()  # noqa: DTZ011  # the grower's own day


def _log_to(path: Path) -> None:
    """Log unexpected faults to the screen, and beside the notebook once there is one to log."""
    log = logging.getLogger("haulm.web")
    log.addHandler(logging.StreamHandler())
    try:
        log.addHandler(logging.FileHandler(path, encoding="utf-8", delay=True))
    except OSError:
        log.warning("No log can be kept in %s.", path.parent)
