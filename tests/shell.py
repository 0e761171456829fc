"""What running a command in a test gives."""

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Ran:
    """What a command left behind: its exit code, and what it said where."""

    code: int
    out: str
    err: str


Haulm = Callable[..., Ran]
