"""The look-out at the desk: what is told, seen and sown of a garden, and nothing made up."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from itertools import count
from pathlib import Path

import pytest

from haulm.desk.at_hand import AtHand
from haulm.desk.beds.ground import closures_told
from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.plans import plan_garden
from haulm.desk.season.ahead import TypedAhead, tell_ahead
from haulm.desk.season.diary import take_back, write_entry
from haulm.desk.season.diary_typed import TypedEntry, Written
from haulm.desk.season.watch import asking_of, watch_of
from haulm.desk.season.watch_asked import Asking
from haulm.desk.season.watch_blight import blight_lines, untold_blight
from haulm.desk.season.watch_standing import told_of
from haulm.ground.records import DiseaseFound
from haulm.plan.records import Plan, Planting
from haulm.planner.solve import EFFORTS
from haulm.season.ahead import DayAhead
from haulm.season.blight_rules import BlightBy
from haulm.season.records import key_of
from haulm.season.watch_records import Heed, LookOut, Watch, WatchMeans

AT = datetime(2027, 1, 1, tzinfo=UTC)
_numbers = count(1)


class Garden:
    """A planned garden that is told things, and asked what to look out for."""

    def __init__(self, path: Path) -> None:
        self.path = path

    @property
    def plan(self) -> Plan:
        """Give its plan."""
        made = AtHand(self.path, lambda: date(2027, 2, 1)).unlaid
        assert made is not None
        return made.plan

    def of(self, crop: str) -> Planting:
        """Give its first planting of a crop."""
        return next(one for one in self.plan.plantings if one.crop == crop)

    def tell(self, day: date, **figures: str) -> None:
        """Tell a forecast."""
        at = AT + timedelta(minutes=next(_numbers))
        tell_ahead(self.path, TypedAhead(day.isoformat(), **figures), "metric", at)

    def write(self, kind: str, day: date, **said: str) -> None:
        """Write an entry."""
        written = Written(f"e{next(_numbers):04}", AT, "laptop")
        write_entry(self.path, TypedEntry(kind, day.isoformat(), **said), written, day)

    def watch(self, day: date) -> Watch:
        """Ask what to look out for."""
        found = watch_of(AtHand(self.path, lambda: day), day)
        assert found is not None
        return found

    def lines(self, day: date, about: Heed) -> list[LookOut]:
        """Give the lines about one thing."""
        return [line for line in self.watch(day).lines if line.about is about]


@pytest.fixture
def garden(planned: Path) -> Garden:
    """Give the small garden, planned."""
    return Garden(planned)


def test_a_tender_bed_is_covered_and_a_hardy_one_is_safe(garden: Garden) -> None:
    """With 0 °C forecast, beans that are out are on the list by name of their bed, and garlic and
    onions are not; the line says until when.
    """
    bean = garden.of("french bean")
    day = bean.in_ground_from + timedelta(days=21)
    start = "set out" if bean.sow_on < bean.set_on else "sown"
    garden.write(start, bean.in_ground_from, planting=key_of(bean))
    garden.write("emerged", day - timedelta(days=1), planting=key_of(bean))
    garden.tell(day + timedelta(days=1), tmin="0")
    (line,) = garden.lines(day, Heed.FROST)
    bed = next(one.name for one in garden.plan.beds if one.id == bean.bed)
    assert line.what.startswith(f"Frost tonight: cover {bed}")
    assert "by 16:00" in line.what
    assert line.by == day
    said = " ".join(line.why)
    assert "bean" in said
    assert "garlic" not in said
    assert any("fleece" in words for words in line.do)


def frosty_beans(garden: Garden, by: WatchMeans) -> LookOut:
    """Give the line about frost in a night that kills the beans, with some fleece told."""
    bean = garden.of("french bean")
    day = bean.in_ground_from + timedelta(days=21)
    start = "set out" if bean.sow_on < bean.set_on else "sown"
    garden.write(start, bean.in_ground_from, planting=key_of(bean))
    garden.write("emerged", day - timedelta(days=1), planting=key_of(bean))
    garden.tell(day + timedelta(days=1), tmin="-1")
    found = watch_of(AtHand(garden.path, lambda: day), day, by)
    assert found is not None
    return next(line for line in found.lines if line.about is Heed.FROST)


@pytest.mark.parametrize(
    ("fleece_m2", "words"),
    [
        (None, "whether it is enough cannot be said"),
        (1000.0, "there is covers all of it"),
        (0.0, "and there is none: lay sheets"),
        (0.25, "and there is 0.25 m²: first where it saves most, 0.25 m² of the"),
    ],
)
def test_it_is_said_whether_the_fleece_there_is_covers_what_needs_it(
    garden: Garden, fleece_m2: float | None, words: str
) -> None:
    """Told how much there is, it is said whether it is enough, and where it goes if it is not; not
    told, that is said, and never taken for none or for enough.
    """
    line = frosty_beans(garden, WatchMeans(fleece_m2=fleece_m2))
    assert words in " ".join(line.do)
    short = fleece_m2 is not None and fleece_m2 < 1
    assert ("not fleece enough" in line.what) == short


def test_a_mild_night_says_nothing(garden: Garden) -> None:
    """At 12 °C nothing is to be covered."""
    day = garden.of("french bean").in_ground_from + timedelta(days=21)
    garden.tell(day + timedelta(days=1), tmin="12")
    assert garden.lines(day, Heed.FROST) == []


def test_nothing_tender_in_the_ground_is_nothing_said(garden: Garden) -> None:
    """In February only garlic stands: ten degrees of frost threaten nothing, and are not told."""
    day = date(2027, 2, 3)
    garden.tell(day + timedelta(days=1), tmin="-10")
    watch = garden.watch(day)
    assert [line for line in watch.lines if line.about is Heed.FROST] == []
    assert not any("Frost" in words for words in watch.untold)


def test_what_was_cleared_stands_no_more(garden: Garden) -> None:
    """After frost took the beans and their bed was cleared, no night threatens them."""
    bean = garden.of("french bean")
    day = bean.in_ground_from + timedelta(days=21)
    for one in garden.plan.plantings:
        if one.crop == "french bean":
            garden.write("cleared", day - timedelta(days=1), planting=key_of(one))
    garden.tell(day + timedelta(days=1), tmin="-1")
    assert garden.lines(day, Heed.FROST) == []


def test_white_rot_closes_its_bed_and_goes_last_on_the_round(garden: Garden) -> None:
    """White rot seen in the north bed: no onion family for twenty years and more; what is sound is
    eaten; tools are cleaned after that bed.
    """
    day = date(2027, 6, 20)
    garden.write("trouble seen", day, bed="north", trouble="white rot", severity="bad")
    seen, *trays, round_ = garden.lines(day, Heed.SEEN)
    assert "white rot, bad" in seen.what
    assert all("North is closed to what is in trays for it" in one.what for one in trays)
    assert any("no onion family until 2048" in words for words in seen.why)
    assert any("eat" in words for words in seen.do)
    assert "North last" in round_.what
    assert any("Clean tools and boots after North" in words for words in round_.do)


def test_what_is_in_trays_for_a_closed_bed_is_not_set_out_there(garden: Garden) -> None:
    """White rot is seen while leeks or onions stand in trays for that bed: they are named, and
    told to go elsewhere, until the day on which they were to be set out.
    """
    one = next(
        one
        for one in garden.plan.plantings
        if one.family == "onion" and one.sow_on < one.in_ground_from - timedelta(days=7)
    )
    day = one.in_ground_from - timedelta(days=7)
    garden.write("trouble seen", day, bed=one.bed, trouble="white rot", severity="bad")
    told = [line for line in garden.lines(day, Heed.SEEN) if "in trays for it" in line.what]
    assert len(told) == 1
    assert "do not set out" in told[0].what
    assert any("no onion family until" in words for words in told[0].why)
    later = garden.lines(one.in_ground_from + timedelta(days=70), Heed.SEEN)
    assert not any(one.kind in line.what for line in later)


def test_rust_closes_no_bed(garden: Garden) -> None:
    """Rust goes by the air: leaves are stripped, shafts are eaten, the soil is not closed."""
    day = date(2027, 10, 1)
    garden.write("trouble seen", day, bed="north", trouble="Rust", severity="slight")
    seen = garden.lines(day, Heed.SEEN)[0]
    assert "strip the lowest leaves" in seen.what
    assert seen.why == ()
    assert "sound" in " ".join(seen.do)


def test_a_trouble_nobody_knows_is_only_repeated(garden: Garden) -> None:
    """Of the grower's own word no advice is made up."""
    day = date(2027, 6, 20)
    garden.write("trouble seen", day, bed="north", trouble="grey fluff")
    seen = garden.lines(day, Heed.SEEN)[0]
    assert "grey fluff" in seen.what
    assert seen.sources == ()


def sown(garden: Garden, ask: Callable[[Planting], date]) -> tuple[Planting, list[LookOut]]:
    """Write a sowing in place, and give what is said of it on a day."""
    one = next(one for one in garden.plan.plantings if one.method == "direct" and not one.standing)
    garden.write("sown", one.sow_on, planting=key_of(one))
    return one, garden.lines(ask(one), Heed.NOT_UP)


def test_a_sowing_is_given_its_time(garden: Garden) -> None:
    """Three days after sowing nothing is missed."""
    assert sown(garden, lambda one: one.sow_on + timedelta(days=3))[1] == []


def test_a_sowing_that_failed_is_told_with_what_is_lost(garden: Garden) -> None:
    """Weeks after it should have shown it is asked after: sow again, or it is too late and why. A
    thinning says that it is up.
    """
    one, _ = sown(garden, lambda one: one.sow_on)
    days = [one.sow_on + timedelta(days=number) for number in range(90)]
    told = {day: lines for day in days[10::5] if (lines := garden.lines(day, Heed.NOT_UP))}
    line = list(told.values())[-1][0]
    assert "no word says that" in line.what.casefold()
    assert any("sow again" in words or "too late" in words for words in (line.what, *line.why))
    assert min(told) > one.sow_on + timedelta(days=5)
    assert any("lost" in words for words in line.why)
    assert any("haulm follow" in words for words in line.do)
    garden.write("thinned", one.sow_on + timedelta(days=9), planting=key_of(one))
    assert garden.lines(max(told), Heed.NOT_UP) == []


def test_what_can_no_longer_be_sown_shares_one_line(garden: Garden) -> None:
    """All that should long have come up, and is not to be sown again, is told in one line, not in
    one for each sowing.
    """
    direct = [p for p in garden.plan.plantings if p.method == "direct" and not p.standing]
    for one in direct:
        garden.write("sown", one.sow_on, planting=key_of(one))
    first = min(one.sow_on for one in direct)
    days = [first + timedelta(days=number) for number in range(10, 160, 5)]
    told = [garden.lines(day, Heed.NOT_UP) for day in days]
    past = [[line for line in lines if line.by is None] for lines in told]
    assert any(past)
    assert all(len(lines) <= 1 for lines in past)


def test_a_thin_stand_is_counted(garden: Garden) -> None:
    """Half of the plants are too few, and nine in ten are enough."""
    one, _ = sown(garden, lambda one: one.sow_on)
    day = one.sow_on + timedelta(days=30)
    garden.write("emerged", day, planting=key_of(one), amount=f"{round(0.5 * one.plants)} plants")
    (line,) = garden.lines(day, Heed.NOT_UP)
    assert f"of {one.plants}" in line.what
    garden.write("emerged", day, planting=key_of(one), amount=f"{round(0.95 * one.plants)} plants")
    assert garden.lines(day, Heed.NOT_UP) == []


def test_a_cleared_bed_clears_what_had_been_started_there(garden: Garden) -> None:
    """A bed cleared without a name of what: all that was in the ground is gone, what is yet to
    come is not.
    """
    plan = garden.plan
    one = plan.plantings[0]
    day = one.in_ground_from + timedelta(days=10)
    garden.write("cleared", day, bed=one.bed)
    entries = AtHand(garden.path, lambda: day).diary.entries
    told = told_of(plan, entries, day)
    for planting in plan.plantings:
        there = planting.bed == one.bed and planting.in_ground_from <= day
        assert (told[planting.id].ended == day) is there


def ripe(garden: Garden) -> tuple[Planting, date]:
    """Give the garlic or onions that are lifted first, and the day they are ready in half of the
    years.
    """
    one = next(one for one in garden.plan.plantings if one.crop in {"garlic", "onion"})
    return one, max(ready.middle for ready in one.ready)


def test_leaves_that_were_counted_and_dry_days_make_a_window(garden: Garden) -> None:
    """Leaves say that it is ready, Tuesday to Thursday are told dry: that is when it is lifted."""
    one, day = ripe(garden)
    said = {"green": "5", "brown": "4"} if one.crop == "garlic" else {"down": "60 %"}
    garden.write("looked at", day, planting=key_of(one), **said)
    for ahead, rain in enumerate(("5", "0", "0.4", "0", "9")):
        garden.tell(day + timedelta(days=ahead), rain=rain)
    line = next(w for w in garden.lines(day, Heed.READY) if "ready to lift" in w.what)
    first, last = day + timedelta(days=1), day + timedelta(days=3)
    assert f"3-day dry window: {first:%a} {first.day}" in line.what
    assert line.by == last
    assert any("Looked at" in words for words in line.why)


def test_what_is_not_ready_is_left_in_peace_for_a_week(garden: Garden) -> None:
    """Looked at yesterday and not ready it is not spoken of; two weeks later it is again."""
    one, day = ripe(garden)
    said = {"green": "9", "brown": "1"} if one.crop == "garlic" else {"down": "10"}
    garden.write("looked at", day, planting=key_of(one), **said)
    bed = next(bed.name for bed in garden.plan.beds if bed.id == one.bed)
    name = one.crop
    about = [w.what for w in garden.lines(day + timedelta(days=1), Heed.READY)]
    assert not any(what.startswith(f"{bed}: ") and name in what for what in about)


def test_dry_days_that_were_not_told_are_not_promised(garden: Garden) -> None:
    """Without a word of rain it is said that dry days are not told."""
    one, day = ripe(garden)
    said = {"green": "5", "brown": "4"} if one.crop == "garlic" else {"down": "60"}
    garden.write("looked at", day, planting=key_of(one), **said)
    assert any("is not told" in line.what for line in garden.lines(day, Heed.READY))


def test_a_disease_in_the_diary_closes_its_bed_to_the_next_plan(garden: Garden) -> None:
    """White rot seen in the north bed stands with what was found there: no onion or garlic enters
    it for twenty years, and the plan's notes say so; taken back it is open again.
    """
    day = date(2027, 1, 31)
    before = open_garden(garden.path).garden
    assert next(bed for bed in before.beds if bed.id == "north").found == ()
    garden.write("trouble seen", day, bed="north", trouble="white rot", severity="bad")
    opened = open_garden(garden.path)
    north = next(bed for bed in opened.garden.beds if bed.id == "north")
    assert north.found == (DiseaseFound("white rot", 2027),)
    told = closures_told(opened.garden, opened.catalogue)
    assert any("North: no onion family until 2048" in note.what for note in told)
    (entry,) = AtHand(garden.path, lambda: day).diary.entries
    take_back(garden.path, entry.id, Written("back", AT, "laptop"))
    assert next(b for b in open_garden(garden.path).garden.beds if b.id == "north").found == ()


def test_the_next_plan_keeps_out_of_a_bed_the_diary_closed(garden: Garden) -> None:
    """Planned again after white rot was seen in the only bed that was open to the onion family,
    nothing new of it is set anywhere.
    """
    garden.write("trouble seen", date(2027, 1, 31), bed="north", trouble="white rot")
    made = plan_garden(garden.path, date(2027, 2, 1), EFFORTS["quick"], 1, propose=True)
    new = [one for one in made.plan.plantings if not one.standing and one.family == "onion"]
    assert new == []
    assert any("white rot found 2027" in note.what for note in made.plan.findings)


def in_blight_weather(garden: Garden, by: WatchMeans, humid_hours: float) -> Asking:
    """Give what is asked about on a day in June on which potatoes stand, with two warm days told
    of so many humid hours each.
    """
    day = date(2027, 6, 20)
    hand = AtHand(garden.path, lambda: day)
    made = hand.unlaid
    assert made is not None
    asking = asking_of(hand, made, day, by)
    potato = replace(asking.stands[0].planting, crop="potato", under_cover=False)
    ahead = tuple(
        DayAhead(day - timedelta(days=back), AT, tmin_c=12.0, tmax_c=18.0, humid_hours=humid_hours)
        for back in (1, 0)
    )
    stands = (replace(asking.stands[0], planting=potato, up=1.0),)
    return replace(asking, stands=stands, ahead=ahead, hours=())


def test_blight_is_told_by_the_rules_the_garden_chose(garden: Garden) -> None:
    """Two nights at 12 °C with eight humid hours meet the Hutton Criteria (six), not the Smith
    Period (eleven): who goes by Smith alone is not warned, and hears of no other rule.
    """
    both = in_blight_weather(garden, WatchMeans(), 8.0)
    (line,) = blight_lines(both)
    assert "Hutton Criteria met" in line.what
    assert any("Smith Period: not met" in words for words in line.why)
    smith = in_blight_weather(garden, WatchMeans((BlightBy.SMITH,)), 8.0)
    assert list(blight_lines(smith)) == []
    assert list(untold_blight(smith)) == []
    hutton = in_blight_weather(garden, WatchMeans((BlightBy.HUTTON,)), 12.0)
    (line,) = blight_lines(hutton)
    assert not any("Smith" in words for words in (*line.why, *line.sources))


def test_rules_that_want_hours_say_so_where_none_are_told(garden: Garden) -> None:
    """Who goes by the Irish Rules alone is told that they want temperature and humidity by the
    hour, though humid hours of the day are told.
    """
    irish = in_blight_weather(garden, WatchMeans((BlightBy.IRISH,)), 8.0)
    assert list(blight_lines(irish)) == []
    (words,) = untold_blight(irish)
    assert "not told by the hour" in words
