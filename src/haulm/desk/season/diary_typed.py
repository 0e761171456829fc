"""An entry of the diary as typed, read into a record: names into ids, amounts into one unit."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from datetime import date, datetime
from enum import StrEnum
from typing import TypeVar

from haulm.catalogue.records import Form
from haulm.desk.garden.opening import Opened, names_of
from haulm.desk.table.measures_of_food import plural
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.units import (
    parse_area_m2,
    parse_duration_min,
    parse_mass_kg,
    parse_rain_mm,
    parse_temperature_c,
    parse_volume_l,
)
from haulm.notebook.names import one_of, spellings, suggest
from haulm.notebook.values import EARLIEST_YEAR
from haulm.plan.records import Plan
from haulm.season.grammar import GRAMMARS, check_entry
from haulm.season.records import (
    About,
    Amount,
    Entry,
    EntryKind,
    Leaves,
    Measured,
    Purpose,
    Severity,
    StoreCount,
    key_of,
)

Parse = Callable[[str, str], float]
E = TypeVar("E", bound=StrEnum)

PARSERS: Mapping[Measured, Parse] = {
    Measured.KG: parse_mass_kg,
    Measured.LITRES: parse_volume_l,
    Measured.MINUTES: parse_duration_min,
    Measured.MILLIMETRES: parse_rain_mm,
    Measured.CELSIUS: parse_temperature_c,
    Measured.SQUARE_METRES: parse_area_m2,
}
_NUMBER = re.compile(r"(\d{1,6}(?:[.,]\d{1,3})?)\s*(.*)", re.DOTALL)
CAN_WORDS = frozenset({"can", "cans"})
WHOLE_PERCENT = 100
PIECE_WORDS = frozenset({"piece", "pieces", "plants", "plant", "seeds", "seed"})


@dataclass(frozen=True, slots=True)
class TypedEntry:
    """An entry as typed; a field is empty where nothing was typed.

    ``lot`` is the entry by which the lot was put by; ``planting`` a planting's short name in the
    plan that is kept, or a name that :func:`haulm.season.records.planting_key` made. ``green`` and
    ``brown`` count leaves, ``down`` is the share of tops that lie down or are dead, in per cent.
    """

    kind: str
    day: str
    planting: str = ""
    bed: str = ""
    crop_kind: str = ""
    food: str = ""
    store: str = ""
    form: str = ""
    lot: str = ""
    trouble: str = ""
    severity: str = ""
    purpose: str = ""
    amount: str = ""
    sound: str = ""
    soft: str = ""
    sprouted: str = ""
    minutes: str = ""
    words: str = ""
    green: str = ""
    brown: str = ""
    down: str = ""
    tank: str = ""


@dataclass(frozen=True, slots=True)
class Written:
    """Under what name an entry is written, when, and on which device."""

    id: str
    at: datetime
    device: str


def read_entry(
    typed: TypedEntry, written: Written, today: date, opened: Opened, plan: Plan | None
) -> Entry:
    """Read an entry as typed.

    Parameters
    ----------
    typed, written
        What was typed, and by whom and when.
    today
        No entry tells of a day after it.
    opened, plan
        The garden, and the plan that is kept, whose plantings may be named by their short names.

    Raises
    ------
    FaultsFoundError
        With everything that does not fit, at once.
    """
    return _Reader(typed, opened, plan).read(written, today)


class _Reader:
    """Reads one entry and gathers what does not fit."""

    def __init__(self, typed: TypedEntry, opened: Opened, plan: Plan | None) -> None:
        self._typed = typed
        self._garden = opened.garden
        self._catalogue = opened.catalogue
        self._known = names_of(opened.garden)
        self._plan = plan
        self._faults: list[Finding] = []

    def read(self, written: Written, today: date) -> Entry:
        """Read the whole entry."""
        kind = self._choice(EntryKind, self._typed.kind, "kind of entry")
        day = self._day()
        if kind is None or day is None:
            raise FaultsFoundError(self._faults)
        about = self._about()
        count, amount = self._count_and_amount(kind, about)
        minutes, leaves = self._minutes(), self._leaves()
        if self._faults:
            raise FaultsFoundError(self._faults)
        entry = Entry(
            id=written.id,
            kind=kind,
            day=day,
            written_at=written.at,
            device=written.device,
            about=about,
            amount=amount,
            count=count,
            minutes=minutes,
            words=self._typed.words,
            leaves=leaves,
        )
        faults = check_entry(entry, today)
        if faults:
            raise FaultsFoundError(faults)
        return entry

    def _fault(self, key: str, what: str, remedy: str) -> None:
        self._faults.append(Finding(f"the entry's {key}", what, remedy, place=(key,)))

    def _choice(self, words: type[E], typed: str, noun: str) -> E | None:
        if not typed:
            self._fault(noun, "nothing is written.", one_of(words))
            return None
        found = next((word for word in words if word.value == typed.casefold()), None)
        if found is None:
            self._fault(
                noun, f"there is no {noun} “{typed}”.", suggest(typed, words, one_of(words))
            )
        return found

    def _day(self) -> date | None:
        try:
            day = date.fromisoformat(self._typed.day)
        except ValueError:
            what = f"“{self._typed.day}” is no day."
            self._fault("day", what, "Write year, month and day, as in 2027-07-20.")
            return None
        if day.year < EARLIEST_YEAR:
            what = f"{self._typed.day} lies before {EARLIEST_YEAR}."
            self._fault("day", what, "Look at the year.")
            return None
        return day

    def _about(self) -> About:
        typed = self._typed
        garden = self._garden
        planting, bed, kind = self._planting()
        beds = spellings((one.id, one.name) for one in garden.beds)
        stores = spellings((one.id, one.name) for one in garden.stores)
        severity = self._choice(Severity, typed.severity, "severity") if typed.severity else None
        purpose = self._choice(Purpose, typed.purpose, "purpose") if typed.purpose else None
        return About(
            planting=planting,
            bed=self._named(typed.bed, beds, "bed") or bed,
            kind=self._named(typed.crop_kind, self._known.kinds, "kind") or kind,
            food=self._named(typed.food, self._known.foods, "food"),
            store=self._named(typed.store, stores, "store"),
            form=self._choice(Form, typed.form, "form") if typed.form else None,
            lot=typed.lot or None,
            trouble=self._trouble(),
            severity=severity,
            purpose=purpose,
            tank=self._named(typed.tank, spellings((t.name, t.name) for t in garden.tanks), "tank"),
        )

    def _planting(self) -> tuple[str | None, str | None, str | None]:
        """Find the planting meant: its lasting name, its bed and its kind."""
        typed = self._typed.planting
        if not typed:
            return None, None, None
        plantings = self._plan.plantings if self._plan else ()
        for planting in plantings:
            if typed in {planting.id, key_of(planting)}:
                return key_of(planting), planting.bed, planting.kind
        if "@" in typed:
            kind, _, rest = typed.partition(":")
            return typed, rest.rpartition("@")[2], kind
        ids = [planting.id for planting in plantings]
        what = f"the plan has no planting “{typed}”." if ids else "there is no plan with plantings."
        self._fault("planting", what, suggest(typed, ids, "Name a bed and a kind instead."))
        return None, None, None

    def _named(self, typed: str, known: Mapping[str, str], noun: str) -> str | None:
        if not typed:
            return None
        found = known.get(typed.casefold())
        if found is None:
            what = f"haulm knows no {noun} “{typed}”."
            self._fault(noun, what, suggest(typed, known, f"Name a {noun} that is there."))
        return found

    def _trouble(self) -> str | None:
        """Give a disease's id where haulm knows it, else the grower's own word."""
        typed = self._typed.trouble
        return self._known.diseases.get(typed.casefold(), typed) or None

    def _count_and_amount(
        self, kind: EntryKind, about: About
    ) -> tuple[StoreCount | None, Amount | None]:
        typed = self._typed
        amount = self._amount(typed.amount, kind, about, "amount")
        found = {key: getattr(typed, key) for key in ("sound", "soft", "sprouted")}
        if not any(found.values()):
            return None, amount
        read = {key: self._amount(text, kind, about, key) for key, text in found.items() if text}
        counted = {key: one for key, one in read.items() if one is not None}
        measures = {one.measured for one in counted.values()}
        if "sound" not in counted or len(measures) != 1:
            if "sound" not in found or not found["sound"]:
                self._fault("sound", "it does not say what is sound.", "Write 0 if nothing is.")
            elif len(measures) > 1:
                what = "sound and soft are told in two measures."
                self._fault("sound", what, "Count all, or weigh all.")
            return None, None
        numbers = {key: one.number for key, one in counted.items()}
        whole = sum(numbers.values())
        return StoreCount(**numbers), Amount(whole, measures.pop())

    def _amount(self, text: str, kind: EntryKind, about: About, key: str) -> Amount | None:
        if not text:
            return None
        measures = GRAMMARS[kind].measures
        litres = self._poured_l(text, about) if Measured.LITRES in measures else None
        if litres is not None:
            return Amount(litres, Measured.LITRES)
        number = _NUMBER.fullmatch(text.strip())
        if number and Measured.PIECES in measures:
            word = number[2].strip().casefold()
            if word in self._piece_words(about) or (not word and measures == {Measured.PIECES}):
                return Amount(float(number[1].replace(",", ".")), Measured.PIECES)
        refused: FaultsFoundError | None = None
        for measured in (one for one in Measured if one in measures and one in PARSERS):
            try:
                return Amount(PARSERS[measured](text, f"the entry's {key}"), measured)
            except FaultsFoundError as error:
                refused = refused or error
        if refused is not None:
            self._faults.extend(refused.findings)
        else:
            self._fault(key, f"“{text}” is no amount of this.", "Leave it out.")
        return None

    def _leaves(self) -> Leaves | None:
        """Read what leaves say; ``down`` in per cent."""
        typed = self._typed
        down = self._plain_number(typed.down.strip().removesuffix("%"), "down")
        green = self._plain_number(typed.green, "green")
        brown = self._plain_number(typed.brown, "brown")
        if green is None and brown is None and down is None:
            return None
        return Leaves(green, brown, None if down is None else down / 100.0)

    def _plain_number(self, text: str, key: str) -> float | None:
        number = _NUMBER.fullmatch(text.strip())
        if number and not number[2].strip():
            return float(number[1].replace(",", "."))
        if text.strip():
            self._fault(key, f"“{text}” is no number.", "Write a number.")
        return None

    def _poured_l(self, text: str, about: About) -> float | None:
        """Read cans, and the share of a tank that is full [l]; None where it is neither."""
        found = _NUMBER.fullmatch(text.strip())
        if found is None:
            return None
        number, word = float(found[1].replace(",", ".")), found[2].strip().casefold()
        if word in CAN_WORDS:
            return round(number * self._garden.watering.can_l, 3)
        tank = next((one for one in self._garden.tanks if one.name == about.tank), None)
        if word == "%" and tank is not None and number <= WHOLE_PERCENT:
            return round(number / WHOLE_PERCENT * tank.holds_l, 3)
        return None

    def _piece_words(self, about: About) -> frozenset[str]:
        """Give the words that count: of the food named, else of all that the kind named gives.

        What a kind is started from counts too: cloves, sets, tubers.
        """
        kind = self._catalogue.kinds.get(about.kind or "")
        given = [giving.food for giving in kind.givings] if kind else []
        foods = [about.food] if about.food else given
        own = [self._catalogue.foods[food].piece for food in foods if food in self._catalogue.foods]
        units = [method.unit for method in kind.methods] if kind else []
        words = {word.casefold() for word in (*own, *units)}
        return PIECE_WORDS | words | {plural(word) for word in words}

    def _minutes(self) -> float | None:
        text = self._typed.minutes
        if not text:
            return None
        try:
            bare = text.strip().replace(",", ".")
            return float(bare) if bare.replace(".", "").isdigit() else _minutes_of(text)
        except FaultsFoundError as error:
            self._faults.extend(error.findings)
            return None


def _minutes_of(text: str) -> float:
    return parse_duration_min(text, "the entry's minutes")


def typed_fields() -> tuple[str, ...]:
    """List the names of what can be typed of an entry."""
    return tuple(field.name for field in fields(TypedEntry))
