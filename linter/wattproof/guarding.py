"""Code of others, kept from ending the program, from never coming back and from printing.

A pack of rules may raise anything, also what ends a program; may loop for ever; may print into what
is written for other programs.
"""

from __future__ import annotations

import io
import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stdout
from types import FrameType
from typing import Final

SECONDS: Final = 60.0
"""How long one rule may take over one plan, and one pack to be loaded."""
_AGAIN: Final = 1.0
"""After how many seconds more it is stopped again, where it caught what stopped it."""


class TookTooLong(BaseException):
    """Raised in the midst of code that did not come back in time."""


@contextmanager
def guarded(seconds: float = SECONDS) -> Iterator[None]:
    """Runs code of others: what it prints goes to the error output, and it is stopped in time.

    Raises TookTooLong within it after so many seconds.
    """
    with redirect_stdout(sys.stderr or io.StringIO()), _stopped_after(seconds):
        yield


@contextmanager
def _stopped_after(seconds: float) -> Iterator[None]:
    message = f"it did not come back within {seconds:g} s"
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    if not hasattr(signal, "setitimer"):
        with _stopped_from_beside(seconds):
            yield
        return

    def stop(number: int, frame: FrameType | None) -> None:
        raise TookTooLong(message)

    before = signal.signal(signal.SIGALRM, stop)
    signal.setitimer(signal.ITIMER_REAL, seconds, _AGAIN)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0.0)
        signal.signal(signal.SIGALRM, before)


@contextmanager
def _stopped_from_beside(seconds: float) -> Iterator[None]:
    """The same where the system has no timer: another thread stops this one."""
    import ctypes  # which takes a while to load, and most systems have a timer

    here = ctypes.c_ulong(threading.get_ident())

    def stop() -> None:
        ctypes.pythonapi.PyThreadState_SetAsyncExc(here, ctypes.py_object(TookTooLong))

    timer = threading.Timer(seconds, stop)
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()


def reason(error: BaseException) -> str:
    """An exception in a line."""
    if isinstance(error, TookTooLong):
        return str(error) or "it did not come back in time"
    try:
        text = " ".join(str(error).split())
    except BaseException as broken:  # its own words may fail too
        text = f"without words, {type(broken).__name__} while they were asked for"
    return f"{type(error).__name__}: {text}" if text else type(error).__name__
