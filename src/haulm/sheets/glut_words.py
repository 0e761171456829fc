"""A glut in words: how much is over, and what may be done with it; never a time for preserving."""

from collections.abc import Callable

from haulm.measure.day_words import day_text
from haulm.measure.sentences import capital, listed
from haulm.measure.units import Units, show_mass
from haulm.season.gluts import NOTHING_KG, Glut, OtherUses, OtherWay, PlantedOn
from haulm.sheets.wording import figure, shown_a_kg

NO_TIMES = "by current, officially tested recipes alone: haulm gives no times"
BY_RECIPE = frozenset({"bottled", "fermented", "dried"})
"""Forms that are made by a tested recipe."""
DOING = {
    "frozen": "Freeze it",
    "fermented": "Ferment it",
    "dried": "Dry it",
    "bottled": "Bottle it",
    "cellared": "Cellar it",
    "clamped": "Clamp it",
    "cured": "Cure it",
}


class GlutWords:
    """Puts gluts into words, by the foods' display names, in a garden's units."""

    def __init__(self, name: Callable[[str], str], told_in: str) -> None:
        self._name = name
        self._units: Units = "us" if told_in == "us" else "metric"

    def over(self, glut: Glut) -> str:
        """Say how much of a food is more than is eaten, put by or given."""
        name, over = capital(self._name(glut.food)), show_mass(glut.over_kg, self._units)
        if glut.picked_kg is None:
            return f"{name}: the plan has {over} more than is eaten and put by."
        picked = show_mass(glut.picked_kg, self._units)
        return f"{name}: {picked} picked by the diary, {over} more than is eaten, put by or given."

    def uses(self, uses: OtherUses) -> tuple[str, ...]:
        """Say what may be done with it: let stand, kept, planted, given."""
        said = []
        if uses.stands:
            said.append("What is not picked yet may stand until it is wanted.")
        said += [self._kept(way) for way in uses.keeps]
        if uses.otherwise:
            said.append(f"{uses.otherwise} haulm gives no times.")
        elif not uses.keeps:
            said.append("haulm knows no other way to keep it in the stores there are.")
        if uses.planted is not None:
            said.append(self._planted(uses.planted))
        said.append("Give some away while it is good, and write that down.")
        return tuple(said)

    def _kept(self, way: OtherWay) -> str:
        doing = DOING.get(way.form, f"Keep it {way.form}")
        if way.room_kg is not None and way.room_kg <= NOTHING_KG:
            return f"{doing}: by the plan there is no room in {way.store} this week."
        recipe = f", {NO_TIMES}" if way.form in BY_RECIPE else ""
        room = ""
        if way.room_kg is not None:
            room = f", which by the plan has room for {show_mass(way.room_kg, self._units)}"
        weeks = round(way.keeps_weeks)
        return f"{doing}{recipe}; in {way.store}{room}; nine tenths of it keep about {weeks} weeks."

    def _planted(self, planted: PlantedOn) -> str:
        if planted.barred:
            seen = "; ".join(f"{what} was seen on {day_text(day)}" for what, day in planted.barred)
            return f"Plant none of it: {seen}."
        each = planted.units_a_kg / shown_a_kg(self._units)
        measure = "pound" if self._units == "us" else "kilogram"
        told = f"Put some by to plant: a {measure} gives about {figure(each, 2)} {planted.unit}s"
        if planted.not_after:
            told += f"; none where its plants had any of {listed(planted.not_after)}"
        return f"{told}."
