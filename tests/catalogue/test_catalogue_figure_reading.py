"""Figures as they are written: with units of their source, absent, hardy, or with rivals."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.catalogue.figure_reading import read_figure
from haulm.catalogue.known import counted, known
from haulm.catalogue.records import Absent, Basis, Figure, Hardy
from haulm.measure.errors import FaultsFoundError

ANY = (Figure, Absent, Hardy)


def read(kept: str, **written: Any) -> Figure:  # noqa: ANN401 -- a TOML value may be anything
    """Read a figure that must be one."""
    figure = read_figure({"basis": "judged", **written}, "test", kept)
    assert isinstance(figure, Figure)
    return figure


def refused(written: Any, unit: str = "kg", kinds: tuple[type, ...] = (Figure,)) -> str:  # noqa: ANN401 -- a TOML value may be anything
    """Give what is said of a figure that is refused."""
    with pytest.raises(FaultsFoundError) as caught:
        read_figure(written, "test", unit, kinds)
    return str(caught.value)


@pytest.mark.parametrize(
    ("value", "unit", "kept", "size"),
    [
        (32, "°F", "°C", 0.0),
        (212, "°F", "°C", 100.0),
        (1, "in", "m", 0.0254),
        (1, "ft", "m", 0.3048),
        (1, "lb", "kg", 0.45359237),
        (1, "lb/ft²", "kg/m²", 0.45359237 / 0.09290304),
        (1, "oz", "kg", 0.45359237 / 16),
        (180, "°F d", "°C d", 100.0),
        (55, "%", "1", 0.55),
        (250, "1/g", "1/kg", 250_000.0),
        (14, "d", "weeks", 2.0),
    ],
)
def test_a_source_may_be_written_in_the_unit_it_prints(
    value: float, unit: str, kept: str, size: float
) -> None:
    """Inches, pounds and degrees Fahrenheit become ours by their exact definitions.

    International yard and pound agreement of 1959; °F = 9/5 °C + 32 (common knowledge).
    """
    figure = read(kept, value=value, unit=unit)
    assert figure.value == pytest.approx(size, rel=1e-9)
    assert figure.unit == kept
    assert figure.printed == f"{value} {unit}"


def test_a_spread_is_turned_with_its_figure() -> None:
    """Low and high are in the unit of the value, and the page can show all three as printed."""
    figure = read("°C", value=40, low=35, high=50, unit="°F")
    assert figure.low == pytest.approx(5 / 3)
    assert figure.high == pytest.approx(10.0)
    assert figure.printed == "40 °F, 35 to 50"


@pytest.mark.parametrize(
    ("unit", "kept", "what"),
    [
        ("°F", "m", "does not measure what is kept in m"),
        ("kg", "kg/m²", "does not measure"),
        ("°F", "°C d", "does not measure"),
        ("kilo", "m", "is not known"),
        ("gal", "litres/kg", "may mean two sizes"),
        ("2 kg", "kg", "is no unit"),
        ("", "kg", "is no unit"),
    ],
)
def test_a_unit_that_does_not_fit_is_refused(unit: str, kept: str, what: str) -> None:
    """Nobody's degrees are taken for metres, and no gallon is guessed at."""
    assert what in refused({"value": 1, "basis": "judged", "unit": unit}, kept)


@given(value=st.floats(-100, 150))
def test_turning_a_temperature_keeps_the_order(value: float) -> None:
    """The warmer of two printed temperatures stays the warmer."""
    low = read("°C", value=value, unit="°F").value
    assert low < read("°C", value=value + 1, unit="°F").value


def test_absent_is_not_nothing() -> None:
    """A figure nobody has gives no value, and a sum that counts it counts nothing for it."""
    absent = read_figure({"absent": "no one has timed it"}, "test", "minutes/kg", ANY)
    assert isinstance(absent, Absent)
    assert (absent.why, absent.unit) == ("no one has timed it", "minutes/kg")
    assert known(absent) is None
    assert counted(absent) == 0.0
    nothing = Figure(0.0, "minutes/kg", Basis.JUDGED)
    assert known(nothing) == counted(nothing) == 0.0


def test_absent_and_hardy_are_kept_apart() -> None:
    """No frost that kills it is not the same as not knowing which frost does."""
    hardy = read_figure({"hardy": "stood every winter on record"}, "test", "°C", (Figure, Hardy))
    assert isinstance(hardy, Hardy)
    assert "cannot be absent" in refused({"absent": "who knows"}, "°C", (Figure, Hardy))
    assert "cannot be hardy" in refused({"hardy": "always"}, "kg", (Figure, Absent))


@pytest.mark.parametrize(
    "written", [{"absent": ""}, {"absent": 3}, {"absent": "so", "basis": "judged"}]
)
def test_a_figure_is_absent_for_a_reason(written: dict[str, object]) -> None:
    """Nobody may leave a figure out without saying why."""
    assert "with the reason in words" in refused(written, "kg", ANY)


OTHER = {"value": 4, "basis": "common practice", "note": "in cold ground"}


def test_two_sources_that_disagree_are_both_kept() -> None:
    """The other figure stands beside the one chosen, in the same unit."""
    others = [{**OTHER, "value": 8, "unit": "lb"}]
    figure = read("kg", value=3, note="the larger trial", others=others)
    (other,) = figure.others
    assert other.value == pytest.approx(8 * 0.45359237)
    assert other.printed == "8 lb"
    assert other.note == "in cold ground"


@pytest.mark.parametrize(
    ("others", "note", "what"),
    [
        ([OTHER], "", "the note must argue the choice"),
        ([], "why", "others is a list"),
        ([{**OTHER, "note": ""}], "why", "has no note"),
        ([{**OTHER, "basis": "published"}], "why", "a source is named exactly when"),
        ([{**OTHER, "others": [OTHER]}], "why", "“others” is no field"),
        ([{**OTHER, "low": 5, "high": 6}], "why", "out of order"),
        (["four"], "why", "is no figure"),
    ],
)
def test_a_choice_between_sources_must_be_argued(
    others: list[object], note: str, what: str
) -> None:
    """Where sources disagree, the note says why one was chosen, and each other where it holds."""
    written = {"value": 3, "basis": "judged", "note": note, "others": others}
    assert what in refused(written)
