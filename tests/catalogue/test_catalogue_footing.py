"""How firmly kinds stand, and what is weakest in the catalogue."""

import tomllib
from dataclasses import replace
from importlib.resources import files

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.catalogue.footing import (
    Footing,
    crop_stands,
    figure_counts,
    footing_rule,
    kind_stands,
)
from haulm.catalogue.gaps import GapSort, gaps_of, judged_alone, leant_on
from haulm.catalogue.loader import load_catalogue, load_with_places
from haulm.catalogue.naming import figures_by_name, with_figures
from haulm.catalogue.records import Absent, Basis, Figure
from haulm.catalogue.soundness import figures_of

BASES = (Basis.PUBLISHED, Basis.COMMON_PRACTICE, Basis.FROM_MEMORY, Basis.JUDGED)
KINDS = sorted(load_catalogue().kinds)


def figure(basis: Basis, *, spread: bool) -> Figure:
    """Make a figure of a basis, with a spread or without."""
    source = "fao-56" if basis is Basis.PUBLISHED else None
    bounds = (0.8, 1.2) if spread else (None, None)
    return Figure(1.0, "1", basis, source, *bounds)


def test_a_figure_counts_by_what_it_rests_on_and_less_without_its_spread() -> None:
    """Published counts before common practice, that before memory, that before judgement."""
    for spread in (True, False):
        counts = [figure_counts(figure(basis, spread=spread)) for basis in BASES]
        assert counts == sorted(counts, reverse=True)
        assert len(set(counts)) == len(counts)
    for basis in BASES:
        assert figure_counts(figure(basis, spread=False)) < figure_counts(
            figure(basis, spread=True)
        )


def test_what_is_lent_counts_no_more_than_a_judgement() -> None:
    """That the onion's published water fits the leek is judged, whatever paper it stands in."""
    published = figure(Basis.PUBLISHED, spread=True)
    lent = replace(published, borrowed_from="onion/sets")
    assert figure_counts(lent) == figure_counts(figure(Basis.JUDGED, spread=True))
    assert figure_counts(lent) < figure_counts(published)


def test_a_check_lifts_a_judgement_but_not_above_what_is_published() -> None:
    """A figure that agreed with what growers see counts for more than one nobody checked."""
    judged = figure(Basis.JUDGED, spread=True)
    checked = replace(judged, check="ready in July")
    assert figure_counts(judged) < figure_counts(checked)
    assert figure_counts(checked) < figure_counts(figure(Basis.PUBLISHED, spread=True))
    published = figure(Basis.PUBLISHED, spread=True)
    assert figure_counts(replace(published, check="so")) == figure_counts(published)


def test_a_figure_nobody_has_carries_nothing() -> None:
    """An absent figure weighs on the footing; it is not passed over."""
    assert figure_counts(Absent("nobody looked", "1")) == 0.0


@pytest.mark.parametrize("id_", KINDS)
def test_every_footing_follows_from_its_figures(id_: str) -> None:
    """The word of a kind is the one its share calls for, its share lies between its matters'."""
    catalogue = load_catalogue()
    stands = kind_stands(catalogue, catalogue.kinds[id_])
    assert 0 < stands.share <= 1
    assert min(stands.matters.values()) <= stands.share <= max(stands.matters.values())
    least = footing_rule().least
    firm, fair = stands.share >= least[Footing.FIRM], stands.share >= least[Footing.FAIR]
    assert (stands.footing is Footing.FIRM) == firm
    assert (stands.footing is Footing.THIN) == (not fair)


@settings(max_examples=60, deadline=None)
@given(id_=st.sampled_from(KINDS), seed=st.integers(0, 10_000))
def test_a_better_figure_never_makes_a_footing_thinner(id_: str, seed: int) -> None:
    """Whichever figure is looked up and found in print with its spread, the kind stands firmer."""
    catalogue = load_catalogue()
    kind = catalogue.kinds[id_]
    places = [one for one in figures_by_name(kind).values() if one.figure is not None]
    chosen = places[seed % len(places)]
    found = replace(figure(Basis.PUBLISHED, spread=True), unit=chosen.unit)
    better = with_figures(kind, {chosen.name: found})
    assert kind_stands(catalogue, better).share >= kind_stands(catalogue, kind).share - 1e-12


def test_a_crop_stands_as_its_kinds_do() -> None:
    """No crop is firmer than its firmest kind or thinner than its thinnest."""
    catalogue = load_catalogue()
    for crop in catalogue.crops.values():
        shares = [
            kind_stands(catalogue, kind).share
            for kind in catalogue.kinds.values()
            if kind.crop == crop.id
        ]
        share = crop_stands(catalogue, crop).share
        assert min(shares) - 1e-12 <= share <= max(shares) + 1e-12


def test_every_figure_of_a_kind_belongs_to_a_matter() -> None:
    """No figure that a plan takes is left out of the footing."""
    catalogue = load_catalogue()
    records = (*catalogue.kinds.values(), *catalogue.foods.values())
    names = {name for record in records for _, name, _ in figures_of(record)}
    assert names - set(footing_rule().matters) == set()


def test_every_number_of_the_rule_says_that_it_is_judged_and_why() -> None:
    """The rule is ours, and says so of each of its numbers."""
    text = files("haulm.catalogue").joinpath("data/footing.toml").read_text(encoding="utf-8")
    table = tomllib.loads(text)
    for part in ("counts", "words", "matters"):
        for entry in table[part].values():
            assert entry["basis"] == Basis.JUDGED.value
            assert entry["note"]
    assert all(weight > 0 for weight in footing_rule().weights.values())
    assert min(footing_rule().weights[one] for one in ("timing", "yield")) == max(
        footing_rule().weights.values()
    )


def test_gaps_come_the_gravest_first_and_each_says_where_and_how_to_mend_it() -> None:
    """Absent figures, then judged ones nobody checked, then crops of thin footing."""
    gaps = gaps_of(load_with_places())
    order = list(GapSort)
    assert [order.index(gap.sort) for gap in gaps] == sorted(order.index(gap.sort) for gap in gaps)
    for gap in gaps:
        assert gap.mend
        assert gap.what
        assert gap.where or gap.sort is GapSort.THIN
        assert gap.crop in load_catalogue().crops


def test_no_gap_is_kept_quiet() -> None:
    """Every absent figure and every judged one that a plan leans on stands in the list."""
    catalogue = load_catalogue()
    told = {
        (gap.crop, name)
        for gap in gaps_of(load_with_places())
        if gap.sort is GapSort.JUDGED
        for name in gap.figures
    }
    weak = {
        (kind.crop, name)
        for kind in catalogue.kinds.values()
        for _, name, one in figures_of(kind)
        if judged_alone(one) and leant_on(name)
    }
    assert weak
    assert told == weak
    thin = {gap.crop for gap in gaps_of(load_with_places()) if gap.sort is GapSort.THIN}
    assert thin == {
        crop.id
        for crop in catalogue.crops.values()
        if crop_stands(catalogue, crop).footing is Footing.THIN
    }
