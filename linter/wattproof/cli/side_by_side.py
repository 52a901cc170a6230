"""The plans of a call, checked in their order: many of them on several processors at once.

What one process does for each plan, others do for shares of them. They are forks of it, taken when
the first plan has been checked, so that nothing is loaded twice. Where a system has no safe fork,
and for a few plans, all are checked one after another in this process.
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager
from typing import TYPE_CHECKING, Final, NamedTuple

from wattproof.cli.examining import examined
from wattproof.cli.plans import STANDARD_INPUT, shown_name
from wattproof.source import files_read, note_files_read

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.engine import Result
    from wattproof.packs import RuleSet

FEWEST: Final = 8
"""Plans from which on several processes are faster than one, also for small plans (measured)."""
MOST_PROCESSES: Final = 8


class _Work(NamedTuple):
    """What each process needs to check a plan by its name."""

    rule_set: RuleSet
    settings: PlanSettings
    name: str | None
    keep_texts: bool

    def of(self, path: str) -> tuple[Result, dict[str, str]]:
        """What comes of a plan, and its text where texts are kept."""
        texts: dict[str, str] | None = {} if self.keep_texts else None
        shown_as = shown_name(path, self.name)
        checked = examined(path, self.rule_set, self.settings, shown_as=shown_as, texts=texts)
        return checked.result, texts or {}


def each_result(
    paths: Sequence[str],
    rule_set: RuleSet,
    settings: PlanSettings,
    name: str | None,
    *,
    keep_texts: bool,
) -> Iterator[tuple[Result, Mapping[str, str]]]:
    """What comes of each plan, in the order given, and its text where texts are kept."""
    work = _Work(rule_set, settings, name, keep_texts)
    count = _processes(paths)
    done = 0
    if count > 1:
        yield work.of(paths[0])
        done = 1
        for result in _on_several(work, paths[1:], count):
            yield result
            done += 1
    for path in paths[done:]:
        yield work.of(path)


def _processes(paths: Sequence[str]) -> int:
    """How many processes check plans: one where a system has no safe fork, or few are to check."""
    if sys.platform != "linux" or len(paths) < FEWEST or STANDARD_INPUT in paths:
        return 1
    return min(len(os.sched_getaffinity(0)), len(paths) // 4, MOST_PROCESSES)


def _on_several(
    work: _Work, paths: Sequence[str], count: int
) -> Iterator[tuple[Result, Mapping[str, str]]]:
    """Results until a process ends or fails: the one that asked then checks what is left."""
    ends: list[Connection] = []
    with ExitStack() as stack:
        for n in range(count):
            ends.append(stack.enter_context(_forked(work, paths[n::count], ends)))
        for number in range(len(paths)):
            try:
                result, texts, read = ends[number % count].recv()
            except EOFError:
                return
            note_files_read(read)
            yield result, texts


@contextmanager
def _forked(work: _Work, paths: Sequence[str], others: list[Connection]) -> Iterator[Connection]:
    """The end of a pipe through which another process sends what comes of each plan.

    others: such ends of processes before it.
    """
    from multiprocessing import get_context

    fork = get_context("fork")
    received, sent = fork.Pipe(duplex=False)
    process = fork.Process(target=_send, args=(work, paths, sent, [*others, received]), daemon=True)
    try:
        held = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
        process.start()  # what interrupts this process does not reach that one: this one ends it
        signal.pthread_sigmask(signal.SIG_SETMASK, held)
        sent.close()
        with received:
            yield received
    finally:
        if process.pid is not None:
            process.kill()
            process.join()


def _send(work: _Work, paths: Sequence[str], end: Connection, foreign: list[Connection]) -> None:
    for other in foreign:  # held open here they would keep a process from ending that none hears
        other.close()
    try:
        for path in paths:
            end.send((*work.of(path), files_read()))
    except BaseException:  # the process that asked meets it too, and tells it
        return
