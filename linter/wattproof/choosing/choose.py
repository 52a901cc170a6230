"""The smallest values for all that a plan leaves open with which no rule finds a fault.

The rules themselves lead the way: everything begins at its smallest, what they find tells what has
to grow, and the remedies they compute tell how far. Then each value is tried one step smaller, so
that each stands for a reason: what would be found without it. Nothing is sized here.
"""

from __future__ import annotations

import datetime
from collections.abc import Collection, Iterable, Iterator
from itertools import islice
from typing import Final, NamedTuple

from wattproof.amend.changes import with_changes
from wattproof.amend.edits import NotWritten, with_value
from wattproof.amend.scalars import Data
from wattproof.choosing.controllers import of_open_controllers
from wattproof.choosing.joining import Joining, joinings, open_arrays
from wattproof.choosing.ladders import Knob, ladder, photovoltaic_sizes
from wattproof.choosing.laid_out import names_of
from wattproof.choosing.layouts import MOST_LEFT_OVER as MOST_UNUSED
from wattproof.choosing.layouts import OF_ACCEPTANCES, can_be_set, layouts_of
from wattproof.choosing.needs import DROP_RULE, FUSE_RULES
from wattproof.choosing.ways import (
    AMONG,
    BESIDE,
    cable_for,
    fed,
    lead_of,
    near,
    on_array_side,
    with_joints,
    with_wires,
)
from wattproof.choosing.written import can_be_apart, in_both_poles, with_joining
from wattproof.codes import Bodies, BodyOfRules
from wattproof.engine import Result
from wattproof.finding import LEVELS, Addition, Change, Changes, Finding
from wattproof.packs import RuleSet
from wattproof.plan.fields import component_of
from wattproof.plan.layouts import Layout, read_layout
from wattproof.plan.opening import Open
from wattproof.plan.root import Plan
from wattproof.plan.wiring import Wire
from wattproof.rechecking import Rechecks
from wattproof.remedies.trials import READ_BEFORE, gravest_of, is_told
from wattproof.settings import NOTHING_SET, Settings
from wattproof.source import Text
from wattproof.study import bodies_for

MAX_ROUNDS: Final = 40
MAX_CHECKS: Final = 260
"""Most texts that are checked, so that a choice ends."""
MOST_LAYOUTS: Final = 3
"""Layouts that are sized through, the best first, until one passes."""
MOST_ABOVE: Final = 4
"""Ratings above the one chosen that are tried, to tell the range of a fuse."""
MOST_LARGER: Final = 3
"""Sizes of a lead above the least that are tried for a smaller run behind it."""
MOST_LEFT_OVER: Final = 2
"""Most modules that are left over where all of them cannot be joined without an error."""
MOST_LOOKED_AT: Final = 12
"""Layouts that are looked at with their wires told, of all in the order of `layouts`."""
LOSING: Final = ("max_output_current", "capacity")
"""Open values of which too small a one is only told as a note of lost energy."""
WANTED: Final = ("error", "warning")
BOTH_POLES: Final = "string-fuse-one-pole"
"""The rule of which the remedy needs wires that no remedy writes: one for each pole."""
BALANCE: Final = "energy"
"""The part of findings about what the sun brings and what is used."""


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
    return _Choosing(asked, told).of(text, layout)


class _State(NamedTuple):
    """A text with the steps of its knobs, and what comes of checking it."""

    text: str
    steps: dict[Knob, int]
    result: Result


class _Choosing:
    """texts: checked as what is chosen is asked. told: as the project checks its plans."""

    def __init__(self, texts: Rechecks, told: Rechecks) -> None:
        self.texts = texts
        self.told = told
        self.own: set[str] = set()
        self.watched: frozenset[str] = frozenset()
        self.outputs: frozenset[str] = frozenset()
        self.leads: frozenset[str] = frozenset()
        self.behind: frozenset[str] = frozenset()
        """Ways to and from joints that the plan which is given does not have."""
        self.known: dict[Joining, frozenset[str]] = {}
        """Rules that find something in a layout already before its wires are told."""
        self.against: dict[Joining, list[Finding]] = {}
        """What speaks against a layout once its wires are told, whatever is put in them."""
        self.in_all: set[str] = set()
        """Rules of what speaks against every layout; empty before all were looked at."""
        self.added: dict[str, Addition] = {}
        self.apart: dict[Joining, frozenset[str]] = {}
        """Strings of a way to join them that need leads of their own, for a fuse in each."""

    def of(self, text: str, layout: str) -> Chosen:
        study, first = self.told.examine(text)
        if study is None or first.problems or first.failed:
            return Chosen(text, text, first, first)
        plan = self.texts.plan(text)
        self.watched = frozenset(o.name for o in plan.opens() if o.key in LOSING)
        self.outputs = frozenset(o.name for o in plan.opens() if o.key == "max_output_current")
        if not list(plan.opens()):
            return Chosen(text, text, first, first)
        tried: list[Chosen] = []
        for joining in islice(self._joinings(text, plan, layout), MOST_LAYOUTS):
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
            best = self._with_fewer(text, plan, first, best)
        if best.joining is not None and best.joining.unused and best.with_all is None:
            all_of_them = joinings(plan)[0]
            self._with_wires_told(text, plan, all_of_them)
            best = best._replace(with_all=next(iter(self.against[all_of_them]), None))
        return best._replace(before_it=self._before(best))

    def _left(self, made: Chosen) -> list[Finding]:
        """What a choice leaves that its layout did not have before its wires were told."""
        if made.after.problems or made.after.failed:
            return []
        return self._against(made.joining, self._check(made.text))

    def _before(self, best: Chosen) -> tuple[str, Finding] | None:
        """The first layout in the order of `layouts` with what speaks against it, if not taken."""
        first = next(iter(self.known), None)
        if first is None or first == best.joining or not self.against.get(first):
            return None
        return first.name, self.against[first][0]

    def _with_fewer(self, text: str, plan: Plan, first: Result, best: Chosen) -> Chosen:
        """With modules left over, where that is free of errors and all of them are not."""
        reason = next((f for f in self._faults(best.after) if f.level == "error"), None)
        for unused in range(1, MOST_LEFT_OVER + 1):
            fewer = list(joinings(plan, unused))[:MOST_LOOKED_AT]
            ranks = {joining: self._with_wires_told(text, plan, joining) for joining in fewer}
            if not fewer or self.texts.count >= MAX_CHECKS:
                break
            made = self._sized(text, first, min(fewer, key=lambda joining: ranks[joining]))
            if not _counted(self._left(made))[0]:
                return made._replace(with_all=reason)
        return best

    def _joinings(self, text: str, plan: Plan, layout: str) -> Iterator[Joining | None]:
        """The ways to join what is open, the best first; None where nothing is.

        In the order of `layouts`; those against which something speaks once their wires are told
        come after the others, those with the least first.
        """
        arrays = open_arrays(plan)
        if not arrays:
            if layout:
                raise CannotChoose(
                    "no arrangement is open: leave --layout out, or write `arrangement: open` with "
                    "`count`"
                )
            yield None
            return
        if layout:
            found = list(_called(layout, plan))
            if not found and " " in layout.strip():
                raise CannotChoose(
                    f"there is no layout `{layout}`: `wattproof layouts --full` has their names"
                )
            if not found:
                names = ", ".join(f"`{name}` has {s.count}" for name, s in arrays.items())
                raise CannotChoose(f"the layout `{layout}` does not fit: {names} modules")
        else:
            ranked = layouts_of(
                plan,
                self.texts.rule_set,
                file=self.texts.shown_as,
                today=self.texts.today,
                settings=self.told.settings,
            )
            found = [each.joining for each in ranked.tried[:MOST_LOOKED_AT]]
            self.known = {e.joining: frozenset(f.rule for f in e.result.each) for e in ranked.tried}
        ranks: dict[Joining, tuple[int, int]] = {}
        for joining in found:
            ranks[joining] = self._with_wires_told(text, plan, joining)
            if not any(ranks[joining]):
                yield joining
        self.in_all = set.intersection(*({f.rule for f in self.against[j]} for j in found))
        yield from sorted((j for j in found if any(ranks[j])), key=lambda j: ranks[j])

    def _with_wires_told(self, text: str, plan: Plan, joining: Joining) -> tuple[int, int]:
        """How much speaks against a layout that its wires and what is put in them cannot change.

        Strings that need a fuse each get leads of their own for it; an absent one that can be put
        there then is no fault of the layout.
        """
        try:
            result, wires = self._with_large_wires(text, plan, joining)
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
        names = names_of(plan, joining)
        apart = frozenset(n for s, n in names.items() if n in asked and can_be_apart(s))
        if apart:
            try:
                result, wires = self._with_large_wires(text, plan, joining, apart)
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
        left = [f for finding in self._faults(result) for f in finding.each]
        return [
            f
            for f in left
            if not (_can_be_put(f, wires) or can_be_set(f))
            and (f.level == "error" or f.rule not in known)
        ]

    def _with_large_wires(
        self, text: str, plan: Plan, joining: Joining, apart: frozenset[str] = frozenset()
    ) -> tuple[Result, set[str]]:
        """What is found in a layout whose wires carry anything; these, and what is still open."""
        laid = with_joining(text, plan, joining, apart)
        laid = with_joints(laid, self.texts.plan(laid))
        wired = self._with_wires(laid, self.texts.plan(laid), [], largest=True)
        wires, self.own = self.own, set()  # nothing of so large a size is looked at for itself
        left_open = {f"{each.name}.{each.key}" for each in self.texts.plan(wired).opens()}
        return self._check(wired), wires | left_open

    def _sized(self, text: str, first: Result, joining: Joining | None) -> Chosen:
        self.own, self.added = set(), {}
        given = text
        knobs: list[Knob] = []
        try:
            before = self.texts.plan(text)
            if joining is not None:
                apart = self.apart.get(joining, frozenset())
                text = with_joining(text, before, joining, apart)
            among = self.texts.plan(text)
            text = with_joints(text, among)
            joined = self.texts.plan(text)
            self.leads, self.behind = _at_joints(before, joined)
            placed = tuple(_placed(before, among, joined))
            text = self._with_wires(text, joined, knobs)
            text = self._with_least(text, self.texts.plan(text), knobs)
            for joint, _ in placed:
                volts = ladder("combiners", "voltage", bodies_for(joined).array)
                knobs.append(Knob(("combiners", joint, "voltage"), volts, joint))
                text = with_value(text, knobs[-1].path, volts[0])
        except NotWritten as reason:
            raise CannotChoose(
                f"it cannot be written into {self.texts.shown_as}: {reason}"
            ) from None
        state = _State(text, dict.fromkeys(knobs, 0), self._check(text))
        if state.result.problems:
            told = state.result.problems[0]
            raise CannotChoose(f"with that written the plan cannot be used: {told.message}")
        state = self._grown(state)
        state, reasons = self._smallest(state)
        balanced = self._balanced(state)
        if balanced is not state:
            state, reasons = self._smallest(balanced)
        choices = tuple(self._choice(knob, state, reasons) for knob in state.steps)
        added = tuple(a for a in self.added.values() if f"{a.name}:" in state.text)
        whole = self.texts.count < MAX_CHECKS
        after = self.told.check(state.text)
        return Chosen(given, state.text, first, after, joining, choices, added, placed, whole)

    def _check(self, text: str) -> Result:
        """What is found in a text; what no choice changes, the harshest labels, is not tried."""
        return self.texts.check(text, ask=False)

    def _with_wires(
        self, text: str, plan: Plan, knobs: list[Knob], *, largest: bool = False
    ) -> str:
        """Wires in the place of `feeds`, each with a cable of its own at the smallest size."""
        codes = bodies_for(plan)
        cables: dict[str, tuple[str, dict[str, Data]]] = {}
        made: dict[str, str] = {}
        taken = set(plan.datasheets.cables)
        for wire in fed(plan):
            body = codes.array if on_array_side(wire, plan) else codes.battery
            steps = _sizes(wire, plan, body)
            whose = lead_of(wire, plan)
            if whose not in made:
                name = next(n for n in (f"{whose}-cable", f"{whose}-cable-2") if n not in taken)
                made[whose] = name
                knobs.append(Knob(("datasheets", "cables", name, "size"), steps, str(wire.name)))
            sheet = cable_for(wire, plan, body, steps[-1 if largest else 0])
            cables[str(wire.name)] = made[whose], sheet
            self.own |= {str(wire.name), made[whose]}
        return with_wires(text, plan, cables)

    def _with_least(self, text: str, plan: Plan, knobs: list[Knob]) -> str:
        """The smallest of each open value."""
        codes = bodies_for(plan)
        for each in plan.opens():
            knob = self._knob(each, plan, codes)
            if each.family == "wires":
                wire = plan.wires[each.name]
                body = codes.array if on_array_side(wire, plan) else codes.battery
                sheet = cable_for(wire, plan, body, knob.ladder[0])
                text = with_value(text, knob.path[:-1], sheet)
                text = with_value(text, ("wires", each.name, "cable"), knob.path[2])
                self.own |= {each.name, knob.path[2]}
            else:
                text = with_value(text, knob.path, knob.ladder[0])
            knobs.append(knob)
        return text

    def _knob(self, each: Open, plan: Plan, codes: Bodies) -> Knob:
        on_array = each.family in ("combiners", "strings")
        body: BodyOfRules = codes.array if on_array else codes.battery
        if each.family == "wires":
            wire = plan.wires[each.name]
            body = codes.array if on_array_side(wire, plan) else codes.battery
            path: tuple[str, ...] = ("datasheets", "cables", f"{each.name}-cable", "size")
            return Knob(path, _sizes(wire, plan, body), each.name)
        steps = ladder(each.family, each.key, body)
        if not steps:
            raise CannotChoose(
                f"`{each.key}: open` of `{each.name}` (line {each.place.line}) cannot be chosen: "
                "write what is there, or `unknown`"
            )
        if each.family in ("modules", "cables"):
            users = [str(w.name) for w in plan.wires.values() if w.cable == each.name]
            path = ("datasheets", each.family, each.name, each.key)
            return Knob(path, steps, users[0] if users else each.name)
        return Knob((each.family, each.name, each.key), steps, each.name)

    def _grown(self, state: _State) -> _State:
        """What the rules find is met, one after the other, until nothing more can be."""
        seen = {state.text}
        best = state
        for _ in range(MAX_ROUNDS):
            faults = self._faults(state.result)
            if not faults or self.texts.count >= MAX_CHECKS:
                break
            text, steps = state.text, dict(state.steps)
            for finding in faults:
                for each in finding.each:
                    text, steps = self._met(text, steps, each)
            if text in seen:
                text, steps = self._bumped(state, faults)
                if text in seen:
                    break
            seen.add(text)
            result = self._check(text)
            if result.problems or result.failed:
                break
            state = _State(text, steps, result)
            if self._rank(state.result) <= self._rank(best.result):
                best = state
        return best

    def _met(
        self, text: str, steps: dict[Knob, int], finding: Finding
    ) -> tuple[str, dict[Knob, int]]:
        """The text with the first way of a remedy that changes only what may be chosen."""
        for way in finding.ways:
            made = self._with_way(text, steps, way)
            if made is not None:
                return made
        if finding.rule == BOTH_POLES:
            return self._in_both_poles(text, steps, finding)
        return text, steps

    def _in_both_poles(
        self, text: str, steps: dict[Knob, int], finding: Finding
    ) -> tuple[str, dict[Knob, int]]:
        """The text with a fuse in the other pole too of each lead whose fuse was put there."""
        for name in finding.subjects:
            fuse, knob = self.added.get(name), next((k for k in steps if k.path[-2] == name), None)
            if fuse is None or knob is None:
                continue
            try:
                made = in_both_poles(text, self.texts.plan(text), fuse)
            except NotWritten:
                continue
            if made is None:
                continue
            self.own.add(made[1].wire)
            added = self._with_way(made[0], steps, (_rated(made[1], knob.ladder[steps[knob]]),))
            if added is not None:
                text, steps = added
        return text, steps

    def _with_way(
        self, text: str, steps: dict[Knob, int], way: Changes
    ) -> tuple[str, dict[Knob, int]] | None:
        steps, turned = dict(steps), set[Knob]()
        plan = self.texts.plan(text)
        for change in way:
            if isinstance(change, Addition):
                if change.wire not in self.own or change.name in self.added:
                    return None
                made = with_changes(text, [change], self.texts.shown_as)
                if made.refused:
                    return None
                text = made.text
                self.own.add(change.name)
                self.added[change.name] = change
                knob = self._knob_of(change, plan)
                rating = dict(change.values).get("rating", knob.ladder[0])
                steps[knob] = knob.at_least(rating) or 0
                text = with_value(text, knob.path, knob.ladder[steps[knob]])
                continue
            knob_found = self._changed_knob(change, steps, plan)
            if knob_found is not None:
                step = knob_found.at_least(change.text)
                if step == steps[knob_found] and knob_found in turned:
                    continue  # several wires are of one cable
                if step is None or step <= steps[knob_found]:
                    return None
                turned.add(knob_found)
                steps[knob_found] = step
                text = with_value(text, knob_found.path, knob_found.ladder[step])
                continue
            if not self._may_change(change):
                return None
            made = with_changes(text, [change], self.texts.shown_as)
            if made.refused:
                return None
            text = made.text
        return text, steps

    def _knob_of(self, added: Addition, plan: Plan) -> Knob:
        """The rating of a device that was added."""
        codes = bodies_for(plan)
        body = codes.array if on_array_side(plan.wires[added.wire], plan) else codes.battery
        return Knob(
            (added.family, added.name, "rating"), ladder("fuses", "rating", body), added.name
        )

    def _changed_knob(self, change: Change, steps: Iterable[Knob], plan: Plan) -> Knob | None:
        """The knob that a change of a remedy turns."""
        for knob in steps:
            if knob.key == "size" and change.key == "cable.size":
                wire = plan.wires.get(change.component)
                if wire is not None and wire.cable == knob.path[2]:
                    return knob
            if knob.path[-2:] == (change.component, change.key):
                return knob
        return None

    def _may_change(self, change: Change) -> bool:
        """Whether a change is of something that was put there by this choice."""
        if change.component not in self.own:
            return False
        return change.key.partition(".")[0] in ("cable", "inline") or change.component in self.added

    def _bumped(self, state: _State, faults: list[Finding]) -> tuple[str, dict[Knob, int]]:
        """One step more of what the gravest finding is about, where no remedy helps."""
        for finding in faults:
            about = set(finding.all_subjects)
            for knob, step in state.steps.items():
                if knob.owner in about and step + 1 < len(knob.ladder):
                    steps = {**state.steps, knob: step + 1}
                    return with_value(state.text, knob.path, knob.ladder[step + 1]), steps
        return state.text, dict(state.steps)

    def _smallest(self, state: _State) -> tuple[_State, dict[Knob, Finding]]:
        """Each value one step smaller, as long as nothing more is found; and what is found then."""
        reasons: dict[Knob, Finding] = {}
        tried: dict[Knob, dict[Knob, int]] = {}
        """Of each value, among which others it was tried last: it stands as long as they do."""
        while self.texts.count < MAX_CHECKS:
            knob = next((k for k in state.steps if tried.get(k) != state.steps), None)
            if knob is None:
                break
            while state.steps[knob] > 0 and self.texts.count < MAX_CHECKS:
                step = state.steps[knob] - 1
                text = with_value(state.text, knob.path, knob.ladder[step])
                result = self._check(text)
                worse = self._new(result, state.result)
                if worse is not None or result.problems or result.failed:
                    if worse is not None:
                        reasons[knob] = worse
                    break
                state = _State(text, {**state.steps, knob: step}, result)
                reasons.pop(knob, None)
            tried[knob] = state.steps
        return state, reasons

    def _balanced(self, state: _State) -> _State:
        """Larger leads to a joint where the run behind it becomes smaller by that.

        The least lead has the run make up for what it loses.
        """
        leads = [k for k in state.steps if k.key == "size" and k.owner in self.leads]
        for lead in leads:
            better: _State | None = state
            while better is not None:
                state, better = better, self._with_larger(better, lead)
        return state

    def _with_larger(self, state: _State, lead: Knob) -> _State | None:
        """The lead a little larger and what that lets be smaller; None where nothing is."""
        first = state.steps[lead] + 1
        for step in range(first, min(first + MOST_LARGER, len(lead.ladder))):
            text = with_value(state.text, lead.path, lead.ladder[step])
            made = self._with_smaller(text, {**state.steps, lead: step}, state.result)
            if made is not None:
                return made
        return None

    def _with_smaller(self, text: str, steps: dict[Knob, int], than: Result) -> _State | None:
        """What is behind the leads as small as it may be; None where nothing becomes smaller."""
        found: _State | None = None
        for run in [k for k in steps if k.owner in self.behind]:
            while steps[run] > 0 and self.texts.count < MAX_CHECKS:
                smaller = with_value(text, run.path, run.ladder[steps[run] - 1])
                result = self._check(smaller)
                if result.problems or result.failed or self._new(result, than) is not None:
                    break
                text, steps = smaller, {**steps, run: steps[run] - 1}
                found = _State(text, steps, result)
        return found

    def _choice(self, knob: Knob, state: _State, reasons: dict[Knob, Finding]) -> Choice:
        step = state.steps[knob]
        largest = ""
        if knob.key == "rating" and knob.path[0] in ("fuses", "breakers"):
            largest = self._largest(knob, state)
        smaller = knob.ladder[step - 1] if step else ""
        return Choice(knob.path, knob.ladder[step], reasons.get(knob), smaller, largest, knob.owner)

    def _largest(self, knob: Knob, state: _State) -> str:
        found = ""
        first = state.steps[knob] + 1
        for step in range(first, min(first + MOST_ABOVE, len(knob.ladder))):
            if self.texts.count >= MAX_CHECKS:
                break
            result = self._check(with_value(state.text, knob.path, knob.ladder[step]))
            if result.problems or self._new(result, state.result) is not None:
                break
            found = knob.ladder[step]
        return found

    def _faults(self, result: Result) -> list[Finding]:
        """What must not be: errors and warnings that nobody accepts, the gravest first.

        Also notes of what a controller or a battery loses whose size is open, since a smaller one
        would always pass, and of what is put there by this choice; and what is so with a usual
        length where nobody told it. A day's balance counts for those
        alone, whatever its level: no size of anything else mends a dull winter.
        """
        told = [
            f
            for f in result.findings
            if f.acceptance is None
            and f.rule not in OF_ACCEPTANCES
            and f.part != READ_BEFORE
            and ((f.level in WANTED and f.part != BALANCE) or self._counts(f))
        ]
        return [*told, *self._asked(result)]

    def _asked(self, result: Result) -> Iterator[Finding]:
        """What is asked, since a label or a length is not told, of what is chosen here.

        A note that is no more than likely is a question, and the smallest controller would pass;
        so is what hangs on a guessed length alone, and the thinnest wire would.
        """
        for question in result.questions:
            for d in question.decides:
                loses = d.level == "note" and d.hazard == "lost-energy"
                of_output = loses and d.subjects[0] in self.outputs
                of_wire = d.level in WANTED and not self.own.isdisjoint(d.subjects)
                if of_output or of_wire:
                    yield d.as_finding()

    def _counts(self, finding: Finding) -> bool:
        """Whether a note counts as well."""
        about = finding.all_subjects
        if finding.rule == DROP_RULE and not self.own.isdisjoint(about):
            return True  # a wire is chosen for what is usual, as `layouts` has it
        if finding.hazard == "lost-energy" and finding.subjects[0] not in self.added:
            return not self.watched.isdisjoint(about)
        return finding.subjects[0] in self.own or _can_be_put(finding, self.own)

    def _rank(self, result: Result) -> tuple[int, ...]:
        """How bad a result is: errors, warnings, notes that count."""
        if result.problems or result.failed:
            return (10**6, 0, 0)
        levels = [f.level for finding in self._faults(result) for f in finding.each]
        return tuple(levels.count(level) for level in LEVELS)

    def _new(self, result: Result, than: Result) -> Finding | None:
        """The gravest of what must not be that one check has and another has not."""
        known = gravest_of(each for f in self._faults(than) for each in f.each)
        for finding in self._faults(result):
            for each in finding.each:
                if not is_told(each.identity, LEVELS.index(each.level), known):
                    return each
        return None


def _sizes(wire: Wire, plan: Plan, body: BodyOfRules) -> tuple[str, ...]:
    """The sizes that the cable of a wire is made in, the thinnest first."""
    if on_array_side(wire, plan):
        return tuple(size.name for size in photovoltaic_sizes(body))
    return ladder("cables", "size", body)


def _at_joints(before: Plan, after: Plan) -> tuple[frozenset[str], frozenset[str]]:
    """Ways to joints that are put there, and ways from them, by name."""
    joints = set(after.combiners) - set(before.combiners)
    ways = fed(after)
    return (
        frozenset(str(way.name) for way in ways if component_of(way.to) in joints),
        frozenset(str(way.name) for way in ways if component_of(way.start) in joints),
    )


def _placed(before: Plan, among: Plan, joined: Plan) -> Iterator[tuple[str, str]]:
    """Joints that are put among modules, and those that are put beside a controller after that."""
    for name in among.combiners:
        if name not in before.combiners:
            yield str(name), f"among the modules, with leads of {near(before, *AMONG)} to it"
    for name, joint in joined.combiners.items():
        if name not in among.combiners and joint.feeds is not None:
            to = component_of(joint.feeds.to)
            yield str(name), f"beside `{to}`, with {near(before, *BESIDE)} of wire from it"


def _can_be_put(finding: Finding, wires: Collection[str]) -> bool:
    """Whether a way of its remedy puts devices in some wires, and does no more.

    wires: by name, and what is open as `roof-joint.rating`, which it may set as well.
    """
    return any(
        all(
            change.wire in wires
            if isinstance(change, Addition)
            else f"{change.component}.{change.key}" in wires
            for change in way
        )
        for way in finding.ways
    )


def _counted(left: list[Finding]) -> tuple[int, int]:
    """How many errors there are, and how much else."""
    errors = sum(finding.level == "error" for finding in left)
    return errors, len(left) - errors


def _rated(fuse: Addition, rating: str) -> Addition:
    """The same device with another rating."""
    return fuse._replace(values=tuple({**dict(fuse.values), "rating": rating}.items()))


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
