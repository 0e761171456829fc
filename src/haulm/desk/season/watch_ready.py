"""Ready to lift: by odds, by what the leaves say, and in which dry days."""

from collections.abc import Iterator
from datetime import date, timedelta

from haulm.desk.season.diary_words import leaves_text
from haulm.desk.season.watch_asked import Asking, day_words
from haulm.desk.season.watch_standing import kind_of
from haulm.growing.timing import main_giving
from haulm.plan.records import Planting, Ready
from haulm.season.ready_signs import (
    Far,
    Looked,
    ReadySign,
    dry_window,
    first_rain,
    how_far,
    ready_signs,
)
from haulm.season.records import EntryKind, Measured, key_of
from haulm.season.waiting import ready_share
from haulm.season.watch_figures import watch_figures
from haulm.season.watch_records import Heed, LookOut, Stands


def ready_lines(asking: Asking) -> Iterator[LookOut]:
    """Tell of each stand whose leaves, or else whose odds, say that it is ready to lift."""
    signs = ready_signs()
    for one in asking.stands:
        sign = signs.get(one.planting.crop)
        ready = _main(asking, one.planting)
        if sign is not None and ready is not None and not _lifted(asking, one.planting):
            yield from _line(asking, one, sign, ready)


def looked_at(asking: Asking, planting: Planting) -> tuple[Looked, ...]:
    """Give what the diary says of a planting's leaves, by day."""
    key = key_of(planting)
    return tuple(
        Looked(entry.day, entry.leaves)
        for entry in asking.entries
        if entry.kind is EntryKind.LOOKED
        and entry.leaves is not None
        and _speaks_of(entry.about.planting, entry.about.bed, entry.about.kind, planting, key)
    )


def _speaks_of(
    named: str | None, bed: str | None, kind: str | None, planting: Planting, key: str
) -> bool:
    if named is not None:
        return named == key
    return bed == planting.bed and kind in {None, planting.kind}


def _line(asking: Asking, one: Stands, sign: ReadySign, ready: Ready) -> Iterator[LookOut]:
    looked = looked_at(asking, one.planting)
    far = how_far(sign, looked, asking.day)
    odds, figures = ready_share(ready, asking.day), watch_figures()
    if far is None and odds < figures.ready_by_odds.value:
        return
    fresh = bool(looked) and (asking.day - looked[-1].day).days < figures.look_again_days.value
    if far is Far.NOT_YET and (fresh or sign.sign == "dead"):
        return
    name, bed = asking.name(one.planting), asking.bed(one.planting.bed)
    until = asking.day + timedelta(days=round(figures.lift_ahead_days.value))
    window = dry_window(asking.ahead, asking.day, until)
    what = f"{bed}: {name} {_head(far)}"
    if far in {Far.READY, Far.LATE}:
        what += f" {_when(asking, window)}"
    yield LookOut(
        Heed.READY,
        what,
        (bed,),
        why=tuple(_why(asking, sign, ready, looked, odds)),
        do=(f"To be sure, {sign.look}.",),
        by=_by(asking, far, window),
        sources=(f"Signs, {sign.basis}: {sign.source or sign.note}",),
    )


def _head(far: Far | None) -> str:
    if far is Far.READY:
        return "is ready to lift."
    if far is Far.LATE:
        return "should be lifted now: it gets late."
    if far is Far.NOT_YET:
        return "was not ready when it was looked at: look again."
    return "is due to be ready: look at it, and write down what its leaves say."


def _when(asking: Asking, window: tuple[date, date] | None) -> str:
    """Say in which dry days to lift, and before which rain."""
    if window is not None:
        first, last = window
        days = (last - first).days + 1
        return f"A {days}-day dry window: {day_words(first)} to {day_words(last)}."
    rain = first_rain(asking.ahead, asking.day)
    if rain is None:
        return "Whether dry days come is not told."
    wanted = round(watch_figures().dry_window_days.value)
    if rain > asking.day:
        return f"No {wanted} dry days in a row are told: lift before the rain of {day_words(rain)}."
    return f"No {wanted} dry days in a row are told: lift between showers, and dry it under a roof."


def _by(asking: Asking, far: Far | None, window: tuple[date, date] | None) -> date:
    figures = watch_figures()
    if far is Far.LATE:
        return asking.day + timedelta(days=round(figures.lift_late_days.value))
    if window is not None and far is Far.READY:
        return window[1]
    return asking.day + timedelta(days=round(figures.look_again_days.value))


def _why(
    asking: Asking, sign: ReadySign, ready: Ready, looked: tuple[Looked, ...], odds: float
) -> Iterator[str]:
    if looked:
        last = looked[-1]
        yield f"Looked at {day_words(last.day)}: {leaves_text(last.leaves)}."
    yield (
        f"By the season it is ready by now in {round(10 * odds)} years of 10; in half of them by "
        f"{day_words(ready.middle)}."
    )
    yield sign.note
    if asking.day > ready.late:
        yield f"In nine years of ten it was ready by {day_words(ready.late)}."


def _main(asking: Asking, planting: Planting) -> Ready | None:
    """Give when what a planting is grown for is ready; None where it is taken as something else."""
    kind = kind_of(asking.catalogue, planting)
    food = main_giving(kind).food if kind and kind.givings else None
    return next((one for one in planting.ready if one.food == food), None)


def _lifted(asking: Asking, planting: Planting) -> bool:
    """Whether the diary says that most of it was lifted, by weight or by the piece."""
    key = key_of(planting)
    whole = {
        Measured.KG: max((one.kg for one in planting.expects), default=0.0),
        Measured.PIECES: float(planting.plants),
    }
    taken = 0.0
    for entry in asking.entries:
        if entry.kind is EntryKind.PICKED and entry.about.planting == key and entry.amount:
            of = whole.get(entry.amount.measured, 0.0)
            taken += entry.amount.number / of if of else 0.0
    return taken >= watch_figures().lifted_share.value
