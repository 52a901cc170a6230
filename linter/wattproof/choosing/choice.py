"""What choosing gives: each value with its reason, and the plan with all of them."""

from __future__ import annotations

from typing import NamedTuple

from wattproof.choosing.joining import Joining
from wattproof.engine import Result
from wattproof.finding import Addition, Finding


class Choice(NamedTuple):
    """A value that was chosen. reason: what would be found one step smaller; None at the smallest.

    largest: of a fuse or breaker, the largest rating that passes as well; empty of others. owner:
    what findings call the part that it belongs to.
    """

    path: tuple[str, ...]
    text: str
    reason: Finding | None
    smaller: str = ""
    largest: str = ""
    owner: str = ""


class Chosen(NamedTuple):
    """What came of choosing.

    before_text, text: the plan before and with all choices. before, after: what comes of checking
    them. joining: how the modules are joined; None where that was not open. choices: sizes, ratings
    and styles. added: devices that rules ask for on ways that `feeds` made. placed: joints that are
    put there, and where. whole: False where it was broken off. told: the layout was given, and not
    chosen. before_it: the layout that stands first in the order of `layouts`, where another was
    taken, and what speaks against it once its wires are told. with_all: why modules are left over:
    what would be wrong with all of them, the gravest.
    """

    before_text: str
    text: str
    before: Result
    after: Result
    joining: Joining | None = None
    choices: tuple[Choice, ...] = ()
    added: tuple[Addition, ...] = ()
    placed: tuple[tuple[str, str], ...] = ()
    whole: bool = True
    told: bool = False
    before_it: tuple[str, Finding] | None = None
    with_all: Finding | None = None


class CannotChoose(Exception):
    """Something open cannot be chosen: why, and what to write instead."""
