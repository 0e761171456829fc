"""Sowings that should have come up and have not, and stands that came up thin."""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from haulm.catalogue.records import Method
from haulm.desk.season.watch_asked import Asking, day_words
from haulm.desk.season.watch_standing import OfPlanting, kind_of
from haulm.growing.coming_up import ComingUp, coming_up
from haulm.measure.customary import show_temperatures
from haulm.measure.sentences import listed
from haulm.measure.units import show_mass
from haulm.plan.records import Planting
from haulm.season.watch_figures import watch_figures
from haulm.season.watch_records import Heed, LookOut, Stands

IF_IT_HAS = "If it has come up, write it down as emerged, and this is not asked again."


def sown_lines(asking: Asking) -> Iterator[LookOut]:
    """Tell of each sowing in place that the diary has: not yet up, failed, or thin.

    Where nothing is left to decide but what else to grow, the sowings share one line.
    """
    past = []
    for one in asking.stands:
        of = asking.told[one.planting.id]
        if of.started is None:
            continue
        if of.up is not None:
            yield from _thin(asking, one, of)
            continue
        shows = _overdue(asking, one, of.started)
        if shows is None:
            continue
        if asking.day < shows.again:
            yield _wait(asking, one, of.started, shows)
        elif _may_be_sown(asking, one.planting):
            yield _not_up(asking, one, of.started, shows)
        else:
            past.append(one)
    if past:
        yield _past_sowing(asking, past)


def _overdue(asking: Asking, one: Stands, sown: date) -> ComingUp | None:
    """Give when a sowing was to show, where it should have by now and no word says so."""
    shows = shows_of(asking, one.planting, sown)
    if shows is None or asking.day <= shows.by or not one.left_kg:
        return None
    asked = timedelta(days=round(watch_figures().sowing_asked_days.value))
    return shows if asking.day <= shows.again + asked else None


def _wait(asking: Asking, one: Stands, sown: date, shows: ComingUp) -> LookOut:
    name, bed = asking.name(one.planting), asking.bed(one.planting.bed)
    what = (
        f"{bed}: {name} should have shown by {day_words(shows.by)}, and no word says so. "
        f"If nothing shows by {day_words(shows.again)}, {_then(asking, one.planting, shows)}"
    )
    do = ("Scrape the soil aside at a row's end and look for sprouts.", IF_IT_HAS)
    why, sources = _reasons(asking, one, sown, shows), _sources(shows)
    return LookOut(Heed.NOT_UP, what, (bed,), why, do, shows.again, sources)


def _then(asking: Asking, planting: Planting, shows: ComingUp) -> str:
    """Say what to do once nothing has shown: sow again, while that may be done."""
    if planting.standing or shows.again <= planting.latest_sowing:
        return "sow again."
    last = day_words(planting.latest_sowing, asking.day)
    bed = asking.bed(planting.bed)
    return f"it is too late to sow again (until {last}): then see what else {bed} could take."


def _not_up(asking: Asking, one: Stands, sown: date, shows: ComingUp) -> LookOut:
    name, bed = asking.name(one.planting), asking.bed(one.planting.bed)
    return LookOut(
        Heed.NOT_UP,
        f"{bed}: no word says that {name} has come up. If not: {_again(asking, one.planting)}",
        (bed,),
        why=_reasons(asking, one, sown, shows),
        do=(IF_IT_HAS, *_if_it_failed(bed)),
        by=_last_sowing(asking, one.planting),
        sources=_sources(shows),
    )


def _past_sowing(asking: Asking, past: Sequence[Stands]) -> LookOut:
    """Tell in one line of all that no word says has come up, and that is not to be sown again."""
    beds = tuple(dict.fromkeys(asking.bed(one.planting.bed) for one in past))
    names = listed(
        [f"{asking.name(one.planting)} in {asking.bed(one.planting.bed)}" for one in past]
    )
    return LookOut(
        Heed.NOT_UP,
        f"No word says that {names} {'has' if len(past) == 1 else 'have'} come up. Look; where "
        "nothing stands, see what else the bed could take.",
        beds,
        why=tuple(
            f"{asking.bed(one.planting.bed)}: {_again(asking, one.planting)} If it gives nothing, "
            f"{show_mass(one.left_kg, asking.units)} of {asking.name(one.planting)} are lost."
            for one in past
        ),
        do=(IF_IT_HAS, *(words for bed in beds[:1] for words in _if_it_failed(bed))),
    )


def _reasons(asking: Asking, one: Stands, sown: date, shows: ComingUp) -> tuple[str, ...]:
    shown = f"it shows by {day_words(shows.by)} in eight years of ten"
    return (
        f"Sown {day_words(sown)}; by this season's warmth {shown}.",
        f"If it gives nothing, {show_mass(one.left_kg, asking.units)} of the plan are lost.",
        *_next_there(asking, one.planting),
    )


def _sources(shows: ComingUp) -> tuple[str, ...]:
    table = shows.table
    return (f"How fast seed comes up: the table of {table.table}, {table.basis.value}.",)


def shows_of(asking: Asking, planting: Planting, sown: date) -> ComingUp | None:
    """Give when a sowing in place shows, with this season's weather as far as it is known."""
    kind = kind_of(asking.catalogue, planting)
    method = _method(asking, planting)
    if kind is None or method is None or asking.weather.column_of(sown) < 0:
        return None
    return coming_up(kind, method, sown, asking.weather, under_cover=planting.under_cover)


def _thin(asking: Asking, one: Stands, of: OfPlanting) -> Iterator[LookOut]:
    """Tell of a stand that was counted, and has too few stations."""
    planting, figures = one.planting, watch_figures()
    if of.stations is None or not planting.plants:
        return
    share = of.stations / planting.plants
    if share >= figures.thin_stand.value:
        return
    name, bed = asking.name(planting), asking.bed(planting.bed)
    seen = f"{bed}: {of.stations:.0f} of {planting.plants} {name} stand"
    lost = (1 - share) * one.left_kg
    in_time = _may_be_sown(asking, planting)
    if share < figures.failed_stand.value and in_time:
        what = f"{seen}: {_again(asking, planting)}"
    elif in_time:
        last = day_words(planting.latest_sowing)
        what = f"{seen}: fill the gaps from spares, or sow them again by {last}."
    else:
        what = f"{seen}: leave them. To sow more: {_again(asking, planting)}"
    yield LookOut(
        Heed.NOT_UP,
        what,
        (bed,),
        why=(_lost(show_mass(lost, asking.units)),),
        do=() if in_time else _if_it_failed(bed),
        by=_last_sowing(asking, planting),
        sources=(f"When a stand is thin: {figures.thin_stand.basis.value}.",),
    )


def _may_be_sown(asking: Asking, planting: Planting) -> bool:
    """Whether it is known that it may be sown again; a plan tells none of what stood."""
    return not planting.standing and asking.day <= planting.latest_sowing


def _again(asking: Asking, planting: Planting) -> str:
    if planting.standing:
        return (
            "whether it can be sown again, its page under Crops tells (Successive sowings), or"
            f" haulm succession “{planting.kind}”."
        )
    last = planting.latest_sowing
    rule = show_temperatures(planting.latest_rule, asking.units)
    if asking.day <= last:
        until = day_words(last, asking.day)
        return f"sow again soon; it may be sown until {until} ({rule})."
    was = day_words(last, asking.day)
    return f"it is too late to sow it again: the last day was {was} ({rule})."


def _lost(mass: str) -> str:
    return f"If its neighbours make up for none of it, {mass} are lost; they mostly do for some."


def _last_sowing(asking: Asking, planting: Planting) -> date | None:
    if not _may_be_sown(asking, planting):
        return None
    soon = timedelta(days=round(watch_figures().sow_again_days.value))
    return min(planting.latest_sowing, asking.day + soon)


def _next_there(asking: Asking, planting: Planting) -> tuple[str, ...]:
    """Say what the plan has for the bed next, which a later sowing would push."""
    later = [
        one
        for one in asking.plan.plantings
        if one.bed == planting.bed and one.in_ground_from >= planting.clear_by
    ]
    if not later:
        return ()
    one = min(later, key=lambda p: p.in_ground_from)
    start = day_words(one.in_ground_from, asking.day)
    return (f"The plan has {asking.name(one)} there from {start} on.",)


def _if_it_failed(bed: str) -> tuple[str, ...]:
    return (
        f"What else {bed} could take: haulm follow “{bed}”, or What follows on its page.",
        "Write it down as come up, 0 pieces, and the next plan counts on nothing from it.",
    )


def _method(asking: Asking, planting: Planting) -> Method | None:
    kind = kind_of(asking.catalogue, planting)
    methods = kind.methods if kind else ()
    return next((one for one in methods if one.id == planting.method), None)
