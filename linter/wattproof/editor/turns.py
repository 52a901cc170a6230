"""One thing after another: what reads or checks plans, apart from what talks with the editor.

Both run at once: a check never holds up a message. Checks run on the main thread, where a rule that
does not come back is stopped in time (`guarding.py`); what is asked of a study does too, since a
study computes when it is asked.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from concurrent.futures import Future
from queue import SimpleQueue
from typing import Any, TypeAlias, TypeVar

T = TypeVar("T")
_Turn: TypeAlias = tuple[Callable[[], Any], "Future[Any]"]


class Turns:
    """Takes what is to be done, and does one after the other."""

    def __init__(self) -> None:
        self._waiting: SimpleQueue[_Turn | None] = SimpleQueue()

    def work(self) -> None:
        """Do what comes, on this thread, until `end`."""
        while (turn := self._waiting.get()) is not None:
            job, future = turn
            if not future.set_running_or_notify_cancel():
                continue  # nobody waits for it any more
            try:
                future.set_result(job())
            except KeyboardInterrupt:
                raise
            except BaseException as error:  # one that fails must not end the others
                future.set_exception(error if isinstance(error, Exception) else Ended(repr(error)))

    def end(self) -> None:
        """Have `work` come back once what was given before is done."""
        self._waiting.put(None)

    async def take(self, job: Callable[[], T]) -> T:
        """What comes of something done in its turn; it is left out where nobody waits any more."""
        future: Future[T] = Future()
        self._waiting.put((job, future))
        return await asyncio.wrap_future(future)


class Ended(Exception):
    """What was to be done came to an end that only an exception of the system makes."""
