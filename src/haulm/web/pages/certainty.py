"""The price of certainty: plans by means and for several certainties beside, one to choose."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.garden.editing import Change, change_garden, mark_of
from haulm.desk.odds.certainty_prices import OFFERED, LineGap, Priced, gap_changes
from haulm.desk.odds.certainty_told import is_short
from haulm.measure.findings import Finding
from haulm.measure.sentences import capital
from haulm.measure.weeks import DAYS_A_WEEK, Horizon
from haulm.web.forms import Form, with_form
from haulm.web.pages.planning import EFFORTS, told
from haulm.web.pages.year_words import years_of
from haulm.web.planning import Making, State
from haulm.web.reader import Reader
from haulm.web.show import go, page, reader_of, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import ngettext

HERE = "/certainty"
MEANS = "means"
MOST_GAPS = 8
"""How many gaps that close, and that open, are listed for one choice."""


@dataclass(frozen=True, slots=True)
class Offer:
    """One choice, ready to be shown.

    Attributes
    ----------
    value, name
        What its form sends, and what it is called.
    chosen
        Whether the garden asks for it now.
    vanish, appear
        Which gaps of a poor year close and open beside the first choice, in words.
    more_vanish, more_appear
        How many of these are left out.
    findings
        What is less sure than it asks.
    """

    value: str
    name: str
    chosen: bool
    vanish: tuple[str, ...]
    appear: tuple[str, ...]
    more_vanish: int
    more_appear: int
    findings: tuple[Finding, ...]


def show(request: Request) -> Response:
    """Show what each certainty costs, as far as it is reckoned."""
    shelf, reader = shelf_of(request), reader_of(request)
    making = shelf.prices
    running = making is not None and making.state is State.RUNNING
    priced = making.priced if making is not None else []
    household = shelf.garden.opened.garden.household
    names, wanted = {line.id: line.name for line in household.table}, household.certainty
    return page(
        request,
        "certainty.html",
        running=running,
        step=_step(making, reader) if making is not None else None,
        elsewhere=shelf.pricer.busy and not running,
        findings=making.findings if making is not None else (),
        offered=len(OFFERED),
        wanted=None if wanted is None else years_of(wanted, reader),
        heads=[name_of(price.certainty, reader) for price in priced],
        figures=list(_figures(priced, reader)),
        lines=[_line(line, name, priced, reader) for line, name in names.items()],
        offers=list(_offers(priced, names, wanted, reader)),
    )


def name_of(certainty: float | None, reader: Reader) -> str:
    """Name a certainty, or the means."""
    if certainty is None:
        return _("by means")
    return _("%(years)s years in 10") % {"years": years_of(certainty, reader)}


def _step(making: Making, reader: Reader) -> dict[str, str | float | None] | None:
    """Say what is being reckoned now, and how far it has come."""
    return told(making.steps[-1], reader) if making.steps else None


def _figures(priced: Sequence[Priced], reader: Reader) -> Iterator[tuple[str, list[str]]]:
    """Give what each choice takes and brings, a row for each figure."""
    yield _("Ground in use, of all beds and weeks"), [reader.share(p.ground_share) for p in priced]
    yield (
        _("Hours of work over the plan"),
        [_("%(hours)s h") % {"hours": reader.number(p.work_h)} for p in priced],
    )
    yield _("Planting stock to buy"), [_money(p, reader) for p in priced]
    yield _("Plantings"), [reader.number(p.plantings) for p in priced]
    yield _("Promised over the plan"), [reader.mass(sum(p.promised_kg.values())) for p in priced]
    yield _("Short of what is wanted"), [reader.mass(sum(p.short_kg.values())) for p in priced]
    yield (
        _("Weeks in which a line is short, all lines together"),
        [reader.number(p.gap_weeks) for p in priced],
    )
    yield (
        _("Gaps of a poor year, three weeks or more each"),
        [reader.number(len(p.poor_gaps)) for p in priced],
    )
    yield _("Promises that hold so often"), [_held(p, reader) for p in priced]


def _money(price: Priced, reader: Reader) -> str:
    """Write what planting stock costs, each currency by itself, and what has no price."""
    spent = [f"{reader.number(sum_, 2)} {name}" for name, sum_ in price.money.spent.items()]
    missing = len(price.money.stock_unpriced)
    if missing:
        spent.append(
            ngettext("%(num)d kind has no price", "%(num)d kinds have no price", missing)
            % {"num": missing}
        )
    return "; ".join(spent) or _("nothing to buy")


def _held(price: Priced, reader: Reader) -> str:
    """Say how many promises hold as asked; of means, how often the middle one holds."""
    sure = price.plan.certainty
    if sure is None:
        held = sorted(promise.held for promise in price.odds.promises)
        if not held:
            return _("nothing is promised")
        return _("the middle one %(years)s in 10") % {
            "years": reader.number(10 * held[len(held) // 2], 1)
        }
    wanted = dict(sure.lines)
    short = sum(is_short(one, wanted[one.line]) for one in sure.held)
    return _("%(held)s of %(all)s") % {"held": len(sure.held) - short, "all": len(sure.held)}


def _line(
    line: str, name: str, priced: Sequence[Priced], reader: Reader
) -> tuple[str, str, list[str]]:
    """Give what each choice promises of one line."""
    return line, name, [reader.mass(price.promised_kg.get(line, 0.0)) for price in priced]


def _offers(
    priced: Sequence[Priced], names: dict[str, str], now: float | None, reader: Reader
) -> Iterator[Offer]:
    """Give each choice with the gaps it closes and opens beside the first."""
    for price in priced:
        changes = gap_changes(priced[0], price)
        vanish, appear = (
            tuple(_gap(gap, price.plan.horizon, names, reader) for gap in gaps)
            for gaps in (changes.vanish, changes.appear)
        )
        yield Offer(
            value=MEANS if price.certainty is None else f"{10 * price.certainty:g}",
            name=name_of(price.certainty, reader),
            chosen=price.certainty == now,
            vanish=vanish[:MOST_GAPS],
            appear=appear[:MOST_GAPS],
            more_vanish=max(0, len(vanish) - MOST_GAPS),
            more_appear=max(0, len(appear) - MOST_GAPS),
            findings=tuple(f for f in price.plan.findings if f.where == "how sure the plan is"),
        )


def _gap(gap: LineGap, horizon: Horizon, names: dict[str, str], reader: Reader) -> str:
    """Name a gap by its line and its days."""
    last = horizon.monday(gap.last_week) + timedelta(days=DAYS_A_WEEK - 1)
    return _("%(line)s, %(first)s to %(last)s, %(short)s short") % {
        "line": capital(names.get(gap.line, gap.line)),
        "first": reader.day(horizon.monday(gap.first_week)),
        "last": reader.day(last),
        "short": reader.mass(gap.short_kg),
    }


def held_years(garden_part: Mapping[str, object]) -> str:
    """Give what a garden asks for now, as a form sends it."""
    held = garden_part.get("certainty")
    return f"{held:g}" if isinstance(held, int | float) else MEANS


def change(request: Request, form: Form) -> Response:
    """Begin to reckon, stop it, or plan for one of the choices from now on."""
    shelf = shelf_of(request)
    what = form.text("do")
    if what == "stop":
        shelf.pricer.give_up()
        return go(HERE, _("Stopped. What was reckoned stands here."))
    effort = form.text("effort", "quick")
    if what == "choose":
        return _choose(request, form.text("years"))
    shelf.price(effort if effort in EFFORTS else "quick")
    return go(HERE)


def _choose(request: Request, years: str) -> Response:
    """Write a certainty into the garden, and begin to plan for it."""
    shelf = shelf_of(request)
    part = shelf.garden.parts["garden"][0]
    rest = {key: value for key, value in part.items() if key != "certainty"}
    typed = rest if years == MEANS else rest | {"certainty": years}
    if years != held_years(part):
        change_garden(shelf.garden.path, [Change("garden", mark_of(part), typed)], shelf.now())
    shelf.plan("usual")
    return go("/planning")


routes = [
    Route(HERE, show, methods=["GET"]),
    Route(HERE, with_form(change), methods=["POST"]),
]
