from pathlib import Path

import pytest

from gardens import small_garden
from haulm.desk.garden.answers import check_garden, climate_of, crops_named, rows_data, rows_in
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Grade

NORMALS = (
    "[weather.normals]\n"
    "tmin = [2, 2, 4, 5, 8, 11, 13, 13, 11, 8, 4, 2]\n"
    "tmax = [8, 10, 12, 15, 19, 21, 25, 25, 22, 16, 11, 8]\n"
    "rain = [140, 90, 95, 70, 50, 40, 18, 22, 40, 85, 165, 140]"
)


def test_a_sound_garden_is_checked_without_a_fault(small_toml: Path) -> None:
    """Of the small garden its missing freezer and closed bed are told, and that stops nothing."""
    finding, closed = check_garden(small_toml)
    assert closed.where == "closed ground"
    assert finding.grade is not Grade.FAULT


def test_a_record_too_thin_to_plan_through_is_found_by_checking(tmp_path: Path) -> None:
    """Three days of weather pass for a record nowhere: every month that lacks days is told."""
    toml = small_garden(tmp_path, (NORMALS, '[weather]\nrecord = "days.csv"'))
    rows = "2026-01-01,1,5,0\n2026-01-02,1,6,0\n2026-01-03,2,6,1\n"
    (tmp_path / "days.csv").write_text("date,tmin_c,tmax_c,rain_mm\n" + rows)
    with pytest.raises(FaultsFoundError) as refused:
        check_garden(toml)
    assert len(refused.value.findings) == 12


def test_the_climate_is_that_of_the_garden(small_toml: Path) -> None:
    """Where July is warmest on the grower's own figures, the summary says so too."""
    summary, garden = climate_of(small_toml, seed=1)
    warmest = max(summary.months, key=lambda month: month.tmax_c.middle)
    assert warmest.month in {7, 8}
    assert warmest.tmax_c.middle == pytest.approx(25, abs=1.5)
    assert garden.place.latitude_deg == pytest.approx(47.6)


@pytest.mark.parametrize(
    ("size", "area_m2"), [("1.2 x 4.8 m", 5.76), ("4 ft x 16 ft", 5.95), ("2.4 m round", 4.52)]
)
def test_a_bed_as_typed_holds_about_what_its_ground_allows(size: str, area_m2: float) -> None:
    """At 20 cm in offset rows a plant takes 0.0346 m²; edges cost some of the bed, never add."""
    count = rows_in(size, "20 cm", None, None).count
    assert 0.8 * area_m2 / 0.0346 < count < 1.15 * area_m2 / 0.0346


def test_wider_rows_hold_fewer_plants() -> None:
    """Where rows must be wider apart than the plants in them, fewer fit."""
    wide = rows_in("1.2 x 4.8 m", "20 cm", "10 cm", "40 cm")
    assert wide.count < rows_in("1.2 x 4.8 m", "20 cm", "10 cm", None).count
    assert rows_data(wide)["count"] == wide.count


@pytest.mark.parametrize("size", ["round", "x", "", "2 m round round", "1 x 2 x 3 m"])
def test_a_size_that_is_none_is_refused_in_words(size: str) -> None:
    """What cannot be read as a bed is answered with a place and a remedy."""
    with pytest.raises(FaultsFoundError) as refused:
        rows_in(size, "20 cm", None, None)
    assert all(finding.where and finding.remedy for finding in refused.value.findings)


@pytest.mark.parametrize("name", ["garlic", "Garlic", "garlic/hard-necked", "green garlic"])
def test_a_crop_is_found_by_crop_kind_or_food(name: str) -> None:
    """Garlic is found by its own name, by one of its kinds and by what is eaten of it."""
    _, ((crop, kinds),) = crops_named(name)
    assert crop.id == "garlic"
    assert "garlic/hard-necked" in {kind.id for kind in kinds}


def test_without_a_name_every_crop_is_listed_with_its_kinds() -> None:
    """The whole shelf has 28 crops or more, none without a kind."""
    catalogue, found = crops_named(None)
    assert len(found) == len(catalogue.crops) >= 28
    assert all(kinds for _, kinds in found)


def test_a_name_like_nothing_points_to_the_list() -> None:
    """A near name is suggested; a name like nothing is answered with where the names are."""
    with pytest.raises(FaultsFoundError, match=r"Did you mean.*leek"):
        crops_named("leak")
    with pytest.raises(FaultsFoundError, match="haulm crops lists them"):
        crops_named("qqqqqqq")
