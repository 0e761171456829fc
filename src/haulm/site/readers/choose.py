"""Choosing the reader by what the file holds, not by its name."""

from collections.abc import Mapping
from pathlib import Path

from haulm.measure.findings import Finding
from haulm.site.readers.ghcn import is_ghcn_daily, read_ghcn_daily
from haulm.site.readers.plain import read_daily_csv
from haulm.site.readers.power import is_power, read_power
from haulm.site.readers.text import read_text
from haulm.site.records import DailyRecord


def read_record(
    path: Path, columns: Mapping[str, str] | None = None
) -> tuple[DailyRecord, tuple[Finding, ...]]:
    """Read a daily record: a GHCN-Daily station file, one of NASA POWER, or a plain table.

    Parameters
    ----------
    path
        The file.
    columns
        For a plain table, as in :func:`haulm.site.readers.plain.read_daily_csv`.

    Raises
    ------
    FaultsFoundError
        With every fault at once.
    """
    if columns is None:
        text = read_text(path)
        if is_ghcn_daily(text):
            return read_ghcn_daily(path)
        if is_power(text):
            return read_power(path)
    return read_daily_csv(path, columns)
