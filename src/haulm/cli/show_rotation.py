"""Show on a terminal which family stands in which bed, over several years."""

from collections.abc import Iterator

from haulm.cli.show import aside, line, table
from haulm.desk.beds.rotation import YearsLaid
from haulm.desk.beds.rotation_table import rows_laid
from haulm.measure.units import show_area
from haulm.rotation.records import CoverSown, Rotation
from haulm.rotation.seasons import season_name

TOLD = 0.02
"""What is left out is told by itself where it is more than this share of what was wanted [1]."""


def rotation(laid: YearsLaid) -> None:
    """Print beds down and years across; then what is broken, left out and sown, and the bound."""
    found, question = laid.rotation, laid.question
    aside(laid.findings)
    years = list(question.span)
    line(f"{found.garden}: families to beds, {years[0]} to {years[-1]}")
    line("Ground is counted for the year in which it is cleared; two crops in one year both count.")
    line("")
    table(("bed", *(str(year) for year in years)), _rows(laid))
    _list("Stays for years", (stand.sentence for stand in found.stands))
    _list(
        "Broken, at this price each year", (f"{b.sentence} ({b.price:.1f})" for b in found.broken)
    )
    _list("Left out, at this price", _going_without(found))
    _list("Green manure, where ground would lie bare", _covers(laid))
    line("")
    line(
        f"It costs {found.objective:.1f}, in kilograms of appetite; none could cost less than"
        f" {found.bound:.1f}: within {found.gap:.1%} of the best possible."
    )


def _rows(laid: YearsLaid) -> Iterator[tuple[str, ...]]:
    units = laid.question.units
    for row in rows_laid(laid):
        cells = (
            "\n".join(
                f"{one.name} {show_area(one.area_m2, units)}{' (too soon)' if one.too_soon else ''}"
                for one in stands
            )
            for stands in row.years
        )
        yield (f"{row.name}\n{show_area(row.area_m2, units)}", *(cell or "–" for cell in cells))
        yield ("",) * (len(row.years) + 1)


def _going_without(found: Rotation) -> Iterator[str]:
    for one in found.going_without:
        if one.share > TOLD:
            yield f"{one.sentence} ({one.price:.1f})"
    small = [one.price for one in found.going_without if one.share <= TOLD]
    if small:
        yield f"less than {TOLD:.0%} of a family's ground, {len(small)} times ({sum(small):.1f})"


def _covers(laid: YearsLaid) -> Iterator[str]:
    for sown in laid.rotation.covers:
        yield cover_words(laid, sown)


def cover_words(laid: YearsLaid, sown: CoverSown) -> str:
    """Say where a green manure is sown, on how much, and from when until when it stands."""
    question = laid.question
    first = season_name(sown.first_season, southern=question.southern)
    last = season_name(sown.last_season, southern=question.southern)
    until = "" if first == last else f" to {last}"
    bed, kind = (question.names.get(one, one) for one in (sown.bed, sown.kind))
    return f"{bed}, {first}{until}: {kind} on {show_area(sown.area_m2, question.units)}"


def _list(title: str, sentences: Iterator[str]) -> None:
    told = list(sentences)
    if told:
        line("")
        line(f"{title}:")
        for one in told:
            line(f"  {one}")
