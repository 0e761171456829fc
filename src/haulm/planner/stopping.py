"""Breaking off: a solving is left in the midst when whoever watches wants no more of it."""

from collections.abc import Callable
from dataclasses import dataclass, field

import highspy


@dataclass(frozen=True, slots=True)
class Manner:
    """How the solver is run.

    Attributes
    ----------
    seed
        What it draws from.
    look_up
        Called now and then from within a solving; what it raises breaks the solving off. It cannot
        change what is found. None where nobody watches.
    """

    seed: int
    look_up: Callable[[], None] | None = None


@dataclass(slots=True)
class Ear:
    """Hears the solver's calls, and keeps what was raised until the solver has let go.

    The linear programmes call at every step; a whole-number programme between its own programmes
    and rounds of cuts only, so that one of these is never cut short.
    """

    look_up: Callable[[], None]
    raised: list[BaseException] = field(default_factory=list)

    def listen(self, highs: highspy.Highs) -> None:
        """Be called by a solver."""
        for calls in (highs.cbSimplexInterrupt, highs.cbMipInterrupt):
            calls.subscribe(self.hear)

    def hear(self, call: highspy.HighsCallbackEvent) -> None:
        """Look up, and have the solver stop once something was raised."""
        if not self.raised:
            try:
                self.look_up()
            except BaseException as stop:  # noqa: BLE001 - nothing may pass through the solver
                self.raised.append(stop)
        if self.raised:
            call.interrupt()

    def pass_on(self) -> None:
        """Raise what was raised."""
        if self.raised:
            raise self.raised.pop()
