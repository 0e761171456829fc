"""Make a rotation: solved, then re-added by code that knows nothing of the solving."""

from haulm.rotation.audit import insist_on_rotation
from haulm.rotation.records import Rotation, RotationQuestion
from haulm.rotation.solve import Watch, solve_rotation


def make_rotation(question: RotationQuestion, watch: Watch | None = None) -> Rotation:
    """Give families to beds over years, and audit what was given.

    Raises
    ------
    AuditFailedError
        If the rotation does not add up; it is not to be shown then.
    """
    return insist_on_rotation(solve_rotation(question, watch), question)
