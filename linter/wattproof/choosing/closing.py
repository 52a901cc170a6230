"""Which layout, why, and what speaks for the next; where none fits, what would have to differ."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from wattproof.choosing.joining import open_arrays, unlike
from wattproof.choosing.layouts import CLOSE, EQUAL, Input, Layouts, Tried, beside, equal, fails
from wattproof.finding import LEVELS, Change, Changes, Finding
from wattproof.words import enumerated, quoted

_ASKED: Final = {
    "max_input_voltage": "takes {} or more",
    "max_input_current": "stands {} or more at its input",
    "max_output_current": "is rated {} or more",
}
"""What is asked of another controller, by the key that a remedy changes."""
_NAMED: Final = 3
"""Most layouts that are named as equal; the rest are counted."""
_DOUBTED: Final = (
    *("module-values-impossible", "module-fill-factor-odd", "module-power-disagrees"),
    *("module-coefficient-odd", "module-cells-odd", "coldest-air-odd"),
)
"""Rules on values that cannot be right, by which no voltage and no current is."""
_OTHERS: Final = "another number of modules, or others"
LEAST_OF_ONE: Final = 15.0
MOST_OF_ONE: Final = 60.0
"""V of open-circuit voltage that the labels of most modules lie between."""
STATES: Final = {
    "standard": "at standard test conditions",
    "hottest": "at the hottest noon",
    "one module shaded": "with one module shaded",
}


def closing(layouts: Layouts) -> str:
    """What a comparison comes to, in sentences: what it rests on and cannot be right goes first."""
    fitting, before = layouts.fitting, _doubted(layouts)
    if not fitting:
        said = _none(layouts)
        return f"{before}{said[0].lower()}{said[1:]}" if before else said
    best = fitting[0]
    take = f"{before}take" if before else "Take"
    said = f"{take} {quoted([best.name])}: {_beside_others(best, layouts)}"
    return said + _look_again(best, layouts) + _all_of_them(best, layouts) + _controller(best)


def _doubted(layouts: Layouts) -> str:
    """What has to be read again before any of it counts, since no module or no air is so."""
    odd = next(iter(doubts(layouts)), None)
    if odd is None:
        return ""
    end = "" if odd.message.endswith("?") else "."
    return f"Read this again before anything else: {odd.message}{end} By what is told: "


def doubts(layouts: Layouts) -> list[Finding]:
    """What is odd in values that every layout rests on."""
    found = [f for f in (*layouts.rest.findings, *layouts.always) if f.acceptance is None]
    return [f for f in found if f.rule in _DOUBTED and f.level != "note"]


def _beside_others(best: Tried, layouts: Layouts) -> str:
    """Why it is the best, what equals it, and what speaks for the next."""
    others = layouts.fitting[1:]
    if not others:
        count = len(layouts.tried)
        only = "it is the only layout" if count == 1 else f"no other of {count} layouts fits"
        return f"{only}{_left_over(best, layouts)}."
    after = others[0]
    alike = [each for each in others if equal(best, each)]
    said = f"{_why(best, after, layouts)}."
    if alike:
        said += f" {_few(alike)} {'is' if len(alike) == 1 else 'are'} equal to it within 1 %."
    speaks = list(_speaks(after, best))
    if speaks:
        said += f" For {quoted([after.name])} speaks that it {enumerated(speaks)}."
    return said


def _look_again(best: Tried, layouts: Layouts) -> str:
    """The gravest danger that the layout to take warns of, and the gravest that it still loses."""
    dangers = [f for f in best.own if f.hazard != "lost-energy" and f.level != "note"]
    losses = [f for f in (*best.own, *layouts.always) if f.hazard == "lost-energy"]
    said = [_gravest(found) for found in (dangers, losses) if found]
    told = any(f.rule == "hot-voltage-under-battery" for f in losses)
    if not told and "hottest" in best.power and best.power["hottest"].number <= 0.0:
        said[:0] = map(_of_too_little, best.too_low)
    if best.guessed is not None:
        said.insert(0, _of_guessed(best.guessed))
    return f" Look again: {' Also: '.join(said)}" if said else ""


def _of_guessed(one: Input) -> str:
    """What is told of an input that nobody knows to take the voltage."""
    return (
        f"nobody told what `{_controller_of(one)}` takes, and there are inputs that "
        f"{one.cold} destroys."
    )


def _of_too_little(one: Input) -> str:
    """What is told of an input that gets too little to charge at the hottest noon."""
    return (
        f"it gives nothing {STATES['hottest']}, when `{_controller_of(one)}` gets {one.hot} and "
        f"needs {one.needed} to charge."
    )


def _controller_of(one: Input) -> str:
    return one.name.partition(".")[0]


def _gravest(found: Iterable[Finding]) -> str:
    message = min(found, key=lambda f: LEVELS.index(f.level)).message
    return message if message.endswith("?") else f"{message}."


def _all_of_them(best: Tried, layouts: Layouts) -> str:
    """Which controller would take all modules, where some of them stay unused."""
    if not best.joining.unused:
        return ""
    fuller = (t for t in layouts.tried if t.joining.unused < best.joining.unused)
    for each in fuller:
        if other := _other_controller(each):
            return f" {quoted([each.name])} would fit with {other}."
    return ""


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
    left_over = _left_over(best, layouts)
    if not (best.power or after.power):
        return f"what each gives is not known, and it {_beside(best, after)}{left_over}"
    mine, other = best.score(layouts.weights), after.score(layouts.weights)
    said = f"over all states it gives {mine:.0f} W, {_compared(mine, other)} {quoted([after.name])}"
    if mine * (1.0 - CLOSE) > other or not after.keeps_up_with(best):
        return said + left_over
    if beside(best) == beside(after):
        return said + left_over
    joint = "but" if mine < other * (1.0 - EQUAL) else "and"
    return f"{said}, {joint} it {_beside(best, after)}{left_over}"


def _compared(mine: float, other: float) -> str:
    """How much more or less power is, as the begin of a comparison."""
    if mine > other * (1.0 + EQUAL):
        return f"{(mine / other - 1.0) * 100.0:.0f} % more than"
    if mine < other * (1.0 - EQUAL):
        return f"{(1.0 - mine / other) * 100.0:.0f} % less than"
    return "within 1 % of"


def _beside(best: Tried, after: Tried) -> str:
    """What decides between two of about the same power."""
    if best.joining.unused != after.joining.unused:
        return "uses more of the modules"
    if best.dangers != after.dangers:
        few = str(best.dangers) if best.dangers else "none"
        return f"has fewer warnings of danger ({few} against {after.dangers})"
    if after.guessed is not None and best.guessed is None:
        name = _controller_of(after.guessed)
        return f"has a voltage that every input takes, where nobody told what `{name}` takes"
    if best.sags != after.sags:
        return "has the voltage to charge to the end at the hottest noon, which that has not"
    if best.is_large != after.is_large:
        return "does with a controller of a common input voltage"
    if unlike(best.joining) != unlike(after.joining):
        return "has arrays that are more alike"
    return (
        f"has fewer parts ({best.needs.parts} joints, fuses and pairs of connectors, against "
        f"{after.needs.parts})"
    )


def _left_over(best: Tried, layouts: Layouts) -> str:
    unused = best.joining.unused
    if not unused:
        return ""
    stay = "one of the modules stays" if unused == 1 else f"{unused} of the modules stay"
    fits = any(e.joining.unused < unused and not any(e.standing) for e in layouts.fitting)
    why = "all of them lose more, however they are joined" if fits else "no layout of all fits"
    return f"; {stay} unused, since {why}"


def in_short(layouts: Layouts) -> str:
    """Which layout to take, in a few words."""
    fitting = layouts.fitting
    said = f"take {quoted([fitting[0].name])}" if fitting else "no layout fits"
    if doubts(layouts):
        return f"Read again what is named above; by what is told, {said}."
    return f"{said[0].upper()}{said[1:]}."


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
    mine, against = _highest(one), _highest(other)
    if mine < against * 0.9:
        yield f"stands at {mine:.0f} V in the cold instead of {against:.0f} V"
    if sum(one.by_hazard.values()) < sum(other.by_hazard.values()):
        yield "has fewer warnings"


def _highest(tried: Tried) -> float:
    return max((i.cold.number for i in tried.inputs), default=0.0)


def _controller(best: Tried) -> str:
    """What the controllers have to stand and give whose limits are still to be chosen."""
    said: dict[str, str] = {}
    for each in best.inputs:
        name = _controller_of(each)
        volts, amps = each.to_choose
        asks = [f"takes {volts}"] if volts else []
        asks += [f"gives {amps}"] if amps else []
        if asks:
            said[name] = f" It needs a `{name}` that {enumerated(asks)} or more{_for_all(each)}."
    return "".join(said.values())


def _for_all(one: Input) -> str:
    """What it would have to give for no sun to be lost; empty where it does so."""
    if not one.to_choose[1] or one.gives is None or one.output is None:
        return ""
    if one.output.number <= one.gives.number * (1.0 + EQUAL):
        return ""
    return f"; in full sun the modules could charge with {one.output}, and it lets the rest go"


def _none(layouts: Layouts) -> str:
    """What would have to differ."""
    return _what_differs(layouts) + "".join(_of_all_modules(layouts))


def _of_all_modules(layouts: Layouts) -> Iterator[str]:
    """Where the label of a module may tell what all of them give in series."""
    for name, string in open_arrays(layouts.plan).items():
        sheet = layouts.plan.datasheets.modules.get(str(string.module))
        count = string.count
        if sheet is None or count is None or int(count) < 2:
            continue
        each = sheet.voc.value / int(count)
        if sheet.voc.value > MOST_OF_ONE and LEAST_OF_ONE <= each <= MOST_OF_ONE:
            yield (
                f" Few modules have {sheet.voc}: if that is of all {count} of `{name}` in series, "
                f"write `voc: {each:.3g} V` and the other values as on the label of one."
            )


def _what_differs(layouts: Layouts) -> str:
    for each in layouts.tried:
        if other := _other_controller(each):
            or_else = "modules of less voltage" if _one_is_too_much(layouts) else _OTHERS
            return (
                f"No layout fits. {quoted([each.name])} would, with {other}; or {or_else}."
                f"{_would_lose(each, layouts)}"
            )
    reasons = dict.fromkeys(_headline(each) for each in layouts.tried[:3])
    return f"No layout fits: {'; '.join(reasons)}."


def _one_is_too_much(layouts: Layouts) -> bool:
    """Whether one module alone is over its input."""
    found = [f for f in layouts.rest.findings if f.acceptance is None]
    return any(f.rule == "cold-voltage-over-controller" for f in found)


def _would_lose(tried: Tried, layouts: Layouts) -> str:
    """What a layout would still lose with another controller, where that is worth a warning."""
    found = [f for f in (*tried.own, *layouts.always) if f.hazard == "lost-energy"]
    lost = [f for f in found if f.level != "note"]
    return f" Even so: {_gravest(lost)}" if lost else ""


def _other_controller(tried: Tried) -> str:
    """Controllers with which nothing of it fails, by the remedies of what does.

    Empty where it fails by anything else.
    """
    wanted: dict[str, dict[str, str]] = {}
    for finding in (each for found in tried.own if fails(found) for each in found.each):
        asked = next((held for way in finding.ways if (held := _asked(way))), None)
        if asked is None:
            return ""
        for name, key, words in asked:
            wanted.setdefault(name, {})[words] = key
    if not wanted or tried.needs.unmet:
        return ""
    return enumerated(
        f"{_in_its_place(tried, name, words.values())} {enumerated(words)}"
        for name, words in wanted.items()
    )


def _in_its_place(tried: Tried, name: str, keys: Iterable[str]) -> str:
    """The controller itself where its limits are not told, else another one."""
    controller = tried.plan.controllers.get(name)
    if controller is not None and not any(getattr(controller, key, None) for key in keys):
        return f"`{name}`, if its label says that it"
    noun = controller.called if controller is not None else "controller"
    return f"a {noun} in the place of `{name}` that"


def _asked(way: Changes) -> list[tuple[str, str, str]]:
    """What a way of a remedy asks of controllers: name, key, words; empty where it changes more."""
    asked = []
    for change in way:
        if not isinstance(change, Change) or change.key not in _ASKED:
            return []
        asked.append((change.component, change.key, _ASKED[change.key].format(change.text)))
    return asked


def _headline(tried: Tried) -> str:
    reason = tried.reason
    assert reason is not None
    return f"{quoted([tried.name])}: {reason.message}"
