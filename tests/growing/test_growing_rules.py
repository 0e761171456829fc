"""The growing rules' figures."""

from dataclasses import fields

from haulm.catalogue.records import Basis, Figure
from haulm.growing.rules import growing_rules


def test_every_figure_says_its_unit_and_what_it_rests_on() -> None:
    """No figure of the growing rules stands without a unit, a basis and a word of explanation."""
    rules = growing_rules()
    for field in fields(rules):
        figure = getattr(rules, field.name)
        assert isinstance(figure, Figure), field.name
        assert figure.unit, field.name
        assert figure.note, field.name
        assert figure.basis is not Basis.PUBLISHED, "a published figure would need its source"


def test_promises_are_shares() -> None:
    """How sure a rule must be is a share of years, more than half and less than all."""
    rules = growing_rules()
    for sure in (rules.certainty_warmth, rules.certainty_frost, rules.certainty_ready):
        assert 0.5 < sure.value < 1
