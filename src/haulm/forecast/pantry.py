"""The household's stores through many seasons at once: food put by, rotting, and eaten."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from haulm.catalogue.records import Form
from haulm.forecast.records import Floats
from haulm.forecast.store_plan import sound_since
from haulm.larder.records import KeepRule, StorePlace
from haulm.plan.records import Lot

NOTHING_KG = 1e-9


@dataclass(slots=True, eq=False)
class Batch:
    """Food put by in one week: its age at week 0 less what it has been put by since, and its kg.

    ``kg`` is as put by and not yet taken out, rotten or sound, shape (seasons,) [kg].
    """

    put_by_week: int
    age_before: int
    kg: Floats


@dataclass(slots=True, eq=False)
class Shelf:
    """One kind's food in one form and place, batch by batch, oldest first.

    ``seed_kg`` is what is still to be kept back of it as planting stock, shape (seasons,) [kg].
    """

    rule: KeepRule
    seed_kg: Floats
    batches: list[Batch] = field(default_factory=list)
    sound: dict[tuple[int, int], Floats] = field(default_factory=dict)


class Pantry:
    """All shelves of a household, in as many seasons as are lived through at once."""

    def __init__(
        self,
        rules: Sequence[KeepRule],
        stores: Sequence[StorePlace],
        ageing: Mapping[str, Floats],
        seasons: int,
    ) -> None:
        """Set up empty shelves; ``ageing`` is how fast food ages by store, shape (seasons,) [1]."""
        self._seasons = seasons
        self._ageing = ageing
        self._room = {store.id: store.capacity_l for store in stores}
        self._used = {store.id: np.zeros(seasons) for store in stores}
        self.shelves: dict[tuple[str, str, str, str], Shelf] = {
            (rule.food, rule.kind, rule.form, rule.place): Shelf(rule, np.zeros(seasons))
            for rule in rules
        }

    def lay_in(self, lots: Iterable[Lot]) -> None:
        """Lay in what was in store when the plan was made, and mark what is to be kept as seed."""
        for lot in lots:
            shelf = self.shelves.get((lot.food, lot.kind, lot.form, lot.place)) or self._own(lot)
            if lot.in_hand:
                kg = np.full_like(shelf.seed_kg, lot.kg_in)
                shelf.batches.append(Batch(0, lot.age_weeks, kg))
                self._used[lot.place] += kg * lot.space_l_kg
            if lot.seed_kg and lot.seed_week is not None:
                shelf.seed_kg += lot.seed_kg / float(sound_since(lot, np.array([lot.seed_week]))[0])

    def _own(self, lot: Lot) -> Shelf:
        """Give a lot of a kind that nobody knows, or that cannot be put by here, its own shelf."""
        rule = KeepRule(
            lot.food,
            lot.kind,
            Form(lot.form),
            lot.place,
            0,
            lot.sound,
            lot.space_l_kg,
            lot.work_min_kg,
        )
        shelf = Shelf(rule, np.zeros(self._seasons))
        self.shelves[lot.food, lot.kind, lot.form, lot.place] = shelf
        return shelf

    def put_by(self, shelf: Shelf, week: int, kg: Floats) -> Floats:
        """Put food by as far as there is room; give what was put by, shape (seasons,) [kg]."""
        place, space = shelf.rule.place, shelf.rule.space_l_kg
        room = self._room[place]
        taken = kg
        if room is not None and space > 0:
            taken = np.clip(room - self._used[place], 0.0, kg * space) / space
        if taken.max(initial=0.0) <= NOTHING_KG:
            return np.zeros_like(kg)
        seed = np.minimum(taken, shelf.seed_kg)
        shelf.seed_kg -= seed
        self._used[place] += taken * space
        shelf.batches.append(Batch(week, 0, taken - seed))
        return taken

    def eat(self, food: str, week: int, wanted: Floats) -> Floats:
        """Take food out of store, what keeps least first, then what is oldest; give it [kg]."""
        left = wanted.copy()
        for shelf in sorted(self._of(food), key=lambda shelf: len(shelf.rule.sound)):
            used = self._used[shelf.rule.place]
            for batch in shelf.batches:
                if week - batch.put_by_week < shelf.rule.wait_weeks and not batch.age_before:
                    continue
                sound = self._sound(shelf, batch, week)
                taken = np.minimum(left, batch.kg * sound)
                gone = np.divide(taken, sound, out=np.zeros_like(taken), where=sound > 0)
                batch.kg -= gone
                used -= gone * shelf.rule.space_l_kg
                left -= taken
            shelf.batches = [b for b in shelf.batches if b.kg.max(initial=0.0) > NOTHING_KG]
        return wanted - left

    def sound_kg(self, food: str, week: int) -> Floats:
        """Give what is sound of a food at the end of a week, in all stores, shape (seasons,)."""
        kg = np.zeros(self._seasons)
        for shelf in self._of(food):
            for batch in shelf.batches:
                kg += batch.kg * self._sound(shelf, batch, week)
        return kg

    def _of(self, food: str) -> list[Shelf]:
        """Give the shelves on which any of a food lies."""
        return [s for s in self.shelves.values() if s.rule.food == food and s.batches]

    def clear_rotten(self, week: int) -> None:
        """Throw out what is past keeping in every season, and give back its room."""
        for shelf in self.shelves.values():
            fastest = self._ageing[shelf.rule.place].max()
            kept = []
            for batch in shelf.batches:
                age = batch.age_before + (week - batch.put_by_week) * fastest
                if age <= len(shelf.rule.sound) - 1:
                    kept.append(batch)
                    continue
                gone = np.where(self._sound(shelf, batch, week) > 0, 0.0, batch.kg)
                batch.kg -= gone
                self._used[shelf.rule.place] -= gone * shelf.rule.space_l_kg
                if batch.kg.max(initial=0.0) > NOTHING_KG:
                    kept.append(batch)
            shelf.batches = kept

    def _sound(self, shelf: Shelf, batch: Batch, week: int) -> Floats:
        """Give the sound share of a batch against the day it was put by, or first counted."""
        key = (week - batch.put_by_week, batch.age_before)
        if key not in shelf.sound:
            ages = batch.age_before + key[0] * self._ageing[shelf.rule.place]
            table = np.asarray(shelf.rule.sound)
            share = np.interp(ages, np.arange(table.size), table, right=0.0)
            start = table[batch.age_before] if batch.age_before < table.size else 1.0
            shelf.sound[key] = share / start
        return shelf.sound[key]
