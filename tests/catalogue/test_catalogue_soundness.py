"""What must hold of every kind, food and figure of the shipped catalogue, and what is caught."""

from dataclasses import replace

import pytest

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.reading import UNITS
from haulm.catalogue.records import Basis, Catalogue, Figure, Hardy, Kind, Picking, Role
from haulm.catalogue.soundness import crossings, figures_of
from stated import stated

KINDS = sorted(load_catalogue().kinds)


def with_kind(kind: Kind) -> Catalogue:
    """Put an altered kind in its place in the catalogue."""
    catalogue = load_catalogue()
    return replace(catalogue, kinds={**catalogue.kinds, kind.id: kind})


def altered(figure: Figure, value: float) -> Figure:
    """Give a figure another value."""
    return replace(figure, value=value, low=None, high=None)


def test_every_figure_says_what_it_rests_on_and_in_what_unit() -> None:
    """No figure of the catalogue is without basis and unit; a source stands where it is due."""
    catalogue = load_catalogue()
    tables = (catalogue.kinds, catalogue.foods, catalogue.families, catalogue.diseases)
    walked = [
        (where, name, figure)
        for table in tables
        for record in table.values()
        for where, name, figure in figures_of(record)
    ]
    assert len(walked) > 2000
    for where, name, figure in walked:
        assert figure.unit, f"{where}, {name}"
        assert (figure.basis is Basis.PUBLISHED) == (figure.source is not None)
        assert name in UNITS or name == "amount"


@pytest.mark.parametrize("id_", KINDS)
def test_every_kind_is_complete(id_: str) -> None:
    """A kind has a way to start, phases that take time, one main food unless it is dug in, and
    yields with spread.
    """
    kind = load_catalogue().kinds[id_]
    assert kind.methods
    assert kind.phases
    mains = [giving.role for giving in kind.givings].count(Role.MAIN)
    assert mains == (0 if kind.green_manure else 1)
    for giving in kind.givings:
        assert giving.yield_kg_m2.low is not None
        assert giving.yield_kg_m2.high is not None
        assert giving.span_weeks.value >= 1
    assert kind.id == f"{kind.crop}/{kind.id.split('/')[1]}"


@pytest.mark.parametrize("id_", KINDS)
def test_what_is_taken_early_does_not_wait_longer_than_the_crop_lasts(id_: str) -> None:
    """Food taken instead of the main food is ready before it."""
    kind = load_catalogue().kinds[id_]
    order = [phase.id for phase in kind.phases]
    mains = [giving for giving in kind.givings if giving.role is Role.MAIN]
    for giving in kind.givings:
        assert order.index(giving.after) <= order.index(mains[0].after)


def test_tender_kinds_die_of_frost_and_hardy_ones_stand_it() -> None:
    """Beans, squash and tomatoes die at the first frost; leek and kale stand (common practice)."""
    kinds = load_catalogue().kinds
    for tender in ("french bean/dwarf", "courgette/bush", "tomato/cordon", "cucumber/ridge"):
        assert stated(kinds[tender].warmth.killing_frost_c).value >= -1
    for hardy in ("leek/winter", "kale/curly", "garlic/hard-necked", "lamb's lettuce/winter"):
        assert stated(kinds[hardy].warmth.killing_frost_c).value <= -14
    assert isinstance(kinds["parsnip/winter"].warmth.killing_frost_c, Hardy)


def test_what_stands_through_winter_runs_to_seed_in_spring() -> None:
    """Common practice: leek, winter kale, parsnip and winter cabbage end when days lengthen."""
    kinds = load_catalogue().kinds
    for id_ in ("leek/winter", "kale/curly", "parsnip/winter", "cabbage/winter"):
        bolts = kinds[id_].season.bolt_day_length_h
        assert bolts is not None
        assert 12.5 <= bolts.value <= 14.5


def test_families_have_marks_of_two_letters_of_their_own() -> None:
    """A family is told from another by two letters on the bed sheet."""
    marks = [family.mark for family in load_catalogue().families.values()]
    assert all(len(mark) == 2 for mark in marks)
    assert len(set(marks)) == len(marks)


def test_the_shipped_catalogue_agrees_with_itself() -> None:
    """No table of the catalogue names what another does not have."""
    assert crossings(load_catalogue()) == ()


def test_a_share_over_one_is_caught() -> None:
    """Nobody raises more plants than come up."""
    kind = load_catalogue().kinds["leek/winter"]
    method = replace(kind.methods[0], survival=altered(kind.methods[0].survival, 1.2))
    (finding,) = crossings(with_kind(replace(kind, methods=(method,))))
    assert finding.where == "leek/winter, modules, survival"
    assert "is no share" in finding.what


def test_a_yield_of_nothing_is_caught() -> None:
    """A giving that gives nothing is no giving."""
    kind = load_catalogue().kinds["leek/winter"]
    giving = replace(kind.givings[0], yield_kg_m2=altered(kind.givings[0].yield_kg_m2, 0))
    (finding,) = crossings(with_kind(replace(kind, givings=(giving,))))
    assert "0 cannot be" in finding.what


def test_rows_that_contradict_the_offset_spacing_are_caught() -> None:
    """In wide rows, plants nearer along the row than the least distance cannot be."""
    kind = load_catalogue().kinds["carrot/early"]
    stand = replace(kind.stand, spacing_offset_m=altered(kind.stand.spacing_offset_m, 0.08))
    (finding,) = crossings(with_kind(replace(kind, stand=stand)))
    assert "nearer along the row" in finding.what


def test_a_kind_without_method_phase_or_main_food_is_caught() -> None:
    """A kind that can't be started, or whose food has no phase to wait for, is told whole."""
    kind = load_catalogue().kinds["leek/winter"]
    by_product = replace(kind.givings[0], role=Role.BY_PRODUCT, picking=Picking.ONCE)
    lines = " ".join(
        str(finding)
        for finding in crossings(
            with_kind(replace(kind, methods=(), phases=(), givings=(by_product,)))
        )
    )
    assert "there is no way to start it" in lines
    assert "exactly one must be the main food" in lines
    assert "no phase “growing” is known" in lines


def test_warmth_and_light_out_of_order_are_caught() -> None:
    """A base above the upper limit, or an earliest day length above the latest, is told."""
    kind = load_catalogue().kinds["spinach/winter"]
    warmth = replace(kind.warmth, base_c=altered(kind.warmth.base_c, 30))
    latest = kind.season.latest_day_length_h
    assert latest is not None
    season = replace(kind.season, earliest_day_length_h=altered(latest, 15))
    found = crossings(with_kind(replace(kind, warmth=warmth, season=season)))
    assert {finding.what for finding in found} == {
        "base_c is not below upper_c.",
        "the day lengths are out of order.",
    }


def test_a_food_nobody_gives_and_a_crop_without_kinds_are_caught() -> None:
    """What stands in the catalogue without use is told."""
    catalogue = load_catalogue()
    kinds = {id_: kind for id_, kind in catalogue.kinds.items() if kind.crop != "leek"}
    found = {str(finding) for finding in crossings(replace(catalogue, kinds=kinds))}
    assert any("no kind gives this food" in line for line in found)
    assert any("the crop has no kind" in line for line in found)


def test_a_food_of_another_crop_is_caught() -> None:
    """A leek gives no onions."""
    kind = load_catalogue().kinds["leek/winter"]
    giving = replace(kind.givings[0], food="onion")
    assert any(
        "that is a food of onion" in finding.what
        for finding in crossings(with_kind(replace(kind, givings=(giving,))))
    )


def test_a_keeping_without_a_store_is_caught() -> None:
    """Food kept nowhere is told."""
    kind = load_catalogue().kinds["garlic/soft-necked"]
    main = kind.givings[0]
    nowhere = replace(main, keeping=(replace(main.keeping[0], stores=()),))
    found = crossings(with_kind(replace(kind, givings=(nowhere, *kind.givings[1:]))))
    assert [finding.what for finding in found] == ["it is kept nowhere."]
