"""Show on a terminal what hangs to cure, whether racks hold it, and what sprouted is good for."""

from haulm.cli.show import line, table
from haulm.desk.season.larder_books import LarderBooks
from haulm.desk.season.larder_words import weighing_sentence
from haulm.measure.sentences import capital
from haulm.measure.units import show_area, show_mass
from haulm.season.curing import Hung, curings, rack_m2
from haulm.season.rescue import Rescue
from haulm.sheets.glut_words import GlutWords
from haulm.sheets.rack_words import rack_words

NO_TIMES = "haulm gives no times: follow official tested guidance for your country."


def curing(found: LarderBooks) -> None:
    """Show what hangs or came down of late: when it is done, how that is told, what it takes."""
    shown = found.hung_of_late
    if shown:
        table(
            ("hung to cure", "hung on", ">weight", "done", ">rack", "what went"),
            (
                (
                    found.name(one.kind or one.food),
                    one.begun.isoformat(),
                    "not weighed" if one.kg is None else show_mass(one.kg, found.units),
                    _done(one, found),
                    _rack(one, found),
                    _went(one, found),
                )
                for one in shown
            ),
        )
    for food in dict.fromkeys(one.food for one in shown if one.ended is None):
        how = curings().get(food)
        if how is not None:
            line(f"{capital(found.name(food))}: {how.done} It asks: {how.asks} {how.trim}")
    if found.racks is not None:
        line(" ".join(rack_words(found.racks, found.name, found.units)))


def _done(one: Hung, found: LarderBooks) -> str:
    if one.ended is not None:
        return f"down on {one.ended.isoformat()}"
    if one.done_on is None:
        return "how long it takes is not known"
    first, usual, last = one.done_on
    if found.day >= usual:
        return f"should be done since {usual.isoformat()}: test it"
    return f"by {usual.isoformat()} ({first.isoformat()} to {last.isoformat()})"


def _rack(one: Hung, found: LarderBooks) -> str:
    taken = rack_m2(one)
    if one.ended is not None:
        return ""
    return "not known" if taken is None else show_area(taken, found.units)


def _went(one: Hung, found: LarderBooks) -> str:
    how = curings().get(one.food)
    if one.gone_kg is None or not one.kg:
        return ""
    told = f"{show_mass(one.gone_kg, found.units)} ({one.gone_kg / one.kg:.0%})"
    if how is None or how.lost.low is None or how.lost.high is None:
        return told
    return f"{told}; usual {how.lost.low:.0%} to {how.lost.high:.0%}"


def sprouted(found: LarderBooks) -> None:
    """Show what counts found sprouted, and what it is still good for."""
    for one in found.sprouted:
        weight = show_mass(one.kg, found.units)
        where = f"{found.name(one.lot.food)} in {found.name(one.lot.store)}"
        line(f"Sprouted: {weight} of {where}.")
        for words in _good_for(one):
            line(f"  {words}")


def weighing(found: LarderBooks) -> None:
    """Show where what was picked went, food by food; where the books part, that comes first."""
    heads = {
        True: "Picking and books of the last twelve months part:",
        False: "Picking and books of the last twelve months are at one:",
    }
    for parts, head in heads.items():
        some = [one for one in found.weighing if one.parts is parts]
        if some:
            line(head)
        for one in some:
            line(f"  {weighing_sentence(one, found)}")


def other_uses(found: LarderBooks, food: str) -> None:
    """Show what else may be done with a food of which more lies there than is eaten in time."""
    uses = found.uses.get(food)
    if uses is None:
        return
    for words in GlutWords(found.name, found.units).uses(uses):
        line(f"  {words}")
    for caution in uses.cautions:
        line(f"  Take care: {caution}")


def _good_for(one: Rescue) -> tuple[str, ...]:
    if one.way is None:
        return ("Nobody has told haulm what it is good for: ask your food safety authority first.",)
    barred = " ".join(
        f"none of it: {what} was seen on {day.isoformat()}." for what, day in one.barred
    )
    return (
        f"Eat: {one.way.eat}",
        f"Plant: {barred or one.way.plant}",
        f"Keep otherwise: {one.way.keep} {NO_TIMES}",
        f"Rests on: {one.way.source or one.way.basis.value}.",
    )
