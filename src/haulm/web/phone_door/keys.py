"""Which phones may write in the diary: each has a key of its own, which can be shut out."""

import json
import os
from collections.abc import Callable
from dataclasses import asdict, dataclass
from datetime import datetime, timedelta
from hashlib import sha256
from pathlib import Path
from secrets import compare_digest, token_urlsafe
from threading import Lock

from haulm.web.words import gettext as _

CODE_LASTS = timedelta(minutes=15)
LONGEST_NAME = 40


@dataclass(frozen=True, slots=True)
class Phone:
    """A phone that may write.

    Attributes
    ----------
    id
        What it is called in haulm's own pages.
    name
        What the grower calls it; its entries bear this name.
    since
        The day on which it was let in, by ISO 8601.
    digest
        The SHA-256 of its key; the key itself is on the phone alone.
    """

    id: str
    name: str
    since: str
    digest: str


class Phones:
    """The phones of one notebook, in a file beside it that is not part of it.

    A notebook is copied, sent and handed on; its keys are not to go with it.

    Parameters
    ----------
    folder
        Where the file lies; it is made when the first phone is let in.
    now
        Gives the time.
    """

    def __init__(self, folder: Path, now: Callable[[], datetime]) -> None:
        self.folder = folder
        self._now = now
        self._lock = Lock()
        self._codes: dict[str, datetime] = {}

    @property
    def there(self) -> tuple[Phone, ...]:
        """The phones that may write."""
        try:
            listed = json.loads(self._file.read_text(encoding="utf-8"))
        except FileNotFoundError:
            return ()
        return tuple(Phone(**one) for one in listed)

    def offer(self) -> str:
        """Make a code by which one phone can be let in, once and within a quarter of an hour."""
        code = token_urlsafe(16)
        with self._lock:
            self._codes[code] = self._now() + CODE_LASTS
        return code

    def holds(self, code: str) -> bool:
        """Whether a code was offered, has not been used and has not run out."""
        with self._lock:
            ends = self._codes.get(code)
        return ends is not None and self._now() <= ends

    def let_in(self, code: str, name: str) -> str | None:
        """Let a phone in by its code, and give its key; None where the code holds no more."""
        with self._lock:
            ends = self._codes.pop(code, None)
            if ends is None or self._now() > ends:
                return None
            there = self.there
            key = token_urlsafe(32)
            called = _unlike(name.strip()[:LONGEST_NAME] or _("phone"), there)
            since = self._now().date().isoformat()
            self._write((*there, Phone(token_urlsafe(6), called, since, _digest(key))))
            return key

    def name_of(self, key: str) -> str:
        """Give the name of the phone that has a key; empty where none has."""
        digest = _digest(key)
        found = [one.name for one in self.there if compare_digest(one.digest, digest)]
        return found[0] if found else ""

    def shut_out(self, id_: str) -> str:
        """Shut a phone out, and give its name; its key opens nothing from now on."""
        with self._lock:
            there = self.there
            gone = [one.name for one in there if one.id == id_]
            self._write(tuple(one for one in there if one.id != id_))
        return gone[0] if gone else ""

    @property
    def _file(self) -> Path:
        return self.folder / "phones.json"

    def _write(self, phones: tuple[Phone, ...]) -> None:
        text = json.dumps([asdict(one) for one in phones], ensure_ascii=False)
        write_for_us_alone(self._file, text.encode())


def write_for_us_alone(path: Path, data: bytes) -> None:
    """Write a file that no other user of the machine can read; it is whole or as it was."""
    path.parent.mkdir(mode=0o700, exist_ok=True)
    fresh = path.with_name(path.name + ".fresh")
    fresh.unlink(missing_ok=True)
    with os.fdopen(os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    fresh.replace(path)


def _unlike(name: str, there: tuple[Phone, ...]) -> str:
    """Give a name that no other phone has."""
    taken = {one.name for one in there}
    numbers = (f"{name} {number}" for number in range(2, len(taken) + 2))
    return next(one for one in (name, *numbers) if one not in taken)


def _digest(key: str) -> str:
    return sha256(key.encode()).hexdigest()
