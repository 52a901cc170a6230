"""A whole plan."""

from collections.abc import Iterator, Mapping
from typing import Annotated, ClassVar, NamedTuple

from pydantic import ConfigDict, Field

from wattproof.plan.arc_faults import ArcFaultDevice
from wattproof.plan.array import Combiner, String
from wattproof.plan.bonding import FrameBond
from wattproof.plan.boxes import PowerBox
from wattproof.plan.code import Code, code_schema, read_code
from wattproof.plan.converting import Converter, InverterCharger
from wattproof.plan.datasheets import Datasheets
from wattproof.plan.devices import Arrester, Breaker, Busbar, Device, Distribution, Fuse, Switch
from wattproof.plan.energy import Energy
from wattproof.plan.fields import (
    Date,
    Name,
    Named,
    Part,
    Paths,
    Reader,
    Share,
    Whole,
    Words,
    hide,
    no_entries,
    one_of,
)
from wattproof.plan.heating import Heater
from wattproof.plan.opening import Open
from wattproof.plan.power import Battery, Charger, Controller, Inverter, Load
from wattproof.plan.readings import Reading
from wattproof.plan.shade import ShadeCase
from wattproof.plan.site import Site
from wattproof.plan.splitting import Isolator, Selector
from wattproof.plan.starting import Starter
from wattproof.plan.together import read_together
from wattproof.plan.told import WHOLE, Told, read_told, told_schema
from wattproof.plan.wiring import Bond, Wire
from wattproof.source import PLAN, Place, Text

VERSION = PLAN.version


class Accepted(Part):
    """A finding that the owner accepts, with a reason and an end."""

    MUST_TELL = ("margin",)

    rule: Words = Field(description="The rule's id.", examples=["voltage-drop-high"])
    where: Name = Field(description="The component of the finding.", examples=["home-run"])
    reason: Words | None = Field(
        None, description="Why it is accepted.", examples=["winter use only; the loss is known"]
    )
    by: Words | None = Field(
        None,
        description="Who may have approved it.",
        examples=["the electrician who signed the test sheet"],
    )
    until: Date | None = Field(None, description="The day it ends.", examples=["2027-06-30"])
    margin: Share | None = Field(
        None,
        description="By how much the limit was passed when it was accepted; a worse figure "
        "makes the finding live again.",
        examples=["4 %"],
    )


class Head(Part):
    """The keys of a plan that are not families of components."""

    MUST_TELL = ("code", "setting", "wattproof")

    wattproof: Whole = Field(description="Version of the plan format.", examples=[VERSION])
    title: Words | None = Field(
        None, description="What is planned, in a line.", examples=["Six roof modules on a long van"]
    )
    setting: Annotated[Text, one_of("vehicle", "boat", "cabin", "portable")] = Field(
        description="What the installation is in.", examples=["vehicle"]
    )
    code: Annotated[Code, Reader(read_code, code_schema)] | None = Field(
        None,
        description="The body of rules to calculate by; or one for the array side and one for "
        "the battery side.",
        examples=["nec-2023", {"array": "nec-2023", "battery": "abyc-e11"}],
    )
    told: Annotated[Told, Reader(read_told, told_schema)] = Field(
        default_factory=lambda: WHOLE,
        description="`part` where there may be more than the plan says: of everything, or of some "
        "families. An absent fuse is then a question, and not a finding.",
        examples=["part", {"fuses": "part", "switches": "part"}],
    )
    parts: Paths = Field(
        default=(),
        description="Files of datasheets, relative to the plan and inside its folder tree.",
        examples=[["parts/modules.yaml"]],
    )
    together: Annotated[tuple[tuple[Text, ...], ...], read_together()] | None = Field(
        None,
        description="What runs at once: lists of loads and inverters, each of what may run at the "
        "same time. Two that stand in lists but never in the same one are never on together; what "
        "stands in none may run with all. Without it everything may run at once.",
        examples=[[["mains", "refrigerator"], ["windlass", "refrigerator"]]],
    )


class Plan(Head):
    """A set of named components, the wires that join them, and where they must work."""

    hidden: ClassVar[frozenset[str]] = frozenset({"open_strings"})
    model_config = ConfigDict(json_schema_extra=hide(hidden))

    site: Site = Field(default_factory=lambda: Site(), description="Where it must work.")
    datasheets: Datasheets = Field(
        default_factory=lambda: Datasheets(), description="What the labels say."
    )
    strings: dict[str, String] = Field(default_factory=dict, description="Strings of modules.")
    combiners: dict[str, Combiner] = Field(
        default_factory=dict, description="Joints where strings or groups meet in parallel."
    )
    fuses: dict[str, Fuse] = Field(default_factory=dict, description="Fuses.")
    breakers: dict[str, Breaker] = Field(default_factory=dict, description="Circuit breakers.")
    switches: dict[str, Switch] = Field(default_factory=dict, description="Switches and isolators.")
    controllers: dict[str, Controller] = Field(
        default_factory=dict, description="Charge controllers."
    )
    batteries: dict[str, Battery] = Field(default_factory=dict, description="Batteries and banks.")
    busbars: dict[str, Busbar] = Field(default_factory=dict, description="Busbars.")
    distribution: dict[str, Distribution] = Field(
        default_factory=dict, description="Distribution panels."
    )
    inverters: dict[str, Inverter] = Field(default_factory=dict, description="Inverters.")
    loads: dict[str, Load] = Field(default_factory=dict, description="Loads on direct current.")
    chargers: dict[str, Charger] = Field(
        default_factory=dict, description="Alternators and shore chargers."
    )
    inverter_chargers: dict[str, InverterCharger] = Field(
        default_factory=dict, description="Inverters and chargers in one case."
    )
    converters: dict[str, Converter] = Field(
        default_factory=dict, description="Converters from one direct voltage to another."
    )
    starters: dict[str, Starter] = Field(default_factory=dict, description="Starter motors.")
    heaters: dict[str, Heater] = Field(default_factory=dict, description="Heaters of batteries.")
    power_boxes: dict[str, PowerBox] = Field(
        default_factory=dict, description="Portable power boxes."
    )
    diode_isolators: dict[str, Isolator] = Field(
        default_factory=dict, description="Diode isolators, from one source to several batteries."
    )
    selectors: dict[str, Selector] = Field(
        default_factory=dict, description="Selector switches, from one to either of two or both."
    )
    arc_fault_devices: dict[str, ArcFaultDevice] = Field(
        default_factory=dict, description="Devices that notice an arc and open."
    )
    frame_bonds: dict[str, FrameBond] = Field(
        default_factory=dict,
        description="Conductors that tie frames of modules to earth or chassis.",
    )
    bonds: dict[str, Bond] = Field(
        default_factory=dict, description="Ties to chassis, water or earth."
    )
    arresters: dict[str, Arrester] = Field(default_factory=dict, description="Surge arresters.")
    wires: dict[str, Wire] = Field(default_factory=dict, description="Wires between terminals.")
    shade: dict[str, ShadeCase] = Field(
        default_factory=dict, description="Cases of shade to compute, by name."
    )
    energy: Energy | None = Field(None, description="Sun hours, and what is used in a day.")
    readings: dict[str, Reading] = Field(
        default_factory=dict, description="What a meter showed once it was built, by name."
    )
    accepted: list[Accepted] = Field(
        default_factory=no_entries, description="Findings that the owner accepts."
    )
    open_strings: dict[str, String] = Field(
        default_factory=dict, description="Strings whose arrangement is not chosen yet."
    )

    @property
    def all_controllers(self) -> dict[str, Controller]:
        """Everything with a solar input, or that charges from an alternator: boxes too."""
        return {**self.controllers, **self.power_boxes}

    @property
    def all_chargers(self) -> dict[str, Charger]:
        """Every other source that charges: converters and the charger side of inverters too."""
        return {**self.chargers, **self.inverter_chargers, **self.converters}

    @property
    def all_inverters(self) -> dict[str, Inverter]:
        """Every inverter, those in one case with a charger too."""
        return {**self.inverters, **self.inverter_chargers}

    @property
    def all_loads(self) -> dict[str, Load]:
        """Every load on direct current, heaters of batteries too."""
        return {**self.loads, **self.heaters}

    @property
    def in_the_way(self) -> dict[str, Device]:
        """Every device that a wire may hold."""
        return {**self.fuses, **self.breakers, **self.switches, **self.arc_fault_devices}

    def unknowns(self) -> "Iterator[Unknown]":
        """Everything that the plan says is not known, in the order of the families."""
        yield from _unknowns(self.site, "site", "", "")
        for key in type(self).model_fields:
            held = getattr(self, key)
            if isinstance(held, dict):
                for name, part in held.items():
                    yield from _unknowns(part, key, name, "")
        for family, parts in (
            ("modules", self.datasheets.modules),
            ("cables", self.datasheets.cables),
            ("places", self.site.places),
        ):
            for name, part in parts.items():
                yield from _unknowns(part, family, name, "")

    def opens(self) -> Iterator[Open]:
        """Everything that the plan leaves to be chosen, in the order of the families.

        A wire that stands for `feeds` is one of them, with its cable.
        """
        yield from _opens(self.open_strings, "strings")
        for family in type(self).model_fields:
            held = getattr(self, family)
            if isinstance(held, dict) and family not in self.hidden:
                yield from _opens(held, family)
        written = {n: sheet for n, sheet in self.datasheets.cables.items() if " " not in n}
        yield from _opens(written, "cables")


def _opens(parts: Mapping[str, Named], family: str) -> Iterator[Open]:
    for name, part in parts.items():
        for key, place in part.open.items():
            yield Open(family, str(name), key, place)


class Unknown(NamedTuple):
    """A value that the plan says nobody knows.

    family: such as `fuses`, `modules`, `places` or `site`. name: in it. key: as in the plan, with
    dots where it lies deeper; empty for a component of which nothing is known. place: of the word.
    """

    family: str
    name: str
    key: str
    place: Place


def _unknowns(part: Part, family: str, name: str, above: str) -> Iterator[Unknown]:
    for key, place in part.unknown.items():
        yield Unknown(family, name, above + key, place)
    for key in type(part).model_fields:
        held = getattr(part, key)
        if isinstance(held, Named):
            continue
        if isinstance(held, Part):
            yield from _unknowns(held, family, name, f"{above}{key}.")
        elif isinstance(held, dict) and key == "ways":
            for inner, each in held.items():
                yield from _unknowns(each, family, name, f"{above}{key}.{inner}.")
        elif isinstance(held, list) and key == "inline":
            for each in held:
                yield from _unknowns(each, family, name, f"{above}{key}.{each.device}.")


class PartsFile(Part):
    """A file of datasheets beside a plan."""

    wattproof: Whole = Field(description="Version of the plan format.", examples=[VERSION])
    datasheets: Datasheets = Field(description="What the labels say.")
