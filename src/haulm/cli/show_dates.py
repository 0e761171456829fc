"""Show on a terminal when to sow, what follows, what stands in winter, and what to decide."""

from collections.abc import Sequence
from datetime import date, timedelta
from math import ceil

from haulm.cli.show import line, table
from haulm.cli.show_plan import counted, day
from haulm.desk.dates.follow_on import Follower, FollowOns
from haulm.desk.dates.successions import Successions, closing_up, meets
from haulm.desk.dates.winter import Winter
from haulm.desk.planning.plans import Made
from haulm.desk.worth.deciding import Decision
from haulm.growing.succession import Succession
from haulm.measure.sentences import capital
from haulm.measure.units import Units, show_area, show_mass
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
    for one in losing:
        if one.anew is not None:
            kept, anew = show_mass(one.never.kg, units), show_mass(one.anew.kg, units)
            line(f"{capital(one.pending.name)} left out: {kept} lost, planned anew {anew}.")
    solved = sum(one.solved for one in found)
    line(f"{solved} plans were made and audited for this; planning all anew might lose less.")


def follow(found: FollowOns, units: Units) -> None:
    """Print what a bed could take when it comes free, in the order of what the table lacks."""
    freed = found.freed
    after = f", after {', '.join(freed.after)}" if freed.after else ""
    line(f"{freed.name}: {show_area(freed.area_m2, units)} free from {day(freed.on)}{after}.")
    for due in freed.due[:3]:
        line(f"The plan has {due.name} there from {day(due.on)}, {show_area(due.area_m2, units)}.")
    line("")
    table(
        (
            "kind",
            "sow",
            "set or sown there",
            "ready 8 in 10",
            "free again",
            ">lacking",
            "instead of",
        ),
        (_follower(one, units) for one in found.followers),
        title="What it could take, what the table lacks most first",
    )
    if not found.followers:
        line("Nothing of the catalogue: no kind can be started then, or its family has to rest.")
    line("")
    for family, why in found.kept_off:
        line(f"Kept off: {family}: {why}.")
    if freed.others:
        line(f"It comes free again on {', '.join(day(one) for one in freed.others[:4])}.")


def _follower(one: Follower, units: Units) -> tuple[str, ...]:
    start, sowing = one.start, one.start.sowing
    lacking = "" if one.reaches_kg is None else show_mass(one.reaches_kg, units)
    return (
        one.name,
        f"{day(sowing.sow_on)} in trays" if start.in_trays else sowing.method,
        day(sowing.set_on),
        day(start.ready_by),
        day(one.free_again),
        lacking if one.on_table else "not on the table",
        one.instead_of.name if one.instead_of else f"room for {show_area(one.spare_m2, units)}",
    )


def winter(found: Winter, units: Units) -> None:
    """Print the dark weeks, and line by line what would have to stand."""
    if found.dark is None:
        line("No day here has less than ten hours of daylight: nothing stops growing for its want.")
        return
    dark = found.dark
    line(
        f"Daylight is under ten hours from {day(dark.last_long)} to {day(dark.first_long)},"
        f" {dark.weeks:.0f} weeks in which leaves all but stop growing (common practice)."
    )
    line("What is eaten from the ground in them has to stand full grown when they begin.")
    for one in (each for each in found.lines if each.ways):
        planned = ""
        if one.planned_kg is not None:
            planned = f"; the plan picks {show_mass(one.planned_kg, units)} for it"
        line("")
        line(f"{one.name}: {show_mass(one.need_kg, units)} wanted{planned}.")
        table(
            ("  any one of", "start by", "in its ground by", ">plants", ">ground", "feeds until"),
            (
                (
                    f"  {way.name}{', under cover' if way.stands.under_cover else ''}",
                    day(way.stands.sow_by),
                    day(way.stands.set_by),
                    str(way.plants),
                    show_area(way.area_m2, units),
                    day(way.until),
                )
                for way in one.ways
            ),
        )
    without = [one.name for one in found.lines if not one.ways]
    line("")
    if without:
        line(f"Nothing that stands then can still be sown for {', '.join(without)}: from store.")
    years = round(10 * found.certainty)
    line(f"Sized to suffice in {years} years of 10, by each kind's own spread of yields.")
