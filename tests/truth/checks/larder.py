"""Storage months, losses and curing, against published figures."""

from functools import partial
from math import log

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Form, Keeping
from haulm.larder.keeping import keeping_curve, sound_share
from haulm.season.curing import curings
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


def potatoes() -> Keeping:
    """Give how maincrop potatoes keep in a cellar."""
    (keeping,) = keepings("potato")
    return keeping


def potatoes_lost(weeks: float) -> float:
    """Give the share of maincrop potatoes no longer sound at an age [1]."""
    kept = potatoes()
    curve = keeping_curve(kept.sound_90_weeks.value, kept.sound_50_weeks.value)
    return 1 - sound_share(curve, weeks)


def potato_days() -> Span:
    """Give the days at which a tenth and a half of maincrop potatoes are lost [d]."""
    kept = potatoes()
    return 7 * kept.sound_90_weeks.value, 7 * kept.sound_50_weeks.value


def potato_sprouting_weeks() -> float:
    """Give the weeks in which our potatoes go from a tenth lost to four fifths lost [weeks]."""
    kept = potatoes()
    curve = keeping_curve(kept.sound_90_weeks.value, kept.sound_50_weeks.value)
    last = curve.scale_weeks * float(log(5) ** (1 / curve.shape))
    return last - kept.sound_90_weeks.value


DORMANCY = (
    "Brandt, Olsen, Stark and Gupta, Storing the Big Three, University of Idaho, in Potato Grower, "
    "September 2009"
)
UNDERSTOOD = "Understanding Dormancy, University of Idaho trials, in Potato Grower, September 2013"
WEIGHT = "Olsen and Frazier, Weighing In, University of Idaho, in Potato Grower, November 2017"
POTATO = (
    Table(
        claim="Potatoes of long dormancy sprout between our first tenth lost and our half lost.",
        source=DORMANCY,
        unit="d",
        rule=Rule.HOLDS,
        why="dormancy ends when four fifths have a sprout of 5 mm; ours is a cellar of 4 °C",
        carried=True,
        read="the beginning of the article",
        checks=(
            Check("Alpine Russet at 42 °F", 185, potato_days),
            Check("Alpine Russet at 45 °F", 165, potato_days),
            Check("Alpine Russet at 48 °F", 140, potato_days),
        ),
    ),
    Table(
        claim="From the first buds to four fifths sprouted takes the weeks of the trial.",
        source=UNDERSTOOD,
        unit="weeks",
        rule=Rule.WITHIN,
        why="a range is printed; ours runs from nine tenths sound to one fifth",
        read="the beginning of the article",
        checks=(
            Check(
                "potato",
                (2, 4),
                potato_sprouting_weeks,
                "ours is many lots of many varieties, each sprouting in its own weeks, with rot "
                "besides; of one lot all sprout about the same time, which its counts then tell",
            ),
        ),
    ),
    Table(
        claim="Ours counts no less lost than potatoes lose in weight.",
        source=WEIGHT,
        unit="1",
        rule=Rule.AT_LEAST,
        why="about so much is printed",
        read="of the article its beginning, and its figures as Potato News Today gives them",
        checks=(
            Check(
                "in the first month",
                0.03,
                partial(potatoes_lost, WEEKS_A_MONTH),
                "ours counts what is no longer sound, not the water that goes while the skin sets: "
                "that is told as curing's loss, below",
            ),
            Check("in five months", 0.05, partial(potatoes_lost, 5 * WEEKS_A_MONTH)),
        ),
    ),
    Table(
        claim="What goes in curing potatoes is what the first month in store takes.",
        source=WEIGHT,
        unit="1",
        carried=True,
        why="about so much is printed",
        read="as Potato News Today gives it",
        checks=(Check("potato", 0.03, lambda: curings()["potato"].lost.value),),
    ),
    Table(
        claim="A cellar keeps more sound than a warm store of the farm does in four months.",
        source="Storage Potentialities of Some Exotic Potato Varieties at Farmers' Condition in "
        "Bangladesh, scirp.org, paper 74274",
        unit="1",
        rule=Rule.AT_LEAST,
        read="its abstract",
        checks=(
            Check("against Asterix", 0.8021, lambda: 1 - potatoes_lost(4 * WEEKS_A_MONTH)),
            Check("against Diamant", 0.6907, lambda: 1 - potatoes_lost(4 * WEEKS_A_MONTH)),
        ),
    ),
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
        *POTATO,
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
