"""Show on a terminal what a week asks, in the order of what is lost if it waits."""

from collections.abc import Sequence
from functools import partial

from haulm.cli.show import line, table
from haulm.desk.season.week_asked import DayKind, WeekAsked
from haulm.measure.day_words import long_span
from haulm.sheets.glut_words import GlutWords
from haulm.sheets.rack_words import rack_words
from haulm.sheets.week_list import Stands, WeekJob, WeekList
from haulm.sheets.week_words import (
    WeekWords,
    day_words,
    duration,
    stands_heading,
    wants_words,
)
from haulm.sheets.wording import food_name


def week(found: WeekAsked, kind: DayKind) -> None:
    """Print a week's list: what to do, what falls out, what can be left, what is still open."""
    told, words = found.week, found.words
    line(f"{long_span(told.monday, told.sunday)}, {told.label}. Hours: {words.hours(told.hours)}.")
    if not told.reached:
        line("The plan does not reach this week.")
        return
    if kind is DayKind.DRY:
        _jobs("On a dry day", told.dry_order, words)
    elif kind is DayKind.WET:
        _jobs("On a wet day", told.wet_order, words)
    else:
        for stands in Stands:
            _jobs(stands_heading(stands), told.standing(stands), words)
        if told.standing(Stands.FALLS_OUT):
            line(f"In all, {words.cut(told)}.")
        _days(told)
    if not told.jobs:
        line("Nothing to do this week.")
    if told.racks is not None:
        line("")
        name = partial(food_name, found.bundle.catalogue)
        for sentence in rack_words(told.racks, name, found.bundle.units):
            line(sentence)
    _gluts(found)
    _open(told, words)


def _gluts(found: WeekAsked) -> None:
    """Print what is more than table and stores take, and what else may be done with it."""
    if not found.week.gluts:
        return
    line("")
    line("More than the table eats and the stores take:")
    words = GlutWords(partial(food_name, found.bundle.catalogue), found.bundle.units)
    for one in found.week.gluts:
        line(words.over(one))
        for use in words.uses(one.uses):
            line(f"  {use}")
    for caution in dict.fromkeys(told for one in found.week.gluts for told in one.uses.cautions):
        line(f"Take care: {caution}")


def _jobs(heading: str, jobs: Sequence[WeekJob], words: WeekWords) -> None:
    if not jobs:
        return
    line("")
    table(
        ("job", "place", ">time", "why", "weather"),
        (
            (
                job.due.job.what,
                job.due.job.place,
                duration(job.minutes) if job.minutes else "",
                "; ".join((words.why(job), *words.beside(job))),
                wants_words(job),
            )
            for job in jobs
        ),
        title=heading,
    )


def _days(told: WeekList) -> None:
    """Print what is laid out on each day, where weather is told for any."""
    laid = [(day, told.on_day(day.day)) for day in told.hours.days]
    if not any(some for _, some in laid):
        return
    line("")
    table(
        ("day", ">there is", "jobs"),
        (
            (
                day_words(day),
                duration(day.minutes),
                "; ".join(f"{job.due.job.what} {duration(minutes)}" for job, minutes in some)
                or "nothing",
            )
            for day, some in laid
        ),
        title="Day by day, by the weather told",
    )


def _open(told: WeekList, words: WeekWords) -> None:
    """Print what nobody ticked in the weeks before, and how to say that it will not be done."""
    if not told.still_open:
        return
    line("")
    if not told.diary_kept:
        line("The diary says of nothing that was done since the plan was made.")
    table(
        ("job", "place", ">weeks ago", "what is lost"),
        (
            (job.due.job.what, job.due.job.place, str(job.weeks_ago), words.open(job))
            for job in told.still_open
        ),
        title="Still open from the weeks before: nobody ticked it",
    )
    line("Tell what was done with haulm diary add; what will not be, with haulm note.")
