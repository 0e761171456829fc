"""The handover page: all of it to read, two pages to print, and the age of the newest copy."""

from io import BytesIO

from pypdf import PdfReader
from starlette.testclient import TestClient


def test_the_handover_can_be_read_and_printed(visit: TestClient) -> None:
    """A successor reads every section, and gets two pages of either paper; other papers are none.

    The page says that nobody has copied the notebook yet.
    """
    shown = visit.get("/handover")
    assert shown.status_code == 200
    for words in ("The beds", "Closed beds: visit them last", "The year round", "This file"):
        assert words in shown.text
    assert "There is no copy of the notebook" in shown.text
    for paper in ("a4", "letter"):
        pdf = visit.get(f"/handover/{paper}.pdf")
        assert pdf.headers["content-type"] == "application/pdf"
        assert len(PdfReader(BytesIO(pdf.content)).pages) == 2
    assert visit.get("/handover/a3.pdf").status_code == 404
