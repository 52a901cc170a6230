"""Parts whose two sides are led the wrong way round, which nothing else about them would say."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import TypeAlias

from wattproof.circuit.elements import Conductor, Element, Source, Terminal
from wattproof.plan.converting import Converter
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Controller
from wattproof.plan.terminals import POLES
from wattproof.source import Problem
from wattproof.words import enumerated, quoted

Reach: TypeAlias = tuple[Collection[Terminal], Collection[Element]]
"""Terminals and elements that a side leads to."""


def exchanged_controller(
    controller: Controller,
    port: str,
    at_input: Reach,
    at_battery: Reach,
    around: Mapping[Terminal, list[Element]],
    components: Mapping[str, Named],
) -> Problem | None:
    """A controller whose solar input is on a battery, and an array on its battery terminals."""
    bank, string = _bank(at_input, components), _string(at_battery)
    if bank is None or string is None or _string(at_input) or _bank(at_battery, components):
        return None
    sides = {port: f"{controller.name}.{port}", "battery": f"{controller.name}.battery"}
    message = (
        f"the sides of `{controller.name}` are exchanged: `{bank}` is on `{sides[port]}`, and "
        f"`{string}` on `{sides['battery']}`"
    )
    instead = enumerated(
        f"write `{sides[right]}` for `{sides[wrong]}` in {_named(controller, wrong, around)}"
        for wrong, right in ((port, "battery"), ("battery", port))
    )
    return Problem(controller.at, message, instead)


def exchanged_converter(converter: Converter, at_input: str, at_output: str) -> Problem:
    """A converter of which each side is on the voltage of the other. at_: what is on a side."""
    name = converter.name
    message = (
        f"the sides of `{name}` are exchanged: its input ({converter.input_nominal}) is on "
        f"`{at_input}`, and its output ({converter.output_nominal}) on `{at_output}`"
    )
    instead = f"lead `{name}.input` to `{at_output}`, and `{name}.output` to `{at_input}`"
    return Problem(converter.at, message, instead)


def _bank(side: Reach, components: Mapping[str, Named]) -> str | None:
    names = (terminal.component for terminal in sorted(side[0]))
    return next((name for name in names if isinstance(components.get(name), Battery)), None)


def _string(side: Reach) -> str | None:
    return next((element.name for element in side[1] if isinstance(element, Source)), None)


def _named(controller: Controller, port: str, around: Mapping[Terminal, list[Element]]) -> str:
    """The wires at a port."""
    at = (Terminal(str(controller.name), port, pole) for pole in POLES)
    wires = (e.wire.name for t in at for e in around.get(t, ()) if isinstance(e, Conductor))
    return quoted(dict.fromkeys(wires))
