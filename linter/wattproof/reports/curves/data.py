"""What the outputs of curves show of a controller's input: plain numbers and words.

Read off the study once, so that table, rows and picture cannot disagree.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, TypeAlias

from wattproof.study.site.states import WORDS, State
from wattproof.working import Assumption

if TYPE_CHECKING:
    from wattproof.study import Study
    from wattproof.study.curves.curves import CurveStudy, OperatingPoint, Shaded

SHOWN: Final[tuple[State, ...]] = ("standard", "coldest", "hottest")

_HELD: Final = {
    "none": "nothing",
    "window": "its voltages",
    "input current": "input current",
    "power": "its power",
    "output current": "output current",
    "no operation": "does not work",
}
_HELD_BY_BATTERY: Final = "battery voltage"

Points: TypeAlias = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Spot:
    """A point of a curve: voltage (V), current (A), power (W)."""

    voltage: float
    current: float
    power: float


@dataclass(frozen=True, slots=True)
class Work:
    """Where a controller works, the current that it gives its battery (A), what holds it back.

    output: None of a sealed box, whose battery nobody tells.
    """

    spot: Spot
    output: float | None
    held_by: str


@dataclass(frozen=True, slots=True)
class StateCurve:
    """The curve of an array in a state, in full sun or under a case of shade, with words for it.

    state, shade: its name, by the state alone or by the case too. points: voltage (V) and current
    (A) from short circuit to open circuit. others: maxima beside the greatest. lost: power lost to
    mismatch and wires (W), or under shade the share of power lost to that, as shown. work: None
    where it is not known. too_high: with nothing connected, the voltage is above what the
    controller takes.
    """

    state: str
    words: str
    points: Points
    best: Spot
    others: tuple[Spot, ...]
    lost: str
    work: Work | None
    too_high: bool
    shade: str = ""

    @property
    def name(self) -> str:
        """What tells it from the other curves of its array."""
        return self.shade or self.state

    @property
    def maxima(self) -> tuple[Spot, ...]:
        """All maxima of power, the greatest first."""
        return (self.best, *self.others)

    @property
    def open_voltage(self) -> float:
        """Open-circuit voltage (V)."""
        return self.points[-1][0]

    @property
    def short_current(self) -> float:
        """Short-circuit current (A)."""
        return self.points[0][1]


@dataclass(frozen=True, slots=True)
class InputCurves:
    """The curves at one controller's solar input.

    needed: the lowest voltage that it needs (V), None where none is asked. taken: the highest
    that it takes (V). assumptions: what the curves rest on and the plan leaves out. shades: the
    same array under the plan's cases of shade. dark: the cases under which it gives nothing.
    """

    controller: str
    needed: float | None
    taken: float
    states: tuple[StateCurve, ...]
    assumptions: tuple[Assumption, ...] = ()
    shades: tuple[StateCurve, ...] = ()
    dark: tuple[str, ...] = ()

    @property
    def curves(self) -> tuple[StateCurve, ...]:
        """All curves, those in full sun first."""
        return (*self.states, *self.shades)


@dataclass(frozen=True, slots=True)
class NotDrawn:
    """A controller's input without curves: for each datasheet in the way, why."""

    controller: str
    reasons: tuple[tuple[str, str], ...]


def read(study: CurveStudy) -> InputCurves:
    """What there is to show of one array's curves."""
    needed = study.window.needed
    lit = [shaded for shaded in study.shades if shaded.points]
    return InputCurves(
        study.name,
        needed.number if needed is not None else None,
        study.array.controller.input_limit.value,
        tuple(_state(study, state) for state in SHOWN),
        _assumptions(study),
        tuple(_shade(study, shaded) for shaded in lit),
        tuple(shaded.name for shaded in study.shades if shaded not in lit),
    )


def not_drawn(study: Study) -> Iterator[NotDrawn]:
    """The inputs without curves, with what each label in the way is refused for."""
    drawn = {curves.array for curves in study.curves.curves}
    for array in study.array.arrays:
        if array not in drawn:
            models = [study.curves.models[module.name] for module in array.modules]
            refused = [(m.name, m.refusal) for m in models if m.fit is None]
            yield NotDrawn(str(array.controller.name), tuple(refused))


def _state(study: CurveStudy, state: State) -> StateCurve:
    voltage, current, power = study.maximum(state)
    best = Spot(voltage.number, current.number, power.number)
    maxima = [Spot(m.voltage, m.current, m.power) for m in study.maxima(state)]
    return StateCurve(
        state,
        WORDS[state],
        study.points(state),
        best,
        tuple(spot for spot in maxima if spot != best),
        str(study.mismatch(state)),
        _work(study, study.operating(state)),
        study.array.is_over_input(state),
    )


def _shade(study: CurveStudy, shaded: Shaded) -> StateCurve:
    maxima = [Spot(m.voltage, m.current, m.power) for m in shaded.maxima]
    best = max(maxima, key=lambda spot: spot.power)
    return StateCurve(
        shaded.state,
        f"shade {shaded.name}, {WORDS[shaded.state]}",
        shaded.points,
        best,
        tuple(spot for spot in maxima if spot != best),
        str(shaded.lost),
        _work(study, shaded.operating),
        False,
        shaded.name,
    )


def _work(study: CurveStudy, found: OperatingPoint | None) -> Work | None:
    if found is None:
        return None
    held_by = _HELD[found.limited_by]
    if study.array.controller.kind == "pwm" and found.limited_by == "none":
        held_by = _HELD_BY_BATTERY
    spot = Spot(found.voltage.number, found.current.number, found.power.number)
    return Work(spot, found.output.number if found.output is not None else None, held_by)


def _assumptions(study: CurveStudy) -> tuple[Assumption, ...]:
    found = {a for module in study.array.modules for a in study.models[module.name].assumptions}
    for state in SHOWN:
        work = study.operating(state)
        found |= study.maximum(state)[2].assumptions
        found |= (work.output or work.power).assumptions if work is not None else set()
    for shaded in study.shades:
        found |= shaded.power.assumptions
    found |= study.window.needed.assumptions if study.window.needed is not None else set()
    return tuple(sorted(found, key=lambda a: (a.key, a.subject, a.says)))
