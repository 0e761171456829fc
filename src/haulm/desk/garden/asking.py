"""Ask a public service over the network: one request at a time, patient, and never unasked."""

from collections.abc import Callable
from dataclasses import dataclass
from http.client import HTTPException, HTTPResponse
from urllib.error import HTTPError, URLError
from urllib.request import Request, urlopen

from haulm import __version__
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding

TIMEOUT_S = 60.0
MOST_BYTES = 20_000_000
TRIES = 4
FIRST_WAIT_S, LONGEST_WAIT_S = 3.0, 60.0
AGENT = f"haulm/{__version__} (plans one household's garden; asked by hand, one request a garden)"
TOO_MANY, SERVER_AT_FAULT, FOUND = 429, 500, 200
_SHOWN = 200


@dataclass(frozen=True, slots=True)
class Reply:
    """What came back: the status, the content, and how long the service asks to be left [s].

    A status of 0 says that nothing came back, and ``body`` then holds why.
    """

    status: int
    body: bytes
    wait_s: float | None = None


Ask = Callable[[str], Reply]
"""Asks for an address; never raises."""


def over_https(address: str) -> Reply:
    """Ask for an address over the network."""
    # The one scheme there is: an address is made by haulm, never typed.
    if not address.startswith("https://"):
        return Reply(0, b"the address is no https address")
    request = Request(address, headers={"User-Agent": AGENT})  # noqa: S310
    try:
        with urlopen(request, timeout=TIMEOUT_S) as response:  # noqa: S310
            return _reply(response.status, response)
    except HTTPError as error:
        return Reply(error.code, error.read(MOST_BYTES), _seconds(error.headers.get("Retry-After")))
    except (TimeoutError, URLError, HTTPException, OSError) as error:
        return Reply(0, str(error).encode())


def ask_patiently(address: str, ask: Ask, wait: Callable[[float], None], service: str) -> bytes:
    """Ask until the service answers, waiting longer each time where it is busy or out of reach.

    Parameters
    ----------
    address, ask
        What to ask for, and what asks.
    wait
        Waits so many seconds.
    service
        What to call the service in words.

    Raises
    ------
    FaultsFoundError
        When it refuses, or does not answer in four tries.
    """
    pause_s, reply = FIRST_WAIT_S, Reply(0, b"")
    for attempt in range(1, TRIES + 1):
        reply = ask(address)
        if reply.status == FOUND:
            return reply.body
        if reply.status not in {0, TOO_MANY} and reply.status < SERVER_AT_FAULT:
            break
        if attempt < TRIES:
            wait(min(max(reply.wait_s or 0.0, pause_s), LONGEST_WAIT_S))
            pause_s *= 3.0
    said = " ".join(reply.body.decode("utf-8", "replace").split())[:_SHOWN]
    if reply.status == 0:
        what = f"it was not reached{': ' + said if said else ''}."
        remedy = "Look whether this machine is on the network, and try again later."
    else:
        what = f"it refused with status {reply.status}{': ' + said if said else ''}."
        remedy = "Try again later, or load a record from a file."
    raise FaultsFoundError([Finding(service, what, remedy)])


def _reply(status: int, response: HTTPResponse) -> Reply:
    """Read an answer, up to the most that is taken."""
    body = response.read(MOST_BYTES + 1)
    if len(body) > MOST_BYTES:
        return Reply(0, b"the answer is larger than any record")
    return Reply(status, body)


def _seconds(text: str | None) -> float | None:
    """Read how long a service asks to be left; a date is not read."""
    return float(text) if text and text.isdecimal() else None
