"""Two listeners in one process: the pages for this machine, and the door for phones."""

import asyncio
import socket
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import uvicorn
from starlette.applications import Starlette

from haulm.web.phone_door.door import PhoneDoor
from haulm.web.phone_door.square import printed


class _Beside(uvicorn.Server):
    """A server that ends when it is told to; the keyboard's interrupt is the other's to hear."""

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Leave signals alone."""
        yield


def serve_pages(
    pages: Starlette, sockets: list[socket.socket], phones: tuple[Starlette, PhoneDoor] | None
) -> None:
    """Serve the pages, and the phones' door beside them where there is one, until interrupted."""
    first = uvicorn.Server(_config(pages))
    if phones is None:
        first.run(sockets=sockets)
        return
    app, door = phones
    config = _config(app, door)
    config.load()
    asyncio.run(_both(first, sockets, _Beside(config), door))


def tell_of_phones(door: PhoneDoor, tell: Callable[[str], None]) -> None:
    """Tell how a phone is let in."""
    address = door.new_address()
    tell(f"Let a phone in, once and within a quarter of an hour, at {address}")
    square = printed(address)
    if square:
        tell(square)
    if door.certified is None:
        tell("What phones send travels unhidden: this haulm has no part for phones installed.")
    else:
        tell(f"The certificate it is to trust (SHA-256): {door.certified.fingerprint}")


async def _both(
    first: uvicorn.Server, sockets: list[socket.socket], beside: uvicorn.Server, door: PhoneDoor
) -> None:
    running = asyncio.create_task(beside.serve(sockets=[door.listening]))
    try:
        await first.serve(sockets=sockets)
    finally:
        beside.should_exit = True
        await running


def _config(app: Starlette, door: PhoneDoor | None = None) -> uvicorn.Config:
    certified = door.certified if door else None
    return uvicorn.Config(
        app,
        log_level="warning",
        access_log=False,
        server_header=False,
        lifespan="off" if door else "auto",
        ssl_certfile=certified.chain if certified else None,
        ssl_keyfile=certified.key if certified else None,
    )
