from dataclasses import replace

from haulm.catalogue.records import StoreKind
from haulm.desk.garden.opening import Opened
from haulm.desk.planning.question import Asked
from haulm.desk.table.storing import keeping_places, unkept
from haulm.household.records import Wanted


def test_onions_keep_in_the_dry_and_leeks_in_the_freezer(opened: Opened, asked: Asked) -> None:
    """Common practice: cured onions hang dry and airy; leeks stand in the ground, or are frozen."""
    lines = {line.id: line for line in opened.garden.household.table}
    assert StoreKind.SHELF in keeping_places(lines["onion"], asked.kinds)
    assert keeping_places(lines["leek"], asked.kinds) == {StoreKind.FREEZER}


def test_only_what_no_place_here_keeps_is_told(opened: Opened, asked: Asked) -> None:
    """A pantry keeps garlic and onions; without a freezer the leeks are told, with the place."""
    (finding,) = unkept(opened.garden, asked.kinds)
    assert "leek" in finding.where
    assert "freezer" in finding.what


def test_what_is_wanted_fresh_needs_no_store(opened: Opened, asked: Asked) -> None:
    """Without any store, only the lines that may be eaten kept are told."""
    bare = replace(opened.garden, stores=())
    told = {finding.where for finding in unkept(bare, asked.kinds)}
    assert told == {"stores, for garlic", "stores, for onion", "stores, for leek"}
    table = tuple(replace(line, wanted=Wanted.FRESH) for line in bare.household.table)
    fresh = replace(bare, household=replace(bare.household, table=table))
    assert unkept(fresh, asked.kinds) == ()
