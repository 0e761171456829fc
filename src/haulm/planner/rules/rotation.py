"""Rotation: a family rests from a bed for its years before it comes back.

A bed remembers a family as a whole: roots, resting bodies and eggs do not stay in one corner, and
soil is moved with every tool. So a patch that takes ground after another of its family was cleared
from the bed, however small that was, breaks the rule by its whole area, times the years missing
(the gap less the years between the two clearings). Of several stands before it the worst counts.
Patches of one family that stand side by side at one time are one stand and do not break it.
"""

import numpy as np

from haulm.planner.arrays import Flags, Floats, Ints
from haulm.planner.assembler import Assembler
from haulm.planner.columns import Columns
from haulm.planner.rules.registry import ROTATION
from haulm.planner.tables import Tables


def years_missing(tables: Tables, used: Flags) -> Floats:
    """Give (P) the years of rest missing for each pair, were it planted beside the pairs used."""
    ground = tables.ground
    missing = ground.missing.copy()
    held = used[ground.before]
    np.maximum.at(missing, ground.after[held], ground.after_missing[held])
    return missing


def rotation(model: Assembler, tables: Tables, columns: Columns, used: Ints) -> Ints:
    """For each patch after another: broken ≥ years missing · (area − most · (1 − used before)).

    What the bed's past already costs is charged on the area itself; only years beyond that are
    counted here, the worst stand before counting alone. Gives (P) the columns of what is broken.
    """
    ground = tables.ground
    more = ground.after_missing - ground.missing[ground.after]
    rows = np.nonzero(more > 0)[0]
    before, after, years = ground.before[rows], ground.after[rows], more[rows]
    broken = model.columns(len(ground.pair_sowing), cost=tables.question.prices.rotation_m2)
    most = ground.most_m2[after]
    row = np.arange(len(rows))
    model.rows(
        ROTATION.name,
        (np.full(len(rows), -np.inf), years * most),
        [
            (row, columns.area[after], years),
            (row, used[before], years * most),
            (row, broken[after], -np.ones(len(rows))),
        ],
    )
    return broken
