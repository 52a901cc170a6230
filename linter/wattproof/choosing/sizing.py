"""The smallest values with which no rule finds a fault, for one way to join the modules.

Everything begins at its smallest. What the rules find is met by their remedies, one after the
other; then each value is tried one step smaller, so that each stands for a reason: what would be
found without it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final, NamedTuple

from wattproof.amend.changes import with_changes
from wattproof.amend.edits import NotWritten, with_value
from wattproof.amend.scalars import Data
from wattproof.choosing.choice import CannotChoose, Choice, Chosen
from wattproof.choosing.counting import Counting
from wattproof.choosing.joining import Joining
from wattproof.choosing.ladders import Knob, ladder, photovoltaic_sizes
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
from wattproof.choosing.written import in_both_poles, with_joining
from wattproof.codes import Bodies, BodyOfRules
from wattproof.engine import Result
from wattproof.finding import Addition, Change, Changes, Finding
from wattproof.plan.fields import component_of
from wattproof.plan.opening import Open
from wattproof.plan.root import Plan
from wattproof.plan.wiring import Wire
from wattproof.rechecking import Rechecks
from wattproof.study import bodies_for

MAX_ROUNDS: Final = 40
MAX_CHECKS: Final = 260
"""Most texts that are checked, so that a choice ends."""
MOST_ABOVE: Final = 4
"""Ratings above the one chosen that are tried, to tell the range of a fuse."""
MOST_LARGER: Final = 3
"""Sizes of a lead above the least that are tried for a smaller run behind it."""
BOTH_POLES: Final = "string-fuse-one-pole"
"""The rule of which the remedy needs wires that no remedy writes: one for each pole."""


class _State(NamedTuple):
    """A text with the steps of its knobs, and what comes of checking it."""

    text: str
    steps: dict[Knob, int]
    result: Result


class Sizing:
    """Sizes a plan, with its modules joined in one way after another.

    texts: checked as what is chosen is asked. told: as the project checks its plans. counting: what
    of a check counts; it is told what is put there.
    """

    def __init__(self, texts: Rechecks, told: Rechecks, counting: Counting) -> None:
        self._texts = texts
        self._told = told
        self._counting = counting
        self._leads: frozenset[str] = frozenset()
        """Ways to joints that the plan which is given does not have."""
        self._behind: frozenset[str] = frozenset()
        """And ways from them."""

    def of(
        self, text: str, first: Result, joining: Joining | None, apart: frozenset[str]
    ) -> Chosen:
        """A text with the smallest values, its modules joined in one way.

        first: what is found in the text as it is. apart: strings that get leads of their own.
        Raises CannotChoose.
        """
        self._counting.begin()
        given = text
        knobs: list[Knob] = []
        try:
            before = self._texts.plan(text)
            if joining is not None:
                text = with_joining(text, before, joining, apart)
            among = self._texts.plan(text)
            text = with_joints(text, among)
            joined = self._texts.plan(text)
            self._leads, self._behind = _at_joints(before, joined)
            placed = tuple(_placed(before, among, joined))
            text = self.with_wires(text, joined, knobs)
            text = self._with_least(text, self._texts.plan(text), knobs)
            for joint, _ in placed:
                volts = ladder("combiners", "voltage", bodies_for(joined).array)
                knobs.append(Knob(("combiners", joint, "voltage"), volts, joint))
                text = with_value(text, knobs[-1].path, volts[0])
        except NotWritten as reason:
            raise CannotChoose(
                f"it cannot be written into {self._texts.shown_as}: {reason}"
            ) from None
        state = _State(text, dict.fromkeys(knobs, 0), self.check(text))
        if state.result.problems:
            told = state.result.problems[0]
            raise CannotChoose(f"with that written the plan cannot be used: {told.message}")
        state = self._grown(state)
        state, reasons = self._smallest(state)
        balanced = self._balanced(state)
        if balanced is not state:
            state, reasons = self._smallest(balanced)
        choices = tuple(self._choice(knob, state, reasons) for knob in state.steps)
        added = tuple(a for a in self._counting.added.values() if f"{a.name}:" in state.text)
        whole = self._texts.count < MAX_CHECKS
        after = self._told.check(state.text)
        return Chosen(given, state.text, first, after, joining, choices, added, placed, whole)

    def check(self, text: str) -> Result:
        """What is found in a text; what no choice changes, the harshest labels, is not tried."""
        return self._texts.check(text, ask=False)

    def with_wires(self, text: str, plan: Plan, knobs: list[Knob], *, largest: bool = False) -> str:
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
            self._counting.own |= {str(wire.name), made[whose]}
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
                self._counting.own |= {each.name, knob.path[2]}
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
            faults = self._counting.faults(state.result)
            if not faults or self._texts.count >= MAX_CHECKS:
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
            result = self.check(text)
            if result.problems or result.failed:
                break
            state = _State(text, steps, result)
            if self._counting.rank(state.result) <= self._counting.rank(best.result):
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
            fuse, knob = (
                self._counting.added.get(name),
                next((k for k in steps if k.path[-2] == name), None),
            )
            if fuse is None or knob is None:
                continue
            try:
                made = in_both_poles(text, self._texts.plan(text), fuse)
            except NotWritten:
                continue
            if made is None:
                continue
            self._counting.own.add(made[1].wire)
            added = self._with_way(made[0], steps, (_rated(made[1], knob.ladder[steps[knob]]),))
            if added is not None:
                text, steps = added
        return text, steps

    def _with_way(
        self, text: str, steps: dict[Knob, int], way: Changes
    ) -> tuple[str, dict[Knob, int]] | None:
        steps, turned = dict(steps), set[Knob]()
        plan = self._texts.plan(text)
        for change in way:
            if isinstance(change, Addition):
                if change.wire not in self._counting.own or change.name in self._counting.added:
                    return None
                made = with_changes(text, [change], self._texts.shown_as)
                if made.refused:
                    return None
                text = made.text
                self._counting.own.add(change.name)
                self._counting.added[change.name] = change
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
            made = with_changes(text, [change], self._texts.shown_as)
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
        if change.component not in self._counting.own:
            return False
        return (
            change.key.partition(".")[0] in ("cable", "inline")
            or change.component in self._counting.added
        )

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
        while self._texts.count < MAX_CHECKS:
            knob = next((k for k in state.steps if tried.get(k) != state.steps), None)
            if knob is None:
                break
            while state.steps[knob] > 0 and self._texts.count < MAX_CHECKS:
                step = state.steps[knob] - 1
                text = with_value(state.text, knob.path, knob.ladder[step])
                result = self.check(text)
                worse = self._counting.new(result, state.result)
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
        leads = [k for k in state.steps if k.key == "size" and k.owner in self._leads]
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
        for run in [k for k in steps if k.owner in self._behind]:
            while steps[run] > 0 and self._texts.count < MAX_CHECKS:
                smaller = with_value(text, run.path, run.ladder[steps[run] - 1])
                result = self.check(smaller)
                if result.problems or result.failed or self._counting.new(result, than) is not None:
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
            if self._texts.count >= MAX_CHECKS:
                break
            result = self.check(with_value(state.text, knob.path, knob.ladder[step]))
            if result.problems or self._counting.new(result, state.result) is not None:
                break
            found = knob.ladder[step]
        return found


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


def _rated(fuse: Addition, rating: str) -> Addition:
    """The same device with another rating."""
    return fuse._replace(values=tuple({**dict(fuse.values), "rating": rating}.items()))
