"""The larder's books: what lies in store, seed apart, what to eat first, how fast, until when."""

from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import quote, urlencode

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.catalogue.caution_records import Deed
from haulm.catalogue.cautions import cautions_for
from haulm.desk.at_hand import AtHand
from haulm.desk.garden.editing import stamp
from haulm.desk.season.larder_books import LarderBooks, LotTold, tell_larder
from haulm.desk.season.larder_papers import first_of, limit_of, strip_pdf
from haulm.desk.season.larder_words import weighing_sentence
from haulm.desk.season.store_counts import checks_of
from haulm.desk.table.cautions import ages_at_table
from haulm.season.curing import Hung, curings, rack_m2
from haulm.season.ledger_records import Counted
from haulm.season.records import Purpose
from haulm.season.use_of_store import Advice
from haulm.sheets.glut_words import GlutWords
from haulm.sheets.rack_words import rack_words
from haulm.web.paper import paper_of
from haulm.web.reader import Reader
from haulm.web.show import page, reader_of, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import ngettext, noted

ADVICE = {
    Advice.SLOWER: noted("Slow down."),
    Advice.FASTER: noted("Speed up, or give some away."),
    Advice.GO_ON: noted("Go on like this."),
}
PURPOSES = {
    Purpose.EAT: noted("to eat"),
    Purpose.PLANT: noted("to plant"),
    Purpose.GIVE: noted("to give"),
}
LEAST_KG = 0.005
FEW_LOTS = 8
"""Up to so many lots stand open on the page; of more only what there is of each food."""


@dataclass(frozen=True, slots=True)
class FoodThere:
    """What lies in store of a food, lot by lot, the oldest first."""

    food: str
    lots: tuple[LotTold, ...]

    @property
    def sound_kg(self) -> float:
        """What is thought sound of it today [kg]."""
        return sum(told.sound_kg for told in self.lots)

    @property
    def with_seed(self) -> bool:
        """Whether some of it is not for the kitchen."""
        return any(
            told.lot.purpose is not Purpose.EAT or told.kept_kg > LEAST_KG for told in self.lots
        )


def show(request: Request) -> Response:
    """Show the books as they stand today."""
    garden = shelf_of(request).garden
    books = books_at_hand(garden)
    reader = reader_of(request)
    kept_otherwise = any(one.lot.aside_kg > LEAST_KG for one in books.lots)
    return page(
        request,
        "larder_books.html",
        here="/larder/books",
        books=books,
        newest=books.told_now,
        earlier=books.told_before,
        there=by_food(told for told in books.lots if told.sound_kg > LEAST_KG),
        gone=[told for told in books.lots if told.sound_kg <= LEAST_KG],
        advice=ADVICE,
        few_lots=FEW_LOTS,
        purposes=PURPOSES,
        limit=lambda line: limit_of(line, books),
        first=lambda line: first_of(line, books),
        sound=lambda told: sound_words(told, reader),
        counted=lambda told: counted_words(told, reader),
        cautions=cautions_for(
            garden.catalogue,
            dict.fromkeys(one.lot.food for one in books.lots),
            (Deed.EAT, Deed.PUT_BY) if kept_otherwise else (Deed.EAT,),
            ages_at_table(garden.opened.garden.household),
        ),
        checks=checks_of(books),
        glut_words=GlutWords(books.name, books.units),
        hung=books.hung_of_late,
        racks=rack_words(books.racks, books.name, books.units) if books.racks else (),
        curings=curings(),
        rack=rack_m2,
        put_by_address=put_by_address,
        down_address=lambda one: f"/diary?{urlencode({'kind': 'cured', 'lot': one.id})}",
        sprouted=books.sprouted,
        weighed_apart=[weighing_sentence(one, books) for one in books.weighing if one.parts],
        weighed_at_one=[weighing_sentence(one, books) for one in books.weighing if not one.parts],
        least=LEAST_KG,
    )


def print_strip(request: Request) -> Response:
    """Give the strip for the fridge door as a PDF."""
    garden = shelf_of(request).garden
    made = strip_pdf(books_at_hand(garden), garden.opened, paper_of(request))
    headers = {"Content-Disposition": f"inline; filename*=UTF-8''{quote('fridge-strip.pdf')}"}
    return Response(made, media_type="application/pdf", headers=headers)


def books_at_hand(garden: AtHand) -> LarderBooks:
    """Give the books as of today, told once for what is written in the notebook."""
    made = garden.unlaid
    plan = made.plan if made else None
    key = (garden.day, stamp(garden.path))
    return garden.once(
        "larder books",
        key,
        lambda: tell_larder(garden.opened, plan, garden.books, garden.diary.entries),
    )


def put_by_address(one: Hung) -> str:
    """Give the address at which what was cured is put by, filled in as far as it can be."""
    said = {"kind": "put by", "food": one.food, "crop_kind": one.kind, "form": "cured"}
    said |= {"store": one.store, "lot": one.id}
    return f"/diary?{urlencode({key: value for key, value in said.items() if value})}"


def by_food(lots: Iterable[LotTold]) -> list[FoodThere]:
    """Gather lots by their food, the food of the oldest first."""
    found: dict[str, list[LotTold]] = {}
    for told in sorted(lots, key=lambda told: told.lot.put_by):
        found.setdefault(told.lot.food, []).append(told)
    return [FoodThere(food, tuple(some)) for food, some in found.items()]


def sound_words(told: LotTold, reader: Reader) -> str:
    """Write what is sound of a lot, and between what it lies in 8 years of 10."""
    low, high = reader.mass(told.low_kg), reader.mass(told.high_kg)
    if low == high:
        return reader.mass(told.sound_kg)
    words = _("%(sound)s (%(low)s to %(high)s)")
    return words % {"sound": reader.mass(told.sound_kg), "low": low, "high": high}


def counted_words(told: LotTold, reader: Reader) -> str:
    """Write what the last count found, and whether books and count parted there."""
    counts = told.lot.counts
    if not counts:
        return _("not yet")
    last = counts[-1]
    said = _last_count(last, reader)
    if len(counts) > 1:
        more = ngettext("%(num)d count before", "%(num)d counts before", len(counts) - 1)
        said = f"{said}; {more % {'num': len(counts) - 1}}"
    return said


def _last_count(last: Counted, reader: Reader) -> str:
    day = reader.day(last.day)
    if not last.entry:
        return _("%(kg)s told on %(day)s") % {"kg": reader.mass(last.sound_kg), "day": day}
    found = _("%(sound)s sound on %(day)s") % {"sound": reader.mass(last.sound_kg), "day": day}
    if last.lost_kg > LEAST_KG:
        found += _(", %(lost)s soft or sprouted") % {"lost": reader.mass(last.lost_kg)}
    if last.apart:
        found += _("; the books had %(books)s") % {"books": reader.mass(last.books_kg)}
    return found


routes = [
    Route("/larder/books", show),
    Route("/larder/strip.pdf", print_strip),
]
