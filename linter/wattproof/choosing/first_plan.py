"""A first plan from what somebody holds in their hands: labels, a count, and how cold it gets.

What is not told is written as `unknown`, what is to be chosen as `open`. No value is made up.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final, NamedTuple

from wattproof.codes import known
from wattproof.plan.fields import one_of, quantity, read_count
from wattproof.plan.hints.values import sure_word
from wattproof.plan.opening import OPEN
from wattproof.plan.power import CHEMISTRIES
from wattproof.quantities import UNKNOWN, Mistake, Quantity
from wattproof.source import Place, Text

_NOWHERE: Final = Place("", 1, 1, 1, 1)
_NUMBER_ALONE: Final = re.compile(r"[0-9]+([.][0-9]+)?|[.][0-9]+")


class Ask(NamedTuple):
    """One thing to be told.

    key: by which it is told, as an option without its dashes. asks: the question. where: where the
    answer is printed or found. example: a form of the answer. read: raises Mistake. needed: whether
    it has to be answered. may_be_unknown: whether `unknown` is an answer to what is needed.
    may_be_open: whether the program may choose it. words: those that it takes, where it takes no
    others. of_one_controller: whether it is asked where there is one controller alone. unit: in
    which a number alone is taken, where labels print no other.
    """

    key: str
    asks: str
    where: str
    example: str
    read: Callable[[Any], Any]
    needed: bool = False
    may_be_unknown: bool = False
    may_be_open: bool = False
    words: tuple[str, ...] = ()
    of_one_controller: bool = False
    unit: str = ""


SETTINGS: Final = ("vehicle", "boat", "cabin", "portable")
CONTROLLERS: Final[Mapping[str, str]] = {
    "mppt": "tracker",
    "pwm": "controller",
    "vehicle-charger": "charger",
}
"""Kinds of controllers that are asked for, with what the plan calls one."""
KINDS: Final = tuple(CONTROLLERS)

ASKS: Final = (
    Ask(
        "setting",
        "What is it in: vehicle, boat, cabin or portable?",
        "portable is what is set up and taken away again",
        "vehicle",
        one_of(*SETTINGS).read,
        needed=True,
        words=SETTINGS,
    ),
    Ask(
        "code",
        "Which body of rules is it to be checked by?",
        "by where it is used; return takes the usual one",
        ", ".join(known()),
        one_of(*known()).read,
        words=tuple(known()),
    ),
    Ask(
        "coldest",
        "How cold does it get in daylight, at the coldest place it will go to?",
        "ask a weather service; it sets how many modules may be in series",
        "-10 °C",
        quantity("temperature of air").read,
    ),
    Ask(
        "modules",
        "How many modules are there, all alike?",
        "count them",
        "4",
        read_count,
        needed=True,
    ),
    Ask(
        "voc",
        "Open-circuit voltage of a module?",
        "on the label on its back, as Voc",
        "… V",
        quantity("voltage").read,
        unit="V",
    ),
    Ask(
        "vmp",
        "Its voltage at maximum power?",
        "on the same label, as Vmp or Vmpp",
        "… V",
        quantity("voltage").read,
        unit="V",
    ),
    Ask(
        "isc",
        "Its short-circuit current?",
        "on the same label, as Isc",
        "… A",
        quantity("current").read,
        unit="A",
    ),
    Ask(
        "imp",
        "Its current at maximum power?",
        "on the same label, as Imp or Impp",
        "… A",
        quantity("current").read,
        unit="A",
    ),
    Ask(
        "pmax",
        "Its power?",
        "on the same label, as Pmax, in W",
        "… W",
        quantity("power").read,
        unit="W",
    ),
    Ask(
        "voc-coefficient",
        "How its open-circuit voltage changes with temperature?",
        "on the label or in the datasheet, as temperature coefficient of Voc",
        "… %/°C",
        quantity("relative coefficient", "voltage coefficient").read,
    ),
    Ask(
        "series-fuse",
        "The largest series fuse that it allows?",
        "on the same label, as maximum series fuse rating",
        "… A",
        quantity("current").read,
        unit="A",
    ),
    Ask(
        "controller",
        "What is the controller: mppt (a tracker), pwm, or vehicle-charger?",
        "on its case; a vehicle-charger has a solar input and charges from an alternator too; what "
        "else follows the maximum power point is mppt",
        "mppt",
        one_of(*KINDS).read,
        needed=True,
        words=KINDS,
    ),
    Ask(
        "controllers",
        "How many such controllers are there?",
        "return means one",
        "1",
        read_count,
    ),
    Ask(
        "length",
        "How long is the cable from the modules to the controller, one way?",
        "measure along the way it will take",
        "… m",
        quantity("length").read,
        of_one_controller=True,
    ),
    Ask(
        "input-voltage",
        "The highest voltage that its solar input takes?",
        "on its label or in its manual, as max PV voltage; `open` where you have none yet",
        "… V",
        quantity("voltage").read,
        unit="V",
        may_be_open=True,
    ),
    Ask(
        "output-current",
        "The current that it gives the battery?",
        "on its label, in A; `open` where you have none yet",
        "… A",
        quantity("current").read,
        unit="A",
        may_be_open=True,
    ),
    Ask(
        "battery",
        f"What kind is the battery: {', '.join(CHEMISTRIES[:-1])} or {CHEMISTRIES[-1]}?",
        "on its case; LiFePO4 is lithium-iron-phosphate; `unknown` where nobody can tell",
        CHEMISTRIES[0],
        one_of(*CHEMISTRIES).read,
        needed=True,
        may_be_unknown=True,
        words=CHEMISTRIES,
    ),
    Ask(
        "nominal",
        "Its nominal voltage?",
        "on its case",
        "… V",
        quantity("voltage").read,
        unit="V",
    ),
    Ask(
        "capacity",
        "Its capacity?",
        "on its case, in Ah; of several in parallel, that of all together",
        "… Ah",
        quantity("charge").read,
        unit="Ah",
    ),
)
"""Everything that is asked, in the order in which it is asked."""

TAKEN: Final[Mapping[str, str]] = {"setting": "vehicle", "controller": "mppt"}
"""What is taken of words that stand on no label, where nobody is asked; the plan says so."""
BY_KEY: Final[Mapping[str, Ask]] = {ask.key: ask for ask in ASKS}
_MOST_AMPS: Final = 50.0
"""A; more than twice what the largest modules give."""
_LEAST_AMPS: Final = 0.02
"""A; less than the smallest garden light takes from its module (common practice)."""
_MOST_NOMINAL: Final = 60.0
_USUAL_NOMINAL: Final = (12.0, 12.8, 24.0, 25.6)
"""V; the highest of banks that are usual, and what a capacity in its place would be."""
_BELOW: Final = (("vmp", "voc"), ("imp", "isc"))
"""What is always less than the other on the label of a module."""


def is_asked(ask: Ask, told: Mapping[str, str]) -> bool:
    """Whether something is asked after what is told already."""
    return not ask.of_one_controller or told.get("controllers", "1") == "1"


def answer(ask: Ask, written: str) -> str:
    """An answer as the plan will hold it: with its unit, or the word that a spelling means.

    Raises Mistake.
    """
    text = written.strip()
    if ask.unit and _NUMBER_ALONE.fullmatch(text):
        text = f"{text} {ask.unit}"
    if text == UNKNOWN and ask.may_be_unknown:
        return text
    if text == UNKNOWN and not ask.needed:
        return ""
    if text == OPEN and ask.may_be_open:
        return text
    if text == OPEN:
        raise Mistake("this is not yours to choose", "write what is printed, or nothing")
    text = sure_word(text, ask.words) or text
    ask.read(Text.at(text, _NOWHERE))
    return text


def contradiction(told: Mapping[str, str]) -> tuple[str, str, str] | None:
    """Two answers that cannot both be right, and why; None where there are none."""
    for less, more in _BELOW:
        low, high = _value(told, less), _value(told, more)
        if low is not None and high is not None and low >= high:
            return less, more, "read the label again: the first is always the smaller one"
    if (slip := _slipped(told)) is not None:
        return slip
    watts, volts, amps = (_value(told, key) for key in ("pmax", "vmp", "imp"))
    if None not in (watts, volts, amps) and abs(volts * amps / watts - 1.0) > 0.2:  # type: ignore[operator]
        return "pmax", "vmp", f"the power is about {volts * amps:.0f} W by the other two"  # type: ignore[operator]
    return None


def _slipped(told: Mapping[str, str]) -> tuple[str, str, str] | None:
    """Two answers in each other's place, or in another unit, as no label has them."""
    volts, amps = _value(told, "voc"), _value(told, "isc")
    exchanged = "look whether the two stand in each other's place"
    if volts is not None and amps is not None and amps > volts and amps > _MOST_AMPS / 4.0:
        if amps > _MOST_AMPS:
            return "isc", "voc", "no module gives so many amperes: look at the unit"
        return "voc", "isc", f"no module has so few volts and so many amperes: {exchanged}"
    if volts is not None and amps is not None and amps < _LEAST_AMPS:
        return "isc", "voc", "no module gives so few amperes: look at the unit"
    nominal, charge = _value(told, "nominal"), _value(told, "capacity")
    if nominal is None or charge is None or nominal <= _MOST_NOMINAL:
        return None
    if round(charge / 3600.0, 1) in _USUAL_NOMINAL:
        return "nominal", "capacity", f"banks of so many volts are few: {exchanged}"
    return None


def _value(told: Mapping[str, str], key: str) -> float | None:
    written = told.get(key)
    if not written:
        return None
    read = BY_KEY[key].read(Text.at(written, _NOWHERE))
    return read.value if isinstance(read, Quantity) else None


def plan_text(told: Mapping[str, str]) -> str:
    """The plan as text, commented. told: answers by key; what is left out is not known."""
    return "\n".join(_lines(told)) + "\n"


def _lines(told: Mapping[str, str]) -> Iterator[str]:
    def known_of(key: str) -> str:
        return told.get(key) or UNKNOWN

    def word_of(key: str) -> str:
        return told[key] if key in told else f"{TAKEN[key]}  # taken, since nobody said"

    count = int(told.get("controllers") or 1)
    called = CONTROLLERS[told.get("controller", TAKEN["controller"])]
    names = [called] if count == 1 else [f"{called}-{n}" for n in range(1, count + 1)]
    yield "wattproof: 1"
    yield "# A plan that is not finished. `unknown` is what nobody has looked up yet, `open` what"
    yield "# is still to be chosen. Write more in as you learn it, and check again."
    yield f"setting: {word_of('setting')}"
    if told.get("code"):
        yield f"code: {told['code']}"
    else:
        yield "# code: the body of rules to calculate by; without it the usual one"
    yield "site:"
    yield f"  coldest: {known_of('coldest')}  # lowest air temperature with daylight"
    yield "datasheets:"
    yield "  modules:"
    yield "    panel:  # as printed on the label on its back"
    for key, name in (
        ("voc", "voc"),
        ("vmp", "vmp"),
        ("isc", "isc"),
        ("imp", "imp"),
        ("pmax", "pmax"),
        ("voc-coefficient", "voc_coefficient"),
        ("series-fuse", "max_series_fuse"),
    ):
        yield f"      {name}: {known_of(key)}"
    yield "strings:"
    yield "  roof:"
    yield "    module: panel"
    split = " and split" if len(names) > 1 else ""
    yield f"    arrangement: open  # `wattproof layouts` compares every way to join{split} them"
    yield f"    count: {told['modules']}"
    if len(names) > 1:
        yield f"    controllers: [{', '.join(names)}]"
    else:
        yield f"    feeds: {{to: {names[0]}, length: {known_of('length')}}}"
    yield "controllers:"
    for name in names:
        yield f"  {name}:  # as printed on it, or in its manual"
        yield f"    kind: {word_of('controller')}"
        yield f"    max_input_voltage: {known_of('input-voltage')}"
        yield f"    max_output_current: {known_of('output-current')}"
        yield "    feeds: house"
    yield "batteries:"
    yield "  house:  # as printed on its case"
    yield f"    chemistry: {told['battery']}"
    yield f"    nominal: {known_of('nominal')}"
    yield f"    capacity: {known_of('capacity')}"
