from dataclasses import replace
from datetime import date, timedelta

import pytest

from haulm.catalogue.records import Form, Kind
from haulm.desk.garden.opening import Opened
from haulm.desk.planning.question import Asked, ask, kinds_for, seed_back, stock_in_hand
from haulm.larder.records import LotInHand
from haulm.measure.errors import FaultsFoundError
from haulm.notebook.garden import PlantingStock, Price, StandingCrop


def test_only_kinds_that_feed_the_table_are_asked_about(opened: Opened, asked: Asked) -> None:
    """Who eats garlic, onions, beans and leeks is offered those, and no swedes."""
    assert {kind.crop for kind in asked.kinds} == {"garlic", "onion", "leek", "french bean"}
    assert {sowing.kind for sowing in asked.question.sowings} <= {kind.id for kind in asked.kinds}
    named = replace(opened.garden, kinds_wanted=("leek/winter",))
    assert [kind.id for kind in kinds_for(named, opened.catalogue)] == ["leek/winter"]


def test_every_sowing_lies_in_the_window_it_was_offered_for(asked: Asked) -> None:
    """Nothing is offered for sowing before or after its own window at this site."""
    for sowing in asked.question.sowings:
        assert sowing.window.first_day <= sowing.sow_on <= sowing.window.last_day


def test_no_cover_here_no_sowing_under_cover(asked: Asked) -> None:
    """A garden without tunnel or glass is offered no sowing under cover."""
    assert not any(sowing.under_cover for sowing in asked.question.sowings)


def test_appetite_runs_through_every_week_it_is_wanted(asked: Asked) -> None:
    """Half a kilogram of onions a week for two years is 52 kg; beans are wanted in summer only."""
    wanted = {appetite.line: appetite.kg for appetite in asked.question.appetites}
    assert sum(wanted["onion"]) == pytest.approx(52.0)
    in_winter = [
        kg
        for week, kg in enumerate(wanted["green beans"])
        if asked.question.horizon.monday(week).month in {11, 12, 1, 2, 3, 4}
    ]
    assert sum(in_winter) == 0


def test_every_id_has_a_name_to_be_told_by(asked: Asked) -> None:
    """No bed, kind, food, family, store or line is ever spoken of by an id without a name."""
    question = asked.question
    ids = {bed.id for bed in question.beds} | {store.id for store in question.stores}
    ids |= {sowing.kind for sowing in question.sowings} | {s.family for s in question.sowings}
    ids |= {appetite.line for appetite in question.appetites}
    ids |= {food.food for sowing in question.sowings for food in sowing.foods}
    assert ids <= set(question.names)


def test_garlic_may_be_kept_back_to_plant_beside_what_is_in_hand(opened: Opened) -> None:
    """Cloves come from the household's own bulbs; stock in hand of one kind is added up."""
    stock = (
        PlantingStock("garlic/soft-necked", 30, 2026),
        PlantingStock("garlic/soft-necked", 12, 2026),
    )
    garden = replace(opened.garden, stock=stock)
    assert stock_in_hand(garden) == {"garlic/soft-necked": 42}
    kept = {seed.kind: seed for seed in seed_back(garden, opened.catalogue, asked_kinds(opened))}
    assert kept["garlic/soft-necked"].in_hand_units == 42
    assert kept["garlic/soft-necked"].units_per_kg > 50
    assert kept["garlic/hard-necked"].in_hand_units == 0
    assert "leek/winter" not in kept


def test_the_grower_s_own_prices_weigh_bought_stock(opened: Opened) -> None:
    """A clove at 0.40 against garlic at 16 a kilogram weighs 25 g of it; in two currencies, no one
    could say, and the usual ratio stands.
    """
    clove = Price("garlic/soft-necked", 0.4, "EUR")
    own, mixed = (
        replace(opened.garden, prices=(clove, Price("garlic", 16.0, currency)))
        for currency in ("EUR", "USD")
    )
    weighed, usual, plain = (
        {seed.kind: seed.buy_price_unit for seed in found}["garlic/soft-necked"]
        for found in (
            seed_back(garden, opened.catalogue, asked_kinds(opened))
            for garden in (own, mixed, opened.garden)
        )
    )
    assert weighed == pytest.approx(0.025)
    assert usual == plain


def asked_kinds(opened: Opened) -> tuple[Kind, ...]:
    """Give the kinds that feed the small garden's table."""
    return kinds_for(opened.garden, opened.catalogue)


def test_all_that_is_misdated_is_told_at_once(opened: Opened, day: date) -> None:
    """What is from days to come, and what stands since years ago, is all told together."""
    later, ago = day + timedelta(days=3), day - timedelta(days=900)
    stands = tuple(
        StandingCrop("north", "garlic/soft-necked", "cloves", when, 1.0) for when in (later, ago)
    )
    lot = LotInHand("onion", "onion/sets", Form.CURED, "pantry", 3.0, later)
    garden = replace(opened.garden, standing=stands, lots=(lot,))
    with pytest.raises(FaultsFoundError) as refused:
        ask(garden, opened.catalogue, day, seed=1)
    assert len(refused.value.findings) == 3


def test_food_in_store_is_asked_about_though_the_table_wants_none(
    opened: Opened, day: date
) -> None:
    """A kind that only lies in store still has its keeping known, so it can be followed."""
    lot = LotInHand("garlic", "garlic/hard-necked", Form.CURED, "pantry", 3.0, day)
    garden = replace(opened.garden, lots=(lot,), kinds_wanted=("leek/winter",))
    question = ask(garden, opened.catalogue, day, seed=1).question
    assert {rule.kind for rule in question.keep_rules} >= {"garlic/hard-necked"}
    assert {sowing.kind for sowing in question.sowings} == {"leek/winter"}
