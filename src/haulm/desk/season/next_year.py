"""Next year's plan by one press: what the year taught is written down, and a plan is proposed."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any

from haulm.desk.garden.editing import Change, change_garden, mark_of, parts_of
from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.plans import Made, plan_garden
from haulm.desk.planning.settling import PinWish, settle_pin
from haulm.desk.season.learning import keep_lessons, lessons_of
from haulm.desk.season.regrets import Regret, Turn
from haulm.desk.season.review import Reviewed
from haulm.measure.findings import Finding, Grade
from haulm.measure.units import show_area
from haulm.planner.question import Effort, Watcher
from haulm.season.records import STARTED, Entry, EntryKind
from haulm.season.review import bed_of_entry

MORE_OF = frozenset({Turn.MORE, Turn.LARGER, Turn.INSTEAD, Turn.EARLIER, Turn.LATER})
GREW = STARTED | {EntryKind.EMERGED, EntryKind.PICKED, EntryKind.CLEARED}
"""Entries by which something is known to have stood in its bed."""


@dataclass(frozen=True, slots=True)
class NextWish:
    """How next year's plan is to begin.

    Attributes
    ----------
    day
        The day that counts as today for it.
    lessons
        Whether figures learnt from the diary are planned by.
    adopted
        Regrets to be asked for next year, as pins.
    """

    day: date
    lessons: bool = True
    adopted: tuple[Regret, ...] = ()


def begin_next_year(reviewed: Reviewed, wish: NextWish, at: datetime) -> tuple[Finding, ...]:
    """Write down what the year taught, so that the next plan starts from it.

    What truly grew goes into each bed's past, and a soil-borne disease that was seen there into
    what was found in it, by which the bed is closed to its hosts. An invented garden whose today is
    set has it moved on. Where asked for, figures learnt are kept, and regrets become pins. All of
    it can be undone in the garden's history.

    Returns
    -------
    A note of each thing that was written.

    Raises
    ------
    FaultsFoundError
        When the garden has faults, or a pin cannot be kept.
    """
    path = reviewed.path
    told = list(_write_beds(reviewed, wish.day, at))
    if wish.lessons:
        kept = keep_lessons(path, lessons_of(path, wish.day), at)
        told.append(_note("figures learnt", f"{kept} of them are planned by from now on."))
    return (*told, *(_adopt(path, one, reviewed, at) for one in wish.adopted))


def plan_next_year(
    reviewed: Reviewed,
    wish: NextWish,
    effort: Effort,
    seed: int,
    watch: Watcher | None = None,
) -> Made:
    """Propose next year's plan: what stands, what lies in store and the seed left are carried on.

    The plan kept until now goes on holding until the proposal is kept. What moved against it, and
    why, is told in the plan's changes.

    Raises
    ------
    FaultsFoundError, AuditFailedError, InterruptedPlanError
        As for any plan.
    """
    return plan_garden(reviewed.path, wish.day, effort, seed, watch, propose=True)


def _write_beds(reviewed: Reviewed, day: date, at: datetime) -> Iterator[Finding]:
    """Write what grew and what was found into the beds, and today into an invented garden."""
    path = reviewed.path
    opened = open_garden(path)
    parts = parts_of(path)
    crops = {p.kind: p.crop for p in (*reviewed.plan.plantings, *reviewed.in_force)}
    crops |= {kind.id: kind.crop for kind in opened.catalogue.kinds.values()}
    here = [entry for entry in reviewed.season.entries if reviewed.review.span.holds(entry.day)]
    grew = _grew(here, crops)
    found = _found(here, set(opened.catalogue.diseases))
    changes = []
    for part in parts["bed"]:
        bed = str(part["id"])
        past = _joined(part.get("past", ()), grew.get(bed, ()), "crop")
        seen = _joined(part.get("found", ()), found.get(bed, ()), "disease")
        new = dict(part) | ({"past": past} if past else {}) | ({"found": seen} if seen else {})
        if new != dict(part):
            changes.append(Change("bed", mark_of(part), new))
            names = sorted({crop for crop, _ in grew.get(bed, ())})
            yield _note(f"bed {part.get('name', bed)}", f"what grew there: {', '.join(names)}.")
        for disease, year in found.get(bed, ()):
            yield _note(f"bed {part.get('name', bed)}", f"{disease} was seen there in {year}.")
    garden = parts["garden"][0]
    if opened.garden.today is not None and opened.garden.today < day:
        changes.append(Change("garden", mark_of(garden), dict(garden) | {"today": day}))
        yield _note("today", f"it is {day} in this invented garden.")
    if changes:
        change_garden(path, changes, at)


def _grew(
    entries: Sequence[Entry], crops: Mapping[str, str]
) -> Mapping[str, list[tuple[str, int]]]:
    """Give by bed the crops that the diary knows to have stood there, each with the last year."""
    last: dict[tuple[str, str], int] = {}
    for entry in entries:
        kind = entry.about.kind or (entry.about.planting or "").partition(":")[0]
        bed = bed_of_entry(entry)
        if entry.kind in GREW and bed and kind in crops:
            last[bed, crops[kind]] = entry.day.year
    by_bed: dict[str, list[tuple[str, int]]] = {}
    for (bed, crop), year in last.items():
        by_bed.setdefault(bed, []).append((crop, year))
    return by_bed


def _found(entries: Sequence[Entry], diseases: set[str]) -> Mapping[str, list[tuple[str, int]]]:
    """Give by bed the soil-borne diseases that were seen, each with its year."""
    by_bed: dict[str, list[tuple[str, int]]] = {}
    for entry in entries:
        bed, trouble = bed_of_entry(entry), entry.about.trouble
        if entry.kind is EntryKind.TROUBLE and bed and trouble in diseases:
            by_bed.setdefault(bed, []).append((str(trouble), entry.day.year))
    return by_bed


def _joined(
    there: Sequence[Mapping[str, Any]], new: Sequence[tuple[str, int]], key: str
) -> list[dict[str, Any]]:
    """Join what a bed tells already with what is new; nothing twice."""
    told = [dict(one) for one in there]
    known = {(str(one[key]), int(one["year"])) for one in told}
    fresh = [one for one in dict.fromkeys(new) if one not in known]
    return [*told, *({key: name, "year": year} for name, year in fresh)]


def _adopt(path: Path, one: Regret, reviewed: Reviewed, at: datetime) -> Finding:
    """Ask for a regret's sowing next year, as a pin: at least so much ground, or at most."""
    when = one.sow_on or one.out_on
    year = (when.year if when else reviewed.day.year) + 1
    if one.turn in MORE_OF:
        rule, kind, area = "at-least", one.kind, one.change.area_m2
        if one.turn is Turn.MORE:
            area += _had_m2(reviewed, one.kind)
    else:
        rule, kind, area = "at-most", one.out_kind, _had_m2(reviewed, one.out_kind) - one.out_m2
        area += one.change.area_m2
    wish = PinWish(rule, kind, f"{max(area, 0.0):.2f} m2", (), "", "", str(year), "")
    settle_pin(path, wish, at)
    name = reviewed.names.get(kind, kind)
    ground = show_area(max(area, 0.0), reviewed.units)
    return _note("settled by hand", f"{rule.replace('-', ' ')} {ground} of {name} in {year}.")


def _had_m2(reviewed: Reviewed, kind: str) -> float:
    """Give the ground that a kind was sown on in the span [m²]."""
    return sum(
        planting.area_m2
        for planting in reviewed.in_force
        if planting.kind == kind
        and not planting.standing
        and reviewed.review.span.holds(planting.sow_on)
    )


def _note(where: str, what: str) -> Finding:
    return Finding(where, what, grade=Grade.NOTE)
