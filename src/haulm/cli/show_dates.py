"""Show on a terminal when to sow, what follows, what stands in winter, and what to decide."""

from haulm.cli.show import line, table
from haulm.cli.show_plan import day
from haulm.desk.successions import Successions, closing_up, meets
from haulm.growing.succession import Succession


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
