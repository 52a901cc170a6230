"""Every way in which the modules of open arrangements can be joined.

Series, parallel and both, either first; split among the solar inputs that may take them; unlike
modules never in one string. What differs only in which of two alike inputs it uses is one way.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import islice, product
from typing import Final, NamedTuple

from wattproof.plan.array import MAX_OPEN, String
from wattproof.plan.fields import Count, Part, component_of
from wattproof.plan.layouts import Layout, read_layout
from wattproof.plan.root import Plan
from wattproof.plan.terminals import by_name, solar_inputs
from wattproof.plan.ways import FedWire, open_inputs
from wattproof.source import Text

APART: Final = 1.2
"""Most that voltages of unlike strings on one input may differ by, as a factor (an estimate)."""
MOST_WAYS: Final = 5_000
"""Most ways that are looked at of each string and of all together, so that many modules on many
inputs end."""
_OWN: Final = frozenset({"name", "left_unknown", "left_open", "inputs"})


class Share(NamedTuple):
    """Modules of one string on one solar input.

    string: as the plan names it. input: `tracker`, or `combi.pv-1` where there are several; empty
    where the plan's own wires lead somewhere. form: such as `2s2p`.
    """

    string: str
    input: str
    form: str

    @property
    def layout(self) -> Layout:
        """The short form as the plan language has it."""
        return _layout(self.form)

    @property
    def modules(self) -> int:
        """How many it joins."""
        return self.layout.inner * self.layout.outer


class Joining(NamedTuple):
    """One way to join all modules whose arrangement is open.

    unused: modules left over. several: True where the plan has several strings or inputs to tell
    apart.
    """

    shares: tuple[Share, ...]
    unused: int = 0
    several: bool = False

    @property
    def name(self) -> str:
        """Such as `2s2p`, `left 2s2p, right 4s`, `roof 4s, side 2s`."""
        strings = {share.string for share in self.shares}
        words = []
        for share in self.shares:
            said = [share.string] if len(strings) > 1 else []
            said += [share.input] if self.several and share.input else []
            words.append(" ".join([*said, share.form]))
        left = f" ({self.unused} left over)" if self.unused else ""
        return ", ".join(words) + left

    def of(self, string: str) -> tuple[Share, ...]:
        """The shares of one string, in their order."""
        return tuple(share for share in self.shares if share.string == string)

    @property
    def modules(self) -> int:
        """How many modules it joins."""
        return sum(share.modules for share in self.shares)


def open_arrays(plan: Plan) -> dict[str, String]:
    """The strings of a plan as read whose arrangement is open, by name."""
    return {str(n): s for n, s in plan.strings.items() if "arrangement" in s.open}


def reopened(plan: Plan) -> Plan:
    """The plan with the arrangement of each string open, where none is; as read.

    Strings of unlike modules stay as they are, and those with more than can be compared.
    """
    if open_arrays(plan):
        return plan
    strings = {name: _reopened(string) for name, string in plan.strings.items()}
    return plan.model_copy(update={"strings": strings})


def _reopened(string: String) -> String:
    form = string.arrangement
    count = int(string.series or 1) if form is None else form.inner * form.outer
    if string.module is None or not 1 < count <= MAX_OPEN:
        return string
    counted = Count(count)
    counted.place, counted.text = string.at, str(count)
    left = {**string.open, "arrangement": string.at}
    update = {"arrangement": None, "series": None, "count": counted, "left_open": left}
    return string.model_copy(update=update)


def joinings(plan: Plan, unused: int = 0) -> tuple[Joining, ...]:
    """Every way, those that share the modules evenly first. unused: modules to leave over."""
    strings = open_arrays(plan)
    alike = _alike(plan)
    found: dict[tuple[object, ...], Joining] = {}
    several = len({i for string in strings.values() for i in inputs_of(string, plan)}) > 1
    for left in _left_over(strings, unused):
        # Of alike inputs it is the same which has more: told of one string, the others follow it,
        # where they may go to the same ones.
        offered = {frozenset(inputs_of(string, plan)) for string in strings.values()}
        kinds = [alike if len(offered) == 1 else {}, *({} for _ in strings)]
        ways = [
            list(islice(_parts(string, left[name], plan, kind), MOST_WAYS))
            for (name, string), kind in zip(strings.items(), kinds, strict=False)
        ]
        for chosen in islice(product(*ways), MOST_WAYS):
            joining = Joining(
                tuple(share for shares in chosen for share in shares), unused, several
            )
            found.setdefault(_seen_alike(joining, alike), joining)
    sensible = [joining for joining in found.values() if _is_even(joining, plan)]
    return tuple(sorted(sensible or found.values(), key=lambda j: (_uneven(j, plan), unlike(j))))


def _is_even(joining: Joining, plan: Plan) -> bool:
    """Whether strings that meet on one input have about the same voltage, by their labels."""
    volts: dict[str, list[float]] = {}
    for share in joining.shares:
        string = plan.strings[share.string]
        sheet = plan.datasheets.modules.get(string.module or "")
        told = (sheet.vmp or sheet.voc) if sheet is not None else None
        fed = share.input or (str(string.feeds.to) if string.feeds is not None else "")
        if told is not None and fed:
            volts.setdefault(fed, []).append(told.value * share.layout.in_series)
    return all(max(each) <= APART * min(each) for each in volts.values())


def forms(count: int) -> tuple[str, ...]:
    """The short forms of so many modules: fewest in series first, parallel first before series."""
    found = []
    for series in range(1, count + 1):
        if count % series:
            continue
        beside = count // series
        if beside == 1:
            found.append(f"{series}s")
        elif series == 1:
            found.append(f"{beside}p")
        else:
            found += [f"{series}s{beside}p", f"{beside}p{series}s"]
    return tuple(found)


def _layout(form: str) -> Layout:
    layout: Layout = read_layout(_Unplaced(form))
    return layout


class _Unplaced(Text):
    """A short form that stands in no file."""

    __slots__ = ()
    place = None  # type: ignore[assignment]


def _left_over(strings: dict[str, String], unused: int) -> Iterator[dict[str, int]]:
    """How many modules each string leaves over, together so many; at least one stays of each."""
    names = list(strings)
    counts = [range(min(unused, int(strings[n].count or 1) - 1) + 1) for n in names]
    for each in product(*counts):
        if sum(each) == unused:
            yield dict(zip(names, each, strict=True))


def _parts(
    string: String, unused: int, plan: Plan, alike: Mapping[str, str]
) -> Iterator[tuple[Share, ...]]:
    """Every way to join the modules of one string. alike: inputs of which it is the same which."""
    name, count = str(string.name), int(string.count or 1) - unused
    inputs = inputs_of(string, plan)
    if not inputs:
        yield from ((Share(name, "", form),) for form in forms(count))
        return
    for shares in _shares(count, tuple(alike.get(i, i) for i in inputs), {}):
        used = [(i, n) for i, n in zip(inputs, shares, strict=True) if n]
        for chosen in product(*(forms(n) for _, n in used)):
            yield tuple(Share(name, i, form) for (i, _), form in zip(used, chosen, strict=True))


def _shares(
    count: int, kinds: tuple[str, ...], most: Mapping[str, int]
) -> Iterator[tuple[int, ...]]:
    """All ways to deal so many modules to inputs, the even ones first; of alike ones none gets more
    than the one before it.

    kinds: of each input. most: what one of a kind may get.
    """
    if not kinds:
        if count == 0:
            yield ()
        return
    kind, rest = kinds[0], kinds[1:]
    for first in range(min(count, most.get(kind, count)) + 1):
        then = {**most, kind: first}
        if count - first <= sum(then.get(k, count) for k in rest):
            for shares in _shares(count - first, rest, then):
                yield (first, *shares)


def inputs_of(string: String, plan: Plan) -> tuple[str, ...]:
    """The solar inputs that its modules may feed; empty where the plan's own wires lead there."""
    if string.controllers is None:
        return ()
    components = by_name(plan)
    several = {n for n, c in components.items() if len(solar_inputs(c)) > 1}
    found = open_inputs(string, plan)
    return tuple(i if component_of(i) in several else component_of(i) for i in found)


def _alike(plan: Plan) -> dict[str, str]:
    """For each solar input the first that is alike: same limits, and the same battery behind it."""
    by_hand = {n for w in plan.wires.values() if not isinstance(w, FedWire) for n in w.components}
    by_hand |= {
        component_of(wire.to) for wire in plan.wires.values()
    }  # beside strings that are told
    first: dict[object, str] = {}
    alike: dict[str, str] = {}
    for name, controller in plan.all_controllers.items():
        ports = solar_inputs(controller)
        for port in ports:
            key = f"{name}.{port}" if len(ports) > 1 else str(name)
            own = controller.inputs.get(port)
            alone = len(ports) > 1 or name in by_hand  # its wires may be longer than another's
            limits = (str(name) if alone else "", _told(controller), _told(own) if own else ())
            alike[key] = first.setdefault(limits, key)
    return alike


def _told(part: Part) -> tuple[tuple[str, str], ...]:
    """What is told of a controller or an input, as written."""
    held = ((key, getattr(part, key)) for key in type(part).model_fields if key not in _OWN)
    return tuple((key, str(getattr(v, "to", v))) for key, v in held if v is not None)


def _seen_alike(joining: Joining, alike: dict[str, str]) -> tuple[object, ...]:
    """The same for what differs only in which of alike inputs is used for what."""
    used: dict[str, list[tuple[str, str]]] = {}
    for share in joining.shares:
        used.setdefault(share.input, []).append((share.string, share.form))
    kinds = ((alike.get(name, name), tuple(sorted(held))) for name, held in used.items())
    return tuple(sorted(kinds))


def _uneven(joining: Joining, plan: Plan) -> float:
    """How far the modules on each input are from the share of its controller's output current."""
    strings = open_arrays(plan)
    loads: dict[str, float] = {}
    for string in strings.values():
        loads |= dict.fromkeys(inputs_of(string, plan), 0.0)
    for share in joining.shares:
        loads[share.input] = loads.get(share.input, 0.0) + share.modules
    rated = {name: _rated(plan, name) for name in loads}
    return sum(
        abs(n / joining.modules - rated[name] / sum(rated.values())) for name, n in loads.items()
    )


def _rated(plan: Plan, reference: str) -> float:
    controller = plan.all_controllers.get(component_of(reference))
    told = controller.max_output_current if controller is not None else None
    return told.value if told is not None else 1.0


def unlike(joining: Joining) -> int:
    """How many forms it has beside the first."""
    return len({(share.string, share.form) for share in joining.shares})
