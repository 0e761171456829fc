"""How long disease closes ground, against published survival and advice."""

from functools import partial

from haulm.catalogue.loader import load_catalogue
from truth.published import Basis, Check, Rule, Section, Table

UCONN = (
    "Rotation periods suggested to help control vegetable diseases, University of Connecticut IPM"
)


def closed_years(disease: str) -> float:
    """Give the years a disease closes ground: the longer of its two counts."""
    record = load_catalogue().diseases[disease]
    return max(record.common_years.value, record.published_years.value)


def common_years(disease: str) -> float:
    """Give the years of the usual advice."""
    return load_catalogue().diseases[disease].common_years.value


def gap_years(family: str) -> float:
    """Give the years between a family's stands."""
    return load_catalogue().families[family].rotation_gap_years.value


def survival(disease: str, source: str, years: float) -> Table:
    """Hold a disease's clock to one published survival."""
    return Table(
        claim=f"Ground stays closed to {disease} at least as long as the source has it live.",
        source=source,
        unit="years",
        rule=Rule.AT_LEAST,
        why="sources differ; the longest read is used",
        carried=True,
        checks=(Check(disease, years, partial(closed_years, disease)),),
    )


SECTION = Section(
    "Disease and rotation",
    (
        survival(
            "white rot",
            "Onion and Garlic Pest Management Guidelines: White Rot, UC IPM",
            20,
        ),
        survival(
            "white rot",
            "Garlic: White Rot, Pacific Northwest Plant Disease Handbook, rev. March 2024",
            20,
        ),
        survival("white rot", "Alliums, White Rot, University of Massachusetts Extension", 15),
        survival(
            "clubroot",
            "Turnip, Rutabaga: Clubroot, Pacific Northwest Plant Disease Handbook",
            10,
        ),
        survival("onion smut", "Onion smut, Oregon Department of Agriculture", 15),
        survival(
            "verticillium wilt",
            "Verticillium Wilt of Strawberry, Report on Plant Disease 707, University of Illinois, "
            "2001",
            25,
        ),
        survival(
            "aphanomyces root rot",
            "Pea: Aphanomyces Root Rot, Pacific Northwest Plant Disease Handbook",
            10,
        ),
        survival("powdery scab", "Powdery Scab, AHDB", 10),
        survival(
            "strawberry red core",
            "Red Stele of Strawberry, University of Kentucky, Fruit Scout",
            15,
        ),
        survival(
            "potato wart",
            "Potato wart in New Zealand (Baskarathevan), Australasian Plant Pathology Society, "
            "2017",
            40,
        ),
        survival(
            "fusarium rot of cucumber",
            "Cucumber: Fusarium root and stem rot, Pacific Northwest Plant Disease Handbook",
            3,
        ),
        Table(
            claim="No disease opens ground sooner than a text of its own advises.",
            source="the text named at each",
            unit="years",
            rule=Rule.AT_LEAST,
            why="the longer of advice and survival closes ground",
            carried=True,
            checks=tuple(
                Check(f"{disease}, {text}", years, partial(closed_years, disease))
                for disease, text, years in (
                    ("fusarium basal rot", "UC IPM, Onion and Garlic Guidelines", 3),
                    ("fusarium basal rot", "Utah State University Extension", 3),
                    ("fusarium basal rot", "Pacific Northwest Plant Disease Handbook", 4),
                    ("onion downy mildew", "University of Wisconsin, Vegetable Pathology", 3),
                    ("white mould", "UC IPM, Pests in Gardens and Landscapes", 2),
                    ("verticillium wilt", "University of Massachusetts, Strawberry IPM", 5),
                    ("carrot cavity spot", "UC IPM, Pests in Gardens and Landscapes", 3),
                    ("carrot cavity spot", "Utah State University Extension", 3),
                    ("fusarium rot of cucumber", "Pacific Northwest Plant Disease Handbook", 4),
                    ("potato wart", "EPPO Reporting Service 2021/200", 20),
                )
            ),
        ),
        Table(
            claim="Clubroot persists longer than the years for which ground is closed.",
            source="Lund University, abstract in its record 9714",
            unit="years",
            rule=Rule.AT_LEAST,
            why="sources differ",
            carried=True,
            checks=(
                Check(
                    "clubroot",
                    15,
                    partial(closed_years, "clubroot"),
                    differs=(
                        "ours is the handbook's 10 years or longer, whose half-life of 3 to 6 "
                        "years leaves an eighth or less by then; both counts are shown"
                    ),
                ),
            ),
        ),
        Table(
            claim="No disease opens ground sooner than advised.",
            source=UCONN,
            unit="years",
            rule=Rule.AT_LEAST,
            why="the longer of advice and survival closes ground",
            carried=True,
            checks=tuple(
                Check(disease, years, partial(closed_years, disease))
                for disease, years in (
                    ("clubroot", 7),
                    ("bean anthracnose", 2),
                    ("beet leaf spot", 3),
                    ("black rot of cabbage", 3),
                    ("cucumber scab", 2),
                    ("lettuce drop", 3),
                    ("verticillium wilt", 4),
                    ("blackleg of cabbage", 4),
                    ("bean blight", 2),
                )
            ),
        ),
        Table(
            claim="The usual advice against clubroot is that of the table.",
            source=UCONN,
            unit="years",
            carried=True,
            checks=(Check("clubroot, advice", 7, partial(common_years, "clubroot")),),
        ),
    ),
)

COMMON = (
    Table(
        claim="Three years or more lie between stands of the great families.",
        source="common practice",
        unit="years",
        rule=Rule.AT_LEAST,
        why="three to four years are usual",
        carried=True,
        basis=Basis.COMMON_PRACTICE,
        checks=tuple(
            Check(f"{family} family", 3, partial(gap_years, family))
            for family in ("onion", "cabbage", "potato", "bean")
        ),
    ),
    Table(
        claim="White rot is often said to go in three to four years.",
        source="common practice",
        unit="years",
        rule=Rule.WITHIN,
        why="shown beside the survival read, which rules",
        carried=True,
        basis=Basis.COMMON_PRACTICE,
        checks=(Check("white rot", (3, 4), partial(common_years, "white rot")),),
    ),
)
