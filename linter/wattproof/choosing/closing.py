"""Which layout, why, and what speaks for the next; where none fits, what would have to differ."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from wattproof.choosing.layouts import EQUAL, Layouts, Tried, equal, fails
from wattproof.words import enumerated, quoted
from wattproof.working import Supposed

_BY_CONTROLLER: Final = (
    "cold-voltage-over-controller",
    "controller-input-over-current",
)
_NAMED: Final = 3
"""Most layouts that are named as equal; the rest are counted."""
STATES: Final = {
    "standard": "at standard test conditions",
    "hottest": "at the hottest noon",
    "one module shaded": "with one module shaded",
}


def closing(layouts: Layouts) -> str:
    """The sentences that a comparison ends with."""
    fitting = layouts.fitting
    if not fitting:
        return _none(layouts)
    best, others = fitting[0], fitting[1:]
    if not others:
        count = len(layouts.tried)
        only = "it is the only layout" if count == 1 else f"no other of {count} layouts fits"
        return f"Take {quoted([best.name])}: {only}{_left_over(best)}.{_controller(best)}"
    after = others[0]
    alike = [each for each in others if equal(best, each)]
    said = f"Take {quoted([best.name])}: {_why(best, after, layouts)}."
    if alike:
        said += f" {_few(alike)} {'is' if len(alike) == 1 else 'are'} equal to it within 1 %."
    speaks = list(_speaks(after, best))
    if speaks:
        said += f" For {quoted([after.name])} speaks that it {enumerated(speaks)}."
    return said + _controller(best)


def _few(tried: Sequence[Tried]) -> str:
    """The first names, and how many more."""
    names = [f"`{each.name}`" for each in tried[:_NAMED]]
    more = len(tried) - len(names)
    return enumerated([*names, f"{more} more"] if more else names)


def shade_words(name: str) -> str:
    """A state or a case of shade, as the end of a sentence."""
    return STATES.get(name, f"under `{name}`")


def _why(best: Tried, after: Tried, layouts: Layouts) -> str:
    """Why the best stands before the next one."""
    mine, other = best.score(layouts.weights), after.score(layouts.weights)
    same = f"over all states it gives {mine:.0f} W, as much as any other that fits within 1 %"
    if mine > other * (1.0 + EQUAL):
        share = (mine / other - 1.0) * 100.0
        said = (
            f"over all states it gives {mine:.0f} W, {share:.0f} % more than {quoted([after.name])}"
        )
    elif best.joining.unused < after.joining.unused:
        said = "it uses more of the modules, with as much power as the next"
    elif after.sags and not best.sags:
        said = (
            f"{same}, and "
            f"unlike {quoted([after.name])} it has the voltage to charge to the end at the hottest "
            "noon"
        )
    else:
        said = (
            f"{same}, and "
            f"has the fewest parts ({best.needs.parts} joints, fuses and pairs of connectors"
            f"{f', against {after.needs.parts}' if after.needs.parts > best.needs.parts else ''})"
        )
        if best.needs.parts >= after.needs.parts:
            said = f"{same}"
    return said + _left_over(best)


def _left_over(best: Tried) -> str:
    unused = best.joining.unused
    if not unused:
        return ""
    stay = "one of the modules stays" if unused == 1 else f"{unused} of the modules stay"
    return f"; {stay} unused, since no layout of all fits"


def _speaks(one: Tried, other: Tried) -> Iterator[str]:
    """What one layout has that another has not."""
    for state, watts in one.power.items():
        beside = other.power.get(state)
        if beside is not None and watts.number > beside.number * (1.0 + EQUAL):
            share = (watts.number / beside.number - 1.0) * 100.0 if beside.number else math.inf
            more = f"gives {share:.0f} % more" if share < 1000.0 else "gives power"
            yield f"{more} {shade_words(state)}"
    if one.needs.parts < other.needs.parts:
        yield f"has fewer parts ({one.needs.parts} against {other.needs.parts})"
    mine, beside_it = _highest(one), _highest(other)
    if mine < beside_it * 0.9:
        yield f"stands at {mine:.0f} V in the cold instead of {beside_it:.0f} V"
    if sum(one.by_hazard.values()) < sum(other.by_hazard.values()):
        yield "has fewer warnings"


def _highest(tried: Tried) -> float:
    return max((i.cold.number for i in tried.inputs), default=0.0)


def _controller(best: Tried) -> str:
    """What the controllers have to stand whose limits are still to be chosen."""
    said = []
    controllers = best.study.plan.all_controllers
    for each in best.inputs:
        unit = controllers[each.name.partition(".")[0]]
        volts, amps = unit.max_input_voltage, unit.max_output_current
        asks = []
        if isinstance(volts, Supposed) and volts.assumption.open:
            asks.append(f"takes at least {math.ceil(each.cold.number)} V")
        if isinstance(amps, Supposed) and amps.assumption.open and each.output is not None:
            asks.append(f"gives up to {math.ceil(each.output.number)} A")
        if asks:
            said.append(f" It needs a `{unit.name}` that {enumerated(asks)}.")
    return "".join(dict.fromkeys(said))


def _none(layouts: Layouts) -> str:
    """What would have to differ."""
    near = [each for each in layouts.tried if _only_by_controller(each)]
    if not near:
        reasons = dict.fromkeys(_headline(each) for each in layouts.tried[:3])
        return f"No layout fits: {'; '.join(reasons)}."
    best = near[0]
    asks = []
    for each in best.inputs:
        wants = []
        if each.cold.number > each.limit.number:
            wants.append(f"takes {math.ceil(each.cold.number)} V or more")
        if each.takes is not None and each.current.number > each.takes.number:
            wants.append(f"stands {math.ceil(each.current.number)} A at its input")
        if wants:
            asks.append(f"a controller in the place of `{each.name}` that {enumerated(wants)}")
    what = enumerated(asks) if asks else "another controller"
    return (
        f"No layout fits. {quoted([best.name])} would, with {what}; or another number of modules, "
        "or others."
    )


def _only_by_controller(tried: Tried) -> bool:
    return all(f.rule in _BY_CONTROLLER for f in tried.own if fails(f))


def _headline(tried: Tried) -> str:
    reason = tried.reason
    assert reason is not None
    return f"{quoted([tried.name])}: {reason.message}"
