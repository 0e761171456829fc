"""A garden.toml with faults is answered by all of them, each with its place and its remedy."""

import tomllib
from datetime import date
from pathlib import Path

import pytest

from haulm.catalogue.records import Form, StoreKind
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Grade
from haulm.notebook.names import KnownNames, Way
from haulm.notebook.toml_reader import read_garden_toml, read_toml
from haulm.plan.pins import Pin, PinRule
from haulm.plan.state import Became, Noted
from haulm.site.records import MonthlyNormals

KNOWN = KnownNames(
    crops={"potato": "potato", "garlic": "garlic", "mizuna": "mizuna"},
    kinds={"garlic/hard-necked": "garlic/hard-necked", "potato/early": "potato/early"},
    foods={"garlic": "garlic", "potato": "potato", "green garlic": "green garlic"},
    families={"onion": "onion"},
    diseases={"clubroot": "clubroot", "white rot": "white rot"},
    methods={
        "garlic/hard-necked": frozenset({"cloves"}),
        "potato/early": frozenset({"tubers", "modules"}),
    },
    foods_of_kind={
        "garlic/hard-necked": frozenset({"garlic", "green garlic"}),
        "potato/early": frozenset({"potato"}),
    },
    foods_of_crop={"mizuna": frozenset({"mustard greens"})},
    ways=(
        Way("garlic/hard-necked", "garlic", Form.CURED, StoreKind.SHED),
        Way("garlic/hard-necked", "garlic", Form.CURED, StoreKind.SHELF),
    ),
)
DATA = Path(__file__).with_name("data")
SOUND = (DATA / "sound.toml").read_text(encoding="utf-8")
NORMALS = SOUND[SOUND.index("[weather") : SOUND.index("[hours")]
PINS = """
[[pin]]
rule = "keep"
kind = "garlic/hard-necked"
bed = "slate"
method = "cloves"
week = 2027-10-20
area = "2 m2"

[[pin]]
rule = "forbid"
kind = "potato/early"
"""
FAULTY = tomllib.loads((DATA / "faulty.toml").read_text(encoding="utf-8"))


def said(folder: Path, text: str, encoding: str = "utf-8") -> str:
    """Read a garden.toml and give all that was said against it."""
    path = folder / "garden.toml"
    path.write_text(text, encoding=encoding)
    with pytest.raises(FaultsFoundError) as caught:
        read_garden_toml(path, KNOWN)
    return str(caught.value)


def test_a_sound_garden_is_read_without_a_word(tmp_path: Path) -> None:
    """A garden without faults is read in full, in metres and kilograms, with nothing to say."""
    path = tmp_path / "garden.toml"
    path.write_text(SOUND, encoding="utf-8")
    garden, findings = read_garden_toml(path, KNOWN)
    assert findings == ()
    line = garden.household.table[0]
    assert (line.id, line.name, line.foods) == ("garlic", "Garlic", ("garlic",))
    assert (line.kg_week, line.share_to_grow) == (0.3, 0.8)
    assert garden.beds[0].outline.area_m2 == pytest.approx(1.2 * 3.048)
    assert garden.lots[0].kg == pytest.approx(3 * 0.45359237)
    assert garden.stores[0].capacity_l == 400
    assert garden.household.hours_week == (5.0,) * 12


def test_certainty_is_told_in_years_of_ten(tmp_path: Path) -> None:
    """A garden may ask to be sure 8 years in 10, and surer of a line; untold, it asks nothing."""
    path = tmp_path / "garden.toml"
    path.write_text(SOUND, encoding="utf-8")
    untold = read_garden_toml(path, KNOWN)[0].household
    assert (untold.certainty, untold.table[0].certainty) == (None, None)
    surer = SOUND.replace("[place]", "certainty = 8\n\n[place]").replace(
        "[[table]]", "[[table]]\ncertainty = 9.5"
    )
    path.write_text(surer, encoding="utf-8")
    told = read_garden_toml(path, KNOWN)[0].household
    assert (told.certainty, told.table[0].certainty) == (0.8, 0.95)


def test_nobody_can_promise_ten_years_in_ten(tmp_path: Path) -> None:
    """A certainty out of reach, of the garden or of a line, is refused with what could be asked."""
    wrong = SOUND.replace("[place]", "certainty = 10\n\n[place]").replace(
        "[[table]]", "[[table]]\ncertainty = 4"
    )
    lines = said(tmp_path, wrong).splitlines()
    assert {line.split(": ")[1] for line in lines} == {
        "garden.toml, [garden], certainty",
        "garden.toml, [[table]] 1, certainty",
    }
    assert all("Write 5 to 9.5" in line for line in lines)


@pytest.mark.parametrize("case", FAULTY.values(), ids=FAULTY.keys())
def test_a_fault_says_where_and_what_and_how_to_mend_it(
    tmp_path: Path, case: dict[str, str]
) -> None:
    """One thing wrong in a garden gives one fault, at its place, with its remedy."""
    assert case["for"] in SOUND
    assert said(tmp_path, SOUND.replace(case["for"], case["put"], 1)) == case["says"]


def test_every_fault_is_told_at_once(tmp_path: Path) -> None:
    """Faults of every sort in one file are told together, so that mending takes one round."""
    broken = SOUND
    for old, new in [
        ("latitude = 46.4", "latitude = 464"),
        ('"loam"', '"lom"'),
        ("priority = 4", "priority = 6"),
        ('"cured"', '"curd"'),
        ("[4, 0], [4, 2]", "[4, 2], [4, 0]"),
    ]:
        broken = broken.replace(old, new)
    wheres = [line.split(": ")[1] for line in said(tmp_path, broken).splitlines()]
    assert wheres == [
        "garden.toml, [place], soil",
        "garden.toml, [[in_store]] 1, form",
        "garden.toml, [[bed]] 2, corners",
        "garden.toml, [place], latitude",
        "garden.toml, [[table]] 1, priority",
    ]


def test_every_fault_of_one_part_is_told_at_once(tmp_path: Path) -> None:
    """A bed's unknown cover hides neither its width nor its past; what was mistyped is not told to
    be missing as well.
    """
    broken = SOUND.replace('width = "1.2 m"', 'width = "wide"\ncover = "tent"', 1)
    broken = broken.replace("age = 40", 'age = "forty"')
    wheres = [line.split(": ")[1] for line in said(tmp_path, broken).splitlines()]
    assert sorted(wheres) == [
        "garden.toml, [[bed]] 1, cover",
        "garden.toml, [[bed]] 1, width",
        "garden.toml, [[eater]] 1, age",
    ]


def test_a_part_that_cannot_be_read_is_no_second_fault_elsewhere(tmp_path: Path) -> None:
    """A bed with a fault is still a bed of the garden to what stands on it, and keeps its place."""
    broken = SOUND.replace('width = "1.2 m"', "width = true").replace("[4, 2]", '["4 kg", 2]')
    wheres = [line.split(": ")[1] for line in said(tmp_path, broken).splitlines()]
    assert wheres == [
        "garden.toml, [[bed]] 1, width",
        "garden.toml, [[bed]] 2, corners 3",
    ]


def test_a_number_in_quotes_is_read_as_a_number(tmp_path: Path) -> None:
    """A plain number written as a text, with a point or a comma, is the number all the same."""
    path = tmp_path / "garden.toml"
    text = SOUND.replace("latitude = 46.4", 'latitude = "46,4"').replace("= 2026 }", '= "2026" }')
    path.write_text(text.replace("age = 40", 'age = "40"'), encoding="utf-8")
    garden = read_garden_toml(path, KNOWN)[0]
    assert garden.place.latitude_deg == 46.4
    assert garden.beds[0].past[0].year == 2026
    assert garden.household.eaters[0].age == 40


def test_every_fault_has_the_place_of_its_part_as_typed(tmp_path: Path) -> None:
    """A fault's place leads to the field to mend, though parts before it could not be read."""
    path = tmp_path / "garden.toml"
    broken = SOUND.replace('width = "1.2 m"', "width = true").replace("[4, 2]", '["4 kg", 2]')
    path.write_text(broken.replace("put_by = 2026-08-20", ""), encoding="utf-8")
    with pytest.raises(FaultsFoundError) as caught:
        read_garden_toml(path, KNOWN)
    assert [finding.place for finding in caught.value.findings] == [
        ("bed", 0, "width"),
        ("in_store", 0, "put_by"),
        ("bed", 1, "corners", 2),
    ]


def test_the_grid_stands_in_for_weather_and_says_how_far_it_goes(tmp_path: Path) -> None:
    """A garden that takes the world's grid is told its limits; without a height, what is not known
    for the lack of it.
    """
    path = tmp_path / "garden.toml"
    text = SOUND.replace(NORMALS, "[weather]\ngrid = true\n").replace('height = "410 m"\n', "")
    path.write_text(text, encoding="utf-8")
    garden, told = read_garden_toml(path, KNOWN)
    assert isinstance(garden.weather, MonthlyNormals)
    assert garden.place.height_m is None
    assert [(finding.grade, finding.place) for finding in told] == [
        (Grade.NOTE, ("place", "height")),
        (Grade.WARNING, ("weather", "grid")),
    ]


def test_the_grid_has_no_weather_for_the_open_sea(tmp_path: Path) -> None:
    """In the middle of an ocean there is no land to take a climate from, and it is said so."""
    text = SOUND.replace(NORMALS, "[weather]\ngrid = true\n")
    text = text.replace("latitude = 46.4", "latitude = 0").replace(
        "longitude = 8.9", "longitude = -30"
    )
    assert "fault: " in said(tmp_path, text)


def test_pins_are_read_with_their_areas(tmp_path: Path) -> None:
    """A planting is kept in one bed and week with its ground, or a kind forbidden altogether."""
    path = tmp_path / "garden.toml"
    path.write_text(f"{SOUND}\n{PINS}", encoding="utf-8")
    assert read_garden_toml(path, KNOWN)[0].pins == (
        Pin(PinRule.KEEP, "garlic/hard-necked", "slate", "cloves", date(2027, 10, 20), 2.0),
        Pin(PinRule.FORBID, "potato/early"),
    )


def test_pins_of_every_rule_are_read(tmp_path: Path) -> None:
    """So much of a crop in a year, a crop in some beds alone, two that never share a bed."""
    path = tmp_path / "garden.toml"
    more = """
[[pin]]
rule = "at least"
crop = "Potato"
area = "12 m2"
year = 2027

[[pin]]
rule = "only in"
kind = "potato/early"
beds = ["slate"]

[[pin]]
rule = "apart"
crop = "garlic"
apart_from = "potato/early"
"""
    path.write_text(f"{SOUND}\n{more}", encoding="utf-8")
    assert read_garden_toml(path, KNOWN)[0].pins == (
        Pin(PinRule.AT_LEAST, None, area_m2=12.0, crop="potato", year=2027),
        Pin(PinRule.ONLY_IN, "potato/early", beds=("slate",)),
        Pin(PinRule.APART, None, crop="garlic", apart_from="potato/early"),
    )


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        ('rule = "keep"', "[[pin]] 1: nothing is named. Name one kind, one crop or one family."),
        (
            'rule = "forbid"\nkind = "potato/early"\ncrop = "potato"',
            "potato/early and potato are all named.",
        ),
        ('rule = "at least"\ncrop = "potato"', "at least how much is not said."),
        ('rule = "at most"\ncrop = "potato"\narea = "0 m2"', "is nothing."),
        ('rule = "only in"\ncrop = "potato"', "it does not say in which beds alone."),
        ('rule = "only in"\ncrop = "potato"\nbeds = ["slat"]', 'Did you mean "slate"?'),
        ('rule = "only in"\ncrop = "potato"\nbed = "slate"', "Write beds in its place."),
        ('rule = "forbid"\ncrop = "potato"\nbeds = ["slate"]', "beds belong to only in"),
        ('rule = "apart"\ncrop = "potato"', "it does not say from what it is kept apart."),
        (
            'rule = "apart"\ncrop = "potato"\napart_from = "potato"',
            "potato cannot be kept apart from itself.",
        ),
        (
            'rule = "apart"\ncrop = "potato"\napart_from = "garlik"',
            "haulm knows no kind, crop or family “garlik”.",
        ),
        ('rule = "keep"\ncrop = "potato"\napart_from = "garlic"', "apart_from belongs to apart"),
        ('rule = "apart"\ncrop = "potato"\napart_from = "garlic"\narea = 2', "has no area."),
        ('rule = "keep"\ncrop = "potato"\nmethod = "tubers"', "a method belongs to a kind"),
        (
            'rule = "keep"\ncrop = "potato"\nweek = 2027-04-05\nyear = 2027',
            "both week and year are given. Keep one of the two.",
        ),
        ('rule = "at least"\nfamily = "beans"\narea = 2', "haulm knows no family “beans”."),
        ('rule = "at lest"\ncrop = "potato"\narea = 2', "at least"),
    ],
)
def test_a_pin_that_says_too_much_or_too_little_is_told(
    tmp_path: Path, keys: str, told: str
) -> None:
    """Each rule has its keys; what it lacks or cannot have is told with what to do."""
    assert told in said(tmp_path, f"{SOUND}\n[[pin]]\n{keys}\n")


def test_notes_are_read(tmp_path: Path) -> None:
    """A planting that gives half of what was hoped, and a food that is eaten up."""
    path = tmp_path / "garden.toml"
    more = """
[[noted]]
what = "gives"
on = 2027-06-18
kind = "potato/early"
bed = "slate"
share = "50 %"

[[noted]]
what = "eaten up"
on = 2027-06-18
food = "garlic"
"""
    path.write_text(f"{SOUND}\n{more}", encoding="utf-8")
    day = date(2027, 6, 18)
    assert read_garden_toml(path, KNOWN)[0].noted == (
        Noted(Became.GIVES, day, "potato/early", "slate", share=0.5),
        Noted(Became.EATEN_UP, day, food="garlic"),
    )


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        ('what = "failed"\nkind = "potato/early"', "it does not say which planting it is about."),
        (
            'what = "failed"\nkind = "potato/early"\nbed = "slat"',
            'Did you mean "slate"?',
        ),
        ('what = "late"\nkind = "potato/early"\nbed = "slate"', "late needs them"),
        (
            'what = "gives"\nkind = "potato/early"\nbed = "slate"\nshare = "lots"',
            "“lots” is no share of what was hoped.",
        ),
        ('what = "failed"\nfood = "garlic"', "can only be eaten up, not failed."),
        (
            'what = "eaten up"\nfood = "garlic"\nkind = "potato/early"\nbed = "slate"',
            "it is about a planting and a food in store.",
        ),
        (
            'what = "failed"\nkind = "potato/early"\nbed = "slate"\nplace = "shed"',
            "a place belongs to a food in store",
        ),
        ('what = "drowned"\nkind = "potato/early"\nbed = "slate"', "failed"),
    ],
)
def test_a_note_that_says_too_much_or_too_little_is_told(
    tmp_path: Path, keys: str, told: str
) -> None:
    """Each word has its keys; what a note lacks or cannot have is told with what to do."""
    assert told in said(tmp_path, f"{SOUND}\n[[noted]]\non = 2027-06-18\n{keys}\n")


@pytest.mark.parametrize("real", [True, False])
def test_only_an_invented_garden_has_a_today_of_its_own(tmp_path: Path, *, real: bool) -> None:
    """A day that counts as today is refused in a real garden: its plans would be misdated."""
    today = 'name = "Two beds"\ntoday = 2027-02-01\n'
    text = SOUND.replace('name = "Two beds"\n', today if real else f"invented = true\n{today}")
    if real:
        assert "garden.toml, [garden], today" in said(tmp_path, text)
        return
    path = tmp_path / "garden.toml"
    path.write_text(text, encoding="utf-8")
    assert read_garden_toml(path, KNOWN)[0].today == date(2027, 2, 1)


def test_decimal_commas_in_quotes_are_read(tmp_path: Path) -> None:
    """A width of "1,2 m" is 1.2 metres."""
    path = tmp_path / "garden.toml"
    path.write_text(SOUND.replace('"1.2 m"', '"1,2 m"'), encoding="utf-8")
    assert read_garden_toml(path, KNOWN)[0].beds[0].outline.corners_m[1] == (1.2, 0)


def test_a_file_not_written_in_utf_8_is_told_by_its_line(tmp_path: Path) -> None:
    """A file saved in an old encoding is refused at the first line that shows it."""
    text = '[garden]\nname = "Zürich"\n'
    assert said(tmp_path, text, "latin-1") == (
        "fault: garden.toml: line 2 is not written in UTF-8. Save the file again as UTF-8."
    )


def test_a_byte_order_mark_does_no_harm(tmp_path: Path) -> None:
    """A file saved as UTF-8 with a mark before the text reads as one without."""
    path = tmp_path / "garden.toml"
    path.write_text(SOUND, encoding="utf-8-sig")
    assert read_garden_toml(path, KNOWN)[0].name == "Two beds"


def test_line_ends_of_any_system_are_read(tmp_path: Path) -> None:
    """A file written with another system's line ends reads the same."""
    path = tmp_path / "garden.toml"
    path.write_bytes(SOUND.replace("\n", "\r\n").encode())
    assert read_garden_toml(path, KNOWN)[0].name == "Two beds"


def test_an_empty_file_is_refused(tmp_path: Path) -> None:
    """An empty file is no garden."""
    assert said(tmp_path, "\n\n") == (
        "fault: garden.toml: the file is empty. docs/garden.md shows what goes in."
    )


def test_a_missing_file_is_refused(tmp_path: Path) -> None:
    """A file that is not there is told as such."""
    with pytest.raises(FaultsFoundError) as caught:
        read_garden_toml(tmp_path / "garten.toml", KNOWN)
    assert str(caught.value) == (
        "fault: garten.toml: there is no such file. Mend the path, or make it."
    )


def test_a_garden_without_beds_table_or_eaters_is_only_warned_about(tmp_path: Path) -> None:
    """A garden with no beds, table, eaters or hours can be planned: everything is short."""
    path = tmp_path / "garden.toml"
    path.write_text(SOUND[: SOUND.index("[hours]")], encoding="utf-8")
    garden, findings = read_garden_toml(path, KNOWN)
    assert garden.beds == ()
    warnings = [str(finding).split(": ") for finding in findings]
    assert [(grade, where) for grade, where, *_ in warnings] == [
        ("warning", "garden.toml, [bed]"),
        ("warning", "garden.toml, [eater]"),
        ("warning", "garden.toml, [table]"),
        ("warning", "garden.toml, [hours]"),
    ]
    assert warnings[0][2] == (
        "there are no beds, so nothing can be planted. Add each bed there is."
    )


def test_a_bed_smaller_than_the_smallest_patch_is_warned_of(tmp_path: Path) -> None:
    """A barrel that no patch is small enough for is told of before it stays empty in silence."""
    path = tmp_path / "garden.toml"
    barrel = '[[bed]]\nid = "barrel"\ndiameter = "60 cm"\n'
    path.write_text(f"{SOUND}\n{barrel}", encoding="utf-8")
    (told,) = read_garden_toml(path, KNOWN)[1]
    assert told.where.startswith("garden.toml, [[bed]] ")
    assert "0.28 m²" in told.what
    assert "smaller one" in told.remedy


def test_findings_on_the_weather_record_come_through(tmp_path: Path) -> None:
    """Faults in the daily record are told with those in garden.toml."""
    (tmp_path / "days.csv").write_text(
        "date,tmin_c,tmax_c,rain_mm\n2020-02-30,1,5,0\n", encoding="utf-8"
    )
    broken = SOUND.replace(NORMALS, '[weather]\nrecord = "days.csv"\n').replace('"80 %"', "3")
    lines = said(tmp_path, broken).splitlines()
    assert [line.split(": ")[1] for line in lines] == [
        "days.csv, line 2",
        "garden.toml, [[table]] 1, grow_share",
    ]


def test_a_record_with_columns_of_its_own_is_read(tmp_path: Path) -> None:
    """A record in °F under names of its own is read by the map of columns."""
    (tmp_path / "days.csv").write_text("when,lo,hi\n2020-02-28,32,50\n", encoding="utf-8")
    columns = 'columns = { date = "when", tmin_f = "lo", tmax_f = "hi" }'
    path = tmp_path / "garden.toml"
    weather = f'[weather]\nrecord = "days.csv"\n{columns}\n'
    path.write_text(SOUND.replace(NORMALS, weather), encoding="utf-8")
    record = read_toml(path, KNOWN).record
    assert record is not None
    assert (record.tmin_c[0], record.tmax_c[0]) == (0, 10)
