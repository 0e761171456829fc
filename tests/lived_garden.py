"""A household that lives in an invented garden day by day, and writes down what it does.

What truly comes is drawn here: yields that are this garden's own, sowings that fail or are late,
pests, mice, pickings weighed wrongly and put right, a phone that sends twice. The household does
the jobs that its phone carries, waters as the page says, eats by haulm's own order, looks at its
pages, and keeps books of its own in whole grams beside it. Whatever it writes goes by its laptop's
pages or by its phone (tests/lived_doors.py).
"""

from collections import Counter, defaultdict
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, time, timedelta
from itertools import count
from math import exp

import numpy as np

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Kind
from haulm.desk.beds.water_diary import water_on
from haulm.desk.beds.water_today_records import WaterToday
from haulm.desk.planning.plans import Made
from haulm.desk.season.diary_typed import TypedEntry, Written, read_entry
from haulm.desk.season.larder_told import larder_of
from haulm.measure.weeks import monday_of
from haulm.plan.records import Planting
from haulm.season.eat_first import eat_first
from haulm.season.records import Entry, key_of
from haulm.sheets.acts import JobKind
from haulm.sheets.week_jobs import STARTS, Job, jobs_between
from haulm.site.seasons import seasons_from
from lived_cellar import Picked, TrueLot
from lived_doors import Doors, Held

KEEPING_SPREAD = 0.25
SATURDAY, SUNDAY = 5, 6
SENT_EVERY_DAYS = 3
DAYS, RUNS = 3 * 366 + 14, 4
"""Three years and the days until the last week ends; more runs than are lived."""
FROSTS, SUMMER, WATERED_ON, FEARED_C = {4, 5, 9, 10}, range(5, 10), {1, 4}, 2.0
WEEKLY = ("/week", "/week/print", "/larder/books", "/diary", "/larder/strip.pdf")
MONTHLY = ("/larder", "/year", "/taught", "/seed", "/table", "/week/away", "/week/water/card.pdf")


@dataclass(frozen=True)
class Mishaps:
    """How often things go wrong [1]: of sowings, of entries, of lots at a count."""

    fails: float = 0.05
    late: float = 0.1
    eaten_up: float = 0.03
    weighed_wrong: float = 0.03
    written_twice: float = 0.01
    sent_twice: float = 0.3
    mice: float = 0.02


@dataclass
class Household:
    """A household in its garden; ``live`` takes it from day to day.

    ``written`` is every entry that should hold, by id, as the household means it; ``dead`` when a
    planting came to nothing, by the diary's name for it; ``stolen`` what mice took, when and of
    which lot [g]; ``counted`` what the books had and what was found where nobody stole [kg];
    ``not_carried`` the plan's jobs that the phone did not have on their day;
    ``own_yield`` what each kind truly gives here, against the usual [1].
    """

    doors: Doors
    day: date
    seed: int
    mishaps: Mishaps = field(default_factory=Mishaps)
    lots: dict[str, TrueLot] = field(default_factory=dict)
    picked: dict[str, Picked] = field(default_factory=lambda: defaultdict(Picked))
    written: dict[str, Entry] = field(default_factory=dict)
    stolen: list[tuple[date, str, int]] = field(default_factory=list)
    own_yield: dict[str, float] = field(default_factory=dict)
    dead: dict[str, date] = field(default_factory=dict)
    counted: list[tuple[float, float]] = field(default_factory=list)
    not_carried: list[Job] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Open the garden, draw its weather, and look what lies in the cellar."""
        self._chance = np.random.default_rng([self.seed, 7])
        self._numbers = count(1)
        self._done: set[tuple[str, ...]] = set()
        self._fates: dict[str, float] = {}
        self._queue: list[Held] = []
        self._sent: list[Held] = []
        self._basket: Counter[tuple[str, str]] = Counter()
        self._usual = load_catalogue()
        self._at_hand = self.doors.shelf.garden
        self.opened = self._at_hand.opened
        garden = self.opened.garden
        self._first = self.day
        self._weather = seasons_from(garden.weather, garden.place, self.day, DAYS, RUNS, self.seed)
        for lot in self._at_hand.books.ledger.lots:
            grams = round(lot.kg_in * 1000)
            true = TrueLot(lot.id, lot.food, lot.key[3], lot.put_by, grams, lot.keeps.sound, 1.0)
            true.as_of = self.day
            self.lots[lot.id] = true

    def plan(self, page: str = "/year", action: str = "/planning", **typed: str) -> Made:
        """Plan anew as of today by a page's form, the diary sent in before."""
        self.send()
        self.doors.plan(page, action, typed)
        made, bundle = self._at_hand.made, self._at_hand.bundle
        assert made is not None
        assert bundle is not None
        self.made, self._bundle, self.opened = made, bundle, self._at_hand.opened
        self._jobs = self._week()
        return made

    def live(self, until: date) -> None:
        """Live each day until another, that one not counted."""
        while self.day < until:
            if self.day.weekday() == 0:
                self.send()
                self._jobs = self._week()
                self.doors.look(*WEEKLY)
            if self.day.day == 1:
                self.doors.look(*MONTHLY)
            self._look_at_the_sky()
            self._water()
            for job in self._jobs.pop(self.day, ()):
                self._do(job)
            if self.day.weekday() == SUNDAY:
                self._put_by_and_eat()
                self._eat_from_store()
            if self.day.weekday() == SATURDAY and self.day.day <= 7:
                self._look_through_the_store()
            if (self.day - self._first).days % SENT_EVERY_DAYS == 0:
                self.send()
            self.day += timedelta(days=1)
            self.doors.clock.turn_to(self.day)

    def send(self) -> None:
        """Send what the phone holds, and now and then what it sent before once more."""
        again = self._sent if self._happens(self.mishaps.sent_twice) else []
        self.doors.send([*self._queue, *again])
        self._sent, self._queue = self._queue, []

    def _happens(self, chance: float) -> bool:
        return bool(self._chance.random() < chance)

    def _week(self) -> dict[date, list[Job]]:
        """Load the week onto the phone, and give each job of it its day."""
        self._carried = self.doors.carry()
        monday = monday_of(self.day)
        days: dict[date, list[Job]] = defaultdict(list)
        for job in jobs_between(self._bundle, monday, monday + timedelta(days=6)):
            if job.kind is JobKind.PUT_BY or self._mark(job) in self._done:
                continue
            if job.kind in STARTS and self._happens(self.mishaps.late) and not self._latest(job):
                continue
            first = max(job.first_day, self.day)
            last = min(job.last_day, monday + timedelta(days=6))
            if job.last_day > last and job.kind not in {JobKind.PICK, JobKind.LIFT}:
                continue
            days[first + timedelta(days=int(self._chance.integers((last - first).days + 1)))] += [
                job
            ]
        return days

    def _latest(self, job: Job) -> bool:
        """Whether a job cannot be put off by a week."""
        return job.last_day + timedelta(days=7) > (job.latest_day or job.last_day)

    def _mark(self, job: Job) -> tuple[str, ...]:
        """Name a job alike in every plan."""
        planting = self._planting(job)
        week = str(monday_of(job.first_day)) if job.kind not in STARTS else ""
        food = job.what if job.kind in {JobKind.PICK, JobKind.LIFT} else ""
        return (key_of(planting) if planting else job.place, job.kind, week, food)

    def _planting(self, job: Job) -> Planting | None:
        return next((p for p in self.made.plan.plantings if p.id == job.planting), None)

    def _look_at_the_sky(self) -> None:
        number = (self.day - self._first).days
        rain = round(float(self._weather.rain_mm[0, number]), 1)
        if rain > 0:
            self._write(TypedEntry("rained", str(self.day), amount=f"{rain} mm"))
        low = round(float(self._weather.tmin_c[0, number]), 1)
        if low < 0 and self.day.month in FROSTS:
            self._write(TypedEntry("frost seen", str(self.day), amount=f"{low} C"))
        tonight = round(float(self._weather.tmin_c[0, number + 1] + self._chance.normal()), 1)
        if tonight < FEARED_C and self.day.month in FROSTS:
            told = {"tmin": str(tonight), "tmax": str(tonight + 10)}
            self.doors.fill("/week/ahead", "/week/ahead", told)
            self.doors.look("/week")

    def _water(self) -> None:
        """Twice a week in summer, water the beds as the page says."""
        if self.day.weekday() not in WATERED_ON or self.day.month not in SUMMER:
            return
        self.send()
        self.doors.look("/week/water")
        found = self._at_hand.of_diary("water today", water_on, self.day, None)
        assert isinstance(found, WaterToday)
        for bed in found.beds:
            if bed.cans > 0:
                amount = f"{bed.cans * found.can_l:.0f} l"
                self._write(TypedEntry("watered", str(self.day), bed=bed.id, amount=amount))

    def _do(self, job: Job) -> None:
        """Do a job that the phone has, and write it down as its page fills it in."""
        planting = self._planting(job)
        if planting is not None and key_of(planting) in self.dead:
            return
        carried = self._carried.get(job.id)
        if carried is None:
            self.not_carried.append(job)
            return
        self._done.add(self._mark(job))
        typed = TypedEntry(day=str(self.day), **carried["typed"])
        minutes = (job.minutes or 0.0) * exp(self._chance.normal(0.2, 0.3))
        typed = replace(typed, minutes=f"{max(1.0, minutes):.0f}" if minutes else "")
        if job.kind in {JobKind.PICK, JobKind.LIFT} and planting is not None:
            self._pick(job, planting, typed)
        elif job.kind is not JobKind.TEND or self._happens(0.3):
            self._write(typed)
        if planting is not None and job.kind in {JobKind.SOW, JobKind.PLANT, JobKind.SET_OUT}:
            self._befall(planting)

    def _befall(self, planting: Planting) -> None:
        """Let a planting fail now and then, and write it down."""
        about = {"planting": planting.id, "day": str(self.day)}
        if self._happens(self.mishaps.fails):
            self.dead[key_of(planting)] = self.day
            self._write(TypedEntry("emerged", amount="0 pieces", **about))
        elif self._happens(self.mishaps.eaten_up):
            self.dead[key_of(planting)] = self.day
            trouble = {"trouble": "slugs", "severity": "lost"}
            self._write(TypedEntry("trouble seen", **about, **trouble))

    def _pick(self, job: Job, planting: Planting, typed: TypedEntry) -> None:
        """Pick what truly came of it, weighed to the gram."""
        grams = sum(
            round(pick.kg * 1000 * self._comes(planting, pick.food))
            for pick in planting.picks
            if pick.food == typed.food and f"{self.made.plan.horizon.label(pick.week)}" in job.id
        )
        if grams <= 0:
            return
        self._write(replace(typed, amount=f"{grams / 1000:.3f} kg"))
        self.picked[typed.food].picked_g += grams
        self._basket[typed.food, planting.kind] += grams

    def _comes(self, planting: Planting, food: str) -> float:
        """Give what a planting brings against what the plan expects of it [1]."""
        kind, key = planting.kind, key_of(planting)
        if kind not in self.own_yield:
            self.own_yield[kind] = exp(self._chance.normal(-0.15, 0.2))
        if key not in self._fates:
            self._fates[key] = exp(self._chance.normal(0.0, 0.25))
        planned = _yield_kg_m2(self.made.catalogue.kinds[kind], food)
        usual = _yield_kg_m2(self._usual.kinds[kind], food)
        return self.own_yield[kind] * self._fates[key] * usual / planned

    def _put_by_and_eat(self) -> None:
        """On Sunday eat of the week's basket, put by what the plan says, give the rest away."""
        plan, week = self.made.plan, self.made.plan.horizon.week_of(self.day)
        keeps = larder_of(self.opened).keeps
        basket, self._basket = self._basket, Counter()
        wanted: Counter[str] = Counter()
        for helping in plan.helpings:
            if helping.week == week and helping.lot is None:
                wanted[helping.food] += round(helping.kg * 1000)
        for (food, kind), grams in sorted(basket.items()):
            book, left = self.picked[food], grams
            eaten = min(left, wanted[food])
            wanted[food] -= eaten
            left -= eaten
            book.eaten_g += eaten
            self._amount("eaten", food, eaten)
            meant = [
                lot
                for lot in plan.lots
                if not lot.in_hand
                and (lot.put_by_week, lot.food) == (week, food)
                and (food, kind, lot.form, lot.place) in keeps
            ]
            for number, lot in enumerate(meant):
                part = left // (len(meant) - number)
                self._put_by(food, kind, lot.form, lot.place, part)
                book.put_by_g += part
                left -= part
            given = left if self._happens(0.5) else left // 2
            self._amount("given", food, given)
            self._amount("thrown", food, left - given)
            book.given_g += given
            book.thrown_g += left - given

    def _put_by(self, food: str, kind: str, form: str, store: str, grams: int) -> None:
        if grams <= 0:
            return
        keeps = larder_of(self.opened).keeps[food, kind, form, store]
        about = {"food": food, "crop_kind": kind, "form": form, "store": store}
        entry = self._write(
            TypedEntry("put by", str(self.day), amount=f"{grams / 1000:.3f} kg", **about)
        )
        pace = exp(self._chance.normal(0.0, KEEPING_SPREAD))
        lot = TrueLot(entry.id, food, store, self.day, grams, keeps.sound, pace)
        self.lots[entry.id] = lot

    def _eat_from_store(self) -> None:
        """Eat what the plan says from the store, in the order haulm's books give."""
        plan, week = self.made.plan, self.made.plan.horizon.week_of(self.day)
        wanted: Counter[str] = Counter()
        for helping in plan.helpings:
            if helping.week == week and helping.lot is not None:
                wanted[helping.food] += round(helping.kg * 1000)
        if not wanted:
            return
        self.send()
        for one in eat_first(self._at_hand.books.ledger, self.day):
            lot = self.lots[one.lot.id]
            lot.age_to(self.day)
            taken = lot.take("eaten", wanted[lot.food])
            wanted[lot.food] -= taken
            self._amount("eaten", lot.food, taken, lot.id)

    def _look_through_the_store(self) -> None:
        """Once a month go from store to store with its check sheet; mice are noticed then."""
        self.send()
        for address, fields in self.doors.checks():
            self.doors.look(f"{address}/sheet.pdf")
            lots = [name.removeprefix("sound ") for name in fields if name.startswith("sound ")]
            found = {lot: self._count(self.lots[lot]) for lot in lots}
            typed = {f"{how} {lot}": kg for lot in lots for how, kg in found[lot].items()}
            self.doors.send_off(address, fields, typed)
            for lot in lots:
                counted = TypedEntry("counted", str(self.day), lot=lot, **found[lot])
                self._mean(counted, f"check-{fields['sent']}-{lot}", "laptop")

    def _count(self, lot: TrueLot) -> dict[str, str]:
        """Count a lot, weighed; what is rotten goes out."""
        books = self._at_hand.books.sound_kg
        lot.age_to(self.day)
        if lot.sound_g and self._happens(self.mishaps.mice):
            before = lot.mice_g
            lot.steal(lot.sound_g // 3)
            self.stolen.append((self.day, lot.id, lot.mice_g - before))
        else:
            self.counted.append((books[lot.id], lot.sound_g / 1000))
        sound, rotten = lot.look_through()
        return {"sound": f"{sound / 1000:.3f} kg", "soft": f"{rotten / 1000:.3f} kg"}

    def _amount(self, how: str, food: str, grams: int, lot: str = "") -> None:
        if grams > 0:
            amount = f"{grams / 1000:.3f} kg"
            self._write(TypedEntry(how, str(self.day), food=food, lot=lot, amount=amount))

    def _write(self, typed: TypedEntry) -> Entry:
        """Write an entry: most on the phone, some on the laptop; some wrongly at first."""
        wrong = bool(typed.amount) and self._happens(self.mishaps.weighed_wrong)
        if wrong and typed.kind in {"picked", "eaten", "given"}:
            return self._wrong_then_right(typed)
        number = next(self._numbers)
        at = datetime.combine(self.day, time(12), UTC) + timedelta(seconds=number % 3600)
        entry = self._mean(typed, f"{self.seed:08d}-{number:07d}", "phone", at)
        self._queue.append(Held(typed, Written(entry.id, at, "phone")))
        if self._happens(self.mishaps.written_twice):
            self.doors.take_back(self.doors.write(typed))
        return entry

    def _wrong_then_right(self, typed: TypedEntry) -> Entry:
        """Write ten times the weight on the laptop, and put it right."""
        number, unit = typed.amount.split(" ")
        wrong = replace(typed, amount=f"{float(number) * 10:.3f} {unit}")
        first = self.doors.write(wrong)
        return self._mean(typed, self.doors.write(typed, first), "laptop")

    def _mean(self, typed: TypedEntry, name: str, device: str, at: datetime | None = None) -> Entry:
        """Keep what an entry should say."""
        written = Written(name, at or self.doors.clock.now(), device)
        entry = read_entry(typed, written, self.day, self.opened, self.made.plan)
        self.written[entry.id] = entry
        return entry


def _yield_kg_m2(kind: Kind, food: str) -> float:
    """Give a kind's usual yield of a food [kg/m²]."""
    return next(giving.yield_kg_m2.value for giving in kind.givings if giving.food == food)
