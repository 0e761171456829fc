"""What the larder's books say of a food, in sentences with their numbers."""

from collections.abc import Callable
from datetime import date

from haulm.desk.season.larder_books import FoodTold, LarderBooks, LotTold
from haulm.measure.sentences import capital
from haulm.measure.units import show_mass
from haulm.season.run_out import Gap, GoneBy
from haulm.season.use_of_store import Advice, StoreUse
from haulm.season.weighing import Weighing

Day = Callable[[date], str]
"""How a day is written."""

ADVICE = {
    Advice.SLOWER: "Slow down.",
    Advice.FASTER: "Speed up, or give some away.",
    Advice.GO_ON: "Go on like this.",
}
LEAST_KG = 0.005


def iso(day: date) -> str:
    """Write a day as in 2027-02-01."""
    return day.isoformat()


def use_sentence(food: FoodTold, books: LarderBooks, day: Day = iso) -> str:
    """Say how fast a food is eaten against how fast it may be, and what comes of it."""
    name = capital(books.name(food.food))
    safe, use = food.safe, food.use
    lasts = f"{show_mass(safe.week_kg, books.units)} a week lasts until {day(safe.until)}"
    if use is None:
        return f"{name}: {lasts}. The diary does not say yet how much is eaten in a week."
    eaten = (
        f"{show_mass(use.week_kg, books.units)} a week was eaten in the last {use.weeks:.0f} weeks"
    )
    return f"{name}: {lasts}; {eaten}. {_comes_of(use, books, day)}{ADVICE[use.advice]}"


def _comes_of(use: StoreUse, books: LarderBooks, day: Day) -> str:
    """Say what is missing, lost or left if a food goes on being eaten like this."""
    taken, units = use.taken, books.units
    said = []
    if taken.gone_on is not None:
        weeks = "1 week" if taken.short_weeks == 1 else f"{taken.short_weeks} weeks"
        said.append(
            f"it falls short from {day(taken.gone_on)}: {show_mass(taken.missing_kg, units)} are"
            f" missing in {weeks}"
        )
    if taken.lost_kg > LEAST_KG:
        said.append(f"{show_mass(taken.lost_kg, units)} rot before {day(use.safe.until)}")
    if taken.left_kg > LEAST_KG:
        said.append(f"{show_mass(taken.left_kg, units)} are left then")
    return f"So {'; '.join(said)}. " if said else ""


WENT = (
    ("put_by_kg", "put by"),
    ("fresh_kg", "eaten fresh"),
    ("hanging_kg", "hanging to cure"),
    ("dried_kg", "dried and trimmed away"),
    ("given_kg", "given"),
    ("thrown_kg", "thrown"),
)
"""Where what was picked goes, each with its word."""


def weighing_sentence(one: Weighing, books: LarderBooks) -> str:
    """Write a food's weighing as a sum: *12 kg picked = 7 kg put by + 3 kg given + 2 kg not told*.

    What went beyond what was picked stands on the other side.
    """

    def mass(kg: float) -> str:
        return show_mass(kg, books.units)

    parts = [
        f"{mass(getattr(one, key))} {word}" for key, word in WENT if getattr(one, key) > LEAST_KG
    ]
    picked = f"{mass(one.picked_kg)} picked"
    if one.untold_kg > LEAST_KG:
        parts.append(f"{mass(one.untold_kg)} not told")
    elif one.untold_kg < -LEAST_KG:
        beyond = f"{mass(-one.untold_kg)} that no picking tells of"
        picked = f"{picked} + {beyond}" if one.picked_kg > LEAST_KG else beyond
    told = f"{capital(books.name(one.food))}: {picked} = {' + '.join(parts) or 'nothing told'}."
    if one.may_have_dried_kg is not None:
        low, high = one.may_have_dried_kg
        told += (
            f" Nothing was written as hung: {mass(low)} to {mass(high)} usually go in drying and"
            " trimming."
        )
    if one.unweighed:
        some = "entry tells" if one.unweighed == 1 else "entries tell"
        told += f" {one.unweighed} {some} no weight, and is in none of this."
    return told


def run_out_text(gone: GoneBy | None, day: Day = iso) -> str:
    """Say by when a food is gone in 2, 5 and 8 years of ten."""
    if gone is None:
        return "nothing of it is wanted from store"
    if gone.gone_by[0] is None:
        return "lasts in 8 years of 10"
    words = [day(one) if one else "lasts" for one in gone.gone_by]
    return " · ".join(words)


def gap_text(gap: Gap | None) -> str:
    """Say how many weeks lie between run out and ready again."""
    if gap is None:
        return "not known"
    if gap.high == 0:
        return "none"
    return f"{gap.middle} ({gap.low} to {gap.high})"


def sound_text(told: LotTold, books: LarderBooks) -> str:
    """Say what is sound of a lot, and what it lies between in 8 years of 10."""
    middle = show_mass(told.sound_kg, books.units)
    low, high = show_mass(told.low_kg, books.units), show_mass(told.high_kg, books.units)
    return middle if low == high else f"{middle} ({low} to {high})"
