"""What a garden tells of its look-out: the rules on blight it goes by, and the fleece there is."""

from typing import Annotated

from pydantic import BeforeValidator, PlainSerializer

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.units import parse_area_m2, parse_dimensions_m
from haulm.notebook.declaring import Part, key
from haulm.notebook.faults import Gathered
from haulm.notebook.values import Texts, listed
from haulm.season.blight_rules import BlightBy
from haulm.season.watch_records import WatchMeans

WALLIN_ALONE = (
    "Wallin's severity tells how much a day favours blight, and warns of nothing alone.",
    "Choose hutton, smith or irish beside it.",
)
"""What is wrong with going by it alone, and what to do."""

Chosen = Annotated[
    tuple[BlightBy, ...],
    BeforeValidator(listed, json_schema_input_type=BlightBy | tuple[BlightBy, ...]),
    PlainSerializer(lambda chosen: [str(one) for one in chosen]),
]


class LookoutPart(Part):
    """[lookout]: what the look-out goes by."""

    blight: Chosen = key(
        "The rules that say when blight has its weather: hutton, smith, irish, wallin, or a list. "
        "All four when left out.",
        ["hutton", "irish"],
        default=(),
    )
    fleece: Texts = key(
        "The fleece there is to lay over beds for a night, piece by piece, each as width and "
        "length or as an area; what lies on a bed already is not meant. 0 for none. Whether it is "
        "enough is not said when left out.",
        ["2 m x 10 m", "12 m2"],
        default=(),
    )


def watch_means_from(part: LookoutPart | None, gathered: Gathered) -> WatchMeans:
    """Make what the look-out goes by; every piece of fleece that cannot be read is a fault."""
    if part is None:
        return WatchMeans()
    if set(part.blight) == {BlightBy.WALLIN}:
        gathered.fault(("lookout", "blight"), *WALLIN_ALONE)
    pieces = [_piece_m2(number, text, gathered) for number, text in enumerate(part.fleece)]
    return WatchMeans(part.blight, sum(pieces) if pieces else None)


def _piece_m2(number: int, text: str, gathered: Gathered) -> float:
    """Read a piece of fleece [m²]: two lengths, else an area; 0 where it is neither."""
    place = ("lookout", "fleece", number)
    return gathered.take(place, lambda: fleece_m2(text, gathered.where(place))) or 0.0


def fleece_m2(text: str, where: str) -> float:
    """Read a piece of fleece by width and length or as an area, as in 2 m x 10 m [m²].

    Raises
    ------
    FaultsFoundError
        When it is neither, or has no size though it has sides.
    """
    if not any(sign in text.casefold() for sign in ("x", "×", " by ")):
        return 0.0 if text.strip() == "0" else parse_area_m2(text, where)
    try:
        width_m, length_m = parse_dimensions_m(text, where)
    except FaultsFoundError as error:
        what = f"“{text}” is no width and length: {error.findings[0].what}"
        raise _no_piece(where, what) from None
    if width_m <= 0 or length_m <= 0:
        raise _no_piece(where, f"“{text}” has no size.")
    return width_m * length_m


def _no_piece(where: str, what: str) -> FaultsFoundError:
    return FaultsFoundError([Finding(where, what, "Write it as in 2 m x 10 m.")])
