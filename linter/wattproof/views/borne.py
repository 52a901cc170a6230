"""What each component bears beside what it stands, in a few words: 25.8 A of 40 A."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from wattproof.study.wiring.wires import Carrying
from wattproof.working import Tabled, Value, steps

if TYPE_CHECKING:
    from wattproof.study import Study


class Borne(NamedTuple):
    """A component under load.

    path: of keys that lead to it in the plan, from its family. verb: what it does with the value,
    such as `carries`. limit: what it stands at most; None where that is not known. basis: the
    tables that the limit rests on.
    """

    path: tuple[str, ...]
    verb: str
    value: Value
    limit: Value | None = None
    basis: tuple[str, ...] = ()

    @property
    def short(self) -> str:
        """The figures alone."""
        return f"{self.value} of {self.limit}" if self.limit is not None else str(self.value)

    @property
    def sentence(self) -> str:
        """What it bears, as a sentence without its end."""
        return f"`{self.path[-1]}` {self.verb} {self.short}"


def borne_in(study: Study) -> Iterator[Borne]:
    """Of every component of which it is known, in a fixed order."""
    for name, wire in study.wiring.wires.items():
        if wire.current is None:
            continue
        limit = wire.carrying.value if isinstance(wire.carrying, Carrying) else None
        family = next((f for f in ("wires", "bonds") if name in getattr(study.plan, f)), "wires")
        yield Borne((family, name), "carries", wire.current, limit, _sources(limit))
    for device in study.wiring.devices.values():
        if device.current is None:
            continue
        path: tuple[str, ...] = (_family(study, device.name), device.name)
        if device.panel is not None:
            path = ("distribution", str(device.panel.name), "ways", device.name)
        yield Borne(path, "carries", device.current, device.rating)
    for bar in study.wiring.busbars:
        yield Borne(("busbars", bar.name), "passes", bar.through)
    for array in study.array.arrays:
        name = str(array.controller.name)
        family = "controllers" if name in study.plan.controllers else "power_boxes"
        volts = array.voc("coldest")
        yield Borne((family, name), "sees up to", volts, array.input_limit)
        for string in array.all_strings:
            yield Borne(("strings", string.name), "gives up to", string.voc("coldest"))
    for drawn in study.wiring.discharging:
        for bank in drawn.banks:
            if len(drawn.banks) == 1:
                yield Borne(("batteries", bank.name), "gives", drawn.current, drawn.limit)


def _family(study: Study, name: str) -> str:
    """The family of a device in the way of a current."""
    families = ("fuses", "breakers", "switches", "selectors", "arc_fault_devices")
    return next((f for f in families if name in getattr(study.plan, f)), "fuses")


def _sources(value: Value | None) -> tuple[str, ...]:
    """The tables that a value was worked out from, each once."""
    if value is None:
        return ()
    origins = [step.origin for each in steps(value) for step in each.inputs]
    return tuple(dict.fromkeys(o.source for o in origins if isinstance(o, Tabled)))
