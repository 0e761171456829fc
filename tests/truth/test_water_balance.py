"""The water room against FAO-56 (Rome, 1998), beside the page of checks."""

import numpy as np
import pytest

from haulm.water.root_zone import easy_share


def test_easy_share_follows_the_days_use() -> None:
    """At 5 mm a day the table's share holds; it stays within 0.1 to 0.8 (FAO-56, table 22)."""
    share = easy_share(0.45, np.array([5.0, 2.5, 40.0, -20.0]))
    assert share == pytest.approx([0.45, 0.55, 0.1, 0.8])
