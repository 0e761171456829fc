"""A household's own figures and kinds: put into its catalogue, and refused in words where wrong."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.naming import figures_by_name
from haulm.catalogue.own import Own, OwnFigure, OwnKind, with_own
from haulm.catalogue.records import Basis, Catalogue
from haulm.catalogue.soundness import crossings, figures_of

HARD = "garlic/hard-necked"
GRANDMOTHERS = OwnKind("garlic/grandmothers", HARD, "grandmother's garlic")
CATALOGUE = load_catalogue()


def made(*own: OwnKind | OwnFigure) -> Catalogue:
    """Make a catalogue with what is sound."""
    catalogue, faults = with_own(CATALOGUE, told(*own))
    assert faults == ()
    return catalogue


def told(*own: OwnKind | OwnFigure) -> Own:
    """Gather kinds and figures as a garden tells them."""
    return Own(
        tuple(one for one in own if isinstance(one, OwnKind)),
        tuple(one for one in own if isinstance(one, OwnFigure)),
    )


def said(*own: OwnKind | OwnFigure) -> list[tuple[tuple[str | int, ...], str]]:
    """Give where each fault lies, and the whole of what is said."""
    return [
        (fault.place, f"{fault.what} {fault.remedy}")
        for fault in with_own(CATALOGUE, told(*own))[1]
    ]


def test_nothing_of_ones_own_leaves_the_catalogue_as_it_is() -> None:
    """A household without figures of its own works with the very catalogue haulm comes with."""
    assert with_own(CATALOGUE, Own()) == (CATALOGUE, ())
    assert with_own(CATALOGUE, Own())[0] is CATALOGUE


def test_an_own_figure_stands_in_for_the_catalogue_s_and_keeps_it_in_sight() -> None:
    """Fifteen centimetres of one's own are reckoned with, told as one's own, and the catalogue's
    distance, with what it rests on, stays within them. Nothing else is changed.
    """
    catalogue = made(OwnFigure(HARD, "stand.spacing_in_row_m", "15 cm", "12 cm", "18 cm", "tape"))
    figure = catalogue.kinds[HARD].stand.spacing_in_row_m
    assert (figure.value, figure.low, figure.high) == (0.15, 0.12, 0.18)
    assert (figure.basis, figure.note, figure.source) == (Basis.OWN, "tape", None)
    assert figure.replaced == CATALOGUE.kinds[HARD].stand.spacing_in_row_m
    others = {id_: kind for id_, kind in catalogue.kinds.items() if id_ != HARD}
    assert others == {id_: kind for id_, kind in CATALOGUE.kinds.items() if id_ != HARD}
    assert catalogue.foods == CATALOGUE.foods


@pytest.mark.parametrize(
    ("figure", "typed", "value"),
    [
        ("stand.depth_m", "2 in", 0.0508),
        ("stand.depth_m", 0.04, 0.04),
        ("warmth.base_c", "41 °F", 5.0),
        ("methods.cloves.survival", "80 %", 0.8),
        ("methods.cloves.survival", "0,8", 0.8),
        ("givings.garlic.yield_kg_m2", "0.25 lb/sq ft", 1.2206069),
        ("givings.garlic.yield_kg_m2", "900 g/m2", 0.9),
        ("givings.garlic.keeping.cured.cure_weeks", "21 days", 3.0),
        ("phases.bulbing.amount", "900 °F d", 500.0),
        ("phases.leafing.amount", "13.5 h", 13.5),
        ("labour.pick_min_kg", "6 minutes/kg", 6.0),
        ("season.earliest_day_length_h", "9 h", 9.0),
    ],
)
def test_a_figure_is_read_in_any_unit_that_fits_it(
    figure: str, typed: str | float, value: float
) -> None:
    """Inches, Fahrenheit, hundredths and pounds on a square foot come to the figure's own unit; the
    pound is 0.45359237 kg and the foot 0.3048 m (international yard and pound, 1959).
    """
    kind = made(OwnFigure(HARD, figure, typed)).kinds[HARD]
    at = figures_by_name(kind)[figure]
    assert at.figure is not None
    assert at.figure.value == pytest.approx(value)
    assert at.figure.unit == at.unit


def test_foods_families_and_diseases_have_figures_too() -> None:
    """A portion, the years between a family's stands and those that a disease asks can be one's
    own; a word that means a food and a family is told apart by the figure.
    """
    catalogue = made(
        OwnFigure("onion", "portion_kg", "120 g"),
        OwnFigure("onion", "rotation_gap_years", "6 years"),
        OwnFigure("clubroot", "published_years", 18),
    )
    assert catalogue.foods["onion"].portion_kg.value == 0.12
    assert catalogue.families["onion"].rotation_gap_years.value == 6
    assert catalogue.diseases["clubroot"].published_years.value == 18


def test_an_own_kind_is_its_like_but_for_what_is_said_of_it() -> None:
    """Grandmother's garlic follows hard-necked garlic, this garden's own figures included; what is
    said of it by itself goes before, and the catalogue's figure is still the one in sight.
    """
    catalogue = made(
        OwnFigure(GRANDMOTHERS.id, "stand.depth_m", "8 cm"),
        OwnFigure(HARD, "stand.depth_m", "3 cm"),
        OwnFigure(HARD, "stand.compost_m", "5 cm"),
        OwnKind("garlic/aunts", GRANDMOTHERS.id, "aunt's garlic"),
        GRANDMOTHERS,
    )
    mine, hers = catalogue.kinds[GRANDMOTHERS.id], catalogue.kinds["garlic/aunts"]
    assert (mine.id, mine.name, mine.crop) == (GRANDMOTHERS.id, GRANDMOTHERS.name, "garlic")
    assert mine.stand.depth_m.value == hers.stand.depth_m.value == 0.08
    assert mine.stand.compost_m.value == hers.stand.compost_m.value == 0.05
    assert mine.stand.depth_m.replaced == CATALOGUE.kinds[HARD].stand.depth_m
    assert mine.phases == CATALOGUE.kinds[HARD].phases
    assert list(catalogue.kinds)[: len(CATALOGUE.kinds)] == list(CATALOGUE.kinds)


@pytest.mark.parametrize(
    ("own", "place", "words"),
    [
        (OwnFigure("garlic/hard-neckd", "stand.depth_m", 1), "of", "Did you mean garlic/hard"),
        (OwnFigure(HARD, "stand.dept_m", 1), "figure", "Did you mean stand.depth_m"),
        (OwnFigure(HARD, "depth", "3 cm"), "figure", "Did you mean stand.depth_m"),
        (OwnFigure(HARD, "stand.depth_m", "3 kg"), "value", "unit of mass, but a length"),
        (OwnFigure(HARD, "stand.depth_m", "3"), "value", "without a unit"),
        (OwnFigure(HARD, "labour.pick_min_kg", "3 m"), "value", "is not its unit"),
        (OwnFigure(HARD, "methods.cloves.survival", "120 %"), "value", "at most 1"),
        (OwnFigure(HARD, "methods.cloves.survival", "many"), "value", "no number"),
        (OwnFigure(HARD, "givings.garlic.yield_kg_m2", "0 kg/m²"), "value", "above 0"),
        (OwnFigure(HARD, "stand.depth_m", "3 cm", "5 cm", "6 cm"), "value", "out of order"),
        (OwnFigure(HARD, "stand.depth_m", "3 cm", "2 cm"), "high", "both ends or neither"),
        (OwnFigure(HARD, "methods.cloves.module_weeks", "3 weeks"), "figure", "has no figure"),
        (
            OwnFigure(HARD, "givings.garlic.keeping.cured.sound_90_weeks", "40 weeks"),
            "value",
            "50 % age must be the longer",
        ),
        (OwnKind(HARD, "garlic/soft-necked", "mine"), "id", "a kind of the catalogue"),
        (OwnKind("mine", HARD, "mine"), "id", "as in garlic/mine"),
        (OwnKind("leek/mine", HARD, "mine"), "id", "as in garlic/mine"),
        (OwnKind("garlic/mine", "garlic/hard-neck", "mine"), "like", "Did you mean"),
        (OwnKind("garlic/mine", HARD, "Hard-necked garlic"), "name", "Give yours another name"),
        (OwnKind("garlic/mine", "garlic/mine", "mine"), "like", "in a ring"),
    ],
)
def test_what_cannot_be_ones_own_is_said_where_it_stands(
    own: OwnKind | OwnFigure, place: str, words: str
) -> None:
    """A name that nothing has, a unit that does not fit, a share above one, a spread out of order,
    a store that mends food, a kind like itself: each is told by its key, with what to do.
    """
    ((where, sentence),) = said(own)
    assert where[1:] == (0, place)
    assert words in sentence


def test_every_fault_is_told_at_once() -> None:
    """A ring of kinds and a figure given twice are two findings; a figure of a kind in the ring is
    no third, and what is sound beside them is still made.
    """
    own = told(
        OwnKind("garlic/a", "garlic/b", "a"),
        OwnKind("garlic/b", "garlic/a", "b"),
        GRANDMOTHERS,
        OwnFigure("garlic/b", "stand.depth_m", "3 cm"),
        OwnFigure(HARD, "stand.depth_m", "3 cm"),
        OwnFigure(HARD, "stand.depth_m", "4 cm"),
    )
    catalogue, faults = with_own(CATALOGUE, own)
    assert [fault.place for fault in faults] == [
        ("own_kind", 0, "like"),
        ("own_figure", 2, "figure"),
    ]
    assert GRANDMOTHERS.id in catalogue.kinds
    assert "garlic/a" not in catalogue.kinds
    assert catalogue.kinds[HARD].stand.depth_m.value == 0.03


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_any_figure_of_the_catalogue_can_be_ones_own(data: st.DataObject) -> None:
    """Whichever figure a household repeats as its own, it is found by its name, nothing but its
    basis is changed, and the catalogue stays sound.
    """
    table = data.draw(st.sampled_from(["kinds", "foods", "families", "diseases"]))
    id_ = data.draw(st.sampled_from(sorted(getattr(CATALOGUE, table))))
    holder = getattr(CATALOGUE, table)[id_]
    name, at = data.draw(st.sampled_from(sorted(figures_by_name(holder).items())))
    if at.figure is None:
        return
    catalogue = made(OwnFigure(id_, name, at.figure.value))
    given = figures_by_name(getattr(catalogue, table)[id_])[name].figure
    assert given is not None
    assert (given.value, given.unit) == (at.figure.value, at.figure.unit)
    assert given.replaced == at.figure
    assert not crossings(catalogue)
    own = [one for one in figures_of(getattr(catalogue, table)[id_]) if one[2].basis is Basis.OWN]
    assert len(own) == 1
