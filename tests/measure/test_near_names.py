"""Near names for a mistyped one."""

from haulm.measure.near import near_names


def test_a_slip_finds_the_name_that_was_meant() -> None:
    """A mistyped food is met with the one it looks like, as the catalogue writes it."""
    assert near_names("garlick", ["Garlic", "onion", "leek"])[0] == "Garlic"


def test_case_is_passed_over() -> None:
    """LEEK and leek are one word."""
    assert near_names("LEEK", ["onion", "leek"]) == ("leek",)


def test_nothing_is_offered_where_nothing_is_near() -> None:
    """No name is offered for a word that looks like none of them."""
    assert near_names("zzz", ["onion", "leek"]) == ()


def test_a_name_that_holds_the_word_is_near() -> None:
    """Whoever writes garlic may mean green garlic, or one of the kinds of garlic."""
    near = near_names("garlic", ["green garlic", "garlic/soft-necked", "onion"])
    assert set(near) == {"green garlic", "garlic/soft-necked"}
