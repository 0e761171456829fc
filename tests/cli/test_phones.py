"""Phones on the command line: listed, and one shut out."""

import json
from datetime import UTC, datetime
from pathlib import Path

from haulm.web.phone_door.door import folder_of
from haulm.web.phone_door.keys import Phones
from shell import Haulm

AT = datetime(2027, 7, 1, 8, tzinfo=UTC)


def test_phones_are_listed_and_one_is_shut_out(haulm: Haulm, unplanned: Path) -> None:
    """Two phones are let in; one is shut out by its name, and its key opens nothing after that."""
    phones = Phones(folder_of(unplanned), lambda: AT)
    keys = [phones.let_in(phones.offer(), name) for name in ("Wren's", "Tobit's")]
    assert all(keys)
    assert "Tobit's, since 2027-07-01" in haulm("phones", unplanned).out
    assert "Wren's is shut out" in haulm("phones", unplanned, "--shut-out", "wren's").out
    assert [phones.name_of(key or "") for key in keys] == ["", "Tobit's"]
    (left,) = json.loads(haulm("phones", unplanned, "--json").out)
    assert set(left) == {"id", "name", "since"}


def test_a_phone_nobody_let_in_is_named_with_what_is_near(haulm: Haulm, unplanned: Path) -> None:
    """A name that is none is refused, and nothing is shut out."""
    phones = Phones(folder_of(unplanned), lambda: AT)
    phones.let_in(phones.offer(), "kitchen")
    ran = haulm("phones", unplanned, "--shut-out", "kitchn")
    assert ran.code == 1
    assert 'Did you mean "kitchen"' in ran.err
    assert [one.name for one in phones.there] == ["kitchen"]
