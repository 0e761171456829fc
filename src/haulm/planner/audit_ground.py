"""The audit of ground: land by bed and week, patches, sowings, dates, cover, clocks, rotation."""

from collections.abc import Iterator
from datetime import date

from haulm.measure.findings import Finding
from haulm.measure.weeks import DAYS_A_WEEK
from haulm.plan.records import Planting
from haulm.planner.audit_books import AREA_M2, Books

MOST_PATCHES_UNSPREAD = 2
SPREAD_M2 = 0.01
"""How near a crop's spread over beds is re-added [m²]."""


def check_question(books: Books) -> Iterator[Finding]:
    """Plans answer their garden's question, over the same weeks from the same day."""
    plan, question = books.plan, books.question
    for what, planned, asked in (
        ("garden", plan.garden, question.garden),
        ("day", plan.made_on, question.made_on),
        ("weeks", plan.horizon, question.horizon),
    ):
        if planned != asked:
            yield books.wrong("the plan", f"its {what}: {planned}; asked for: {asked}.")


def check_names(books: Books) -> Iterator[Finding]:
    """Every planting and lot has a name of its own, and every bed of the plan is the garden's."""
    for what, ids in (
        ("planting", [planting.id for planting in books.plan.plantings]),
        ("lot", [lot.id for lot in books.plan.lots]),
    ):
        for name in sorted({each for each in ids if ids.count(each) > 1}):
            yield books.wrong(f"{what} {name}", f"{ids.count(name)} of them have this name.")
    for bed in books.plan.beds:
        known = books.beds.get(bed.id)
        if known is None:
            yield books.wrong(f"bed {bed.name}", "the garden has no such bed.")
        elif abs(known.area_m2 - bed.area_m2) > AREA_M2 or known.under_cover != bed.under_cover:
            yield books.wrong(f"bed {bed.name}", "the plan knew it otherwise than it is.")


def check_ground(books: Books) -> Iterator[Finding]:
    """In every week the plantings on a bed have room on it; the worst week of each bed is told."""
    for bed in books.question.beds:
        there = [planting for planting in books.plan.plantings if planting.bed == bed.id]
        held = {
            week: sum(p.area_m2 for p in there if p.from_week <= week < p.until_week)
            for week in {max(p.from_week, 0) for p in there}
        }
        if not held:
            continue
        week = max(held, key=lambda each: (held[each], -each))
        if held[week] > bed.area_m2 + AREA_M2:
            what = f"plantings hold {held[week]:.3f} m² of {bed.area_m2:.3f} m²."
            yield books.wrong(f"bed {bed.name}, {books.week(week)}", what)


def check_patch_size(books: Books) -> Iterator[Finding]:
    """No patch is a sliver, unless it stood already."""
    least = books.question.least_patch_m2
    for planting in books.plan.plantings:
        if planting.area_m2 < (0 if planting.standing else least - AREA_M2):
            what = f"its patch is {planting.area_m2:.3f} m², under the least of {least:g} m²."
            yield books.wrong(_where(books, planting), what)


def check_standing(books: Books) -> Iterator[Finding]:
    """All that stands in the ground is in the plan, where it stands and as large as it is."""
    asked = sorted(
        (s.sowing.id, s.bed, round(s.area_m2, 6), s.taken, s.hoped, s.late_days)
        for s in books.question.standing
    )
    planned = sorted(
        (p.sowing, p.bed, round(p.area_m2, 6), p.taken, p.hoped, p.late_days)
        for p in books.plan.plantings
        if p.standing
    )
    for sowing, bed, area, *so_far in asked:
        if (sowing, bed, area, *so_far) not in planned:
            where = f"{sowing} on {books.name(bed)}"
            yield books.wrong(where, f"it stands there on {area:g} m² but not in the plan.")
    if len(planned) > len(asked):
        yield books.wrong("what stands", "the plan has more standing than the garden has.")


def check_sowing(books: Books) -> Iterator[Finding]:
    """Each planting is one of the sowings to choose from, unaltered."""
    for planting in books.plan.plantings:
        sowing = books.sowing_of(planting)
        where = _where(books, planting)
        if sowing is None:
            yield books.wrong(where, f"there is no sowing {planting.sowing} to choose.")
            continue
        same = (
            ("crop", planting.crop, sowing.crop),
            ("kind", planting.kind, sowing.kind),
            ("family", planting.family, sowing.family),
            ("method", planting.method, sowing.method),
            ("sowing date", planting.sow_on, sowing.sow_on),
            ("setting date", planting.set_on, sowing.set_on),
            ("first week in the ground", planting.from_week, sowing.ground_from_week),
            ("last week in the ground", planting.until_week, sowing.ground_until_week),
            ("tray weeks", planting.tray_weeks, sowing.tray_weeks),
        )
        for what, planned, offered in same:
            if planned != offered:
                yield books.wrong(where, f"its {what} is {planned}, its sowing's {offered}.")


def check_dates(books: Books) -> Iterator[Finding]:
    """Each planting is sown within its window, and its dates agree with its weeks."""
    week_of = books.plan.horizon.week_of
    for planting in books.plan.plantings:
        sowing = books.sowing_of(planting)
        if sowing is None:
            continue
        where = _where(books, planting)
        if week_of(planting.clear_by) != planting.until_week:
            yield books.wrong(where, f"it is to be cleared by {planting.clear_by}, another week.")
        if planting.standing:
            continue
        if week_of(planting.in_ground_from) != planting.from_week:
            yield books.wrong(where, f"it enters the ground on {planting.in_ground_from}.")
        window = (sowing.window.first_day, sowing.window.last_day)
        if (planting.earliest_sowing, planting.latest_sowing) != window:
            yield books.wrong(where, f"its window is not the sowing's, {_span(*window)}.")
        late = (planting.sow_on - window[1]).days >= DAYS_A_WEEK
        if planting.sow_on < window[0] or late:
            yield books.wrong(where, f"sown {planting.sow_on}, outside {_span(*window)}.")


def check_ready(books: Books) -> Iterator[Finding]:
    """Each planting tells when its foods are ready as its sowing does, early before late."""
    for planting in books.plan.plantings:
        for ready in planting.ready:
            food = books.food_of(planting, ready.food)
            told = (ready.early, ready.middle, ready.late)
            known = (food.ready.early, food.ready.middle, food.ready.late) if food else None
            if told != known or sorted(told) != list(told):
                days = ", ".join(str(day) for day in told)
                what = f"{books.name(ready.food)} is told ready {days}, not as its sowing tells."
                yield books.wrong(_where(books, planting), what)


def check_cover(books: Books) -> Iterator[Finding]:
    """Each planting sown for cover grows under cover, and each sown for the open in the open."""
    for planting in books.plan.plantings:
        bed, sowing = books.beds.get(planting.bed), books.sowing_of(planting)
        if bed is None:
            yield books.wrong(f"planting {planting.id}", f"there is no bed {planting.bed}.")
        elif sowing and not planting.standing and sowing.under_cover != bed.under_cover:
            sown, lies = (
                "under cover" if covered else "in the open"
                for covered in (sowing.under_cover, bed.under_cover)
            )
            yield books.wrong(
                _where(books, planting), f"it is sown to grow {sown}, its bed {lies}."
            )


def check_closed_beds(books: Books) -> Iterator[Finding]:
    """Nothing enters a bed in a year in which disease closes the bed to its family or to it."""
    for closure in books.question.closures:
        for planting in books.plan.plantings:
            closed = (planting.bed, planting.family) == (closure.bed, closure.family)
            if closure.crop is not None:
                closed = closed and planting.crop == closure.crop
            early = planting.in_ground_from.year < closure.until_year
            if closed and early and not planting.standing:
                what = f"{closure.disease} closes the bed to it until {closure.until_year}."
                yield books.wrong(_where(books, planting), what)


def check_sun(books: Books) -> Iterator[Finding]:
    """No new planting stands in a bed that gets less sun than its kind needs."""
    for planting in books.plan.plantings:
        if not planting.standing and (planting.bed, planting.kind) in books.question.too_dark:
            yield books.wrong(_where(books, planting), "the bed gets less sun than it needs.")


def check_rotation(books: Books) -> Iterator[Finding]:
    """Every stand of a family too soon after its last one on a bed is told among the broken rules.

    Stands are told apart by the year they are lifted in; what is lifted from a bed in one year is
    one stand of it.
    """
    gaps = books.question.rotation_gap_years
    groups = sorted({(p.bed, p.family) for p in books.plan.plantings})
    for bed, family in groups:
        stands = [p for p in books.plan.plantings if (p.bed, p.family) == (bed, family)]
        if family not in gaps:
            yield books.wrong(books.name(family), "no rotation gap is known for this family.")
            continue
        too_soon = [p for p in stands if not p.standing and _too_soon(books, p, stands)]
        if too_soon and books.broken_by("rotation", bed, family) <= 0:
            names = ", ".join(planting.id for planting in too_soon)
            what = f"{names}: sooner than {gaps[family]} years after the family, and not told."
            yield books.wrong(f"bed {books.name(bed)}", what)


def _too_soon(books: Books, planting: Planting, stands: list[Planting]) -> bool:
    """Say whether a planting follows its family on its bed within the years to leave."""
    gap = books.question.rotation_gap_years[planting.family]
    bed = books.beds.get(planting.bed)
    past = bed.last_year_of_family if bed else ()
    last = [year for family, year in past if family == planting.family]
    last += [other.clear_by.year for other in stands if other.clear_by <= planting.in_ground_from]
    return any(0 < planting.clear_by.year - lifted < gap for lifted in last)


def check_spread(books: Books) -> Iterator[Finding]:
    """No bed holds nearly all of a crop at risk that is cleared in one year, unless told.

    At risk is a crop whose family has years to rest. Nothing can be spread that stands in one or
    two patches, or that only one bed could hold.
    """
    new = [planting for planting in books.plan.plantings if not planting.standing]
    for crop, year in sorted({(p.crop, p.clear_by.year) for p in new}):
        patches = [p for p in new if (p.crop, p.clear_by.year) == (crop, year)]
        resting = books.question.rotation_gap_years.get(patches[0].family, 0)
        covers = {p.under_cover for p in patches}
        fit = sum(bed.under_cover in covers for bed in books.question.beds)
        if len(patches) <= MOST_PATCHES_UNSPREAD or not resting or fit == 1:
            continue
        for bed in sorted({p.bed for p in patches}):
            held = sum(p.area_m2 for p in patches if p.bed == bed)
            over = held - books.question.most_in_one_bed * sum(p.area_m2 for p in patches)
            if over > SPREAD_M2 and books.broken_by("spread", crop, bed) < over - SPREAD_M2:
                what = f"it holds {over:.2f} m² too much of the {books.name(crop)} of {year}."
                yield books.wrong(f"bed {books.name(bed)}", what)


def check_trays(books: Books) -> Iterator[Finding]:
    """Tray cells in use never outnumber the cells there is room for, unless told; worst week."""
    for planting in books.plan.plantings:
        sowing = books.sowing_of(planting)
        cells = planting.area_m2 * sowing.cells_m2 if sowing else 0.0
        if sowing and not planting.standing and abs(planting.tray_cells - cells) > 1:
            what = f"{planting.tray_cells} tray cells for {cells:.1f}."
            yield books.wrong(_where(books, planting), what)
    room = books.question.tray_cells
    if room is None:
        return
    used = {week: _cells_in(books, week) for week in range(books.plan.horizon.weeks)}
    worst = max(used, key=lambda week: used[week], default=0)
    over = sum(max(cells - room, 0) for cells in used.values())
    if 0.99 * over - 1e-3 > books.broken_by("nursery"):
        what = f"{used[worst]:.0f} tray cells are in use of {room}, and this is not told."
        yield books.wrong(books.week(worst), what)


def _cells_in(books: Books, week: int) -> float:
    """Add up the cells in use in one week, part cells as they are."""
    return sum(
        planting.area_m2 * sowing.cells_m2
        for planting in books.plan.plantings
        if (sowing := books.sowing_of(planting))
        and planting.tray_weeks[0] <= week < planting.tray_weeks[1]
    )


def check_stock(books: Books) -> Iterator[Finding]:
    """Stations and planting stock follow from the area, to one station and one unit."""
    for planting in books.plan.plantings:
        sowing = books.sowing_of(planting)
        if sowing is None:
            continue
        where = _where(books, planting)
        plants, stock = planting.area_m2 * sowing.plants_m2, planting.area_m2 * sowing.stock_m2
        if abs(planting.plants - plants) > 1:
            yield books.wrong(where, f"{planting.plants} stations on ground for {plants:.1f}.")
        if not planting.standing and not stock - AREA_M2 <= planting.stock + 1e-3 <= stock + 1.01:
            unit = planting.stock_unit
            yield books.wrong(where, f"stock of {planting.stock:.1f} {unit} for {stock:.1f}.")


def _where(books: Books, planting: Planting) -> str:
    """Name a planting with its kind and bed."""
    return f"planting {planting.id} ({books.name(planting.kind)}, {books.name(planting.bed)})"


def _span(first: date, last: date) -> str:
    return f"{first} to {last}"
