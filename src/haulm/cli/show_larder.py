"""Show the larder's books on a terminal."""

from haulm.cli import show, show_care
from haulm.cli.show import line, table
from haulm.desk.season.larder_books import LarderBooks, LotTold
from haulm.desk.season.larder_papers import limit_of
from haulm.desk.season.larder_words import gap_text, run_out_text, sound_text, use_sentence
from haulm.desk.season.store_counts import checks_of
from haulm.measure.units import show_mass
from haulm.season.records import Purpose

NOTHING_KG = 0.005


def books(found: LarderBooks, *, all_told: bool) -> None:
    """Show what hangs, what lies in store in the order to eat it, how fast, until when, seed."""
    show.findings(found.told_now)
    if all_told:
        show.findings(found.told_before)
    elif found.told_before:
        count = len(found.told_before)
        places = "place" if count == 1 else "places"
        line(f"{count} earlier {places} where books and diary part: --all tells them.")
    show_care.curing(found)
    if not found.lots:
        line("Nothing lies in store.")
        show_care.weighing(found)
        return
    _first(found)
    _locked(found)
    show_care.sprouted(found)
    _foods(found)
    show_care.weighing(found)


def _first(found: LarderBooks) -> None:
    told = {one.lot.id: one for one in found.lots}
    limits = {one.food: limit_of(one, found) for one in found.strip}
    table(
        (
            "eat first",
            "form",
            "store",
            "put by",
            ">sound (8 years in 10)",
            ">lost in 4 weeks",
            "keeps until",
            "this week",
        ),
        (
            (
                found.name(one.lot.food),
                one.lot.form,
                found.name(one.lot.store),
                one.lot.put_by.isoformat(),
                sound_text(told[one.lot.id], found) if one.lot.id in told else "",
                show_mass(one.lost_kg, found.units),
                one.past_on.isoformat() if one.past_on else "years",
                limits.get(one.lot.food, ""),
            )
            for one in found.order
        ),
    )


def _locked(found: LarderBooks) -> None:
    """Say what is not for the kitchen."""
    for one in found.lots:
        for kg, why in _locks(one):
            where = f"{found.name(one.lot.food)} in {found.name(one.lot.store)}"
            line(f"Not for the kitchen: {show_mass(kg, found.units)} {where}, {why}.")


def _locks(told: LotTold) -> list[tuple[float, str]]:
    if told.lot.purpose is not Purpose.EAT:
        return [(told.sound_kg, f"put by to {told.lot.purpose}")]
    return [(told.kept_kg, "seed that the plan keeps back")] if told.kept_kg > NOTHING_KG else []


def _foods(found: LarderBooks) -> None:
    table(
        (
            "food",
            "gone in 2, 5, 8 years of 10 by",
            "comes anew, 1 to 9 years in 10",
            ">weeks without",
        ),
        (
            (
                found.name(one.food),
                run_out_text(one.gone),
                f"{one.again.early} to {one.again.late}" if one.again else "not in the plan",
                gap_text(one.gone.gap if one.gone else None),
            )
            for one in found.foods
        ),
    )
    for check in checks_of(found):
        late = "was due" if check.due < found.day else "is due"
        line(f"{found.name(check.store)} {late} to be looked through by {check.due.isoformat()}.")
    for one in found.foods:
        if one.use is not None:
            line(use_sentence(one, found))
            show_care.other_uses(found, one.food)
