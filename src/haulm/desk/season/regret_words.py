"""The regret ledger in sentences a grower reads."""

from collections.abc import Mapping

from haulm.desk.season.regrets import Regret, Regrets, Turn
from haulm.desk.season.true_ready import ReadyBy
from haulm.desk.worth.worth_words import line_name
from haulm.measure.sentences import listed
from haulm.planner.change_records import Tried
from haulm.planner.pin_sentences import day_words
from haulm.planner.question import PlanQuestion
from haulm.planner.words import area, name, span, weight
from haulm.season.review_rules import review_rules

MOST_NAMED = 3
MINUTES_AN_HOUR = 60
READY_OF: Mapping[ReadyBy, str] = {
    ReadyBy.RECORD: "from the weather record of that year for",
    ReadyBy.DIARY: "from the diary, as early or late as its kind was picked, for",
    ReadyBy.ODDS: "from the odds, nothing being written, as by the plan in 8 years of 10, for",
}
READY_WORDS: Mapping[ReadyBy, str] = {
    ReadyBy.RECORD: "its days are those of the year's own weather, by the record",
    ReadyBy.DIARY: "its days are as early or late as the diary's",
    ReadyBy.ODDS: "its days are the plan's, by which it is ready in 8 years of 10",
}
NO_ROOM = "as it was planned there was no room for it: only what went wrong made some"


def regret_sentence(one: Regret, found: Regrets) -> str:
    """Say what would have been done otherwise, what it would have brought, and its price."""
    question = found.question
    brought = _brought(one, question)
    return f"{_what(one, question)} would have {brought}; {_price(one)}"


def _what(one: Regret, question: PlanQuestion) -> str:
    kind, out = name(question, one.kind), name(question, one.out_kind)
    bed = name(question, one.change.bed)
    ground = area(question, one.change.area_m2)
    day = day_words(one.sow_on) if one.sow_on else ""
    was = f"{area(question, one.out_m2)} of {out}"
    ways: Mapping[Turn, str] = {
        Turn.MORE: f"one more sowing of {kind} on {day} ({ground} of {bed})",
        Turn.WITHOUT: f"{was} left out",
        Turn.LARGER: f"{ground} of {kind} in {bed} instead of {area(question, one.out_m2)}",
        Turn.SMALLER: f"only {ground} of {kind} in {bed} instead of {area(question, one.out_m2)}",
        Turn.EARLIER: f"{kind} in {bed} sown earlier, on {day} ({ground})",
        Turn.LATER: f"{kind} in {bed} sown later, on {day} ({ground})",
        Turn.INSTEAD: f"{kind} on {day} ({ground} of {bed}) instead of {was}",
    }
    return ways[one.turn]


def _brought(one: Regret, question: PlanQuestion) -> str:
    gains = [(line, kg) for line, kg in one.fed if kg > 0][:MOST_NAMED]
    losses = [(line, -kg) for line, kg in reversed(one.fed) if kg < 0][:MOST_NAMED]
    filled = [
        f"{gap.filled} of {gap.without} weeks without {line_name(gap.line, question)}"
        for gap in sorted(one.gaps, key=lambda gap: -gap.filled)
        if gap.filled > 0
    ][:MOST_NAMED]
    fed = listed([f"{weight(question, kg)} of {line_name(line, question)}" for line, kg in gains])
    told = f"fed {fed} more" if gains else "fed nobody more"
    if filled:
        told = f"filled {listed(filled)}, and {told}"
    if losses:
        less = [f"{weight(question, kg)} of {line_name(line, question)}" for line, kg in losses]
        told += f", and {listed(less)} less"
    return told


def _price(one: Regret) -> str:
    if abs(one.minutes) < 1:
        return "for the same work"
    way = "more" if one.minutes > 0 else "less"
    return f"for {span(abs(one.minutes) / MINUTES_AN_HOUR)} {way} work"


def paid_sentence(one: Regret) -> str:
    """Say in how many of many years it would have paid."""
    if one.paid is None:
        return NO_ROOM
    years = round(10 * one.paid.share)
    usual = "next year is not to be planned on it"
    if one.paid.share >= review_rules().often_share.value and one.paid.mean_kg > 0:
        usual = "it is worth planning for"
    return f"it would have paid in {years} of 10 years drawn: {usual}"


def assumed_sentence(one: Regret, question: PlanQuestion) -> str:
    """Say how the yield and days of what would have come are known; empty where nothing would."""
    if not one.kind:
        return ""
    days = f"; {READY_WORDS[one.ready]}" if one.ready else ""
    return f"{_yield_sentence(one, question)}{days}"


def _yield_sentence(one: Regret, question: PlanQuestion) -> str:
    if one.assumed is None or one.assumed.share is None:
        return "its yield is taken as planned, since none of its kind was weighed"
    kind = name(question, one.kind)
    count = one.assumed.weighed
    many = "planting" if count == 1 else "plantings"
    share = f"{one.assumed.share:.0%}"
    return f"its yield is taken from {count} {many} of {kind} weighed: {share} of what was planned"


def ready_sentence(found: Regrets) -> str:
    """Say of which foods the days are taken from the record, from the diary, or from the odds."""
    parts = []
    for told, words in READY_OF.items():
        foods = [
            f"{name(found.question, one.food)}{'' if len(one.by) == 1 else ' in part'}"
            for one in found.ready
            if told in dict(one.by)
        ]
        if foods:
            parts.append(f"{words} {listed(foods)}")
    return f"When food not weighed was ready is taken {'; '.join(parts)}" if parts else ""


def whole_sentence(found: Regrets) -> str:
    """Say how much the table lacked at the least, and how much hindsight could have saved."""
    question = found.question
    return (
        f"With all as it truly stood, eaten and put by as well as could be, the table is short of"
        f" {weight(question, found.short_kg)} over the plan's weeks; by the best plan hindsight"
        f" found, of {weight(question, found.best_short_kg)}. Nothing that could have been sown"
        f" would have saved more than {weight(question, found.bound_kg)}, weighted by priority"
    )


def tried_sentence(tried: Tried) -> str:
    """Say how many changes were looked at, and whether a better one may have been missed."""
    sure = (
        "none of the others could have brought more"
        if tried.all_known
        else "another may have brought more"
    )
    return f"Of {tried.possible} single changes the {tried.solved} likeliest were solved; {sure}"
