"""The page of the catalogue, held to the catalogue."""

from catalogue_page import BASES, PAGE, every_figure, of_crop, written
from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Figure
from pages import kept
from truth.checks.yields import EXPLAINED


def test_the_page_of_the_catalogue_is_what_the_catalogue_says() -> None:
    """Each table of docs/catalogue.md is the catalogue's; HAULM_WRITE_PAGES=1 writes it anew."""
    page = written()
    assert kept(PAGE, page) == page


def test_the_page_names_every_crop_source_and_difference() -> None:
    """No crop, no source and no chart that disagrees is left out."""
    page = written()
    catalogue = load_catalogue()
    lines = page.splitlines()
    for crop in catalogue.crops.values():
        assert any(line.startswith(f"| {crop.name} | ") for line in lines)
    for source in catalogue.sources.values():
        assert any(line.startswith(f"| {source.id} | ") for line in lines)
    assert sum(line.startswith(("| Kansas", "| Maine")) for line in lines) == len(EXPLAINED)
    assert "<!-- " not in page


def test_every_choice_between_sources_is_argued_on_the_page() -> None:
    """Where sources disagree the page shows the other figures and says why one was chosen."""
    page = written()
    chosen = [one for _, _, one in every_figure(load_catalogue()) if isinstance(one, Figure)]
    disagreeing = [one for one in chosen if one.others and not one.borrowed_from]
    assert len(disagreeing) >= 40
    for one in disagreeing:
        assert one.note in page
        assert all(other.note in page for other in one.others)


def test_a_figure_that_kinds_share_is_counted_once() -> None:
    """Two kinds of garlic have one depth, written once; each has its own yield."""
    catalogue = load_catalogue()
    held = of_crop(catalogue, catalogue.crops["garlic"])
    assert sum(field == "depth_m" for _, field, _ in held) == 1
    assert sum(field == "yield_kg_m2" for _, field, _ in held) >= 2
    assert {one.basis for _, _, one in held if isinstance(one, Figure)} <= set(BASES)
