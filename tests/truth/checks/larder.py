"""Storage months, losses and curing, against published figures."""

from functools import partial

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Form, Keeping
from haulm.larder.keeping import keeping_curve, sound_share
from stated import spread
from truth.published import Basis, Check, Rule, Section, Span, Table

WEEKS_A_MONTH = 365.25 / 12 / 7
FORMS = (Form.CURED, Form.CELLARED)
SQUASH = (
    "Cantwell and Suslow, Pumpkin and Winter Squash: Recommendations for Maintaining Postharvest "
    "Quality, UC Davis, reporting Oregon State University's eight cultivars"
)
STORAGE_TABLE = "storage table, Knox County, Maine, newspaper column of 13 November 2011"


def keepings(food: str) -> list[Keeping]:
    """Give every cured or cellared keeping of a food."""
    return [
        keeping
        for kind in load_catalogue().kinds.values()
        for giving in kind.givings
        for keeping in giving.keeping
        if giving.food == food and keeping.form in FORMS
    ]


def months(food: str) -> Span:
    """Give when the shortest keeper has lost a tenth and the longest a half [months]."""
    kept = keepings(food)
    return (
        min(keeping.sound_90_weeks.value for keeping in kept) / WEEKS_A_MONTH,
        max(keeping.sound_50_weeks.value for keeping in kept) / WEEKS_A_MONTH,
    )


def cure_days(food: str) -> Span:
    """Give the days of curing, eight years in ten [d]."""
    figures = [keeping.cure_weeks for keeping in keepings(food) if keeping.cure_weeks.value > 0]
    lows, highs = zip(*map(spread, figures), strict=True)
    return 7 * min(lows), 7 * max(highs)


def kept_so(food: str, source: str, span: Span, *, read: str = "read itself") -> Table:
    """Hold one food's storage months to a source."""
    return Table(
        claim=f"Stored {food} lasts the months of the source, between first losses and half lost.",
        source=source,
        unit="months",
        rule=Rule.MEETS,
        why="a source's months name no share lost; ours run from 90 to 50 % sound",
        carried=True,
        read=read,
        checks=(Check(food, span, partial(months, food)),),
    )


SECTION = Section(
    "Keeping",
    (
        Table(
            claim="The curve through two figures of squash gives the third.",
            source=SQUASH,
            unit="1",
            tolerance=0.015,
            why="printed to ten in a hundred",
            checks=(
                Check("sound at 9 weeks", 0.90, lambda: sound_share(keeping_curve(9, 20), 9)),
                Check("sound at 15 weeks", 0.70, lambda: sound_share(keeping_curve(9, 20), 15)),
                Check("sound at 20 weeks", 0.50, lambda: sound_share(keeping_curve(9, 20), 20)),
            ),
        ),
        *(
            kept_so(food, STORAGE_TABLE, span, read="in the column, not in the table it copies")
            for food, span in (
                ("beetroot", (3, 5)),
                ("cabbage", (3, 4)),
                ("garlic", (6, 7)),
                ("onion", (6, 7)),
                ("potato", (4, 9)),
                ("pumpkin", (2, 3)),
                ("sweet potato", (4, 6)),
            )
        ),
        kept_so("onion", "Suslow, Onions, Dry: Produce Facts, UC Davis", (6, 9)),
        kept_so("garlic", "WFLO Commodity Storage Manual, Garlic, 2018", (6, 7)),
        kept_so(
            "garlic",
            "USDA Agriculture Handbook 66",
            (6, 7),
            read="as a Cornell growers' page paraphrases it",
        ),
        kept_so(
            "winter squash",
            "G. Johnson, Winter Squash for Extended Sales, Weekly Crop Update, University of "
            "Delaware",
            (3, 6),
        ),
        kept_so(
            "pumpkin",
            "G. Johnson, Winter Squash for Extended Sales, Weekly Crop Update, University of "
            "Delaware",
            (2, 3),
        ),
        Table(
            claim="Curing takes the days of the handbook.",
            source="Kitinoja and Kader, Small-scale Postharvest Handling Practices, chapter 2",
            unit="d",
            rule=Rule.MEETS,
            why="both are ranges",
            carried=True,
            checks=(
                Check("potato", (5, 10), partial(cure_days, "potato")),
                Check("sweet potato", (4, 7), partial(cure_days, "sweet potato")),
            ),
        ),
        Table(
            claim="Curing winter squash takes one to two weeks.",
            source="Knapp, Beyond the Root Cellar, excerpt",
            unit="d",
            rule=Rule.MEETS,
            why="both are ranges",
            carried=True,
            checks=(Check("winter squash", (7, 14), partial(cure_days, "winter squash")),),
        ),
        Table(
            claim="Garlic cures three to four weeks.",
            source="University of Minnesota, on minnesotagrown.com",
            unit="d",
            rule=Rule.MEETS,
            why="both are ranges; ours runs from four to six weeks by common practice",
            carried=True,
            read="as a state marketing page gives it",
            checks=(Check("garlic", (21, 28), partial(cure_days, "garlic")),),
        ),
    ),
)


def garlic_months(kind: str) -> Span:
    """Give when a kind of garlic has lost a tenth and a half [months]."""
    (keeping,) = (
        keeping
        for giving in load_catalogue().kinds[kind].givings
        for keeping in giving.keeping
        if giving.food == "garlic" and keeping.form is Form.CURED
    )
    return (
        keeping.sound_90_weeks.value / WEEKS_A_MONTH,
        keeping.sound_50_weeks.value / WEEKS_A_MONTH,
    )


COMMON = (
    Table(
        claim="Garlic keeps by its neck.",
        source="common practice",
        unit="months",
        tolerance=0.25,
        why="a week",
        carried=True,
        basis=Basis.COMMON_PRACTICE,
        checks=(
            Check("hard-necked", (4, 6), partial(garlic_months, "garlic/hard-necked")),
            Check("soft-necked", (9, 12), partial(garlic_months, "garlic/soft-necked")),
        ),
    ),
    Table(
        claim="Garlic cures four to six weeks.",
        source="common practice",
        unit="d",
        carried=True,
        basis=Basis.COMMON_PRACTICE,
        checks=(Check("garlic", (28, 42), partial(cure_days, "garlic")),),
    ),
)
