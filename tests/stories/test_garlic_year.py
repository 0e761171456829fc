"""Garlic through a whole year at a mild maritime site, from climate and catalogue alone.

What must come out is common practice where winters are mild (hardiness around zone 8). The weather
is the Seattle daily record of 2012 to 2015 (NOAA, public domain) and, for the southern half of the
story, the same record moved on by 183 days to the mirrored latitude.
"""

from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

import pytest

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Catalogue, Form
from haulm.ground.closures import DiseaseClock, closure_sentence, closures
from haulm.ground.records import Bed, DiseaseFound, Outline, Shape
from haulm.growing.records import Sowing, Window
from haulm.growing.sowings import SowingChoice, sowings
from haulm.growing.timing import ready_dates
from haulm.growing.weather import GrowingWeather, growing_weather
from haulm.growing.windows import windows
from haulm.measure.weeks import Horizon, horizon_from
from haulm.site.readers.plain import read_daily_csv
from haulm.site.records import Place, Soil
from haulm.site.seasons import seasons_from

RECORD = Path(__file__).parents[1] / "truth" / "data" / "weather" / "seattle_2012_2015.csv"
HALF_A_YEAR = timedelta(days=183)
HARD, SOFT, BEAN = "garlic/hard-necked", "garlic/soft-necked", "french bean/dwarf"
WEEKS_A_MONTH = 365.25 / 12 / 7


@dataclass(frozen=True)
class Year:
    """A site's weather, its horizon, and how far its seasons lie from those of the north."""

    weather: GrowingWeather
    horizon: Horizon
    moved: timedelta

    def north(self, day: date) -> date:
        """Give the northern day that a day of this site answers to."""
        return day - self.moved


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    """Give the catalogue as it ships."""
    return load_catalogue()


@pytest.fixture(scope="module", params=["north", "south"])
def year(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Year:
    """Give the site in the north, and its mirror in the south."""
    if request.param == "north":
        return make_year(RECORD, 47.6, timedelta(0))
    mirrored = tmp_path_factory.mktemp("mirror") / "mirrored.csv"
    header, *rows = RECORD.read_text(encoding="utf-8").splitlines()
    moved = [
        f"{date.fromisoformat(day) + HALF_A_YEAR},{rest}"
        for day, _, rest in (row.partition(",") for row in rows)
    ]
    mirrored.write_text("\n".join([header, *moved]) + "\n", encoding="utf-8")
    return make_year(mirrored, -47.6, HALF_A_YEAR)


def make_year(record: Path, latitude_deg: float, moved: timedelta) -> Year:
    """Draw the weather of a plan made in August in the north, six months on in the south."""
    place = Place("mild and maritime", latitude_deg, -122.3, 50.0, Soil.LOAM)
    horizon = horizon_from(date(2026, 8, 10) + moved)
    weather, _ = read_daily_csv(record)
    first_day = horizon.first_day - timedelta(weeks=60)
    seasons = seasons_from(weather, place, first_day, 7 * 224, 30, 1)
    return Year(growing_weather(seasons, place), horizon, moved)


def setting_window(year: Year, catalogue: Catalogue, kind: str) -> Window:
    """Give the first window of the plan in which cloves may be set."""
    grown = catalogue.kinds[kind]
    found = windows(
        grown,
        grown.methods[0],
        under_cover=False,
        weather=year.weather,
        horizon=year.horizon,
    )
    return next(window for window in found if window.first_day >= year.horizon.first_day)


def set_in_window(year: Year, catalogue: Catalogue, kind: str) -> list[Sowing]:
    """Give the plantings offered in that window."""
    window = setting_window(year, catalogue, kind)
    offered = sowings(catalogue.kinds[kind], "onion", year.weather, year.horizon, SowingChoice())
    return [sowing for sowing in offered if sowing.window == window]


@pytest.mark.parametrize("kind", [HARD, SOFT])
def test_cloves_are_set_from_mid_october_to_mid_december(
    year: Year, catalogue: Catalogue, kind: str
) -> None:
    """Common practice: cloves are set from about mid-October, when the soil has cooled, to about
    mid-December, when days stop shortening; either end may lie a fortnight off.
    """
    window = setting_window(year, catalogue, kind)
    first, last = year.north(window.first_day), year.north(window.last_day)
    assert date(2026, 10, 1) <= first <= date(2026, 10, 29)
    assert date(2026, 12, 1) <= last <= date(2026, 12, 29)
    assert "has cooled to" in window.first_rule
    assert "no longer shorten" in window.last_rule


@pytest.mark.parametrize("kind", [HARD, SOFT])
def test_bulbs_are_lifted_from_late_june_to_mid_july(
    year: Year, catalogue: Catalogue, kind: str
) -> None:
    """Common practice: whenever in the window it was set, garlic is lifted between 20 June and 20
    July in the middle year.
    """
    for sowing in set_in_window(year, catalogue, kind):
        bulbs = next(food for food in sowing.foods if food.food == "garlic")
        assert date(2027, 6, 20) <= year.north(bulbs.ready.middle) <= date(2027, 7, 20)


@pytest.mark.parametrize("kind", [HARD, SOFT])
def test_green_garlic_is_pulled_from_late_april(
    year: Year, catalogue: Catalogue, kind: str
) -> None:
    """Common practice: green garlic can be pulled from late April, and never after the bulbs."""
    for sowing in set_in_window(year, catalogue, kind):
        green = next(food for food in sowing.foods if food.food == "green garlic")
        assert date(2027, 4, 18) <= year.north(green.ready.middle) <= date(2027, 5, 7)
        assert max(week for week, _ in green.week_shares) < sowing.ground_until_week


def test_flower_stems_come_before_the_bulbs(year: Year, catalogue: Catalogue) -> None:
    """Common practice: hard-necked garlic sends up stems, taken three to six weeks before lifting;
    soft-necked garlic has none.
    """
    hard, soft = catalogue.kinds[HARD], catalogue.kinds[SOFT]
    set_on = year.horizon.monday(10)
    dates = ready_dates(hard, hard.methods[0], set_on, year.weather, under_cover=False)
    weeks_before = (dates["garlic"].middle - dates["garlic flower stems"].middle).days / 7
    assert 3 <= weeks_before <= 6
    foods = ready_dates(soft, soft.methods[0], set_on, year.weather, under_cover=False)
    assert set(foods) == {"garlic", "green garlic"}


@pytest.mark.parametrize(("kind", "months"), [(HARD, (4, 6)), (SOFT, (9, 12))])
def test_cured_bulbs_keep_their_months(
    catalogue: Catalogue, kind: str, months: tuple[int, int]
) -> None:
    """Common practice: cured 4 to 6 weeks, then hard-necked keeps 4 to 6 months and soft-necked 9
    to 12; the first nearly all sound, the last half.
    """
    bulbs = next(giving for giving in catalogue.kinds[kind].givings if giving.food == "garlic")
    cured = next(keeping for keeping in bulbs.keeping if keeping.form is Form.CURED)
    assert 4 <= cured.cure_weeks.value <= 6
    sound = cured.sound_90_weeks.value, cured.sound_50_weeks.value
    assert tuple(round(weeks / WEEKS_A_MONTH) for weeks in sound) == months


@pytest.mark.parametrize("kind", [HARD, SOFT])
def test_a_bean_in_modules_follows_the_day_garlic_is_lifted(
    year: Year, catalogue: Catalogue, kind: str
) -> None:
    """Common practice: a dwarf bean raised 3 to 4 weeks in modules can be set out the day the
    garlic is lifted; here the Monday after the week of lifting, in every planting offered.
    """
    for garlic in set_in_window(year, catalogue, kind):
        free = garlic.ground_until_week
        beans = sowings(
            catalogue.kinds[BEAN],
            "bean",
            year.weather,
            year.horizon,
            SowingChoice(ground_free_weeks=(free,)),
        )
        bean = next(
            bean for bean in beans if bean.method == "modules" and bean.ground_from_week == free
        )
        assert 3 <= bean.tray_weeks[1] - bean.tray_weeks[0] <= 4
        assert bean.foods, "and there are beans to pick before frost"


def test_white_rot_closes_ground_for_twenty_years(catalogue: Catalogue) -> None:
    """UC IPM, Onion and Garlic Pest Management Guidelines: White Rot: sclerotia survive over 20
    years. Common advice is 3 to 4. Both are shown; the longer one rules.
    """
    disease = catalogue.diseases["white rot"]
    assert disease.published_years.source is not None
    assert "white rot" in catalogue.sources[disease.published_years.source].title.lower()
    clock = DiseaseClock(
        disease.id,
        disease.name,
        disease.closes,
        round(disease.common_years.value),
        round(disease.published_years.value),
    )
    square = Outline(Shape.RECTANGLE, ((0, 0), (2, 0), (2, 2), (0, 2)), 4.0)
    bed = Bed("north", "North bed", square, found=(DiseaseFound(disease.id, 2024),))
    (closure,) = closures((bed,), {disease.id: clock})
    assert closure.family == catalogue.crops["garlic"].family
    assert 3 <= closure.common_until_year - 2024 - 1 <= 4
    assert closure.until_year - 2024 > 20
    told = closure_sentence(closure, bed.name, "onion family", disease.name)
    assert "common advice 4 years" in told
    assert "published survival 20" in told
