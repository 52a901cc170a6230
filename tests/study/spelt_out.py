"""All that a study says, as text: numbers to six digits with what they were worked out from.

Words are left out, so that a sentence may be written better without a number moving.

    python tests/study/spelt_out.py PLAN...
"""

from __future__ import annotations

import inspect
import sys
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from types import FunctionType
from typing import Any

from pydantic import BaseModel

from wattproof.circuit import Conductor, Passage, Source, Terminal
from wattproof.codes.values import TableValue
from wattproof.kept import kept
from wattproof.loading import load_study
from wattproof.source import Place
from wattproof.study import Study
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Assumption, Value, steps

SECTIONS = ("battery", "array", "wiring", "protection", "charging", "energy")
DEEP = 5
LEFT_OUT = {
    "assume",
    "plan",
    "circuit",
    "code",
    "codes",
    "wire",
    "climate",
    "at",
    "place",
    "loading",
    "proposed",
}
"""What is the plan's own, the same for all, or works out what is told beside it."""


def spelt_out(study: Study) -> Iterator[tuple[str, str]]:
    """Each thing that a section of a study tells, with all that it says of it."""
    for section in SECTIONS:
        own = getattr(study, section)
        for name in told_of(type(own)):
            yield f"{section}.{name}", _text(getattr(own, name), DEEP)
    network = study.wiring.network
    for part in study.circuit.battery_side:
        told = [network.lasting(part), network.rated(part), network.when_cut_off(part)]
        told += [network.brief(part)]
        if isinstance(part, Passage):
            told += [network.through_from(part, start=start) for start in (True, False)]
        yield f"network {_text(part, 0)}", _text(told, DEEP)
    for terminal in study.circuit.around:
        yield f"short {_text(terminal, 0)}", _text(network.short_at(terminal), DEEP)


def told_of(kind: type) -> list[str]:
    """Names of what a class computes without being asked for anything."""
    found = inspect.getmembers_static(kind, lambda each: isinstance(each, property | kept))
    return [name for name, _ in found if not name.startswith("_") and name not in LEFT_OUT]


def _text(told: object, deep: int) -> str:
    if isinstance(told, Value):
        worked = [f"{s.symbol}={s.formula}={s.number:.6g}" for s in steps(told)]
        return f"{told.number:.6g} {told.unit} {len(told.assumptions)} <{'; '.join(worked)}>"
    if isinstance(told, TableValue):
        return f"{told.value:.6g} {told.unit} {told.verified} {told.own}"
    if isinstance(told, str):
        return told if " " not in told else "words"
    if told is None or isinstance(told, bool | int):
        return repr(told)
    if isinstance(told, float):
        return f"{told:.6g}"
    if isinstance(told, Place):
        return "place"
    if isinstance(told, Terminal):
        return f"{told.component}.{told.port}.{told.pole}"
    if isinstance(told, Conductor | Passage | Source):
        return f"{told.name} {_text(told.start, 0)} {_text(told.end, 0)}"
    if isinstance(told, BaseModel):
        return str(getattr(told, "name", type(told).__name__))
    if isinstance(told, Assumption | FunctionType) or deep == 0:
        return str(getattr(told, "name", type(told).__name__))
    return _parts(told, deep - 1)


def _parts(told: Any, deep: int) -> str:
    if isinstance(told, Mapping):
        return f"{{{', '.join(f'{_text(k, 0)}: {_text(v, deep)}' for k, v in told.items())}}}"
    if isinstance(told, set | frozenset):
        return f"{{{', '.join(sorted(_text(each, deep) for each in told))}}}"
    if isinstance(told, tuple | list):
        return f"({', '.join(_text(each, deep) for each in told)})"
    if not is_dataclass(told) or not type(told).__module__.startswith("wattproof.study"):
        return type(told).__name__
    names = sorted({f.name for f in fields(told)}.difference(LEFT_OUT).union(told_of(type(told))))
    if isinstance(told, WireStudy) and deep < DEEP - 2:
        return str(told.name)
    shown = ", ".join(f"{name}={_text(_asked(told, name), deep)}" for name in names)
    return f"{type(told).__name__}({shown})"


def _asked(told: object, name: str) -> object:
    """What is asked of no more than some of its kind is left out of the others.

    So is what hangs on the length of a bond, which need not tell it.
    """
    try:
        return getattr(told, name)
    except (IndexError, AttributeError):
        return None


if __name__ == "__main__":
    for path in sys.argv[1:]:
        for name, told in spelt_out(load_study(path)):
            print(f"{path} {name}: {told}")
