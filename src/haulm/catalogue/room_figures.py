"""A room's own figures, read from its data file: each with unit, basis and meaning."""

import tomllib
from importlib.resources import files

from haulm.catalogue.figures import Basis, Figure


def room_figures(package: str, file: str) -> dict[str, Figure]:
    """Read the figures of a file in a room's folder ``data``, by name.

    Every entry is a table with ``value``, ``unit``, ``basis`` and ``note``, and if need be
    ``source``, ``low`` and ``high``.
    """
    text = files(package).joinpath("data", file).read_text(encoding="utf-8")
    return {
        name: Figure(**entry | {"value": float(entry["value"]), "basis": Basis(entry["basis"])})
        for name, entry in tomllib.loads(text).items()
    }
