"""The audit of certainty: what a plan was asked to be sure of, and how much it counts on."""

from collections.abc import Iterator

from haulm.measure.findings import Finding
from haulm.planner.audit_books import Books

MOST_COUNTED = 1.25
"""No plan counts on more than this share of a mean [1]: it would no longer be the careful one."""


def check_asked(books: Books) -> Iterator[Finding]:
    """Each line that was to be sure is planned for that certainty, and no other line is."""
    asked = tuple(
        (appetite.line, appetite.certainty)
        for appetite in books.asked.appetites
        if appetite.certainty is not None
    )
    planned = books.plan.certainty.lines if books.plan.certainty else ()
    if planned != asked:
        told, wanted = (_lines(books, lines) for lines in (planned, asked))
        yield books.wrong("how sure the plan is", f"it was made for {told}; asked for: {wanted}.")


def check_counted(books: Books) -> Iterator[Finding]:
    """Only foods of lines that are to be sure are counted for a share, none for nothing."""
    if books.plan.certainty is None:
        return
    sure = {line for line, _ in books.plan.certainty.lines}
    foods = {food for a in books.asked.appetites if a.line in sure for food in a.foods}
    for food, _year, share in books.plan.certainty.counted:
        if food not in foods:
            yield books.wrong(
                books.name(food), "it is counted for a share, and serves no sure line."
            )
        if not 0 < share <= MOST_COUNTED:
            yield books.wrong(books.name(food), f"{share:.2f} of its mean yield is counted on.")


def check_counted_told(books: Books) -> Iterator[Finding]:
    """Each planting of which more or less than the mean is counted on says how much."""
    if books.plan.certainty is None:
        return
    for planting in books.plan.plantings:
        for expects in planting.expects:
            food = books.food_of(planting, expects.food)
            share = books.counted_on(food) if food else 1.0
            if share != 1.0 and not any(f"{share:.2f} of" in line for line in planting.sum):
                what = f"{share:.2f} of its {books.name(expects.food)} is counted on, and not told."
                yield books.wrong(f"planting {planting.id}", what)


def check_held(books: Books) -> Iterator[Finding]:
    """How often promises held is told of lines that were to be sure, as a share of seasons."""
    if books.plan.certainty is None:
        return
    sure = {line for line, _ in books.plan.certainty.lines}
    for held in books.plan.certainty.held:
        if held.line not in sure or not 0 <= held.share <= 1:
            yield books.wrong(
                books.name(held.line), f"its promise is told to hold {held.share:.3f}."
            )


def _lines(books: Books, lines: tuple[tuple[str, float], ...]) -> str:
    """Write which lines are to be sure, and how sure."""
    told = ", ".join(f"{books.name(line)} {10 * share:g} years in 10" for line, share in lines)
    return told or "means"
