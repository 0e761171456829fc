"""Offer green manures for the ground that a plan leaves bare."""

from haulm.catalogue.records import Catalogue
from haulm.desk.beds.ground import family_of_crop
from haulm.desk.planning.question import Asked
from haulm.growing.green_manures import cover_starts
from haulm.measure.day_words import day_text
from haulm.measure.findings import Finding, Grade
from haulm.measure.units import Units, show_area
from haulm.measure.weeks import Horizon
from haulm.plan.records import Plan
from haulm.planner.bare_ground import CoverFit, CoverOffer, cover_offers

MOST_NAMED = 3
"""So many green manures are named for a stretch; more would not help to choose."""


def covers_for(plan: Plan, catalogue: Catalogue, asked: Asked) -> tuple[CoverOffer, ...]:
    """Work out which green manures fit the ground a plan leaves bare."""
    question = asked.question
    families = family_of_crop(catalogue)
    manures = [kind for kind in catalogue.kinds.values() if kind.green_manure is not None]
    starts = {
        under_cover: tuple(
            start
            for kind in manures
            for start in cover_starts(
                kind,
                families[kind.crop],
                asked.weather,
                question.horizon,
                under_cover=under_cover,
            )
        )
        for under_cover in sorted({bed.under_cover for bed in question.beds})
    }
    return cover_offers(plan, question, starts)


def bare_ground_told(
    plan: Plan, catalogue: Catalogue, asked: Asked, units: Units
) -> tuple[Finding, ...]:
    """Note, bed by bed, the ground that lies bare and what could be sown to hold and feed it."""
    by_bed: dict[str, list[CoverOffer]] = {}
    for offer in covers_for(plan, catalogue, asked):
        by_bed.setdefault(offer.stretch.bed, []).append(offer)
    return tuple(
        Finding(
            where=f"bare ground, {asked.question.names.get(bed, bed)}",
            what=" ".join(_told(offer, catalogue, plan.horizon, units) for offer in offers),
            grade=Grade.NOTE,
        )
        for bed, offers in by_bed.items()
    )


def _told(offer: CoverOffer, catalogue: Catalogue, horizon: Horizon, units: Units) -> str:
    """Say in a sentence where ground is bare and what would fit there, till when."""
    stretch = offer.stretch
    ends = (
        "the plan's end"
        if stretch.until_week >= horizon.weeks
        else day_text(horizon.monday(stretch.until_week), year=True)
    )
    fits = "; or ".join(_fit_told(fit, catalogue, horizon) for fit in offer.fits[:MOST_NAMED])
    return (
        f"{show_area(stretch.area_m2, units)} lie bare from"
        f" {day_text(horizon.monday(stretch.first_week), year=True)} to {ends}: {fits} would fit."
    )


def _fit_told(fit: CoverFit, catalogue: Catalogue, horizon: Horizon) -> str:
    kind = catalogue.kinds[fit.kind]
    fixes = kind.green_manure is not None and kind.green_manure.fixes_nitrogen
    first, last = horizon.monday(fit.sow_first_week), horizon.monday(fit.sow_last_week)
    sown = (
        f"from {day_text(first)} to {day_text(last, year=True)}"
        if first < last
        else f"on {day_text(first, year=True)}"
    )
    return (
        f"{kind.name}{' (it fixes nitrogen)' if fixes else ''}, sown {sown}, dug in from"
        f" {day_text(horizon.monday(fit.dig_in_week), year=True)} on"
    )
