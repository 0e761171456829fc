"""What one more would bring, and what was left out, as answers with their figures."""

from collections.abc import Sequence
from dataclasses import fields

from haulm.desk.worth.anew import Anew
from haulm.desk.worth.why_records import Grounds, Part, Reckoned, Shown, Why, parts_of_use, reckoned
from haulm.desk.worth.worth_words import (
    CRUMB_KG,
    anew_sentence,
    doubt_sentence,
    helpings,
    left_out_sentence,
    line_name,
    more_sentence,
    next_to_nothing,
    piece_words,
    worth_telling,
)
from haulm.measure.sentences import capital, listed
from haulm.planner.pieces import pieces
from haulm.planner.records import OneMore, Scarce

HEADS = {
    Scarce.GROUND: "Ground",
    Scarce.HOURS: "Hours",
    Scarce.ROOM: "Room in store",
    Scarce.TRAYS: "Trays",
}
BOTH_PLANNED = (
    "The garden was planned again as it is and with the tunnel, both after the plan that is kept"
    " and both by one effort."
)
PIECE_WORDS = {
    "ground_m2": "a piece of ground, in metres",
    "ground_us_m2": "a piece of ground, in feet",
    "hours": "a piece of time",
    "shelf_l": "a shelf",
    "freezer_drawer_l": "a freezer's drawer",
    "tray_cells": "a tray",
    "tunnel_m2": "a tunnel",
    "most_times": "yields tried up to, for what was left out",
}


def why_more(grounds: Grounds) -> Why:
    """Say what one more of each scarce thing would bring, in a table for each sort."""
    return Why(
        path="",
        name="What one more would bring",
        answer=(
            "Every patch stays where it is; how large each is, and what is eaten and kept, is"
            " reckoned anew with so much more. Weights are those at table; the list is ordered by"
            " how much you want what they are of."
        ),
        parts=tuple(_sort(what, head, grounds) for what, head in HEADS.items()),
        figures=_pieces(grounds),
    )


def one_more_of(place: tuple[Scarce, str], head: str, enough: str, grounds: Grounds) -> Part:
    """Say what one more of a thing in one place would bring; ``enough`` where it brings nothing.

    ``place`` is what there would be more of, and the bed or store by its id.
    """
    more = [m for m in grounds.worths.more if (m.what, m.where) == place]
    told = tuple(f"{capital(more_sentence(m, grounds.worths))}." for m in more)
    return Part(head, told or (enough,))


def _sort(what: Scarce, head: str, grounds: Grounds) -> Part:
    telling, little = worth_telling(grounds.worths, what)
    lines = [f"{capital(next_to_nothing(little, grounds.question))}."] if little else []
    if not telling and not little:
        lines = ["There is enough: more of it would bring nothing."]
    heads = ("one more", ">feeds more", ">helpings", "mostly", "less of")
    rows = tuple(_row(more, grounds) for more in telling)
    return Part(head, tuple(lines), Shown(heads, rows) if rows else None)


def _row(more: OneMore, grounds: Grounds) -> tuple[str, ...]:
    question = grounds.question
    gains = [line_name(line, question) for line, kg in more.fed if kg >= CRUMB_KG]
    losses = [line_name(line, question) for line, kg in reversed(more.fed) if kg <= -CRUMB_KG]
    feeds = more.fed_kg >= CRUMB_KG
    return (
        capital(piece_words(more, question).removeprefix("one more ")),
        grounds.mass(more.fed_kg) if feeds else "nothing",
        helpings(more.fed, grounds.worths).partition(" ")[0] if feeds else "",
        listed(gains[:3]) or "spares work, waste or ground",
        listed(losses[:3]),
    )


def _pieces(grounds: Grounds) -> tuple[Reckoned, ...]:
    figures = pieces()
    return tuple(
        reckoned(PIECE_WORDS[field.name], getattr(figures, field.name), grounds.made.catalogue)
        for field in fields(figures)
        if field.name != ("ground_m2" if grounds.units == "us" else "ground_us_m2")
    )


def why_left_out(grounds: Grounds) -> Why:
    """Say of every kind that was left out how far it was from being worth it."""
    left = grounds.worths.left_out
    return Why(
        path="left-out",
        name="What was left out",
        answer=(
            "Each kind that could serve the table and is not planted was put in by force where it"
            " promises most, and the plan reckoned again; the nearest to being worth it first."
        ),
        parts=parts_of_use(
            Part(
                "Tried",
                tuple(
                    f"{capital(left_out_sentence(one, grounds.worths))}."
                    for one in left
                    if one.barred is None
                ),
            ),
            Part(
                "Not to be tried",
                tuple(
                    f"{capital(left_out_sentence(one, grounds.worths))}."
                    for one in left
                    if one.barred is not None
                ),
            ),
            *(() if left else (Part("None", ("Every kind that could serve is planted.",)),)),
        ),
        figures=_pieces(grounds)[-1:],
    )


def why_anew(again: Sequence[Anew], grounds: Grounds) -> Why:
    """Say what the garden planned anew makes of a tunnel, or of one more of something."""
    return Why(
        path="tunnel",
        name="With a tunnel",
        answer=f"{capital(anew_sentence(again[0], grounds.worths))}.",
        parts=(
            Part(
                "Who would have more, and who less",
                shown=Shown(
                    ("line", ">more", ">less"),
                    tuple(
                        (
                            line_name(line, grounds.question),
                            grounds.mass(kg) if kg > 0 else "",
                            grounds.mass(-kg) if kg < 0 else "",
                        )
                        for line, kg in again[0].fed
                        if abs(kg) >= CRUMB_KG
                    ),
                ),
            ),
            Part(
                "How it was found",
                (
                    BOTH_PLANNED,
                    f"{doubt_sentence(again, grounds.worths)}.",
                ),
            ),
        ),
        figures=tuple(one for one in _pieces(grounds) if one.name == PIECE_WORDS["tunnel_m2"]),
    )
