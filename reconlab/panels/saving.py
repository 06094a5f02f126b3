"""When is what was typed saved? A moment after the last key; and typing is told from a panel's own filling."""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager

SETTLES_S = 0.7  # quiet time after the last key before what was typed is saved; the promise is 2 s


class Later:
    """Calls a function once nothing more has come for a moment, at the latest when it is asked to.

    The clock is that of the loop the message came in by, so that a long cell does not hold it up; where there is no
    loop, a clock of its own.
    """

    def __init__(self, call: Callable[[], object], quiet_s: float = SETTLES_S) -> None:
        self._call, self._quiet_s = call, quiet_s
        self._clock: asyncio.TimerHandle | threading.Timer | None = None

    def touch(self) -> None:
        """Begin to wait, or wait anew."""
        self._stop()
        try:
            self._clock = asyncio.get_running_loop().call_later(self._quiet_s, self.now)
        except RuntimeError:
            self._clock = threading.Timer(self._quiet_s, self.now)
            self._clock.daemon = True
            self._clock.start()

    def now(self) -> None:
        """Call at once, if anything waits."""
        if self._clock is not None:
            self._stop()
            self._call()

    def _stop(self) -> None:
        if self._clock is not None:
            self._clock.cancel()
            self._clock = None


class Quiet:
    """Tells a panel's own filling of its fields from a person's typing."""

    def __init__(self) -> None:
        self.on = False

    @contextmanager
    def filling(self) -> Iterator[None]:
        """Fill fields inside this without being told of it."""
        was, self.on = self.on, True
        try:
            yield
        finally:
            self.on = was
