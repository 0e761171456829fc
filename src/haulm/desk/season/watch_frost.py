"""Frost tonight, by bed: what to cover, in order of what is lost, and what to bring in."""

from collections.abc import Iterator
from datetime import date, timedelta

from haulm.catalogue.records import Hardy
from haulm.desk.season.watch_asked import Asking, day_words
from haulm.desk.season.watch_fleece import (
    fleece_laid,
    fleece_words,
    fleeced_already,
    in_order,
    is_short,
)
from haulm.desk.season.watch_standing import in_trays, kind_of
from haulm.ground.records import Bed, Cover, Spot
from haulm.measure.sentences import listed
from haulm.measure.units import show_mass, show_temperature
from haulm.plan.records import Planting
from haulm.season.frost_tonight import (
    BedFrost,
    BedNight,
    Night,
    Tender,
    frost_by_bed,
    kill_odds,
)
from haulm.season.watch_figures import watch_figures
from haulm.season.watch_records import Heed, LookOut
from haulm.site.figures import air_figures
from haulm.site.spots import night_gain, night_gain_c


def frost_lines(asking: Asking) -> Iterator[LookOut]:
    """Tell of tonight's frost, and of the nights after it that were told.

    Tonight is the night that ends tomorrow; where only today's minimum was told, that one counts.
    """
    tonight = asking.told_on(asking.day + timedelta(days=1))
    as_told = asking.told_on(asking.day)
    if tonight is not None and tonight.tmin_c is not None:
        yield from _night(asking, Night(tonight.tmin_c), asking.day)
    elif as_told is not None and as_told.tmin_c is not None:
        yield from _night(asking, Night(as_told.tmin_c), asking.day)
    yield from _later(asking)


def untold_frost(asking: Asking) -> Iterator[str]:
    """Say that no night can be judged, where something tender stands and nothing was told."""
    near = (asking.told_on(asking.day + timedelta(days=days)) for days in (0, 1))
    if any(one is not None and one.tmin_c is not None for one in near):
        return
    if tender_of(asking) and _cold_season(asking):
        yield "Frost tonight cannot be said: no minimum is told for tonight."


def tender_of(asking: Asking) -> tuple[Tender, ...]:
    """List what stands that frost can kill."""
    found = []
    for one in asking.stands:
        kind = kind_of(asking.catalogue, one.planting)
        killing = kind.warmth.killing_frost_c if kind else None
        if killing is not None and not isinstance(killing, Hardy):
            found.append(Tender(one, killing.value))
    return tuple(found)


def bed_nights(asking: Asking) -> tuple[BedNight, ...]:
    """Give how each bed's nights differ from the garden's, and what fleece would add there."""
    return tuple(_bed_night(bed) for bed in asking.garden.beds)


def _bed_night(bed: Bed) -> BedNight:
    gain, spread = night_gain_c(bed.spot), 0.0
    for spot in bed.spot:
        figure = night_gain(spot)
        if figure.low is not None and figure.high is not None:
            # The span read is taken as eight cases in ten; normal, that is 2.56 of its deviation.
            spread += (figure.high - figure.low) / 2.56
    if bed.cover is not Cover.OPEN:
        gain += air_figures()["tunnel_night_gain_c"].value
    fleece = 0.0 if Spot.FLEECE in bed.spot else night_gain(Spot.FLEECE).value
    return BedNight(bed.id, gain, fleece, spread)


def _night(asking: Asking, night: Night, day: date) -> Iterator[LookOut]:
    figures = watch_figures()
    nights = bed_nights(asking)
    found = frost_by_bed(night, nights, tender_of(asking))
    at_risk = [one for one in found if one.odds >= figures.cover_from.value]
    laid = fleece_laid(asking, at_risk)
    listed_beds = in_order(at_risk, laid)
    trays = _trays(asking, night)
    if not listed_beds and not trays:
        return
    beds = tuple(asking.bed(one.bed) for one in listed_beds)
    rest = [one for one in found if one not in listed_beds]
    parts = []
    if beds:
        parts.append(f"cover {listed(beds)}")
    if trays:
        names = list(dict.fromkeys(asking.name(one) for one in trays))
        parts.append(f"bring in the trays of {listed(names)}")
    what = f"Frost tonight: {' and '.join(parts)} by {round(figures.cover_by_h.value)}:00"
    if is_short(laid):
        what += ", in this order, for there is not fleece enough"
    what += "; the rest is safe." if not rest else f"; {_rest(asking, rest)}."
    yield LookOut(
        Heed.FROST,
        what,
        beds,
        why=tuple(
            words
            for words in (
                _forecast(asking, night),
                *(_why(asking, one) for one in listed_beds),
                _by_plan(asking, listed_beds),
            )
            if words
        ),
        do=tuple(_do(asking, listed_beds)),
        by=day,
        sources=_sources(),
    )


def _rest(asking: Asking, rest: list[BedFrost]) -> str:
    worst = max(one.odds for one in rest)
    if worst < watch_figures().safe_odds.value:
        return "the rest is safe"
    names = listed([asking.bed(one.bed) for one in rest[:3]])
    return f"the rest is safe but for odds of {_odds(worst)} or less ({names})"


def _forecast(asking: Asking, night: Night) -> str:
    figures = watch_figures()
    spread = 1.28 * figures.forecast_min_error_c.value
    low, high = night.tmin_c - spread, night.tmin_c + spread
    units = asking.units
    return (
        f"{show_temperature(night.tmin_c, units)} is forecast; eight such forecasts in ten end "
        f"between {show_temperature(low, units)} and {show_temperature(high, units)}."
    )


def _why(asking: Asking, one: BedFrost) -> str:
    names = [_with_up(asking, tender) for tender in one.at_risk]
    kills = max(tender.kills_c for tender in one.at_risk)
    return (
        f"{asking.bed(one.bed)}: {listed(list(dict.fromkeys(names)))}, killed at "
        f"{show_temperature(kills, asking.units)}; odds {_odds(one.odds)}, covered "
        f"{_odds(one.covered)}; {show_mass(one.lost_kg, asking.units)} lost on average if left."
    )


def _with_up(asking: Asking, tender: Tender) -> str:
    """Name what stands; where it is not sure to be above ground, with the odds that it is."""
    name = asking.name(tender.stands.planting)
    up = tender.stands.up
    return name if up >= watch_figures().sure_odds.value else f"{name} (if it is up: {_odds(up)})"


def _by_plan(asking: Asking, beds: list[BedFrost]) -> str:
    """Say where the diary does not tell that what is threatened stands there."""
    at_risk = [tender for one in beds for tender in one.at_risk]
    silent = [asking.bed(t.stands.planting.bed) for t in at_risk if not t.stands.told]
    if not silent:
        return ""
    if len(silent) == len(at_risk):
        return "What stands is taken from the plan: nothing of it is written down as started."
    return (
        f"In {listed(list(dict.fromkeys(silent)))} some of it stands by the plan, not by the diary."
    )


def _do(asking: Asking, beds: list[BedFrost]) -> Iterator[str]:
    fleeced = fleeced_already(asking)
    yield from fleece_words(asking, beds)
    if any(one.bed in fleeced for one in beds):
        names = listed([asking.bed(one.bed) for one in beds if one.bed in fleeced])
        yield f"{names}: its fleece is counted already; lay a second one, or straw."
    not_enough = watch_figures().cover_not_enough.value
    weak = [asking.bed(one.bed) for one in beds if one.covered >= not_enough]
    if weak:
        yield (
            f"Fleece alone may not hold in {listed(weak)}: double it, heap soil or straw over what "
            "is small, or pick what is ripe today."
        )
    if beds:
        yield "Take the covers off in the morning."


def _trays(asking: Asking, night: Night) -> tuple[Planting, ...]:
    """List what hardens off outdoors and would be killed."""
    figures = watch_figures()
    garden = BedNight("", 0.0, 0.0)
    found = []
    for planting in in_trays(asking.plan, asking.told, asking.day, figures.harden_days.value):
        kind = kind_of(asking.catalogue, planting)
        killing = kind.warmth.killing_frost_c if kind else None
        if killing is None or isinstance(killing, Hardy):
            continue
        if kill_odds(night, killing.value, garden) >= figures.cover_from.value:
            found.append(planting)
    return tuple(found)


def _later(asking: Asking) -> Iterator[LookOut]:
    """Tell of the nights after tonight in one line."""
    cold: list[tuple[date, BedFrost]] = []
    for ahead in range(1, round(watch_figures().nights_ahead.value) + 1):
        day = asking.day + timedelta(days=ahead + 1)
        told = asking.told_on(day)
        if told is None or told.tmin_c is None:
            continue
        found = frost_by_bed(Night(told.tmin_c, ahead), bed_nights(asking), tender_of(asking))
        worst = max(found, key=lambda one: one.odds, default=None)
        if worst is not None and worst.odds >= watch_figures().cover_from.value:
            cold.append((day - timedelta(days=1), worst))
    if cold:
        nights = listed([day_words(day) for day, _ in cold])
        odds = max(one.odds for _, one in cold)
        beds = tuple(dict.fromkeys(asking.bed(one.bed) for _, one in cold))
        what = f"Frost may come in the night of {nights}: odds of {_odds(odds)} in {beds[0]}."
        yield LookOut(Heed.FROST, what, beds, by=cold[0][0], sources=_sources())


def _cold_season(asking: Asking) -> bool:
    """Whether frost comes around this day in any of the runs of weather."""
    weather = asking.weather
    column = weather.column_of(asking.day)
    tmin_c = weather.seasons.tmin_c[:, max(0, column - 3) : column + 4]
    coldest = min((bed.gain_c for bed in bed_nights(asking)), default=0.0)
    hardest = max((one.kills_c for one in tender_of(asking)), default=0.0)
    return bool((tmin_c + min(0.0, coldest) <= hardest).any())


def _odds(share: float) -> str:
    """Write odds as one in so many, or so many in ten."""
    if share >= watch_figures().sure_odds.value:
        return "nearly certain"
    if share >= 0.15:  # noqa: PLR2004
        return f"{round(10 * share)} in 10"
    if share >= 0.005:  # noqa: PLR2004
        return f"1 in {round(1 / share)}"
    return "under 1 in 200"


def _sources() -> tuple[str, ...]:
    figures = watch_figures()
    error = figures.forecast_min_error_c
    fleece = night_gain(Spot.FLEECE)
    return (
        f"Forecast error, {error.basis.value}: {error.source or error.note}",
        f"The garden beside the forecast, {figures.garden_min_error_c.basis.value}.",
        f"Fleece, {fleece.basis}: {fleece.source}",
        "Killing temperatures: the catalogue's; haulm crops shows each with its basis.",
    )
