"""Show on a terminal what real years, watering and splitting come to."""

from collections.abc import Iterator

from haulm.cli.show import line, table
from haulm.cli.show_plan import day
from haulm.desk.odds.drought import WateringTold
from haulm.desk.odds.replay import Cause, FoundCause, Measure, Replayed, TriedMeasure
from haulm.desk.odds.splitting import Splits
from haulm.desk.odds.thirst import WateredHow
from haulm.forecast.replay import StoreReplayed
from haulm.forecast.splitting import CropSplits, Split, Way
from haulm.measure.units import show_mass

MOST_SHORT = 8
"""So many lines that the worst year lacked are shown."""

SHORT_SHARE = 0.1
"""A line was short in a year that missed more than this share of its promise [1]."""

HOWS = {
    WateredHow.USUAL: "watered when due",
    WateredHow.TANKS: "from the tanks alone",
    WateredHow.NONE: "not watered",
}

CAUSES = {
    Cause.LATE_FROST: "late frosts",
    Cause.EARLY_FROST: "early frosts",
    Cause.DROUGHT: "drought: water given whenever it was due",
    Cause.BLIGHT: "more blight weather than usual",
}

MEASURES = {
    Measure.WATER: "water whenever it was due",
    Measure.LATER: "sow and set everything a week later",
    Measure.EARLIER: "sow and set everything a week earlier",
    Measure.FLEECE: "fleece on every night of frost",
    Measure.GROUND: "one more square metre of",
}


def replay(replayed: Replayed) -> None:
    """Print the years, the stores, the worst year, why it was bad and what would have saved it."""
    made, told = replayed.made, replayed.told
    units, plan = made.garden.units, made.plan
    line(f"{plan.garden}: the plan of {day(plan.made_on)}, begun in each of these years.")
    line(f"Only the weather is theirs; yields, stores and appetite are the usual ones. "
         f"Beds {HOWS[replayed.how]}.")  # fmt: skip
    for note in _years_left_out(replayed):
        line(note)
    line("")
    table(
        ("begun in", ">short of its promises", "lines short"),
        (
            (
                str(year) + (" (worst)" if at == told.worst else ""),
                show_mass(told.missed_kg[at], units),
                _short(replayed, at),
            )
            for at, year in enumerate(told.years)
        ),
        title="Year by year",
    )
    line("")
    table(
        ("in store", "most lies there", "soonest", "in a middle year", "latest"),
        (_store(store, replayed) for store in told.stores),
        title="When stores had run out, by the plan's own dates",
    )
    line("")
    year = replayed.worst_year
    line(f"{year} was the worst. Without one thing in turn it would have had more to eat:")
    for cause in replayed.causes:
        line(f"  {show_mass(cause.saved_kg, units)}  {_cause(cause)}")
    if not replayed.causes:
        line("  nothing by which that weather differs made it so")
    line("")
    line(f"What would have helped in {year} (and in the mean of all years):")
    for measure in replayed.measures:
        saved, usual = (_more_or_less(kg, replayed) for kg in (measure.saved_kg, measure.usual_kg))
        line(f"  {saved} ({usual})  {_measure(measure, replayed)}")


def _store(store: StoreReplayed, replayed: Replayed) -> tuple[str, ...]:
    """Give one food's row: when most lies in store, and when it had run out, with the years."""
    horizon, years = replayed.made.plan.horizon, replayed.told.years
    order = sorted(
        range(len(years)),
        key=lambda at: horizon.weeks if (week := store.out[at]) is None else week,
    )

    def told(place: int) -> str:
        """Name a date and the year it is of."""
        week = store.out[order[place]]
        when = "not by its end" if week is None else day(horizon.monday(week))
        return f"{when} ({years[order[place]]})"

    name = replayed.made.names.get(store.food, store.food)
    full = day(horizon.monday(store.fullest))
    return name, full, told(0), told(len(order) // 2), told(-1)


def _years_left_out(replayed: Replayed) -> Iterator[str]:
    """Name the years that could not be lived, and kinds taken as watered."""
    if replayed.missing:
        years = ", ".join(str(year) for year in replayed.missing)
        yield f"Too little was read in {years}: left out."
    if replayed.unfinished:
        years = ", ".join(str(year) for year in replayed.unfinished)
        yield f"The record ends too early for a plan begun in {years}."
    if replayed.unknown:
        yield f"Taken as watered, for what they drink is not known: {', '.join(replayed.unknown)}."


def _short(replayed: Replayed, at: int) -> str:
    """Name the lines that a year left short, the shortest first."""
    lines = [
        one for one in replayed.told.lines if one.missed_kg[at] > SHORT_SHARE * one.promised_kg
    ]
    lines.sort(key=lambda one: -one.missed_kg[at] / one.promised_kg)
    names = [replayed.made.names.get(one.line, one.line) for one in lines]
    more = f" and {len(names) - MOST_SHORT} more" if len(names) > MOST_SHORT else ""
    return ", ".join(names[:MOST_SHORT]) + more if names else "none"


def _cause(found: FoundCause) -> str:
    """Say what was taken out."""
    if found.part is None:
        return CAUSES[found.cause]
    how = "cold" if found.off_c < 0 else "warm"
    return f"the {how} {found.part.value}, {abs(found.off_c):.1f} °C off the usual"


def _measure(tried: TriedMeasure, replayed: Replayed) -> str:
    """Say what was done."""
    name = replayed.made.names.get(tried.line, tried.line)
    return f"{MEASURES[tried.measure]} {name}".rstrip()


def _more_or_less(kg: float, replayed: Replayed) -> str:
    """Write what is won or lost."""
    mass = show_mass(abs(kg), replayed.made.garden.units)
    return f"{mass} more" if kg >= 0 else f"{mass} less"


def watering(told: WateringTold) -> None:
    """Print what watering is worth, side by side."""
    made = told.made
    units, names = made.garden.units, made.names
    all_odds = [way.odds for way in told.ways]
    first = all_odds[0]
    heads = [f">{HOWS[way.how]}" for way in told.ways]
    line(f"{made.plan.garden}: the plan of {day(made.plan.made_on)}, lived through the same "
         f"{first.seasons} seasons, watered in each way.")  # fmt: skip
    line(f"Weather: {first.origin}. Catalogue yields are taken to be those of watered gardens.")
    if told.unknown:
        line(f"Taken as watered, for what they drink is not known: {', '.join(told.unknown)}.")
    line("")
    table(
        ("", *heads),
        (
            *(
                (
                    f"eaten in {year}",
                    *(show_mass(way.odds.eaten_kg[at], units) for way in told.ways),
                )
                for at, year in enumerate(("a poor year", "a middle year", "a good year"))
            ),
            (
                f"promises held in 8 years of 10, of {len(first.promises)}",
                *(str(way.sure) for way in told.ways),
            ),
        ),
        title="Over the whole plan",
    )
    line("")
    table(
        ("line", "year", ">promised", *heads),
        (
            (
                names.get(promises[0].line, promises[0].line),
                str(promises[0].year + 1),
                show_mass(promises[0].promised_kg, units),
                *(f"{10 * p.held:.1f}, {show_mass(p.eaten_kg[1], units)}" for p in promises),
            )
            for promises in sorted(
                zip(*(way.odds.promises for way in told.ways), strict=True),
                key=lambda ps: ps[-1].eaten_kg[1] - ps[0].eaten_kg[1],
            )
        ),
        title="Years in 10 that each promise holds, and what is eaten in a middle year; "
        "what loses most comes first",
    )
    line("")
    table(
        ("planting", "kind", "bed", ">lost"),
        (
            (one.planting, names.get(one.kind, one.kind), names.get(one.bed, one.bed),
             f"{one.lost:.0%}")
            for one in told.thirsty
        ),
        title="What loses most of its yield where nobody waters, in the mean of years",
    )  # fmt: skip


def splits(found: Splits) -> None:
    """Print what it is worth to grow crops in several beds, sowings or kinds."""
    made = found.made
    line(f"{made.plan.garden}: what comes of a crop in one bed or several, from the same luck.")
    if not found.crops:
        line("The plan grows nothing that shares a disease of its bed.")
    for crop in found.crops:
        line("")
        table(
            ("grown", ">a poor year", ">a middle year", ">less than half of the mean"),
            (
                (
                    _way(split, crop, found),
                    show_mass(split.poor_kg, made.garden.units),
                    show_mass(split.middle_kg, made.garden.units),
                    f"{100 * split.lost:.0f} years in 100",
                )
                for split in crop.splits
            ),
            title=_crop(crop, found),
        )
    line("")
    line(
        "The whole crop is grown each way, to the same mean. How often beds are sick is judged, "
        "not measured: see haulm's docs/forecast.md."
    )


def _crop(crop: CropSplits, found: Splits) -> str:
    """Name a crop, how much of it there is, and what it may have in common with its bed."""
    names = found.made.names
    sick = f"; shares with its bed: {', '.join(crop.diseases)}" if crop.diseases else ""
    kg = show_mass(crop.kg, found.made.garden.units)
    return f"{names.get(crop.food, crop.food)}, {kg} in year {crop.year + 1} of the plan{sick}"


def _way(split: Split, crop: CropSplits, found: Splits) -> str:
    """Say how a crop is grown."""
    if split.way is Way.PLANNED:
        return f"as planned (beds: {crop.beds}, sowings: {crop.sowings}, kinds: {crop.kinds})"
    if split.way is Way.KIND:
        return f"all {found.made.names.get(split.kind, split.kind)}, as planned"
    if split.way is Way.SOWINGS:
        return f"in {split.parts} sowings in one bed"
    return f"in {split.parts} beds" if split.parts > 1 else "in one bed, all at once"
