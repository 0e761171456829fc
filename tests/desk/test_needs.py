from datetime import date
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.desk.garden.opening import Opened
from haulm.desk.planning.question import Asked
from haulm.desk.table.needs import Needs, best_keeping, needs_of, weeks_to_planting
from haulm.larder.need import ReadyInfo


@pytest.fixture(scope="module")
def needs(small_toml: Path) -> Needs:
    """Give the small garden's sums as of 1 February 2027."""
    return needs_of(small_toml, date(2027, 2, 1), seed=1)


def test_every_line_is_summed_by_every_kind_that_can_serve_it(needs: Needs, asked: Asked) -> None:
    """Each line of the table has its sums, each by a kind that gives one of the line's foods."""
    foods = {kind.id: {giving.food for giving in kind.givings} for kind in asked.kinds}
    assert {total.line for total in needs.sums} == {"garlic", "onion", "green beans", "leek"}
    assert all(total.food in foods[total.kind] for total in needs.sums)


def test_losses_are_divided_out_never_multiplied_up(needs: Needs) -> None:
    """More is lifted than is eaten, and more is started than stands."""
    for total in needs.sums:
        assert total.lifted_kg >= total.eaten_kg > 0
        assert total.stock >= total.plants
        assert any("/" in step.arithmetic for step in total.steps)


def test_no_year_eats_more_than_a_year_wants(needs: Needs) -> None:
    """Half a kilogram of onions a week is at most 26 kg a year, whichever kind brings them."""
    onions = [total.eaten_kg for total in needs.sums if total.line == "onion"]
    assert onions
    assert max(onions) <= 26.5


def test_the_kind_that_feeds_most_comes_first(needs: Needs) -> None:
    """Within a line, kinds that feed the table longer are named before those that feed it less."""
    for line in {total.line for total in needs.sums}:
        eaten = [total.eaten_kg for total in needs.sums if total.line == line]
        assert eaten == sorted(eaten, reverse=True)


def test_a_line_nothing_can_serve_is_told(tmp_path: Path) -> None:
    """Fresh beans in January can come from nowhere in this garden; that is said, not left out."""
    toml = small_garden(tmp_path, ('from = "06-15"\nto = "09-30"', 'from = "01-05"\nto = "01-31"'))
    found = needs_of(toml, date(2027, 2, 1), seed=1)
    assert "green beans" not in {total.line for total in found.sums}
    assert "table, green beans" in {finding.where for finding in found.findings}


def test_the_form_that_keeps_longest_is_chosen(asked: Asked) -> None:
    """Onions are summed by the place in which they stay sound longest; what never keeps by none."""
    rules = [rule for rule in asked.question.keep_rules if rule.kind == "onion/sets"]
    best = best_keeping(rules, "onion/sets", "onion")
    assert best is not None
    assert len(best.sound) == max(len(rule.sound) for rule in rules)
    assert best_keeping(rules, "onion/sets", "leek") is None


def test_cloves_kept_back_wait_from_lifting_to_setting(asked: Asked, opened: Opened) -> None:
    """Soft-necked garlic lifted in summer waits 8 to 30 weeks for its planting; seed is bought."""
    garlic = next(s for s in asked.question.sowings if s.kind == "garlic/soft-necked")
    bulbs = next(food for food in garlic.foods if food.food == "garlic")
    ready = ReadyInfo(bulbs.week_shares[0][0], bulbs.week_shares[-1][0])
    weeks = weeks_to_planting(opened.catalogue.kinds[garlic.kind], garlic, ready)
    assert weeks is not None
    assert 8 <= weeks <= 30
    leek = next(s for s in asked.question.sowings if s.kind == "leek/winter")
    assert weeks_to_planting(opened.catalogue.kinds[leek.kind], leek, ready) is None
