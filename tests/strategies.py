"""Hypothesis strategies for gardens: any garden.toml that is sound, and weather to go with it."""

from datetime import date
from typing import Any

import numpy as np
from hypothesis import strategies as st

from haulm.catalogue.records import Form, StoreKind
from haulm.ground.records import Cover, Sun, Watered
from haulm.household.records import Wanted
from haulm.notebook.document import GardenDocument
from haulm.notebook.table_lines import slug
from haulm.site.records import DailyRecord, Soil

Raw = dict[str, Any]

LENGTH_WORDS = ("m", "cm", "ft")
YEARS = st.integers(1990, 2030)
DAYS = st.dates(date(2020, 1, 1), date(2030, 12, 31))
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=12).filter(
    lambda text: bool(text.strip())
)
IDS = st.text("abcdefghijklmnop-", min_size=1, max_size=8)
MONTH_DAYS = st.dates(date(2000, 1, 1), date(2000, 12, 31)).map(lambda day: f"{day:%m-%d}")
NUMBERS = st.one_of(st.integers(1, 40), st.floats(0.01, 40))


def told(least: float, most: float) -> st.SearchStrategy[float]:
    """Draw numbers as fine as anyone could tell them: to the twelfth decimal.

    SQLite gives a number as small as 1e-300 back with another last bit; nobody has such a garden.
    """
    return st.floats(least, most).map(lambda number: round(number, 12))


def quantities(*words: str) -> st.SearchStrategy[int | float | str]:
    """Draw an amount as a grower may type it: a number, or a number with a unit."""
    with_unit = st.builds(
        lambda number, word, mark: f"{number:.2f} {word}".replace(".", mark),
        st.floats(0.1, 40),
        st.sampled_from(words),
        st.sampled_from(".,"),
    )
    return st.one_of(NUMBERS, with_unit)


def tables(needed: Raw, optional: Raw) -> st.SearchStrategy[Raw]:
    """Draw a TOML table with all of the needed keys and any of the optional ones."""
    return st.fixed_dictionaries(needed, optional=optional)


def several(entry: st.SearchStrategy[Raw], key: str | None = None) -> st.SearchStrategy[list[Raw]]:
    """Draw up to three entries, no two alike by a key."""
    return st.lists(entry, max_size=3, unique_by=(lambda raw: raw[key]) if key else None)


def texts() -> st.SearchStrategy[str | list[str]]:
    """Draw one text, or a list of them."""
    return st.one_of(TEXTS, st.lists(TEXTS, min_size=1, max_size=3))


def shapes() -> st.SearchStrategy[Raw]:
    """Draw a bed's shape: two sides, a diameter or the corners of an L."""
    lengths = quantities(*LENGTH_WORDS)
    corner_lists = st.builds(
        lambda x, y: [[0, 0], [2 * x, 0], [2 * x, y], [x, y], [x, 2 * y], [0, 2 * y]],
        NUMBERS,
        NUMBERS,
    )
    return st.one_of(
        tables({"width": lengths, "length": lengths}, {}),
        tables({"diameter": lengths}, {}),
        tables({"corners": corner_lists}, {}),
    )


def beds() -> st.SearchStrategy[Raw]:
    """Draw a bed."""
    rest = tables(
        {"id": IDS},
        {
            "name": TEXTS,
            "cover": st.sampled_from([*map(str, Cover)]),
            "sun": st.sampled_from([*map(str, Sun)]),
            "ph": st.floats(3.5, 9),
            "soil": st.sampled_from([*map(str, Soil)]),
            "mulch": st.integers(0, 100).map(lambda percent: f"{percent} %"),
            "watered": st.sampled_from([*map(str, Watered)]),
            "past": several(tables({"crop": TEXTS, "year": YEARS}, {})),
            "found": several(tables({"disease": TEXTS, "year": YEARS}, {})),
        },
    )
    return st.builds(lambda bed, shape: bed | shape, rest, shapes())


def table_lines() -> st.SearchStrategy[Raw]:
    """Draw a line of the table."""
    how_much = st.one_of(
        tables({"amount": quantities("kg", "lb", "g")}, {}), tables({"portions": NUMBERS}, {})
    )
    seasons: st.SearchStrategy[Raw] = st.one_of(
        st.just({}), tables({"from": MONTH_DAYS, "to": MONTH_DAYS}, {})
    )
    shares = st.one_of(told(0, 1), st.integers(0, 100).map(lambda percent: f"{percent} %"))
    rest = tables(
        {"eat": texts(), "name": TEXTS},
        {
            "wanted": st.sampled_from([*map(str, Wanted)]),
            "priority": st.integers(1, 5),
            "grow_share": shares,
            "certainty": st.sampled_from([5, 6.5, 8, 9, 9.5]),
        },
    )
    return st.builds(lambda *raws: raws[0] | raws[1] | raws[2], rest, how_much, seasons)


def stores() -> st.SearchStrategy[Raw]:
    """Draw a store with a room, with jars or without limit."""
    limits: st.SearchStrategy[Raw] = st.one_of(
        st.just({}),
        tables({"room": quantities("l", "cu ft")}, {}),
        tables({"jars": st.integers(0, 200)}, {"jar": quantities("l", "US qt")}),
    )
    kinds = st.sampled_from([*map(str, StoreKind)])
    rest = tables({"id": IDS, "kind": kinds}, {"name": TEXTS})
    return st.builds(lambda store, limit: store | limit, rest, limits)


def weathers(*, daily: bool) -> st.SearchStrategy[Raw]:
    """Draw the weather part: a record's file, or twelve normals."""
    if daily:
        return st.just({"record": "weather.csv"})
    lows = st.one_of(st.integers(-30, 0), told(-30, 0), st.just("12,5 F"))
    highs = st.one_of(st.integers(1, 40), st.floats(1, 40), st.just("71.6 F"))
    normals = {
        "tmin": st.lists(lows, min_size=12, max_size=12),
        "tmax": st.lists(highs, min_size=12, max_size=12),
        "rain": st.lists(quantities("mm", "in"), min_size=12, max_size=12),
    }
    return tables({"normals": tables(normals, {})}, {})


def stretches_away(names: list[str]) -> st.SearchStrategy[Raw]:
    """Draw days away for all, or for one of the eaters."""
    stretches = st.tuples(DAYS, DAYS).map(lambda days: {"from": min(days), "to": max(days)})
    if not names:
        return stretches
    who: st.SearchStrategy[Raw] = st.one_of(
        st.just({}), tables({"who": st.sampled_from(names)}, {})
    )
    return st.builds(lambda days, some: days | some, stretches, who)


def pins(bed_ids: list[str]) -> st.SearchStrategy[Raw]:
    """Draw a pin: a planting kept, with or without its area, or forbidden."""
    where = {"bed": st.sampled_from(bed_ids)} if bed_ids else {}
    when = {"method": TEXTS, "week": DAYS}
    kept = {"rule": st.just("keep"), "kind": TEXTS}
    forbidden = {"rule": st.just("forbid"), "kind": TEXTS}
    return st.one_of(
        tables(kept, where | when | {"area": quantities("m2", "sq ft")}),
        tables(forbidden, where | when),
    )


def tanks() -> st.SearchStrategy[Raw]:
    """Draw a rain tank."""
    needed = {"name": TEXTS, "roof": quantities("m2"), "holds": quantities("l")}
    return tables(needed, {"caught": told(0, 1)})


def own_kinds() -> st.SearchStrategy[Raw]:
    """Draw a kind of the household's own."""
    return tables({"id": TEXTS, "like": TEXTS, "name": TEXTS}, {})


def own_figures() -> st.SearchStrategy[Raw]:
    """Draw a figure of the household's own, its spread and note there or not."""
    typed = quantities("cm", "weeks", "kg/m²")
    return tables(
        {"of": TEXTS, "figure": TEXTS, "value": typed}, {"low": typed, "high": typed, "note": TEXTS}
    )


@st.composite
def garden_documents(draw: st.DrawFn, *, daily: bool = False) -> GardenDocument:
    """Draw a sound garden, as typed; with ``daily`` its weather is a record."""
    raw_beds = draw(several(beds(), "id"))
    raw_stores = draw(several(stores(), "id"))
    raw_eaters = draw(
        several(tables({"name": TEXTS, "portions": NUMBERS}, {"age": st.integers(0, 110)}), "name")
    )
    names = [eater["name"] for eater in raw_eaters]
    raw: Raw = {
        "garden": draw(
            tables(
                {"name": TEXTS},
                {
                    "invented": st.booleans(),
                    "units": st.sampled_from(["metric", "us"]),
                    "least_patch": quantities("m2", "sq ft"),
                    "tray_cells": st.integers(0, 5000),
                    "grow": texts(),
                },
            )
        ),
        "place": draw(
            tables(
                {
                    "latitude": told(-90, 90),
                    "longitude": st.integers(-180, 180),
                    "soil": st.sampled_from([*map(str, Soil)]),
                },
                {"ph": st.floats(3.5, 9), "height": quantities("m", "ft")},
            )
        ),
        "weather": draw(weathers(daily=daily)),
        "eater": raw_eaters,
        "table": draw(st.lists(table_lines(), max_size=3, unique_by=lambda raw: slug(raw["name"]))),
        "bed": raw_beds,
        "store": raw_stores,
        "stock": draw(several(tables({"kind": TEXTS, "units": NUMBERS, "year": YEARS}, {}))),
        "price": draw(several(tables({"what": TEXTS, "each": NUMBERS, "currency": TEXTS}, {}))),
    }
    if draw(st.booleans()):
        raw["hours"] = draw(
            st.one_of(
                tables({"every_week": NUMBERS}, {}),
                tables({"by_month": st.lists(NUMBERS, min_size=12, max_size=12)}, {}),
            )
        )
    raw["away"] = draw(st.lists(stretches_away(names), max_size=2))
    if raw_stores:
        lot = tables(
            {
                "food": TEXTS,
                "form": st.sampled_from([*map(str, Form)]),
                "place": st.sampled_from([store["id"] for store in raw_stores]),
                "amount": quantities("kg", "oz"),
                "put_by": DAYS,
            },
            {"kind": TEXTS},
        )
        raw["in_store"] = draw(several(lot))
    if raw_beds:
        crop = tables(
            {
                "bed": st.sampled_from([bed["id"] for bed in raw_beds]),
                "kind": TEXTS,
                "method": TEXTS,
                "started": DAYS,
                "area": st.sampled_from([1e-7, "0.001 cm2"]),
            },
            {},
        )
        raw["standing"] = draw(several(crop))
    raw["pin"] = draw(several(pins([bed["id"] for bed in raw_beds])))
    raw["tank"] = draw(several(tanks(), "name"))
    raw["own_kind"] = draw(several(own_kinds()))
    raw["own_figure"] = draw(several(own_figures()))
    if raw["garden"].get("invented") and draw(st.booleans()):
        raw["garden"]["today"] = draw(DAYS)
    return GardenDocument.model_validate(raw)


@st.composite
def daily_records(draw: st.DrawFn) -> DailyRecord:
    """Draw a short daily record in which some values were not read."""
    days = draw(st.integers(3, 12))
    unread = st.just(float("nan"))
    lows = st.lists(st.one_of(told(-30, 5), unread), min_size=days, max_size=days)
    highs = st.lists(st.one_of(st.floats(5.5, 45), unread), min_size=days, max_size=days)
    rains = st.lists(st.one_of(told(0, 90), unread), min_size=days, max_size=days)
    tmin, tmax, rain = (np.array([1.5, *draw(one)[1:]]) for one in (lows, highs, rains))
    tmax[0] = 9.5
    return DailyRecord("weather.csv", draw(DAYS), tmin, tmax, rain)
