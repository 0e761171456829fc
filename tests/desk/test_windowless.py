from datetime import date
from pathlib import Path

from gardens import small_garden
from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.question import ask
from haulm.desk.planning.windowless import windowless

WARM = "tmin = [2, 2, 4, 5, 8, 11, 13, 13, 11, 8, 4, 2]"
COLD = "tmin = [-30, -30, -28, -20, -9, -2, 1, 0, -5, -13, -22, -28]"
WARM_DAYS = "tmax = [8, 10, 12, 15, 19, 21, 25, 25, 22, 16, 11, 8]"
COLD_DAYS = "tmax = [-22, -22, -20, -12, -3, 3, 6, 5, 0, -7, -15, -20]"


def test_where_nothing_can_be_sown_the_reason_is_told(tmp_path: Path) -> None:
    """In the far north no bean can be sown, and the grower is told what stands in its way."""
    opened = open_garden(small_garden(tmp_path, (WARM, COLD), (WARM_DAYS, COLD_DAYS)))
    told = windowless(ask(opened.garden, opened.catalogue, date(2027, 2, 1), 1))
    beans = next(finding for finding in told if "green beans" in finding.where)
    assert "soil" in beans.what or "frost" in beans.what


def test_where_all_can_be_sown_nothing_is_told(tmp_path: Path) -> None:
    """A mild place has a window for everything on its table."""
    opened = open_garden(small_garden(tmp_path))
    assert windowless(ask(opened.garden, opened.catalogue, date(2027, 2, 1), 1)) == ()
