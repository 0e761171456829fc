"""A notebook held at hand: what was read or reckoned from it stays until the file changes."""

from collections import defaultdict
from collections.abc import Callable, Hashable, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import replace
from datetime import date
from functools import partial
from pathlib import Path
from threading import RLock
from typing import ParamSpec, TypeVar, cast

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Catalogue
from haulm.desk.beds.layouts import lay_out_plan, mark_of_layout
from haulm.desk.beds.rotation import YearsLaid, rotation_of
from haulm.desk.garden.editing import stamp
from haulm.desk.garden.looked_up import mark_of_file, or_findings, plain_parts, plans_in
from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.odds.certainty_prices import with_certainty
from haulm.desk.odds.stores_lived import SEASONS as PAGE_SEASONS
from haulm.desk.odds.stores_lived import Lived, lived
from haulm.desk.planning.plans import (
    Made,
    Means,
    asked_now,
    kept_plan,
    leave_unlaid,
    proposed_plan,
    question_hash,
)
from haulm.desk.planning.question import Asked, OnOffer, mark_of_offer, on_offer
from haulm.desk.season.ahead import ahead_of
from haulm.desk.season.diary_held import DiaryHeld, diary_held
from haulm.desk.season.diary_photos import entries_with_photo
from haulm.desk.season.learning import lessons_of
from haulm.desk.season.ledger import BooksHeld, LedgerToday, books_held
from haulm.desk.season.lesson_records import Lessons
from haulm.desk.showing.sheets import bundle_of
from haulm.desk.table.needs import Needs, needs_from
from haulm.desk.worth.deciding import Deciding, deciding_for
from haulm.forecast.records import PlanOdds
from haulm.ground.records import Bed
from haulm.growing.sowings import Planned
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan
from haulm.planting.records import PatchLayout
from haulm.season.ahead import DayAhead
from haulm.season.ledger_records import IN_BOOKS
from haulm.season.records import Diary
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.store_odds import StoreOdds
from haulm.site.summary import SiteSummary, summarise

T = TypeVar("T")
P = ParamSpec("P")
Findings = tuple[Finding, ...]
Laid = Mapping[str, tuple[PatchLayout, ...]]
SEED = 1
LIVED = "lived"
DIARY = "diary"
BOOKS = "books"


class AtHand:
    """One notebook at hand, safe to ask from several threads.

    Parameters
    ----------
    path
        The notebook; it need not be there yet.
    today
        Gives the true day.
    beside
        Where long reckoning is done, so that other pages are answered meanwhile; None for here.
    given
        The day that was asked for; it goes before the garden's own and the true one.
    """

    def __init__(
        self,
        path: Path,
        today: Callable[[], date],
        beside: Executor | None = None,
        given: date | None = None,
    ) -> None:
        self.path = path
        self._today = today
        self._beside = beside
        self._given = given
        self._locks: defaultdict[str, RLock] = defaultdict(RLock)
        self._kept: dict[str, tuple[Hashable, object]] = {}

    @property
    def there(self) -> bool:
        """Whether there is a notebook yet."""
        return self.path.exists()

    @property
    def mark(self) -> str:
        """A mark of the garden and its plans: it is another after every change of them.

        An entry of the diary leaves it as it is, so that what was reckoned from a plan outlasts
        the writing of what was done.
        """
        now = stamp(self.path)
        return self._lasting("mark", now, lambda: mark_of_file(self.path) or now)

    @property
    def opened(self) -> Opened:
        """The garden, with what was noticed on opening it.

        Raises
        ------
        FaultsFoundError
            When it cannot be opened.
        """
        opened = self._opened_or_findings()
        if isinstance(opened, Opened):
            return opened
        raise FaultsFoundError(opened)

    @property
    def faulty(self) -> bool:
        """Whether the notebook cannot be opened as a garden."""
        return not isinstance(self._opened_or_findings(), Opened)

    @property
    def has_plan(self) -> bool:
        """Whether a plan is kept."""
        return self._plans[0]

    @property
    def proposal_waits(self) -> bool:
        """Whether a plan waits to be kept or dropped."""
        return self._plans[1]

    @property
    def parts(self) -> dict[str, tuple[dict[str, object], ...]]:
        """Every part of the garden as it was typed."""
        return self.once("parts", (), lambda: plain_parts(self.path))

    @property
    def diary(self) -> Diary:
        """The diary, with corrections worked in; what was read before is not read again."""
        before = self._before(DIARY, DiaryHeld)
        return self._lasting(DIARY, stamp(self.path), lambda: diary_held(self.path, before)).diary

    @property
    def books(self) -> LedgerToday:
        """The larder's books as of today; an entry that does not move food leaves them."""
        day, opened = self.day, self.opened
        moves = tuple(entry for entry in self.diary.entries if entry.kind in IN_BOOKS)
        make = partial(books_held, opened, moves, day, self._before(BOOKS, BooksHeld))
        return self.once(BOOKS, (day, moves), make).today

    @property
    def ahead(self) -> tuple[DayAhead, ...]:
        """What was told of today and the days to come."""
        key = (stamp(self.path), self.day)
        return self._lasting("ahead", key, lambda: ahead_of(self.path, key[1]))

    @property
    def photographed(self) -> frozenset[str]:
        """The ids of the diary's entries that have a photo."""
        path = self.path
        return self._lasting("photos", stamp(path), lambda: entries_with_photo(path))

    @property
    def lessons(self) -> Lessons:
        """What the diary teaches up to today."""
        path, day = self.path, self.day
        return self._lasting("lessons", (stamp(path), day), lambda: lessons_of(path, day))

    @property
    def catalogue(self) -> Catalogue:
        """The garden's catalogue; haulm's where there is no garden, or none that can be read."""
        if self.there and not self.faulty:
            return self.opened.catalogue
        return load_catalogue()

    @property
    def day(self) -> date:
        """The day that counts as today: that asked for, an invented garden's own, or the true."""
        return self.settled_day or self._today()

    @property
    def settled_day(self) -> date | None:
        """The day that was asked for, else an invented garden's own; None where time goes on."""
        return self._given or self.opened.garden.today

    @property
    def asked(self) -> Asked:
        """The planner's question as of today, the kept plan carried on until then."""
        day, opened = self.day, self.opened
        return self.once("asked", day, lambda: asked_now(opened, day, SEED, self._means))

    @property
    def price_mark(self) -> str:
        """A mark of all that prices of certainty rest on, but for the garden's own certainty."""
        day, opened = self.day, self.opened

        def mark() -> str:
            bare = replace(opened, garden=with_certainty(opened.garden, None))
            return question_hash(asked_now(bare, day, SEED, self._means).question)

        return self.once("price mark", day, mark)

    @property
    def needs(self) -> Needs:
        """What each line of the table needs."""
        asked = self.asked
        return self.once("needs", self.day, lambda: needs_from(self.opened, asked))

    @property
    def climate(self) -> SiteSummary:
        """The climate of the place."""
        garden = self.opened.garden
        return self.once("climate", (), lambda: summarise(garden.weather, garden.place, SEED))

    @property
    def plan_findings(self) -> tuple[Finding, ...]:
        """Why no plan can be shown; empty where one can."""
        unlaid = self._unlaid_or_findings()
        return () if isinstance(unlaid, Made) else unlaid

    @property
    def unlaid(self) -> Made | None:
        """The plan that is kept, its beds not laid out, which is quick; None where there is none.

        It is also small enough to hand to another process.
        """
        unlaid = self._unlaid_or_findings()
        return unlaid if isinstance(unlaid, Made) else None

    @property
    def made(self) -> Made | None:
        """The plan that is kept, with every bed laid out; None where none can be shown."""
        unlaid = self.unlaid
        if unlaid is None:
            return None
        plan, beds, catalogue = unlaid.plan, unlaid.garden.beds, unlaid.catalogue
        return self.once(
            "made", (), lambda: replace(unlaid, layouts=self._laid(plan, beds, catalogue))
        )

    @property
    def bundle(self) -> SheetBundle | None:
        """Everything that the sheets of the kept plan show; None where there is none."""
        made = self.made
        if made is None:
            return None
        odds = self.store_odds
        key = (self.day, odds is not None)
        return self.once("bundle", key, lambda: bundle_of(made, self.day, odds))

    @property
    def proposed(self) -> Made | None:
        """The plan that waits to be kept or dropped; None where there is none."""
        return self.once("proposed", (), lambda: proposed_plan(self.path, self._means))

    @property
    def proposed_bundle(self) -> SheetBundle | None:
        """Everything that the sheets of the proposed plan show."""
        made = self.proposed
        if made is None:
            return None
        return self.once("proposed bundle", self.day, lambda: bundle_of(made, self.day))

    @property
    def odds(self) -> PlanOdds:
        """What many seasons say of the kept plan; there must be one."""
        made = self.unlaid
        if made is None:
            raise FaultsFoundError(self.plan_findings)
        return self.once(LIVED, (), lambda: self._elsewhere(lived, made, PAGE_SEASONS, SEED)).odds

    @property
    def store_odds(self) -> StoreOdds | None:
        """What many seasons say of the kept plan's stores; None where they were not reckoned."""
        whole, found = self._kept.get(LIVED, (None, None))
        return found.stores if isinstance(found, Lived) and whole == (self.mark, ()) else None

    def of_plan(self, name: str, reckon: Callable[..., T], *given: Hashable) -> T | Findings | None:
        """Reckon something long of the kept plan, once; why not, or None without a plan."""
        made = self.unlaid
        if made is None:
            return None
        return self.once(name, given, lambda: self._elsewhere(or_findings, reckon, made, *given))

    def of_diary(self, name: str, reckon: Callable[..., T], *on: Hashable) -> T | Findings | None:
        """Reckon of the path and the kept plan what the diary bears on, as `of_plan`."""
        if (made := self.unlaid) is None:
            return None
        key, make = (stamp(self.path), self.day, on), partial(or_findings, reckon, self.path)
        return self._lasting(name, key, lambda: self._elsewhere(make, made, *on))

    @property
    def deciding(self) -> Deciding | tuple[Finding, ...] | None:
        """What decisions about the kept plan are reckoned from; why not, or None without a plan."""
        made, day = self.unlaid, self.day
        if made is None:
            return None
        return self.once("deciding", day, lambda: or_findings(deciding_for, made, day, self._offer))

    def begun(
        self, name: str, whole: Hashable, make: Callable[P, T], *given: P.args, **named: P.kwargs
    ) -> T | None:
        """Give what was reckoned once for a key that names all it rests on; None until it is there.

        Where there is another process it is begun there, and whoever asks comes back for it.
        """
        beside = self._beside
        if beside is None:
            return self._lasting(name, whole, lambda: make(*given, **named))
        begun = self._lasting(name, whole, lambda: beside.submit(make, *given, **named))
        return begun.result() if begun.done() else None

    def rotation(self, years: int) -> YearsLaid | None:
        """Several years laid out as of today, None until they are; what is kept stays as it is."""
        path, day = self.path, self.day
        return self.begun(
            f"rotation {years}", (self.mark, day), rotation_of, path, day, years, SEED
        )

    def once(self, name: str, key: Hashable, make: Callable[[], T]) -> T:
        """Reckon something once for this content of the notebook and this key."""
        return self._lasting(name, (self.mark, key), make)

    def once_elsewhere(
        self, name: str, key: Hashable, make: Callable[P, T], *given: P.args, **named: P.kwargs
    ) -> T:
        """Reckon something once, in another process where there is one."""
        return self.once(name, key, lambda: self._elsewhere(make, *given, **named))

    def _lasting(self, name: str, whole: Hashable, make: Callable[[], T]) -> T:
        """Reckon something once for a key that names all it rests on."""
        # A lock for each thing, so that what takes long holds up only those who wait for it.
        with self._locks[name]:
            if name not in self._kept or self._kept[name][0] != whole:
                self._kept[name] = (whole, make())
            return cast("T", self._kept[name][1])

    def _before(self, name: str, made: type[T]) -> T | None:
        """Give what was reckoned before, of whatever content: some can be reckoned on from it."""
        _, before = self._kept.get(name, (None, None))
        return before if isinstance(before, made) else None

    def _offer(
        self,
        garden: Garden,
        catalogue: Catalogue,
        day: date,
        seed: int,
        planned: Planned = frozenset(),
    ) -> OnOffer:
        """Give what may be sown here; it outlasts changes that do not bear on it."""
        key = mark_of_offer(garden, catalogue, seed, planned)
        # Today's, and that of a plan carried on, are looked at in turn.
        name = f"offer of {day}, carried on" if planned else f"offer of {day}"
        return self._lasting(name, key, lambda: on_offer(garden, catalogue, day, seed, planned))

    def _laid(self, plan: Plan, beds: Sequence[Bed], catalogue: Catalogue) -> Laid:
        """Lay a plan out in its beds; it outlasts changes that do not bear on it."""
        ground = mark_of_layout(plan, beds, catalogue)
        # Each under a name of its own: a proposal and the plan kept are looked at in turn.
        return self._lasting(
            f"layout {ground}", (), lambda: self._elsewhere(lay_out_plan, plan, beds, catalogue)
        )

    @property
    def _means(self) -> Means:
        return Means(self._laid, self._offer)

    @property
    def _plans(self) -> tuple[bool, bool]:
        return self.once("plans", (), lambda: plans_in(self.path))

    def _opened_or_findings(self) -> Opened | tuple[Finding, ...]:
        return self.once("opened", (), lambda: or_findings(open_garden, self.path))

    def _unlaid_or_findings(self) -> Made | tuple[Finding, ...]:
        means = Means(leave_unlaid, self._offer)
        return self.once("unlaid", (), lambda: or_findings(kept_plan, self.path, means))

    def _elsewhere(self, make: Callable[P, T], *given: P.args, **named: P.kwargs) -> T:
        """Do long reckoning in another process where there is one."""
        if self._beside is None:
            return make(*given, **named)
        return self._beside.submit(make, *given, **named).result()
