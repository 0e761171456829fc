"""What one more would bring and what was left out, in sentences a grower reads."""

from collections.abc import Sequence

from haulm.catalogue.records import StoreKind
from haulm.desk.worth.anew import Anew
from haulm.desk.worth.worths import Worths
from haulm.measure.sentences import listed
from haulm.planner.pieces import pieces
from haulm.planner.question import PlanQuestion
from haulm.planner.records import Barred, Fed, LeftOut, OneMore, Scarce
from haulm.planner.words import area, month, name, room, stretch, weight

CRUMB_KG = 0.005
"""Less than this is not told of [kg]."""
TELLING_KG = 0.05
"""What would bring less than this, weighted, is named but not told of at length [kg]."""
MOST_SHARE = 0.75
"""Lines that take this share of what more is fed are named; what follows is left out [1]."""
MOST_NAMED = 3
STARTS = {"direct": "sown in place", "modules": "from modules"}


def more_sentence(more: OneMore, worths: Worths) -> str:
    """Say what one more of a thing would bring: how much, to whom, in helpings too."""
    return f"{piece_words(more, worths.question)} {brings(more.fed, worths)}"


def worth_telling(worths: Worths, what: Scarce) -> tuple[list[OneMore], list[OneMore]]:
    """Part what one more of a thing would bring: worth telling, and next to nothing."""
    found = [more for more in worths.more if more.what is what]
    return (
        [more for more in found if more.worth_kg >= TELLING_KG],
        [more for more in found if more.worth_kg < TELLING_KG],
    )


def next_to_nothing(little: Sequence[OneMore], question: PlanQuestion) -> str:
    """Say in one sentence of which things one more would bring next to nothing."""
    pieces = dict.fromkeys(piece_words(more, question) for more in little)
    return f"Next to nothing would come of {listed(list(pieces))}"


def anew_sentence(again: Anew, worths: Worths) -> str:
    """Say what a garden planned anew with one more makes of it."""
    if again.more is None:
        piece = f"a tunnel of {area(worths.question, again.area_m2)} beside the beds"
    else:
        piece = piece_words(again.more, worths.question)
    return f"{piece} {brings(again.fed, worths)}"


def doubt_sentence(again: Sequence[Anew], worths: Worths) -> str:
    """Say how far plans made anew can be told apart."""
    doubt = weight(worths.question, max(each.doubt_kg for each in again))
    return (
        f"Each of these plans may fall up to {doubt} of what is wanted short of the best there can"
        " be; what differs by less may be luck. Planned harder, they lie closer"
    )


def piece_words(more: OneMore, question: PlanQuestion) -> str:
    """Name one more of a thing, and when there would be more of it."""
    whole = (more.first_week, more.last_week) == (0, question.horizon.weeks - 1)
    when = "" if whole else f" {stretch(question, more.first_week, more.last_week)}"
    if more.what is Scarce.GROUND:
        piece = "ten more square feet" if question.units == "us" else "one more square metre"
        return f"{piece} in {name(question, more.where)}{when}"
    if more.what is Scarce.HOURS:
        return f"one more hour in each week{when}"
    if more.what is Scarce.TRAYS:
        return f"one more tray of {more.amount:.0f} cells"
    store = next(store for store in question.stores if store.id == more.where)
    piece = "drawer" if store.kind is StoreKind.FREEZER else "shelf"
    return f"one more {piece} ({room(question, more.amount)}) in {store.name}"


def brings(fed: Fed, worths: Worths) -> str:
    """Say what more comes to table, most first, and what less."""
    question = worths.question
    gains = [(line, kg) for line, kg in fed if kg >= CRUMB_KG]
    losses = [(line, -kg) for line, kg in fed if kg <= -CRUMB_KG]
    total = sum(kg for _, kg in fed)
    less = f"; {listed([_of(line, kg, question) for line, kg in losses])} less" if losses else ""
    if total >= CRUMB_KG:
        many = helpings(fed, worths)
        told = f" ({many})" if many else ""
        return f"would feed {weight(question, total)} more{told}: {_whom(gains, question)}{less}"
    if gains:
        more = listed([_of(line, kg, question) for line, kg in gains[:MOST_NAMED]])
        return f"would feed no more in all, but {more} more{less}"
    return "would feed no more; it would spare work, waste or ground"


def helpings(fed: Fed, worths: Worths) -> str:
    """Count what more is fed in a grown eater's usual helpings; nothing under half a helping."""
    many = sum(kg / worths.portions_kg[line] for line, kg in fed)
    if many < 1:
        return ""
    return f"{many:.0f} helping{'' if round(many) == 1 else 's'}"


def _whom(gains: Sequence[tuple[str, float]], question: PlanQuestion) -> str:
    """Name the lines that take most of what more is fed."""
    total = sum(kg for _, kg in gains)
    named: list[str] = []
    sofar = 0.0
    for line, kg in gains[:MOST_NAMED]:
        named.append(line_name(line, question))
        sofar += kg
        if sofar >= MOST_SHARE * total:
            break
    whole = sofar >= total - CRUMB_KG
    return listed(named) if whole else f"mostly {listed(named)}"


def _of(line: str, kg: float, question: PlanQuestion) -> str:
    return f"{weight(question, kg)} of {line_name(line, question)}"


def line_name(line: str, question: PlanQuestion) -> str:
    """Give the name of a line of the table."""
    called = next((a.name for a in question.appetites if a.line == line), line)
    return question.names.get(line, called)


def left_out_sentence(left: LeftOut, worths: Worths) -> str:
    """Say of a kind left out what it would bring and take, and what would bring it in."""
    question = worths.question
    kind = name(question, left.kind)
    barred = {
        Barred.NOT_EATEN: "nothing of it could be eaten when its line wants it",
        Barred.NO_BED: "no bed may hold it: cover, sun, size, a disease or your own word is against"
        " it",
        Barred.NO_ROOM: "what is settled by hand leaves it no room",
    }
    if left.barred is not None:
        return f"{kind}: left out; {barred[left.barred]}"
    method, day = worths.begun[left.sowing]
    week = question.horizon.week_of(day)
    start = f"{STARTS.get(method, f'from {method}')} in {month(question, week)}"
    piece = f"{area(question, left.area_m2)} in {name(question, left.bed)}, {start},"
    return f"{kind}: left out; {piece} {_trade(left.fed, question)}; {_price(left, question)}"


def _trade(fed: Fed, question: PlanQuestion) -> str:
    gains = [_of(line, kg, question) for line, kg in fed if kg >= CRUMB_KG]
    losses = [_of(line, -kg, question) for line, kg in reversed(fed) if kg <= -CRUMB_KG]
    brought = f"would feed {listed(gains[:MOST_NAMED])}" if gains else "would feed nobody more"
    if not losses:
        return f"{brought} and take nothing from the others"
    return f"{brought} and take ground and work that feed {listed(losses[:MOST_NAMED])}"


def _price(left: LeftOut, question: PlanQuestion) -> str:
    """Say what would bring a kind in, or that nothing tried would."""
    if left.cost_kg <= 0:
        return "by this it would be worth its place: planning again, and harder, may find it one"
    line = line_name(left.line, question)
    ways = []
    if left.priority is not None:
        ways.append(f"if you wanted {line} at priority {left.priority}")
    if left.times is not None:
        ways.append(f"if it gave {left.times:.2g} times as much")
    if ways:
        return f"it would come in {' or '.join(ways)}"
    most = pieces().most_times.value
    return f"it would not come in at priority 5, nor if it gave {most:.2g} times as much"
