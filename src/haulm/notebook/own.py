"""A household's own kinds and figures from garden.toml, and the names that they add."""

from haulm.catalogue.own import Own, OwnFigure, OwnKind, with_own
from haulm.catalogue.own_pace import OwnPace
from haulm.notebook.document import GardenDocument
from haulm.notebook.faults import Gathered
from haulm.notebook.names import known_names


def own_from(document: GardenDocument, gathered: Gathered) -> Own:
    """Give what the household has of its own, and let the rest of its garden name the own kinds.

    What is at fault is noted; an own kind that cannot be made is no second fault where it is named.
    """
    own = Own(
        tuple(OwnKind(part.id, part.like, part.name) for part in document.own_kind),
        tuple(
            OwnFigure(part.of, part.figure, part.value, part.low, part.high, part.note or "")
            for part in document.own_figure
        ),
        tuple(OwnPace(part.work, part.times, part.note or "") for part in document.own_pace),
    )
    catalogue = gathered.known.catalogue if gathered.known else None
    if catalogue is None or own == Own():
        return own
    made, faults = with_own(catalogue, own)
    gathered.known = known_names(made)
    gathered.lost_ids |= {kind.id for kind in own.kinds if kind.id not in made.kinds}
    for fault in faults:
        gathered.fault(fault.place, fault.what, fault.remedy)
    return own
