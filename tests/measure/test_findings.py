"""Findings and the errors that carry them."""

from haulm.measure.errors import AuditFailedError, FaultsFoundError, HaulmError
from haulm.measure.findings import Finding, Grade, faults


def test_a_finding_says_where_what_and_how_to_mend_it() -> None:
    """One line holds the place, the fault and the remedy."""
    finding = Finding("bed 3", "the width is 0 m.", "Give a width above 0.")
    assert str(finding) == "fault: bed 3: the width is 0 m. Give a width above 0."
    assert str(Finding("bed 3", "it is round.", grade=Grade.NOTE)) == "note: bed 3: it is round."


def test_only_faults_stop_the_work() -> None:
    """Warnings and notes are told, but only faults stop the work."""
    found = [Finding("a", "b", "c", grade) for grade in Grade]
    assert [finding.grade for finding in faults(found)] == [Grade.FAULT]


def test_every_fault_is_told_at_once() -> None:
    """A grower mends a file once, not once for each fault."""
    found = [Finding("bed 1", "one.", "x"), Finding("bed 2", "two.", "y")]
    for error in (FaultsFoundError(found), AuditFailedError(found)):
        assert isinstance(error, HaulmError)
        assert error.findings == tuple(found)
        assert "one." in str(error)
        assert "two." in str(error)
