"""The catalogue's crop coefficients, rooting depths and depletion fractions, against FAO-56."""

from collections.abc import Mapping
from functools import partial
from operator import attrgetter

from haulm.catalogue.loader import load_catalogue
from stated import spread, stated
from truth.checks.sources import FAO_56
from truth.published import Check, Rule, Section, Span, Table

# Table 12: Kc initial, middle, end; table 22: least and most rooting depth [m], p. Kinds on poles
# have the middle Kc of note 2: 1.15 for beans, 1.20 for tomato.
ROWS: Mapping[str, tuple[float, float, float, Span, float]] = {
    "asparagus/green": (0.5, 0.95, 0.3, (1.2, 1.8), 0.45),
    "strawberry/summer": (0.4, 0.85, 0.75, (0.2, 0.3), 0.2),
    "brussels sprouts/winter": (0.7, 1.05, 0.95, (0.4, 0.6), 0.45),
    "cabbage/summer": (0.7, 1.05, 0.95, (0.5, 0.8), 0.45),
    "carrot/storing": (0.7, 1.05, 0.95, (0.5, 1.0), 0.35),
    "cauliflower/autumn": (0.7, 1.05, 0.95, (0.4, 0.7), 0.45),
    "lettuce/summer": (0.7, 1.0, 0.95, (0.3, 0.5), 0.30),
    "onion/sets": (0.7, 1.05, 0.75, (0.3, 0.6), 0.30),
    "onion/spring": (0.7, 1.0, 1.0, (0.3, 0.6), 0.30),
    "aubergine/long": (0.6, 1.05, 0.90, (0.7, 1.2), 0.45),
    "pepper/sweet": (0.6, 1.05, 0.90, (0.5, 1.0), 0.30),
    "melon/early": (0.5, 0.85, 0.60, (0.9, 1.5), 0.45),
    "pumpkin/trailing": (0.5, 1.0, 0.80, (1.0, 1.5), 0.35),
    "winter squash/small": (0.5, 1.0, 0.80, (1.0, 1.5), 0.35),
    "watermelon/early": (0.4, 1.0, 0.75, (0.8, 1.5), 0.40),
    "beetroot/summer": (0.5, 1.05, 0.95, (0.6, 1.0), 0.50),
    "potato/maincrop": (0.5, 1.15, 0.75, (0.4, 0.6), 0.35),
    "sweet potato/orange": (0.5, 1.15, 0.65, (1.0, 1.5), 0.65),
    "turnip/early": (0.5, 1.10, 0.95, (0.5, 1.0), 0.50),
    "swede/winter": (0.5, 1.10, 0.95, (0.5, 1.0), 0.50),
    "french bean/dwarf": (0.5, 1.05, 0.90, (0.5, 0.7), 0.45),
    "french bean/climbing": (0.5, 1.15, 0.90, (0.5, 0.7), 0.45),
    "french bean/for drying": (0.4, 1.15, 0.35, (0.6, 0.9), 0.45),
    "broad bean/spring": (0.5, 1.15, 1.10, (0.5, 0.7), 0.45),
    "lentil/spring": (0.4, 1.10, 0.30, (0.6, 0.8), 0.50),
    "calabrese/summer": (0.7, 1.05, 0.95, (0.4, 0.6), 0.45),
    "celeriac/storing": (0.7, 1.05, 1.00, (0.3, 0.5), 0.20),
    "garlic/hard-necked": (0.7, 1.0, 0.70, (0.3, 0.5), 0.30),
    "spinach/spring": (0.7, 1.0, 0.95, (0.3, 0.5), 0.20),
    "radish/summer": (0.7, 0.9, 0.85, (0.3, 0.5), 0.30),
    "cucumber/ridge": (0.6, 1.0, 0.75, (0.7, 1.2), 0.50),
    "courgette/bush": (0.5, 0.95, 0.75, (0.6, 1.0), 0.50),
    "parsnip/winter": (0.5, 1.05, 0.95, (0.5, 1.0), 0.40),
    "chickpea/spring": (0.4, 1.0, 0.35, (0.6, 1.0), 0.50),
    "pea/early": (0.5, 1.15, 1.10, (0.6, 1.0), 0.35),
    "soya/early": (0.4, 1.15, 0.50, (0.6, 1.3), 0.50),
    "sweet corn/early": (0.3, 1.15, 1.05, (0.8, 1.2), 0.50),
    "grain maize/dent": (0.3, 1.20, 0.35, (1.0, 1.7), 0.55),
}
FIELDS = (
    ("Kc at first", "kc_initial.value"),
    ("Kc in the middle", "kc_middle.value"),
    ("Kc at the end", "kc_end.value"),
)


def figure(kind: str, field: str) -> float:
    """Give one of a kind's water figures."""
    return float(attrgetter(field)(load_catalogue().kinds[kind].water))


def tomato(middle: float) -> tuple[float | Span, ...]:
    """Give tomato's three coefficients [1]."""
    return 0.6, middle, (0.70, 0.90)


def rooting(kind: str) -> Span:
    """Give a kind's least and most rooting depth [m]."""
    return spread(stated(load_catalogue().kinds[kind].water.rooting_m))


SECTION = Section(
    "Water of crops",
    (
        Table(
            claim="A kind's crop coefficients are those of its row.",
            source=f"{FAO_56}, table 12",
            unit="1",
            carried=True,
            checks=tuple(
                Check(f"{kind}: {name}", printed, partial(figure, kind, field))
                for kind, row in ROWS.items()
                for (name, field), printed in zip(FIELDS, row[:3], strict=True)
            ),
        ),
        Table(
            claim="Tomato's coefficients are those of its row, on poles and off them.",
            source=f"{FAO_56}, table 12 and its note 2",
            unit="1",
            rule=Rule.WITHIN,
            why="the end is printed as a range; the rest as one figure",
            carried=True,
            checks=(
                *(
                    Check(f"{kind}: {name}", printed, partial(figure, kind, field))
                    for kind, middle in (("tomato/bush", 1.15), ("tomato/cordon", 1.20))
                    for (name, field), printed in zip(FIELDS, tomato(middle), strict=True)
                ),
            ),
        ),
        Table(
            claim="A kind roots as deep as its row says.",
            source=f"{FAO_56}, table 22",
            unit="m",
            carried=True,
            checks=tuple(
                Check(f"{kind}: rooting depth", row[3], partial(rooting, kind))
                for kind, row in {**ROWS, "tomato/bush": (0, 0, 0, (0.7, 1.5), 0.4)}.items()
            ),
        ),
        Table(
            claim="A kind takes without stress the share of its row, at 5 mm a day.",
            source=f"{FAO_56}, table 22",
            unit="1",
            carried=True,
            checks=tuple(
                Check(
                    f"{kind}: depletion fraction",
                    row[4],
                    partial(figure, kind, "depletion_fraction.value"),
                )
                for kind, row in {**ROWS, "tomato/bush": (0, 0, 0, (0.7, 1.5), 0.4)}.items()
            ),
        ),
    ),
)
