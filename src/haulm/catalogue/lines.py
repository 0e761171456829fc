"""On which line of a TOML file each key stands.

The standard library's reader tells what a file says, not where. This one reads only where; it is
given texts that the library has read already, and so need not tell sound TOML from other.
"""

import re
import tomllib
from bisect import bisect_right
from collections.abc import Mapping

Path = tuple[str | int, ...]
"""The way to a value: the keys of its tables, and its number in an array, counted from 0."""

_BLANK = re.compile(r"[ \t]*")
_BETWEEN = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_PLAIN = re.compile(r"[^,\]}#\r\n]*")
_STRINGS = (
    re.compile(r'"""(?:\\[\s\S]|(?!""")[^\\])*"{3,5}'),
    re.compile(r"'''(?:(?!''')[\s\S])*'{3,5}"),
    re.compile(r'"(?:\\.|[^"\\])*"'),
    re.compile(r"'[^']*'"),
)


def key_lines(text: str) -> Mapping[Path, int]:
    """Give the line of every key and every entry of an array, counted from 1.

    Parameters
    ----------
    text
        The text of a file that the standard library reads without fault. A table that is only
        implied by a longer header has the line of the first header that implies it.
    """
    return _Lines(text).read()


class _Lines:
    """Reads a text from top to bottom, noting lines."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._at = 0
        self._breaks = [n for n, letter in enumerate(text) if letter == "\n"]
        self._lines: dict[Path, int] = {}
        self._counts: dict[Path, int] = {}

    def read(self) -> Mapping[Path, int]:
        here: Path = ()
        while self._next() is not None:
            if self._next() == "[":
                here = self._header()
            else:
                self._pair(here)
        return self._lines

    def _next(self) -> str | None:
        """Pass over blanks, line ends and comments, and give the next letter; None at the end."""
        self._pass(_BETWEEN)
        return self._text[self._at] if self._at < len(self._text) else None

    def _pass(self, what: re.Pattern[str]) -> str:
        found = what.match(self._text, self._at)
        if found is None:
            return ""
        self._at = found.end()
        return found.group()

    def _line(self) -> int:
        return bisect_right(self._breaks, self._at - 1) + 1

    def _header(self) -> Path:
        many = self._text.startswith("[[", self._at)
        line = self._line()
        self._at += 2 if many else 1
        *above, last = self._keys()
        self._at += 2 if many else 1
        path = (*self._within((), above, line), last)
        if many:
            self._lines.setdefault(path, line)
            self._counts[path] = self._counts.get(path, 0) + 1
            path = (*path, self._counts[path] - 1)
        self._lines[path] = line
        return path

    def _within(self, here: Path, above: list[str], line: int) -> Path:
        """Go down the tables above a key; in an array of tables, into the last one."""
        for key in above:
            here = (*here, key)
            self._lines.setdefault(here, line)
            if here in self._counts:
                here = (*here, self._counts[here] - 1)
        return here

    def _pair(self, here: Path) -> None:
        line = self._line()
        *above, last = self._keys()
        self._at += 1
        path = (*self._within(here, above, line), last)
        self._lines[path] = line
        self._value(path)

    def _keys(self) -> list[str]:
        """Read a dotted key."""
        keys = []
        while True:
            self._pass(_BLANK)
            quoted = self._string()
            plain = tomllib.loads(f"key = {quoted}")["key"] if quoted else self._pass(_BARE_KEY)
            keys.append(plain)
            self._pass(_BLANK)
            if not self._text.startswith(".", self._at):
                return keys
            self._at += 1

    def _string(self) -> str:
        return next(filter(None, (self._pass(string) for string in _STRINGS)), "")

    def _value(self, path: Path) -> None:
        self._pass(_BLANK)
        opening = self._text[self._at]
        if opening in "{[":
            self._at += 1
            number = 0
            while self._next() not in {"}", "]"}:
                if opening == "{":
                    self._pair(path)
                else:
                    self._lines[*path, number] = self._line()
                    self._value((*path, number))
                number += 1
                if self._next() == ",":
                    self._at += 1
            self._at += 1
        elif not self._string():
            self._pass(_PLAIN)
