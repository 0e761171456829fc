"""The catalogue as it ships, and what is said of one with faults."""

import shutil
from collections.abc import Mapping
from importlib.resources import as_file, files
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.catalogue.loader import fill_from_shared, load_catalogue, read_catalogue
from haulm.measure.errors import FaultsFoundError

CROPS_FOR_A_YEAR = {
    "garlic",
    "onion",
    "leek",
    "potato",
    "carrot",
    "beetroot",
    "parsnip",
    "swede",
    "turnip",
    "celeriac",
    "cabbage",
    "kale",
    "sprouting broccoli",
    "chard",
    "spinach",
    "lettuce",
    "radish",
    "pea",
    "broad bean",
    "french bean",
    "courgette",
    "winter squash",
    "tomato",
    "cucumber",
    "sweet corn",
}
KINDS_FOR_A_YEAR = {
    "garlic/hard-necked",
    "garlic/soft-necked",
    "onion/sets",
    "onion/seed",
    "potato/early",
    "potato/maincrop",
    "cabbage/summer",
    "cabbage/winter",
    "french bean/dwarf",
    "french bean/climbing",
    "french bean/for drying",
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Copy the shipped files, to be spoilt."""
    with as_file(files("haulm.catalogue") / "data") as shipped:
        return Path(shutil.copytree(shipped, tmp_path / "data"))


def spoil(folder: Path, file: str, old: str, new: str) -> None:
    """Put a fault into the first place in a file that reads as told."""
    path = folder / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def told(folder: Path) -> list[str]:
    """Give what is found wrong with a catalogue."""
    with pytest.raises(FaultsFoundError) as caught:
        read_catalogue(folder)
    return [str(finding) for finding in caught.value.findings]


def test_the_shipped_catalogue_has_no_faults_and_feeds_a_year() -> None:
    """It holds at least 28 crops in 55 kinds, among them those a household eats all year from."""
    catalogue = load_catalogue()
    assert len(catalogue.crops) >= 54
    assert len(catalogue.kinds) >= 95
    assert set(catalogue.crops) >= CROPS_FOR_A_YEAR
    assert set(catalogue.kinds) >= KINDS_FOR_A_YEAR


def test_the_catalogue_is_read_once() -> None:
    """Asking twice gives the very same catalogue."""
    assert load_catalogue() is load_catalogue()


def test_a_copy_of_the_files_reads_the_same(folder: Path) -> None:
    """The files alone say everything; nothing is taken from elsewhere."""
    assert read_catalogue(folder) == load_catalogue()


@pytest.mark.parametrize(
    ("file", "old", "new", "where", "what"),
    [
        (
            "crops/garlic.toml",
            "germination_best_c = { value = 13",
            'germination_best_c = { value = "13"',
            "garlic.toml, kinds, hard-necked, warmth, germination_best_c",
            "must be numbers",
        ),
        (
            "crops/carrot.toml",
            ', source = "harrington"',
            "",
            "carrot.toml, kinds, early, warmth, germination_min_c",
            "a source is named exactly when the basis is published",
        ),
        (
            "crops/carrot.toml",
            'source = "harrington"',
            'source = "harington"',
            "carrot/early, germination_min_c (carrot.toml, line ",
            "Did you mean harrington?",
        ),
        (
            "crops/garlic.toml",
            "depth_m = { value = 0.055, low = 0.05",
            "depth_m = { value = 0.055, low = 0.058",
            "garlic.toml, kinds, hard-necked, stand, depth_m",
            "out of order",
        ),
        (
            "crops/garlic.toml",
            "depth_m = { value = 0.055, low = 0.05, high = 0.06,",
            "depth_m = { value = 0.055, low = 0.05,",
            "stand, depth_m",
            "low and high come together",
        ),
        (
            "crops/leek.toml",
            'basis = "judged"',
            'basis = "guessed"',
            "leek.toml",
            "the basis must be published or common practice or from memory or judged",
        ),
        (
            "crops/leek.toml",
            'basis = "from memory" }',
            'basis = "from memory", unit = "m" }',
            "leek.toml, foods, leek, portion_kg (line 12)",
            "the unit “m” does not measure what is kept in kg",
        ),
        (
            "crops/leek.toml",
            "depth_m",
            "deepth_m",
            "leek.toml, kinds, summer, stand, deepth_m (line 24)",
            "Did you mean depth_m?",
        ),
        (
            "crops/leek.toml",
            'after = "growing"',
            'after = "growin"',
            "leek/summer, leek, after",
            "Did you mean growing?",
        ),
        (
            "crops/leek.toml",
            'family = "onion"',
            'family = "onions"',
            "leek, crop",
            "Did you mean onion?",
        ),
        (
            "crops/leek.toml",
            'picking = "stand"',
            'picking = "waits"',
            "leek.toml, kinds, summer, givings, leek, picking",
            "Use once or spread or stand.",
        ),
        (
            "crops/leek.toml",
            'feed = "heavy"',
            'feed = "greedy"',
            "leek/summer, feed",
            "no feed “greedy” is known",
        ),
        (
            "crops/garlic.toml",
            "sound_50_weeks = { value = 26, low = 20, high = 30",
            "sound_50_weeks = { value = 16, low = 16, high = 30",
            "garlic/hard-necked, garlic, cured (garlic.toml, line 10",
            "as much is sound later as sooner",
        ),
        (
            "crops/garlic.toml",
            'cautions = ["garlic in oil"]',
            'cautions = ["garlic in soil"]',
            "garlic, cautions",
            "Did you mean garlic in oil?",
        ),
        (
            "diseases.toml",
            'closes = ["onion"]',
            'closes = ["alliums"]',
            "white rot, closes (diseases.toml, line 5)",
            "no family “alliums” is known",
        ),
        (
            "diseases.toml",
            'closes_crops = ["potato"]',
            'closes_crops = ["potatoe"]',
            "powdery scab, closes_crops",
            "no crop “potatoe” is known",
        ),
        (
            "diseases.toml",
            'closes = []\ncloses_crops = ["potato"]',
            'closes = ["potato"]\ncloses_crops = ["potato"]',
            "powdery scab, closes_crops",
            "closed with its family already",
        ),
        (
            "diseases.toml",
            'closes = []\ncloses_crops = ["potato"]',
            "closes = []",
            "powdery scab, closes",
            "closes ground to nothing",
        ),
        (
            "families.toml",
            'mark = "Al"',
            "mark = 7",
            "families.toml, onion, mark (line 6)",
            "“7” is no str",
        ),
        (
            "crops/radish.toml",
            "rule = ",
            "ruel = ",
            "radish.toml, kinds, summer, phases, growing, ruel",
            "Did you mean rule?",
        ),
    ],
)
def test_a_fault_is_told_with_its_file_and_field(
    folder: Path, file: str, old: str, new: str, where: str, what: str
) -> None:
    """Whoever edits a file is told where the fault is, what it is and what was likely meant."""
    spoil(folder, file, old, new)
    assert any(where in line and what in line for line in told(folder))


def test_every_fault_is_told_at_once(folder: Path) -> None:
    """Faults in three files make three findings, not one and then another."""
    spoil(folder, "crops/leek.toml", "depth_m", "deepth_m")
    spoil(folder, "families.toml", 'mark = "Al"', "mark = 7")
    spoil(folder, "crops/kale.toml", 'latin = "', 'latine = "')
    lines = " ".join(told(folder))
    assert all(part in lines for part in ("deepth_m", "mark", "latine"))


def test_a_file_that_cannot_be_read_is_a_fault(folder: Path) -> None:
    """A broken, missing or wrongly encoded file is named; the others are still read."""
    (folder / "crops" / "pea.toml").write_text("[crop\n", encoding="utf-8")
    (folder / "crops" / "kale.toml").write_bytes("[crop]\nname = 'Kühl'".encode("latin-1"))
    (folder / "cautions.toml").unlink()
    lines = told(folder)
    for name in ("pea.toml", "kale.toml", "cautions.toml"):
        assert any(f"{name}: cannot be read" in line for line in lines)


def test_an_empty_folder_is_a_fault(tmp_path: Path) -> None:
    """A folder that holds nothing is said to hold nothing."""
    assert any("crops: cannot be read" in line for line in told(tmp_path))


@pytest.mark.parametrize("text", ["foods = 3\n", "kinds = []\n", "shared = 'x'\n", "other = 1\n"])
def test_a_table_of_the_wrong_shape_is_a_fault(folder: Path, text: str) -> None:
    """A list or a number where tables belong is told, not stumbled over."""
    crop = '[crop]\nid = "oca"\nname = "oca"\nlatin = "Oxalis tuberosa"\nfamily = "onion"\n'
    (folder / "crops" / "oca.toml").write_text(text + crop, encoding="utf-8")
    assert any("oca.toml" in line for line in told(folder))


def test_one_food_from_two_crops_is_a_fault(folder: Path) -> None:
    """A food belongs to one crop; a second crop that gives it is told."""
    spoil(folder, "crops/swede.toml", "[foods.swede]", "[foods.turnip]")
    assert any("“turnip” is there already" in line for line in told(folder))


def test_a_kind_takes_only_the_methods_it_names() -> None:
    """A kind that names a method has that one, filled from the shared one of its name."""
    shared = {"methods": {"direct": {"unit": "seed", "n": 2}, "sets": {"unit": "set"}}}
    filled = fill_from_shared(shared, {"methods": {"direct": {"n": 3}}})
    assert filled == {"methods": {"direct": {"unit": "seed", "n": 3}}}


FIGURES = st.dictionaries(
    st.sampled_from(["value", "low", "high"]), st.integers(0, 9), min_size=1
).map(lambda figure: {**figure, "value": 1})


@settings(max_examples=40, deadline=None)
@given(
    shared=st.dictionaries(st.sampled_from("abc"), FIGURES),
    own=st.dictionaries(st.sampled_from("abc"), FIGURES),
)
def test_a_kinds_own_figure_replaces_the_shared_one_whole(
    shared: Mapping[str, object], own: Mapping[str, object]
) -> None:
    """No figure is ever mixed of a kind's own and its crop's: the kind's own stands whole."""
    assert fill_from_shared({"warmth": shared}, {"warmth": own})["warmth"] == {**shared, **own}
