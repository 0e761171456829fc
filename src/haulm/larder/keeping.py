"""Keeping: the sound share of food by its age, and the ways a household can put food by."""

from collections.abc import Iterable, Sequence
from math import ceil, exp, isfinite, log

from haulm.catalogue.known import counted
from haulm.catalogue.records import Keeping, Kind
from haulm.larder.records import KeepingCurve, KeepRule, StorePlace
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding

LEAST_SOUND = 0.3
"""A lot under this sound share is past keeping: sorting it costs more than it gives."""

MOST_WEEKS = 520
"""No keeping is followed beyond ten years."""


def keeping_curve(sound_90_weeks: float, sound_50_weeks: float) -> KeepingCurve:
    """Fit the two-parameter Weibull survival curve through two published figures.

    S(t) = exp(−(t/λ)^k) with k = ln(ln 2 / −ln 0.9) / ln(t₅₀/t₉₀) and λ = t₅₀ / (ln 2)^(1/k).
    No single percentage a month fits food in store: potatoes lose most at first, squash at last.

    Parameters
    ----------
    sound_90_weeks, sound_50_weeks
        Ages at which 90 % and 50 % are still sound [weeks], from the day it is put by.

    Raises
    ------
    FaultsFoundError
        Unless 0 < ``sound_90_weeks`` < ``sound_50_weeks``.
    """
    if not (isfinite(sound_50_weeks) and 0 < sound_90_weeks < sound_50_weeks):
        what = f"90 % sound at {sound_90_weeks:g} weeks and 50 % at {sound_50_weeks:g} do not fit."
        remedy = "Both must be above 0, and the second later than the first."
        raise FaultsFoundError([Finding("keeping", what, remedy)])
    shape = log(log(2) / -log(0.9)) / log(sound_50_weeks / sound_90_weeks)
    return KeepingCurve(scale_weeks=sound_50_weeks / log(2) ** (1 / shape), shape=shape)


def sound_share(curve: KeepingCurve, age_weeks: float) -> float:
    """Give the share of a lot that is still sound at an age [1]; 1 on the day it is put by."""
    return exp(-((max(age_weeks, 0.0) / curve.scale_weeks) ** curve.shape))


def sound_by_week(curve: KeepingCurve) -> tuple[float, ...]:
    """List the sound share at each whole week of age, 1 at age 0, as long as 0.3 or more is."""
    shares: list[float] = []
    for age in range(MOST_WEEKS + 1):
        share = sound_share(curve, age)
        if share < LEAST_SOUND:
            break
        shares.append(share)
    return tuple(shares)


def keep_rules(kinds: Iterable[Kind], stores: Sequence[StorePlace]) -> tuple[KeepRule, ...]:
    """List every way the household can put by what its kinds give.

    Of the kinds of place that suit a form, best first, the first that the household has is used,
    and every place of that kind gets a rule. Age is counted from the day food is put by, its
    curing included. Should two keepings meet in one place and form, the shorter one stands.

    Parameters
    ----------
    kinds
        Kinds that may be grown or lie in store.
    stores
        The household's places.
    """
    rules: dict[tuple[str, str, str, str], KeepRule] = {}
    for kind in kinds:
        for giving in kind.givings:
            for keeping in giving.keeping:
                for place in _fitting(keeping, stores):
                    rule = _rule(giving.food, kind.id, keeping, place.id)
                    _put_shorter(rules, rule)
    return tuple(rules.values())


def _fitting(keeping: Keeping, stores: Sequence[StorePlace]) -> list[StorePlace]:
    for kind in keeping.stores:
        places = [place for place in stores if place.kind is kind]
        if places:
            return places
    return []


def _rule(food: str, kind: str, keeping: Keeping, place: str) -> KeepRule:
    curve = keeping_curve(keeping.sound_90_weeks.value, keeping.sound_50_weeks.value)
    return KeepRule(
        food=food,
        kind=kind,
        form=keeping.form,
        place=place,
        wait_weeks=ceil(keeping.cure_weeks.value),
        sound=sound_by_week(curve),
        space_l_kg=keeping.space_l_kg.value,
        work_min_kg=counted(keeping.work_min_kg),
    )


def _put_shorter(rules: dict[tuple[str, str, str, str], KeepRule], rule: KeepRule) -> None:
    key = (rule.food, rule.kind, rule.form.value, rule.place)
    before: KeepRule | None = rules.get(key)
    if before is None or sum(rule.sound) < sum(before.sound):
        rules[key] = rule
