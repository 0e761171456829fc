"""Show on a terminal what part of the household's need a plan grows."""

from calendar import month_abbr

from haulm.cli.show import line, table
from haulm.cli.show_plan import day
from haulm.desk.table.foods_held import amount_text
from haulm.desk.table.nourishing import RESTS_ON, Nourished
from haulm.larder.nourishing import NutrientSum
from haulm.measure.weeks import DAYS_A_WEEK

MOST, TEN = 3, 10
NEARLY_ALL, ALL = 0.995, 1 - 1e-9


def nourished(found: Nourished) -> None:
    """Print every nutrient over the year, its share month by month, and what was not counted."""
    first, last = found.weeks.first_day, found.weeks.last_day
    days = found.weeks.weeks * DAYS_A_WEEK
    table(
        ("a day", ">grown and eaten", ">needed", ">share", ">facts known of", "most from"),
        (year_row(total, days, found) for total in found.year),
        title=f"{when(found)}, {day(first)} to {day(last)}",
    )
    line("")
    with_need = [number for number, total in enumerate(found.year) if total.share is not None]
    if with_need:
        table(
            ("share of the need", *(f">{month_abbr[one.month]}" for one in found.months)),
            (
                (
                    found.year[number].nutrient.name,
                    *(percent(one.sums[number].share) for one in found.months),
                )
                for number in with_need
            ),
        )
        line("")
    for sentence in remarks(found):
        line(sentence)


def when(found: Nourished) -> str:
    """Say of which years the sums hold."""
    if found.certainty is None:
        return "In a middle year"
    return f"At least, {TEN * found.certainty:g} years in ten"


def year_row(total: NutrientSum, days: int, found: Nourished) -> tuple[str, ...]:
    """Give the cells of one nutrient's line."""
    unit = total.nutrient.unit
    needed = None if total.needed is None else total.needed / days
    return (
        total.nutrient.name,
        f"{amount_text(total.eaten / days)} {unit}",
        "not known" if needed is None else f"{amount_text(needed)} {unit}",
        percent(total.share),
        known_text(total.known_share),
        ", ".join(found.names[food] for food, _ in total.most_from[:MOST]),
    )


def percent(share: float | None) -> str:
    """Write a share as per cent; what is not known is said to be."""
    return "not known" if share is None else f"{share:.0%}"


def known_text(share: float | None) -> str:
    """Write how much is known; what is not the whole is never told as the whole."""
    return "over 99%" if share is not None and NEARLY_ALL <= share < ALL else percent(share)


def remarks(found: Nourished) -> list[str]:
    """Say what was left out, what was taken for granted, and where the figures are from."""
    told = [
        "As lifted, less what the kitchen takes off.",
        "What keeping and cooking take away is not counted, nor what is bought.",
        *(
            f"Nothing is known of {one.kg:.1f} kg of {found.names[one.food]}: {one.reason}."
            for one in found.unknown
        ),
    ]
    if all(total.needed is None for total in found.year):
        told.append("Nobody is named at the table, so what is needed is not known.")
    if found.uncounted:
        told.append(
            f"Not counted among those who need: {', '.join(found.uncounted)}, under 1 year."
        )
    if found.ageless:
        told.append(
            f"Counted as adults of 31 to 50, no age being told: {', '.join(found.ageless)}."
        )
    told.append("Needs are the mean of both sexes; whoever is ill or expecting asks a physician.")
    return [*told, RESTS_ON]
