"""What is known of a figure that may be absent."""

from haulm.catalogue.records import Absent, Figure


def known(figure: Figure | Absent) -> float | None:
    """Give a figure's value in its own unit; None where nobody has it, which is never 0."""
    return None if isinstance(figure, Absent) else figure.value


def counted(figure: Figure | Absent) -> float:
    """Give what a sum counts for a figure: nothing for one that nobody has.

    Only for sums that say beside their total what they leave out.
    """
    return 0.0 if isinstance(figure, Absent) else figure.value
