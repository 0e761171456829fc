"""Show on a terminal what one more would bring, and what was left out."""

from collections.abc import Sequence

from haulm.cli.show import line
from haulm.desk.worth.anew import Anew
from haulm.desk.worth.worth_words import (
    anew_sentence,
    doubt_sentence,
    left_out_sentence,
    more_sentence,
    next_to_nothing,
    worth_telling,
)
from haulm.desk.worth.worths import Worths
from haulm.measure.sentences import capital
from haulm.planner.records import Scarce

HEADS = {
    Scarce.GROUND: "Ground",
    Scarce.HOURS: "Hours",
    Scarce.ROOM: "Room in store",
    Scarce.TRAYS: "Trays",
}


def worth(worths: Worths) -> None:
    """Print what one more of each scarce thing would bring, then what was left out."""
    line("What one more would bring, every patch staying where it is and only its size changing")
    for what, head in HEADS.items():
        line(f"\n{head}")
        telling, little = worth_telling(worths, what)
        for more in telling:
            line(f"  {capital(more_sentence(more, worths))}.")
        if little:
            line(f"  {next_to_nothing(little, worths.question)}.")
        if not telling and not little:
            line("  There is enough: more of it would bring nothing.")
    line("\nWhat was left out, the nearest to being worth it first")
    for left in worths.left_out:
        line(f"  {capital(left_out_sentence(left, worths))}.")
    if not worths.left_out:
        line("  Nothing: every kind that could serve the table is planted.")


def anew(again: Sequence[Anew], worths: Worths) -> None:
    """Print what a garden planned anew makes of one more of the scarcest, and of a tunnel."""
    line("\nPlanned anew with it, by other sowings if need be")
    for each in again:
        line(f"  {capital(anew_sentence(each, worths))}.")
    line(f"  {doubt_sentence(again, worths)}.")
