"""Faults in a garden as typed, gathered one by one, each with its place."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from typing import TypeVar

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade, faults
from haulm.measure.units import AT_LEAST_NOTHING, parse_length_m, parse_rain_mm, parse_temperature_c
from haulm.notebook.names import KnownNames, one_of, suggest

LEAP_YEAR = 2000
"""A year that has every day there is."""

Place = tuple[str | int, ...]
_SHARE = re.compile(r"(\d+(?:[.,]\d+)?)\s*%")
"""A place in garden.toml: part, number in a list of parts (from 0), key, number in a list."""

Typed = int | float | str
"""A quantity as typed."""

PART_WORDS: Mapping[str, str] = {
    "table": "line of the table",
    "away": "days away",
    "in_store": "food in store",
    "standing": "standing crop",
    "stock": "planting stock",
    "tank": "rain tank",
    "water_rule": "rule on watering",
    "lookout": "look-out",
    "noted": "note",
    "own_kind": "own kind",
    "own_figure": "own figure",
    "own_pace": "own pace",
}
"""What parts are called where garden.toml's own word is not what a grower would say."""

ABOVE_NOTHING = "Write more than 0, or leave it out."

T = TypeVar("T")


def refusal(path: Path, what: str, remedy: str) -> FaultsFoundError:
    """Make the error that refuses a whole file."""
    return FaultsFoundError([Finding(path.name, what, remedy)])


@dataclass(slots=True)
class Gathered:
    """What was noticed so far in one garden.toml.

    Attributes
    ----------
    file
        The file's name: garden.toml, whose own signs then say a place, or a notebook.
    known
        The catalogue's names; None to take every name on trust.
    numbers
        For parts of which some could not be read: the original number (from 0) of each one left.
    lost_ids
        Ids and names of parts that could not be read, so that naming them is no second fault.
    half_read
        Parts of which some keys could not be read, by their original place: the keys left. What is
        wrong elsewhere in such a part may come of what is missing, and is not told.
    findings
        Everything noticed.
    """

    file: str
    known: KnownNames | None = None
    numbers: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    lost_ids: frozenset[str] = frozenset()
    half_read: Mapping[Place, frozenset[str]] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)

    def where(self, place: Place) -> str:
        """Say a place in words, counting from 1.

        In garden.toml: ``garden.toml, [[bed]] 3, width``; in a notebook: ``bed 3, width``.
        """
        part, *rest = self.place(place)
        in_toml = self.file.endswith(".toml")
        words = [str(part) if in_toml else PART_WORDS.get(str(part), str(part))]
        if rest and isinstance(rest[0], int):
            number, rest = rest[0] + 1, rest[1:]
            words = [f"[[{part}]] {number}" if in_toml else f"{words[0]} {number}"]
        elif in_toml:
            words = [f"[{part}]"]
        for step in rest:
            if isinstance(step, int):
                words[-1] += f" {step + 1}"
            else:
                words.append(step if in_toml else step.replace("_", " "))
        return ", ".join((self.file, *words) if in_toml else words)

    def place(self, place: Place) -> Place:
        """Give a place as it was typed: parts that could not be read count too."""
        part, *rest = place
        numbers = self.numbers.get(str(part))
        if numbers is not None and rest and isinstance(rest[0], int):
            return (part, numbers[rest[0]], *rest[1:])
        return place

    def fault(self, place: Place, what: str, remedy: str) -> None:
        """Note a fault."""
        self.note(place, what, remedy, Grade.FAULT)

    def warn(self, place: Place, what: str, remedy: str) -> None:
        """Note a warning."""
        self.note(place, what, remedy, Grade.WARNING)

    def note(self, place: Place, what: str, remedy: str = "", grade: Grade = Grade.NOTE) -> None:
        """Note what is worth knowing."""
        if not self._may_follow(place):
            found = Finding(self.where(place), what, remedy, grade, self.place(place))
            self.findings.append(found)

    def _may_follow(self, place: Place) -> bool:
        """Whether what is wrong at a place may come of a key that could not be read."""
        at = self.place(place)
        for length in (1, 2):
            if at[:length] in self.half_read:
                return not at[length:] or at[length] not in self.half_read[at[:length]]
        return False

    def take(self, place: Place, read: Callable[[], T]) -> T | None:
        """Read a value; its faults are noted at its place, and then there is None."""
        try:
            return read()
        except FaultsFoundError as error:
            if not self._may_follow(place):
                at = self.place(place)
                self.findings.extend(replace(fault, place=at) for fault in error.findings)
            return None

    def length(self, place: Place, typed: Typed) -> float | None:
        """Read a length [m], which may be nothing or less."""
        return self.take(place, lambda: parse_length_m(typed, self.where(place)))

    def temperature(self, place: Place, typed: Typed) -> float | None:
        """Read a temperature [°C]."""
        return self.take(place, lambda: parse_temperature_c(typed, self.where(place)))

    def rain(self, place: Place, typed: Typed) -> float | None:
        """Read a depth of rain [mm]."""
        return self.take(place, lambda: parse_rain_mm(typed, self.where(place)))

    def day_of_year(self, place: Place, typed: str) -> tuple[int, int] | None:
        """Read a day of the year as month and day."""
        try:
            day = date.fromisoformat(f"{LEAP_YEAR}-{typed.strip()}")
        except ValueError:
            self.fault(
                place,
                f"“{typed}” is no day of the year.",
                "Write the month and the day, as in 09-15 for 15 September.",
            )
            return None
        return day.month, day.day

    def above_nothing(
        self, place: Place, typed: Typed | None, parse: Callable[[Typed, str], float]
    ) -> float | None:
        """Read an amount that must be above nothing; where none was typed there is None."""
        if typed is None:
            return None
        amount = self.take(place, lambda: _above_nothing(parse, typed, self.where(place)))
        if amount == 0:
            self.fault(place, f"“{typed}” is nothing.", ABOVE_NOTHING)
        return amount

    def share(self, place: Place, typed: Typed) -> float:
        """Read a share from 0 to 1, or in percent."""
        percent = _SHARE.fullmatch(typed.strip()) if isinstance(typed, str) else None
        if isinstance(typed, str):
            share = float(percent[1].replace(",", ".")) / 100 if percent else -1.0
        else:
            share = float(typed)
        if not 0 <= share <= 1:
            remedy = "Write a share from 0 to 1, or as in 80 %."
            self.fault(place, f"“{typed}” is no share.", remedy)
        return share

    def once_each(
        self, part: str, ids: Sequence[str], key: str = "id", remedy: str = "Change one of them."
    ) -> None:
        """Note every id that was given before."""
        first_at: dict[str, int] = {}
        for number, id_ in enumerate(ids):
            if id_ in first_at:
                _, earlier = self.place((part, first_at[id_]))
                what = f"“{id_}” is taken by number {int(earlier) + 1} already."
                self.fault((part, number, key), what, remedy)
            elif id_ in self.lost_ids:
                self.fault((part, number, key), f"“{id_}” is used twice.", remedy)
            first_at.setdefault(id_, number)

    def food(self, place: Place, word: str) -> str:
        """Give the id of the food that a word stands for; an unknown one is a fault.

        Where a crop was named, its foods are offered.
        """
        if self.known and word.casefold() not in self.known.foods:
            crop = self.known.crops.get(word.casefold(), "")
            foods = self.known.foods_of_crop.get(crop)
            if foods:
                what = f"“{word}” is a crop, not a food."
                self.fault(place, what, one_of(sorted(foods)))
                return word
        return self._id_of(place, word, "food", self.known.foods if self.known else None)

    def kind(self, place: Place, word: str) -> str:
        """Give the id of the kind that a word stands for; an unknown one is a fault."""
        return self._id_of(place, word, "kind", self.known.kinds if self.known else None)

    def crop(self, place: Place, word: str) -> str:
        """Give the id of the crop that a word stands for; an unknown one is a fault."""
        return self._id_of(place, word, "crop", self.known.crops if self.known else None)

    def family(self, place: Place, word: str) -> str:
        """Give the id of the family that a word stands for; an unknown one is a fault."""
        return self._id_of(place, word, "family", self.known.families if self.known else None)

    def plant(self, place: Place, word: str) -> str:
        """Give the id of the kind, crop or, failing those, family that a word stands for."""
        known = self.known
        all_three = {**known.families, **known.crops, **known.kinds} if known else None
        return self._id_of(place, word, "kind, crop or family", all_three)

    def disease(self, place: Place, word: str) -> str:
        """Give the id of the disease that a word stands for; an unknown one is a fault."""
        return self._id_of(place, word, "disease", self.known.diseases if self.known else None)

    def food_or_kind(self, place: Place, word: str) -> str:
        """Give the id of the food or, failing that, the kind that a word stands for."""
        both = {**self.known.kinds, **self.known.foods} if self.known else None
        return self._id_of(place, word, "food or kind", both)

    def methods(self, kind: str) -> frozenset[str] | None:
        """Give the methods of a kind; None where they are not known."""
        return self.known.methods.get(kind) if self.known else None

    def _id_of(self, place: Place, word: str, noun: str, known: Mapping[str, str] | None) -> str:
        """Give the id that a word stands for; where nothing is known, the word itself."""
        if known is None or word.casefold() in known:
            return word if known is None else known[word.casefold()]
        if word in self.lost_ids:
            return word
        named = "Choose a name from the list of crops."
        if noun == "disease":
            named = f"Name one of these: {', '.join(sorted(set(known.values())))}."
        remedy = suggest(word, known, named)
        self.fault(place, f"haulm knows no {noun} “{word}”.", remedy)
        return word

    def one_of_ours(self, place: Place, word: str, ids: Sequence[str], noun: str) -> None:
        """Note a bed or store named that this garden does not have."""
        if word not in ids and word not in self.lost_ids:
            self.fault(
                place,
                f"this garden has no {noun} “{word}”.",
                suggest(word, ids, f"Name a {noun} of this garden, or add this one."),
            )

    def not_below_nothing(self, place: Place, number: float) -> None:
        """Note a number under 0."""
        if number < 0:
            self.fault(place, f"{number:g} is less than nothing.", AT_LEAST_NOTHING)

    def stop_at_faults(self) -> None:
        """Raise everything noticed if a fault is among it.

        Raises
        ------
        FaultsFoundError
            With every finding so far.
        """
        if faults(self.findings):
            raise FaultsFoundError(self.findings)


def _above_nothing(parse: Callable[[Typed, str], float], typed: Typed, where: str) -> float:
    """Read an amount; of one under nothing it is said that nothing would not do either."""
    try:
        return parse(typed, where)
    except FaultsFoundError as error:
        told = [
            replace(one, remedy=ABOVE_NOTHING) if one.remedy == AT_LEAST_NOTHING else one
            for one in error.findings
        ]
        raise FaultsFoundError(told) from None
