"""Seed in hand: what each packet is still worth, its test, and what the plan wants beside it."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from haulm.desk.garden.editing import Change, mark_of
from haulm.desk.season.seed import PacketTold, SeedTold, Trial, seed_of, try_packet
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.season.seed_age import SeedVerdict
from haulm.web.changing import NOTHING_REFUSED, Refused, write_down
from haulm.web.forms import Form, with_form
from haulm.web.reader import Reader
from haulm.web.show import go, page, reader_of, shelf_of
from haulm.web.words import gettext as _
from haulm.web.words import noted

HERE = "/seed"
NEW = "packet-new"
PACKET = ("kind", "units", "year")
VERDICTS = {
    SeedVerdict.KEEP: noted("Keep"),
    SeedVerdict.SOW_THICKER: noted("Sow thicker"),
    SeedVerdict.TEST: noted("Test first"),
    SeedVerdict.BUY: noted("Buy anew"),
}


def show(request: Request) -> Response:
    """Show the packets."""
    return _shown(request)


def write(request: Request, form: Form) -> Response:
    """Tell of a packet or take one out, or write how many seeds of one sprouted."""
    shelf = shelf_of(request)
    garden = shelf.garden
    if form.text("do"):
        return _packet(request, form)
    told = [_whole(form.text(key)) for key in ("packet", "sprouted", "tried")]
    try:
        try_packet(garden.path, Trial(told[0], told[1], told[2], garden.day), shelf.now())
    except FaultsFoundError as error:
        return _shown(request, error.findings)
    return go(HERE, _("The test is written down."), undo=True)


def _packet(request: Request, form: Form) -> Response:
    """Tell of one packet more, or take out one that is used up."""
    removed = form.text("do") == "remove"
    typed = {key: form.text(key) for key in PACKET if form.text(key)}
    changed = Change("stock", form.text("seen"), None if removed else typed)
    refused = write_down(shelf_of(request), changed, NEW, form)
    if refused is not None:
        return _shown(request, refused.others, refused)
    return go(HERE, _("Taken out.") if removed else _("Written down."), undo=True)


def _whole(text: str) -> int | None:
    """Read a whole number; None for anything else."""
    return int(text) if text.strip().isascii() and text.strip().isdigit() else None


def _shown(
    request: Request, faults: tuple[Finding, ...] = (), refused: Refused = NOTHING_REFUSED
) -> Response:
    garden = shelf_of(request).garden
    day = garden.day
    told: SeedTold = garden.once("seed", day, lambda: seed_of(garden.path, day))
    reader = reader_of(request)
    return page(
        request,
        "seed.html",
        status=refused.status if refused.form else 422 if faults else 200,
        refused=refused,
        seen=[mark_of(part) for part in garden.parts["stock"]],
        kinds=garden.catalogue.kinds.values(),
        year=day.year,
        faults=faults,
        seed=told,
        wanted=[one for one in told.lines if one.unit == "seed"],
        verdict=lambda packet: _verdict(packet, reader),
    )


def _verdict(packet: PacketTold, reader: Reader) -> str:
    if packet.now is None:
        return _(VERDICTS[SeedVerdict.KEEP])
    words = _(VERDICTS[packet.now.verdict])
    if packet.now.verdict is SeedVerdict.SOW_THICKER:
        times = reader.number(packet.now.thicker, 1)
        return _("%(words)s: %(times)s times as thick") % {"words": words, "times": times}
    return words


routes = [
    Route(HERE, show, methods=["GET"]),
    Route(HERE, with_form(write), methods=["POST"]),
]
