"""A garlic made up for the larder's tests, with figures round enough to reckon by hand."""

from haulm.catalogue.records import (
    Basis,
    Figure,
    Food,
    Form,
    Giving,
    Hardy,
    Keeping,
    Kind,
    Labour,
    Method,
    Phase,
    PhaseRule,
    Picking,
    Role,
    SowingSeason,
    Stand,
    StoreKind,
    Warmth,
    Water,
)


def figure(value: float, unit: str = "1") -> Figure:
    """Make a judged figure."""
    return Figure(value, unit, Basis.JUDGED)


def keeping(form: Form, *stores: StoreKind, weeks: tuple[float, float] = (9, 20)) -> Keeping:
    """Make a keeping with 3.5 weeks of curing."""
    sound_90, sound_50 = weeks
    return Keeping(
        form=form,
        stores=stores,
        cure_weeks=figure(3.5, "weeks"),
        sound_90_weeks=figure(sound_90, "weeks"),
        sound_50_weeks=figure(sound_50, "weeks"),
        space_l_kg=figure(2.5, "litres/kg"),
        work_min_kg=figure(4, "minutes/kg"),
        conditions="dry and airy",
    )


CLOVES = Method(
    id="cloves",
    unit="clove",
    units_per_station=figure(1),
    germination=figure(0.95),
    survival=figure(0.9),
    module_weeks=None,
    units_per_kg=figure(200, "1/kg"),
    parts_per_unit=figure(10),
)

GARLIC = Food(
    id="garlic",
    name="garlic, cured",
    crop="garlic",
    kitchen_share=figure(0.85),
    portion_kg=figure(0.01, "kg"),
    piece="bulb",
    piece_kg=figure(0.05, "kg"),
)


def garlic(*keepings: Keeping) -> Kind:
    """Make a garlic that gives 2 kg/m² on 50 stations to the square metre."""
    return Kind(
        id="garlic/by-hand",
        crop="garlic",
        name="by hand",
        stand=Stand(
            spacing_in_row_m=figure(0.1, "m"),
            spacing_between_rows_m=figure(0.2, "m"),
            spacing_offset_m=figure(0.12, "m"),
            depth_m=figure(0.05, "m"),
            compost_m=figure(0.02, "m"),
        ),
        methods=(CLOVES,),
        warmth=Warmth(
            base_c=figure(0, "°C"),
            upper_c=figure(30, "°C"),
            germination_min_c=figure(3, "°C"),
            germination_best_c=figure(15, "°C"),
            killing_frost_c=Hardy("made by hand"),
        ),
        season=SowingSeason(),
        phases=(Phase("bulbs", PhaseRule.DEGREE_DAYS, figure(1800, "°C d")),),
        givings=(
            Giving(
                food="garlic",
                role=Role.MAIN,
                after="bulbs",
                picking=Picking.ONCE,
                span_weeks=figure(2, "weeks"),
                yield_kg_m2=figure(2, "kg/m²"),
                keeping=keepings,
            ),
        ),
        labour=Labour(figure(6), figure(0.2), figure(4)),
        water=Water(figure(0.4), figure(0.3), figure(0.7), figure(1.0), figure(0.7)),
        feed="middle",
    )
