"""The smallest values for all that a plan leaves open with which no rule finds a fault.

The rules themselves lead the way (`sizing.py`); here the ways to join the modules are taken, the
best first, until one passes. Nothing is sized here.
"""

from __future__ import annotations

import datetime
from collections.abc import Collection, Iterator
from itertools import islice
from typing import Final

from wattproof.amend.edits import NotWritten
from wattproof.choosing.choice import CannotChoose, Chosen
from wattproof.choosing.controllers import of_open_controllers
from wattproof.choosing.counting import Counting, can_be_put
from wattproof.choosing.joining import Joining, joinings, open_arrays
from wattproof.choosing.laid_out import names_of
from wattproof.choosing.layouts import MOST_LEFT_OVER as MOST_UNUSED
from wattproof.choosing.layouts import can_be_set, layouts_of
from wattproof.choosing.needs import FUSE_RULES
from wattproof.choosing.sizing import MAX_CHECKS, Sizing
from wattproof.choosing.ways import with_joints
from wattproof.choosing.written import can_be_apart, with_joining
from wattproof.engine import Result
from wattproof.finding import Finding
from wattproof.packs import RuleSet
from wattproof.plan.layouts import Layout, read_layout
from wattproof.plan.root import Plan
from wattproof.rechecking import Rechecks
from wattproof.settings import NOTHING_SET, Settings
from wattproof.source import Text

MOST_LAYOUTS: Final = 3
"""Layouts that are sized through, the best first, until one passes."""
MOST_LEFT_OVER: Final = 2
"""Most modules that are left over where all of them cannot be joined without an error."""
MOST_LOOKED_AT: Final = 12
"""Layouts that are looked at with their wires told, of all in the order of `layouts`."""


def chosen(
    path: str,
    text: str,
    rule_set: RuleSet,
    *,
    today: datetime.date,
    shown_as: str,
    settings: Settings = NOTHING_SET,
    layout: str = "",
) -> Chosen:
    """A plan with the smallest values for what it leaves open.

    layout: the arrangement of every string that leaves it open, such as 2s2p; the best one where
    empty. Raises CannotChoose.
    """
    told = Rechecks(path, rule_set, today, shown_as, settings)
    asked = Rechecks(path, rule_set, today, shown_as, of_open_controllers(settings))
    study, first = told.examine(text)
    plan = asked.plan(text) if study is not None else None
    if plan is None or first.problems or first.failed or not list(plan.opens()):
        return Chosen(text, text, first, first)
    return _Choosing(asked, told, plan).of(text, first, layout)


class _Choosing:
    """Ways to join the modules of a plan, and what speaks against each.

    texts: checked as what is chosen is asked. told: as the project checks its plans.
    """

    def __init__(self, texts: Rechecks, told: Rechecks, plan: Plan) -> None:
        self.texts = texts
        self.told = told
        self.plan = plan
        self.counting = Counting(plan)
        self.sizing = Sizing(texts, told, self.counting)
        self.known: dict[Joining, frozenset[str]] = {}
        """Rules that find something in a layout already before its wires are told."""
        self.against: dict[Joining, list[Finding]] = {}
        """What speaks against a layout once its wires are told, whatever is put in them."""
        self.in_all: set[str] = set()
        """Rules of what speaks against every layout; empty before all were looked at."""
        self.apart: dict[Joining, frozenset[str]] = {}
        """Strings of a way to join them that need leads of their own, for a fuse in each."""

    def of(self, text: str, first: Result, layout: str) -> Chosen:
        """A text with the smallest values. first: what is found in it. Raises CannotChoose."""
        tried: list[Chosen] = []
        for joining in islice(self._joinings(text, layout), MOST_LAYOUTS):
            made = self._sized(text, first, joining)._replace(told=bool(layout))
            tried.append(made)
            left = self._left(made)
            if joining is not None and left:
                self.against[joining] = left
            if {f.rule for f in left} <= self.in_all or self.texts.count >= MAX_CHECKS:
                break
        best = min(tried, key=lambda made: _counted(self._left(made)))
        if best.joining is None or layout:
            return best
        if _counted(self._left(best))[0]:
            best = self._with_fewer(text, first, best)
        if best.joining is not None and best.joining.unused and best.with_all is None:
            all_of_them = joinings(self.plan)[0]
            self._with_wires_told(text, all_of_them)
            best = best._replace(with_all=next(iter(self.against[all_of_them]), None))
        return best._replace(before_it=self._before(best))

    def _left(self, made: Chosen) -> list[Finding]:
        """What a choice leaves that its layout did not have before its wires were told."""
        if made.after.problems or made.after.failed:
            return []
        return self._against(made.joining, self.sizing.check(made.text))

    def _before(self, best: Chosen) -> tuple[str, Finding] | None:
        """The first layout in the order of `layouts` with what speaks against it, if not taken."""
        first = next(iter(self.known), None)
        if first is None or first == best.joining or not self.against.get(first):
            return None
        return first.name, self.against[first][0]

    def _with_fewer(self, text: str, first: Result, best: Chosen) -> Chosen:
        """With modules left over, where that is free of errors and all of them are not."""
        reason = next((f for f in self.counting.faults(best.after) if f.level == "error"), None)
        for unused in range(1, MOST_LEFT_OVER + 1):
            fewer = list(joinings(self.plan, unused))[:MOST_LOOKED_AT]
            ranks = {joining: self._with_wires_told(text, joining) for joining in fewer}
            if not fewer or self.texts.count >= MAX_CHECKS:
                break
            made = self._sized(text, first, min(fewer, key=lambda joining: ranks[joining]))
            if not _counted(self._left(made))[0]:
                return made._replace(with_all=reason)
        return best

    def _joinings(self, text: str, layout: str) -> Iterator[Joining | None]:
        """The ways to join what is open, the best first; None where nothing is.

        In the order of `layouts`; those against which something speaks once their wires are told
        come after the others, those with the least first.
        """
        arrays = open_arrays(self.plan)
        if not arrays:
            if layout:
                raise CannotChoose(
                    "no arrangement is open: leave --layout out, or write `arrangement: open` with "
                    "`count`"
                )
            yield None
            return
        if layout:
            found = list(_called(layout, self.plan))
            if not found and " " in layout.strip():
                raise CannotChoose(
                    f"there is no layout `{layout}`: `wattproof layouts --full` has their names"
                )
            if not found:
                names = ", ".join(f"`{name}` has {s.count}" for name, s in arrays.items())
                raise CannotChoose(f"the layout `{layout}` does not fit: {names} modules")
        else:
            ranked = layouts_of(
                self.plan,
                self.texts.rule_set,
                file=self.texts.shown_as,
                today=self.texts.today,
                settings=self.told.settings,
            )
            found = [each.joining for each in ranked.tried[:MOST_LOOKED_AT]]
            self.known = {e.joining: frozenset(f.rule for f in e.result.each) for e in ranked.tried}
        ranks: dict[Joining, tuple[int, int]] = {}
        for joining in found:
            ranks[joining] = self._with_wires_told(text, joining)
            if not any(ranks[joining]):
                yield joining
        self.in_all = set.intersection(*({f.rule for f in self.against[j]} for j in found))
        yield from sorted((j for j in found if any(ranks[j])), key=lambda j: ranks[j])

    def _with_wires_told(self, text: str, joining: Joining) -> tuple[int, int]:
        """How much speaks against a layout that its wires and what is put in them cannot change.

        Strings that need a fuse each get leads of their own for it; an absent one that can be put
        there then is no fault of the layout.
        """
        try:
            result, wires = self._with_large_wires(text, joining)
        except NotWritten as reason:
            if joining == next(iter(self.known), None):
                raise CannotChoose(
                    f"`{joining.name}` stands first in the order of layouts, and cannot be written "
                    f"into {self.texts.shown_as}: {reason}"
                ) from None
            self.against[joining] = []
            return (10**6, 0)
        left = self._against(joining, result, wires)
        asked = {s for f in result.each if f.rule in FUSE_RULES for s in f.subjects}
        names = names_of(self.plan, joining)
        apart = frozenset(n for s, n in names.items() if n in asked and can_be_apart(s))
        if apart:
            try:
                result, wires = self._with_large_wires(text, joining, apart)
            except NotWritten:  # something else of the plan counts the modules of the string
                pass
            else:
                fused = self._against(joining, result, wires)
                if _counted(fused) < _counted(left):
                    self.apart[joining], left = apart, fused
        self.against[joining] = left
        return _counted(left)

    def _against(
        self, joining: Joining | None, result: Result, wires: Collection[str] = ()
    ) -> list[Finding]:
        """What is left to mend of a layout, the gravest first.

        What is found in it before its wires are told has its place in the order of `layouts`
        already; only an error is told again. wires: in which devices may still be put.
        """
        known = self.known.get(joining, frozenset()) if joining is not None else frozenset()
        left = [f for finding in self.counting.faults(result) for f in finding.each]
        return [
            f
            for f in left
            if not (can_be_put(f, wires) or can_be_set(f))
            and (f.level == "error" or f.rule not in known)
        ]

    def _with_large_wires(
        self, text: str, joining: Joining, apart: frozenset[str] = frozenset()
    ) -> tuple[Result, set[str]]:
        """What is found in a layout whose wires carry anything; these, and what is still open."""
        laid = with_joining(text, self.plan, joining, apart)
        laid = with_joints(laid, self.texts.plan(laid))
        wired = self.sizing.with_wires(laid, self.texts.plan(laid), [], largest=True)
        wires = self.counting.own
        self.counting.own = set()  # nothing of so large a size is looked at for itself
        left_open = {f"{each.name}.{each.key}" for each in self.texts.plan(wired).opens()}
        return self.sizing.check(wired), wires | left_open

    def _sized(self, text: str, first: Result, joining: Joining | None) -> Chosen:
        apart = self.apart.get(joining, frozenset()) if joining is not None else frozenset()
        return self.sizing.of(text, first, joining, apart)


def _counted(left: list[Finding]) -> tuple[int, int]:
    """How many errors there are, and how much else."""
    errors = sum(finding.level == "error" for finding in left)
    return errors, len(left) - errors


def _called(layout: str, plan: Plan) -> Iterator[Joining]:
    """The ways that a name stands for, as `layouts` prints it, or as the form of every string."""
    name = " ".join(layout.split())
    if "," in name or " " in name:
        for unused in range(MOST_UNUSED + 1):
            yield from (joining for joining in joinings(plan, unused) if joining.name == name)
        return
    wanted = read_layout(Text.at(name, plan.setting.place))
    for joining in joinings(plan):
        if all(_same(share.layout, wanted) for share in joining.shares):
            yield joining


def _same(one: Layout, other: Layout) -> bool:
    """Whether two short forms join modules alike."""
    both = (one.in_series, one.in_parallel) == (other.in_series, other.in_parallel)
    plain = 1 in (one.in_series, one.in_parallel)
    return both and (plain or one.series_first == other.series_first)
