"""What a page asks for each kind of entry, what may be named, and a job of the week as an entry."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from haulm.catalogue.records import Catalogue
from haulm.desk.season.diary_typed import TypedEntry
from haulm.measure.weeks import monday_of
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan, Planting
from haulm.season.grammar import GRAMMARS, AmountRule
from haulm.season.records import Entry, EntryKind, Measured, key_of
from haulm.sheets.acts import JobKind
from haulm.sheets.week_jobs import Job

BEFORE_DAYS, AFTER_DAYS = 56, 28
"""How long before it is started, and after it is cleared, a planting is offered."""

FIELD_OF = {"kind": "crop_kind"}
"""What is typed under another name than it has in an entry."""

ENTRY_OF: Mapping[JobKind, EntryKind] = {
    JobKind.SOW_TRAYS: EntryKind.SOWN,
    JobKind.SOW: EntryKind.SOWN,
    JobKind.PLANT: EntryKind.SET,
    JobKind.SET_OUT: EntryKind.SET_OUT,
    JobKind.LIFT: EntryKind.PICKED,
    JobKind.PICK: EntryKind.PICKED,
    JobKind.PUT_BY: EntryKind.PUT_BY,
    JobKind.CLEAR: EntryKind.CLEARED,
    JobKind.DIG_IN: EntryKind.CLEARED,
    JobKind.TEND: EntryKind.WEEDED,
    JobKind.MULCH: EntryKind.FED,
    JobKind.CUT_DOWN: EntryKind.WORKED,
}
"""Which entry of the diary says that a job was done."""

ONCE = frozenset({EntryKind.SOWN, EntryKind.SET, EntryKind.SET_OUT, EntryKind.CLEARED})
"""What is done once to a planting; all else may be done again another week."""


Named = tuple[str, str]
"""One thing that may be named: what is sent, and what is shown."""


def asked_of(kind: EntryKind) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """List the fields that an entry of a kind may fill: what it needs, and what may be told beside.

    How much comes with what it needs.
    """
    grammar = GRAMMARS[kind]
    needs = [thing for group in grammar.needs for thing in sorted(group, reverse=True)]
    first = [FIELD_OF.get(thing, thing) for thing in dict.fromkeys(needs)]
    beside = [FIELD_OF.get(thing, thing) for thing in sorted(grammar.may)]
    if grammar.amount is AmountRule.COUNT:
        first += ["sound", "soft", "sprouted"]
    elif grammar.leaves:
        first += ["green", "brown", "down"]
    elif grammar.measures:
        first.append("amount")
    minutes = ["minutes"]
    if kind is EntryKind.WORKED:
        return (*first, *minutes), (*beside, "words")
    return tuple(first), (*beside, *minutes, "words")


def amount_example(kind: EntryKind) -> str:
    """Give an example of an amount as it may be typed for a kind of entry."""
    examples = {
        Measured.KG: "2.1 kg",
        Measured.PIECES: "12 pieces",
        Measured.LITRES: "40 l",
        Measured.MINUTES: "20 min",
        Measured.MILLIMETRES: "8 mm",
        Measured.CELSIUS: "−2 °C",
        Measured.SQUARE_METRES: "3 m²",
    }
    measures = GRAMMARS[kind].measures
    return ", ".join(example for one, example in examples.items() if one in measures)


def plantings_offered(plan: Plan | None, catalogue: Catalogue, day: date) -> tuple[Named, ...]:
    """Offer the plantings that stand or are about to, by name and bed."""
    beds = {bed.id: bed.name for bed in plan.beds} if plan else {}
    return tuple(
        (key_of(one), f"{kind_name(catalogue, one)}, {beds.get(one.bed, one.bed)}, {one.id}")
        for one in plantings_near(plan, catalogue, day)
    )


def plantings_near(plan: Plan | None, catalogue: Catalogue, day: date) -> tuple[Planting, ...]:
    """Give the plantings that stand on a day, or stood or will stand soon, by kind and sowing."""
    near = [
        planting
        for planting in (plan.plantings if plan else ())
        if (day - planting.sow_on).days >= -BEFORE_DAYS
        and (day - planting.clear_by).days <= AFTER_DAYS
    ]
    return tuple(sorted(near, key=lambda p: (kind_name(catalogue, p), p.sow_on, p.id)))


def beds_offered(garden: Garden) -> tuple[Named, ...]:
    """Offer the beds."""
    return tuple((bed.id, bed.name) for bed in garden.beds)


def stores_offered(garden: Garden) -> tuple[Named, ...]:
    """Offer the stores."""
    return tuple((store.id, store.name) for store in garden.stores)


def tanks_offered(garden: Garden) -> tuple[Named, ...]:
    """Offer the rain tanks."""
    return tuple((tank.name, tank.name) for tank in garden.tanks)


def entry_for(job: Job, plan: Plan, names: Mapping[str, str], day: date) -> TypedEntry:
    """Fill in what a job of the week says already; what was weighed is left to be typed.

    ``names`` gives display names by id.
    """
    planting = next((one for one in plan.plantings if one.id == job.planting), None)
    typed = TypedEntry(
        kind=ENTRY_OF[job.kind],
        day=day.isoformat(),
        minutes="" if job.minutes is None else f"{max(1, round(job.minutes))}",
    )
    if planting is None:
        return _for_place(job, plan, names, typed)
    food = next((e.food for e in planting.expects if f"-{e.food}-" in job.id), "")
    fields = {"planting": key_of(planting)}
    if ENTRY_OF[job.kind] is EntryKind.PICKED:
        fields["food"] = food or (planting.expects[0].food if planting.expects else "")
    return _with(typed, fields)


def _for_place(job: Job, plan: Plan, names: Mapping[str, str], typed: TypedEntry) -> TypedEntry:
    """Fill in a job of a whole bed, or of a lot."""
    lot = next((one for one in plan.lots if job.id.startswith(f"{one.id}-")), None)
    if job.kind is JobKind.PUT_BY and lot is not None:
        kind = lot.kind if lot.kind in names else ""
        fields = {"food": lot.food, "crop_kind": kind, "store": lot.place, "form": lot.form}
        return _with(typed, fields)
    bed = next((one.id for one in plan.beds if one.name == job.place), "")
    return _with(typed, {"bed": bed} if bed else {})


def _with(typed: TypedEntry, fields: Mapping[str, str]) -> TypedEntry:
    told = {key: getattr(typed, key) for key in TypedEntry.__dataclass_fields__}
    return TypedEntry(**(told | dict(fields)))


def done_jobs(jobs: Iterable[Job], entries: Iterable[Entry], plan: Plan) -> Mapping[str, Entry]:
    """Find the jobs that the diary says were done, each with the entry that says so.

    What is done once to a planting is done whenever that was; what is done again and again is done
    if it was written in the job's own week.
    """
    jobs = tuple(jobs)
    kinds = {ENTRY_OF[job.kind] for job in jobs}
    by_what: dict[tuple[EntryKind, str], list[Entry]] = {}
    for entry in entries:
        for thing in _things(entry) if entry.kind in kinds else ():
            by_what.setdefault((entry.kind, thing), []).append(entry)
    keys = {planting.id: key_of(planting) for planting in plan.plantings}
    return {job.id: entry for job in jobs for entry in _says_so(job, by_what, keys, plan)}


def _things(entry: Entry) -> Iterator[str]:
    """Give what an entry may be matched by: its planting, its bed, the food it put by."""
    about = entry.about
    if about.planting:
        yield about.planting
    if about.bed:
        yield f"bed {about.bed}"
    if about.food and about.store and about.form:
        yield f"{about.food} {about.form} {about.store}"


def _says_so(
    job: Job,
    by_what: Mapping[tuple[EntryKind, str], list[Entry]],
    keys: Mapping[str, str],
    plan: Plan,
) -> list[Entry]:
    kind = ENTRY_OF[job.kind]
    if job.planting:
        thing = keys[job.planting]
    elif job.kind is JobKind.PUT_BY:
        lot = next((one for one in plan.lots if job.id.startswith(f"{one.id}-")), None)
        thing = f"{lot.food} {lot.form} {lot.place}" if lot else ""
    else:
        thing = f"bed {next((b.id for b in plan.beds if b.name == job.place), '')}"
    found = by_what.get((kind, thing), [])
    if kind not in ONCE:
        found = [entry for entry in found if monday_of(entry.day) == monday_of(job.first_day)]
    return found[:1]


def kind_name(catalogue: Catalogue, planting: Planting) -> str:
    """Give the name of a planting's kind."""
    kind = catalogue.kinds.get(planting.kind)
    return kind.name if kind else planting.kind
