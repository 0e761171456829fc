"""What a browser keeps for a year is asked for by another address once it has changed."""

import re

from starlette.testclient import TestClient

from haulm import __version__

FILE = re.compile(r"""["'](/(?:static|type)[^"']*)["']""")


def test_what_is_kept_for_long_has_an_address_that_changes(visit: TestClient) -> None:
    """Styles, scripts and letters may be kept a year, so each address says which it is of."""
    files = FILE.findall(visit.get("/table").text)
    letters = FILE.findall(visit.get("/type.css").text)
    assert len(files) > 2
    assert len(letters) > 2
    for address in (*files, letters[0]):
        assert "immutable" in visit.get(address).headers["cache-control"], address
    assert all("?" in address for address in files)
    assert all(address.endswith(f"?{__version__}") for address in letters)
