"""The tree of everything haulm raises.

HaulmError                 the root; nothing else in haulm derives from Exception
├── FaultsFoundError       the user's data has faults: carries every Finding at once
├── LabelsDifferError      two tables were joined whose labels do not match
├── AuditFailedError       a plan did not survive its independent re-adding
├── InterruptedPlanError   planning was stopped before a plan existed
└── ChangedElsewhereError  what was to be changed is no longer what it was when it was looked at
"""

from collections.abc import Mapping, Sequence

from haulm.measure.findings import Finding


class HaulmError(Exception):
    """Anything haulm refuses to do, said in the grower's words."""


class FaultsFoundError(HaulmError):
    """The data given has faults; each says where it is, what it is and how to mend it.

    Parameters
    ----------
    findings
        Every fault found, in the order of the data.
    """

    def __init__(self, findings: Sequence[Finding]) -> None:
        self.findings = tuple(findings)
        super().__init__("\n".join(str(finding) for finding in self.findings))

    def __reduce__(self) -> tuple[type, tuple[object, ...]]:
        return type(self), (self.findings,)


class LabelsDifferError(HaulmError):
    """Two tables were joined by label and one lacks what the other has."""


class AuditFailedError(HaulmError):
    """A plan was re-added by independent code and does not agree with itself.

    Parameters
    ----------
    findings
        Every disagreement found.
    """

    def __init__(self, findings: Sequence[Finding]) -> None:
        self.findings = tuple(findings)
        super().__init__("\n".join(str(finding) for finding in self.findings))

    def __reduce__(self) -> tuple[type, tuple[object, ...]]:
        return type(self), (self.findings,)


class InterruptedPlanError(HaulmError):
    """Planning was stopped before any plan existed."""


class ChangedElsewhereError(HaulmError):
    """What was to be changed is no longer what it was when it was looked at.

    Parameters
    ----------
    what
        What happened, in words.
    part
        The part of the garden it belongs to, by its name in garden.toml.
    now
        The part as it is now; None where it is gone or cannot be told from others.
    """

    def __init__(self, what: str, part: str, now: Mapping[str, object] | None = None) -> None:
        self.part = part
        self.now = now
        super().__init__(what)

    def __reduce__(self) -> tuple[type, tuple[object, ...]]:
        return type(self), (str(self), self.part, self.now)
