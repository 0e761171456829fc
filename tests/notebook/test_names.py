"""Names of the catalogue as a grower may write them."""

from haulm.catalogue.loader import load_catalogue
from haulm.notebook.names import known_names, one_of, spellings, suggest


def test_every_id_of_the_catalogue_is_known_by_itself() -> None:
    """Every crop, kind, food and disease may be written by its own id, in any capitals."""
    catalogue = load_catalogue()
    known = known_names(catalogue)
    for ids, names in [
        (catalogue.crops, known.crops),
        (catalogue.kinds, known.kinds),
        (catalogue.foods, known.foods),
        (catalogue.diseases, known.diseases),
    ]:
        assert {names[id_.casefold()] for id_ in ids} == set(ids)
    assert known.kinds["hard-necked garlic"] == "garlic/hard-necked"
    assert known.methods["garlic/hard-necked"] == {"cloves"}
    assert "green garlic" in known.foods_of_kind["garlic/hard-necked"]
    assert "green garlic" in known.foods_of_crop["garlic"]


def test_a_name_that_two_share_stands_for_neither() -> None:
    """A name that may mean two things is not guessed at, and an id never gives way to a name."""
    names = [("pea/early", "early"), ("carrot/early", "early"), ("a", "b"), ("b", "c")]
    assert spellings(names) == {
        "pea/early": "pea/early",
        "carrot/early": "carrot/early",
        "a": "a",
        "b": "b",
        "c": "b",
    }


def test_a_near_name_is_asked_after() -> None:
    """A slip of the pen is answered with the name that was likely meant."""
    assert suggest("carot", ["carrot", "leek"], "No.") == 'Did you mean "carrot"?'
    assert suggest("zzz", ["carrot", "leek"], "No.") == "No."


def test_choices_are_listed_as_spoken() -> None:
    """Choices are joined by commas and a last or."""
    assert one_of(["a"]) == 'Write "a".'
    assert one_of(["a", "b", "c"]) == 'Write "a", "b" or "c".'
