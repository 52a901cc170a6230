"""What the reader answers to a plan that it cannot use is written, and leads back to the plan.

Slips of builders are made of plans that are right. Each is read as it was meant, or refused; and
where the answer says one thing to write, it is written at its place: what it is said of is gone
then, and what can be read at last means what the plan meant before the slip.
"""

from __future__ import annotations

import zlib
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest

from amounts import amount
from plan.following import Read, answer_of, followed, put, read, stays
from plan.slips import Slip, slips_of
from plans import EXAMPLES

HERE = Path(__file__).parents[1]
FOLDERS = (EXAMPLES, HERE / "external" / "typical", HERE / "sound", HERE / "cli" / "plans")
PATHS = [
    path
    for folder in FOLDERS
    for path in sorted(folder.glob("*.yaml"))
    if not path.name.endswith(".judged.yaml")
][:: amount(10, 1, 1)]
ALIKE = 3
"""Of how many values of each kind a slip of a value is made; of keys and names, of every one."""


@cache
def slips() -> tuple[Slip, ...]:
    """One slip of each form, each in the first plan that it can be made of."""
    met: set[str] = set()
    kinds: Counter[tuple[str, str]] = Counter()
    found: list[Slip] = []
    for path in PATHS:
        for slip in slips_of(str(path), _text(str(path))):
            alike = (slip.kind, slip.form.rpartition(" ")[2])
            if slip.form in met or (slip.of_value and kinds[alike] >= ALIKE):
                continue
            met.add(slip.form)
            kinds[alike] += 1
            found.append(slip)
    return tuple(found)


def taken() -> Iterator[Slip]:
    """A part of them in the ordinary run, always the same."""
    every = amount(10, 1, 3)
    return (slip for slip in slips() if zlib.crc32(slip.form.encode()) % every == 0)


@cache
def _text(path: str) -> str:
    return Path(path).read_text(encoding="utf-8")


@cache
def _meant(path: str) -> object:
    found = read(path, _text(path))
    assert found.meant is not None, path
    return found.meant


def _is_meant(slip: Slip, found: Read) -> bool:
    """Whether a text says what the plan said before the slip."""
    if not slip.renamed:
        return bool(found.meant == _meant(slip.path))
    new, old = slip.renamed
    return repr(found.meant).replace(new, old) == repr(_meant(slip.path))


class Outcome(NamedTuple):
    """What came of a slip. wrong: what is wrong with that. answered: True where it was undone."""

    wrong: tuple[str, ...]
    answered: bool


def outcome(slip: Slip) -> Outcome:
    """How a slip is read and answered, and where that leads."""
    before = read(slip.path, slip.text)
    if before.meant is not None:
        right = slip.is_valid or _is_meant(slip, before)
        return Outcome(() if right else ("is read as something else",), right)
    led = followed(slip.path, slip.text, before)
    wrong = list(_other_offers(slip, before))
    if led.again is not None:
        wrong.append(f"is told `{led.again.instead}`, and no less when that is written")
    elif led.read.meant is not None and not slip.is_open and not _is_meant(slip, led.read):
        wrong.append(f"leads to something else: {led.written}")
    elif led.written and led.read.meant is None and not slip.is_open:
        told = [f"{problem.message}: {problem.instead}" for problem in led.read.problems]
        wrong.append(f"leads to another refusal: {led.written}, {told}")
    return Outcome(tuple(wrong), led.read.meant is not None)


def _other_offers(slip: Slip, before: Read) -> Iterator[str]:
    """What is told where several things may be meant: each can be written."""
    for problem in before.problems:
        offers = answer_of(problem).offers
        for offer in offers if len(offers) > 1 else ():
            if stays(problem, read(slip.path, put(slip.text, problem, offer))):
                yield f"is told `{offer}`, and no less when that is written"


PARTS = 4


@pytest.mark.parametrize("part", range(PARTS))
def test_an_answer_that_is_followed_leads_back(part: int) -> None:
    """And nine in ten slips of which the meaning is plain are answered with it."""
    found = [(slip, outcome(slip)) for n, slip in enumerate(taken()) if n % PARTS == part]
    wrong = [f"{s.kind}, {s.at}: {told}" for s, came in found for told in came.wrong]
    assert not wrong, "\n".join(wrong[:20])
    plain = [came.answered for slip, came in found if slip.sure and not slip.is_open]
    assert len(plain) > 30
    assert sum(plain) >= 0.9 * len(plain)
