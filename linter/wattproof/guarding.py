"""Code of others, kept from ending the program, from never coming back and from printing.

A pack of rules may raise anything, also what ends a program; may loop for ever; may print into what
is written for other programs.

In a browser there is neither a timer nor a second thread: there the page that started the check
stops it from outside, with all that it runs in.
"""

from __future__ import annotations

import io
import math
import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stdout
from time import monotonic, process_time
from types import FrameType
from typing import Any, Final

SECONDS: Final = 60.0
"""How long one rule may take over one plan, and one pack to be loaded, of the processor's time.

The clock runs on while a busy machine has its turn with others.
"""
BY_THE_CLOCK: Final = 5.0
"""How many times that much it may take by the clock, of code that waits and computes nothing."""
IN_BROWSER: Final = sys.platform == "emscripten"
"""Whether nothing here can stop what runs."""
_OFTEN: Final = 1.0
"""Every so many seconds the timer looks whether it is time: again, where what stops was caught."""


class TookTooLong(BaseException):
    """Raised in the midst of code that did not come back in time."""


class Guard:
    """Stops code of others in time, as often as it is entered.

    To take over the signal and the output costs as much as a small rule, and so does a timer that
    is set: `guarding` does that once. Each rule says until when it may run, which the timer reads.
    """

    def __init__(self, seconds: float) -> None:
        self._seconds = seconds
        self._message = f"it did not come back within {seconds:g} s"
        self._until = self._until_by_the_clock = math.inf
        self._beside: threading.Timer | None = None
        self._has_timer = hasattr(signal, "setitimer")
        self._stops = threading.current_thread() is threading.main_thread() and not IN_BROWSER

    def __enter__(self) -> None:
        if not self._stops:
            return
        if self._has_timer:
            self._until = process_time() + self._seconds
            self._until_by_the_clock = monotonic() + BY_THE_CLOCK * self._seconds
        else:
            self._beside = _stopping_from_beside(self._seconds)

    def __exit__(self, *raised: object) -> None:
        self._until = self._until_by_the_clock = math.inf
        if self._beside is not None:
            self._beside.cancel()

    def take_over(self) -> Any:
        """Have the signal of the timer stop what runs; returns what it did before."""
        if not (self._stops and self._has_timer):
            return None
        before = signal.signal(signal.SIGALRM, self._stop)
        often = min(self._seconds, _OFTEN)
        signal.setitimer(signal.ITIMER_REAL, often, often)
        return before

    def give_back(self, before: Any) -> None:
        """Have the signal do what it did before."""
        if before is not None:
            signal.setitimer(signal.ITIMER_REAL, 0.0)
            signal.signal(signal.SIGALRM, before)

    def _stop(self, number: int, frame: FrameType | None) -> None:
        if process_time() >= self._until or monotonic() >= self._until_by_the_clock:
            raise TookTooLong(self._message)


@contextmanager
def guarding(seconds: float = SECONDS) -> Iterator[Guard]:
    """What code of others prints meanwhile goes to the error output; enter the guard to run some.

    Within the guard TookTooLong is raised after so many seconds.
    """
    guard = Guard(seconds)
    with redirect_stdout(sys.stderr or io.StringIO()):
        before = guard.take_over()
        try:
            yield guard
        finally:
            guard.give_back(before)


@contextmanager
def guarded(seconds: float = SECONDS) -> Iterator[None]:
    """Runs code of others once: what it prints goes to the error output, and it is stopped in time.

    Raises TookTooLong within it after so many seconds.
    """
    with guarding(seconds) as guard, guard:
        yield


def _stopping_from_beside(seconds: float) -> threading.Timer:
    """A timer, started, that stops this thread, where the system has no signal for it."""
    import ctypes  # which takes a while to load, and most systems have a timer

    here = ctypes.c_ulong(threading.get_ident())

    def stop() -> None:
        ctypes.pythonapi.PyThreadState_SetAsyncExc(here, ctypes.py_object(TookTooLong))

    timer = threading.Timer(seconds, stop)
    timer.daemon = True
    timer.start()
    return timer


def reason(error: BaseException) -> str:
    """An exception in a line."""
    if isinstance(error, TookTooLong):
        return str(error) or "it did not come back in time"
    try:
        text = " ".join(str(error).split())
    except BaseException as broken:  # its own words may fail too
        text = f"without words, {type(broken).__name__} while they were asked for"
    return f"{type(error).__name__}: {text}" if text else type(error).__name__
