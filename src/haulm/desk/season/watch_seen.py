"""Troubles seen: what to strip, what is good to eat, until when a bed is closed, and the round."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from haulm.desk.beds.ground import closed_ground, kept_off
from haulm.desk.season.watch_asked import Asking, day_words
from haulm.ground.closures import closure_sentence
from haulm.ground.records import DiseaseFound
from haulm.measure.sentences import listed
from haulm.season.records import Entry, EntryKind, Severity
from haulm.season.troubles import Trouble, soil_disease, trouble_named
from haulm.season.watch_figures import watch_figures
from haulm.season.watch_records import Heed, LookOut

SET_OUT_ELSEWHERE = (
    "Set it out in a bed that is open to it, and write down which; or give the plants away, and"
    " write the planting down as lost."
)
ORDER = {Severity.LOST: 0, Severity.BAD: 1, Severity.SLIGHT: 2, None: 2}


@dataclass(frozen=True, slots=True)
class Seen:
    """A trouble seen in a bed that was not cleared since: what was written last of it."""

    entry: Entry
    bed: str
    trouble: Trouble | None

    @property
    def name(self) -> str:
        """Its name: haulm's, else the grower's own word."""
        return self.trouble.name if self.trouble else self.entry.about.trouble or ""


def seen_lines(asking: Asking) -> Iterator[LookOut]:
    """Tell of every trouble seen lately, the worst first; then of the order of the round."""
    found = seen_lately(asking)
    for one in found:
        yield _line(asking, one)
    yield from _trays_for_closed_beds(asking)
    if found:
        yield _round(asking, found)


def _trays_for_closed_beds(asking: Asking) -> Iterator[LookOut]:
    """Tell of plants in trays whose bed was closed to them by a disease since they were sown.

    A plan carries on what is in trays as it was meant, so nobody else says it.
    """
    for closure in closed_ground(asking.garden, asking.catalogue):
        meant = [
            one
            for one in asking.plan.plantings
            if closure.keeps_off(one.bed, one.family, one.crop)
            and one.sow_on <= asking.day < one.in_ground_from
            and one.in_ground_from.year < closure.until_year
        ]
        if not meant:
            continue
        bed, off = asking.bed(closure.bed), kept_off(closure, asking.catalogue)
        disease = asking.catalogue.diseases.get(closure.disease)
        word = disease.name if disease else closure.disease
        names = listed(list(dict.fromkeys(asking.name(one) for one in meant)))
        yield LookOut(
            Heed.SEEN,
            f"{bed} is closed to what is in trays for it: do not set out {names} there.",
            (bed,),
            why=(f"{closure_sentence(closure, bed, off, word)}.",),
            do=(SET_OUT_ELSEWHERE,),
            by=min(one.in_ground_from for one in meant),
        )


def seen_lately(asking: Asking) -> tuple[Seen, ...]:
    """List troubles that were seen lately in beds not cleared since, the worst first.

    Of one trouble in one bed what was written last counts.
    """
    since = asking.day - timedelta(days=round(watch_figures().seen_lasts_days.value))
    last: dict[tuple[str, str], Seen] = {}
    beds = {planting.id: planting.bed for planting in asking.plan.plantings}
    cleared: dict[str, date] = {}
    for entry in asking.entries:
        bed = entry.about.bed or beds.get(entry.about.planting or "", "")
        if entry.kind is EntryKind.CLEARED and bed and not entry.about.kind:
            cleared[bed] = entry.day
        if entry.kind is EntryKind.TROUBLE and bed and entry.day >= since and entry.about.trouble:
            seen = Seen(entry, bed, trouble_named(entry.about.trouble))
            last[bed, seen.name] = seen
    open_still = [one for one in last.values() if cleared.get(one.bed, since) <= one.entry.day]
    return tuple(sorted(open_still, key=lambda one: (ORDER[one.entry.about.severity], one.bed)))


def _line(asking: Asking, one: Seen) -> LookOut:
    about, bed = one.entry.about, asking.bed(one.bed)
    how = f", {about.severity.value}" if about.severity else ""
    seen = f"{bed}: {one.name}{how} (seen {day_words(one.entry.day)})"
    closed = closed_words(asking, one)
    if one.trouble is None:
        what = f"{seen}: look again, and write down what you find."
        return LookOut(Heed.SEEN, what, (bed,), do=closed, by=_look_by(asking, None))
    return LookOut(
        Heed.SEEN,
        f"{seen}: {_lower(one.trouble.advice(about.severity))}",
        (bed,),
        why=closed,
        do=tuple(word for word in (one.trouble.eat, one.trouble.never) if word),
        by=_look_by(asking, about.severity),
        sources=(f"What to do: {one.trouble.basis}.", *_closure_sources(asking, one)),
    )


def _look_by(asking: Asking, severity: Severity | None) -> date:
    """Give the last day on which to see to a trouble."""
    figures = watch_figures()
    bad = severity is Severity.BAD
    days = figures.seen_bad_days if bad else figures.seen_again_days
    return asking.day + timedelta(days=round(days.value))


def closed_words(asking: Asking, one: Seen) -> tuple[str, ...]:
    """Say to what a bed is closed by a disease seen there, and until when."""
    disease = disease_of(one, asking)
    if not disease:
        return ()
    bed = next((bed for bed in asking.garden.beds if bed.id == one.bed), None)
    if bed is None:
        return ()
    alone = replace(bed, found=(DiseaseFound(disease, one.entry.day.year),))
    found = closed_ground(replace(asking.garden, beds=(alone,)), asking.catalogue)
    name = asking.catalogue.diseases[disease].name
    return tuple(
        f"{closure_sentence(closure, bed.name, kept_off(closure, asking.catalogue), name)}."
        for closure in found
    )


def disease_of(one: Seen, asking: Asking) -> str:
    """Give the disease of the catalogue that a trouble is; empty where it is none of the soil."""
    word = soil_disease(one.entry.about.trouble or "")
    return word if word in asking.catalogue.diseases else ""


def _closure_sources(asking: Asking, one: Seen) -> tuple[str, ...]:
    disease = asking.catalogue.diseases.get(disease_of(one, asking))
    if disease is None or not disease.published_years.value:
        return ()
    source = asking.catalogue.sources.get(disease.published_years.source or "")
    title = f"{source.title}, {source.publisher}" if source else disease.published_years.note
    return (f"How long it lives in soil, {disease.published_years.basis.value}: {title}",)


def _round(asking: Asking, found: tuple[Seen, ...]) -> LookOut:
    """Give the order in which to walk round: sound beds first, those of a soil's disease last."""
    late: dict[str, int] = {}
    for one in found:
        living = 2 if disease_of(one, asking) and closed_words(asking, one) else 1
        rank = max(one.trouble.last if one.trouble else 1, living)
        late[one.bed] = max(rank, late.get(one.bed, 0))
    order = sorted(late, key=lambda bed: late[bed])
    names = [asking.bed(bed) for bed in order]
    soil = [asking.bed(bed) for bed in order if late[bed] > 1]
    do = ["Work there when leaves are dry, and wash your hands after."]
    if soil:
        do.insert(0, f"Clean tools and boots after {listed(soil)}, before they touch other soil.")
    what = f"On a round, visit the sound beds first and {listed(names)} last, in this order."
    return LookOut(Heed.SEEN, what, tuple(names), do=tuple(do), sources=("Common practice.",))


def _lower(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]
