"""Findings: what was noticed in a garden's data or plan, where, and how to mend it."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum


class Grade(StrEnum):
    """How grave a finding is."""

    FAULT = "fault"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing noticed.

    Attributes
    ----------
    where
        The place in the user's own data, in the user's own names, counted from 1.
    what
        What is wrong or worth knowing.
    remedy
        How to mend it; empty only for notes.
    grade
        A fault stops the work; a warning and a note do not.
    place
        The same place as a path into the data, where it is one: part, number in a list of parts
        (from 0), key, number in a list. A page finds the field to mend by it.
    """

    where: str
    what: str
    remedy: str = ""
    grade: Grade = Grade.FAULT
    place: tuple[str | int, ...] = ()

    def __str__(self) -> str:
        tail = f" {self.remedy}" if self.remedy else ""
        return f"{self.grade}: {self.where}: {self.what}{tail}"


def faults(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Keep the findings that stop the work."""
    return tuple(finding for finding in findings if finding.grade is Grade.FAULT)
