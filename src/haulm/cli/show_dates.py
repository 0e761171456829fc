"""Show on a terminal when to sow, what follows, what stands in winter, and what to decide."""

from collections.abc import Sequence
from datetime import date, timedelta
from math import ceil

from haulm.cli.show import line, table
from haulm.cli.show_plan import counted, day
from haulm.desk.deciding import Decision
from haulm.desk.plans import Made
from haulm.desk.successions import Successions, closing_up, meets
from haulm.growing.succession import Succession
from haulm.measure.sentences import capital
from haulm.measure.units import Units, show_mass
from haulm.measure.weeks import DAYS_A_WEEK, monday_of


def successions(found: Successions) -> None:
    """Print every way of sowing a kind in succession."""
    wish = found.wish
    line(
        f"{found.kind.id}, wanted every {wish.interval_days} days from {day(wish.first_day)} to"
        f" {day(wish.last_day)}"
        + (f" (the season of {found.line} on the table)." if found.line else ".")
    )
    for way in found.ways:
        line("")
        _succession(way)


def _succession(way: Succession) -> None:
    """Print one succession: each sowing with its odds, and how it meets the next."""
    title = f"{way.method}{', under cover' if way.under_cover else ''}"
    if way.sowings:
        table(
            ("sow", "set out", "wanted", "ready, 5 years in 10", "8 years in 10", "with the next"),
            (
                (
                    day(one.sow_on),
                    day(one.set_on) if one.set_on != one.sow_on else "",
                    day(one.wanted_on),
                    day(one.ready.middle),
                    f"{day(one.ready.early)} to {day(one.ready.late)}",
                    told,
                )
                for one, told in zip(way.sowings, meets(way), strict=True)
            ),
            title=title,
        )
    else:
        line(title)
    if closing_up(way):
        line(closing_up(way))
    for none in way.none_ready:
        days = f"about {day(none.first_day)}"
        if none.last_day != none.first_day:
            days = f"from {day(none.first_day)} to {day(none.last_day)}"
        line(f"None can be ready {days}: {none.why}.")


def decisions(found: Sequence[Decision], made: Made, today: date) -> None:
    """Print until when each choice may wait, the soonest first, then what may be left alone."""
    units: Units = made.garden.units
    monday = monday_of(today) + timedelta(DAYS_A_WEEK)
    losing = [one for one in found if one.decide_by is not None]
    table(
        ("choice", "planned", "decide by", "free until", ">each week after", ">left out", "loses"),
        (
            (
                one.pending.name,
                day(one.pending.planned_on) if one.pending.planned_on else "not planned",
                day(one.decide_by or today),
                day(one.free_until or today),
                show_mass(one.week_kg, units) if one.week_kg else "",
                show_mass(one.never.kg, units),
                ", ".join(name for name, _ in one.never.lines[:3]),
            )
            for one in sorted(losing, key=lambda one: (one.decide_by or today, one.pending.name))
        ),
        title=f"{made.garden.name}: until when each choice may wait, all else as planned",
    )
    line("")
    for one in losing:
        if one.pending.buy >= 1:
            stock = counted(ceil(one.pending.buy), one.pending.stock_unit)
            line(f"{capital(one.pending.name)}: {stock} to have by {day(one.decide_by or today)}.")
    idle = [one.pending.name for one in losing if one.can_wait(monday)]
    line("")
    line(f"Can be left alone until {day(monday)}: {', '.join(idle) or 'nothing'}.")
    nothing = [one.pending.name for one in found if one.decide_by is None]
    if nothing:
        line(f"Nothing is lost by leaving out, as the plan stands: {', '.join(nothing)}.")
    solved = sum(one.solved for one in found)
    line(f"{solved} plans were made and audited for this; planning all anew might lose less.")
