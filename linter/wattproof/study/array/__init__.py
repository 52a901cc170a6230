"""The array: labels, strings, joints, and its voltages and currents by state."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Circuit, Conductor, Element, Passage, Source, Tree, leaves
from wattproof.kept import kept
from wattproof.plan.array import Combiner, String
from wattproof.plan.bonding import FrameBond
from wattproof.plan.devices import Breaker, Busbar, Switch
from wattproof.plan.power import Controller
from wattproof.plan.terminals import Reached
from wattproof.source import Place
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.connectors import (
    LivePlug,
    Touched,
    is_guarded,
    is_told_nothing_of,
    live_plug,
    within_reach,
)
from wattproof.study.array.labels import contradictions
from wattproof.study.array.strings import ModuleStudy, StringStudy
from wattproof.study.array.switching import cut_off_by, is_unplugged, left_on
from wattproof.study.array.uncontrolled import (
    RegulatedOn,
    StraightOn,
    regulated_on,
    straight_on,
)
from wattproof.study.array.unjoined import TooMuchAlone, too_much_alone
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.devices import NO_POLES
from wattproof.study.assumptions.modules import (
    NO_AREA,
    NO_BOND_OF_FRAMES,
    NO_JOINT_RATING,
    NO_JOINT_VOLTAGE,
    NO_PLUGS,
    NO_REVERSE_BLOCK,
    POWER_PER_AREA,
)
from wattproof.study.assumptions.units import NO_ARC_PROTECTION, NO_MEANING
from wattproof.study.battery import BatterySection
from wattproof.study.battery.positive_net import battery_feed
from wattproof.study.limits import DEADLY, exceeds
from wattproof.study.site import SiteSection
from wattproof.study.site.states import State
from wattproof.working import Value, declared, declared_places, total

ON_A_ROOF = ("roof-gap", "roof-bonded")
"""Mountings of a string that is on a roof."""


class ArraySection:
    """The arrays at the solar inputs of a plan, and the modules in them."""

    def __init__(
        self, circuit: Circuit, assume: Assumer, site: SiteSection, battery: BatterySection
    ) -> None:
        self._circuit = circuit
        self._assume = assume
        self._site = site
        self._battery = battery

    @kept
    def modules(self) -> dict[str, ModuleStudy]:
        """The datasheets that strings use, by name.

        Those too of strings of which it is not chosen yet how they are joined.
        """
        sources = [e for e in self._circuit.elements if isinstance(e, Source)]
        used = {sheet.name: sheet for source in sources for sheet in source.modules}
        plan = self._circuit.plan
        for string in plan.open_strings.values():
            if string.module is not None:
                sheet = plan.datasheets.modules[string.module]
                used.setdefault(sheet.name, sheet)
        climate = self._site.climate
        return {name: ModuleStudy(s, climate, self._assume) for name, s in used.items()}

    @property
    def every_module(self) -> tuple[ModuleStudy, ...]:
        """The datasheet of each module of the plan, as often as it has it.

        Those too of strings of which it is not chosen yet how they are joined.
        """
        sources = (e for e in self._circuit.elements if isinstance(e, Source))
        plan = self._circuit.plan
        joined = [self.modules[sheet.name] for source in sources for sheet in source.modules]
        apart = [
            self.modules[string.module]
            for string in plan.open_strings.values()
            if string.module is not None
            for _ in range(int(string.count or 1))
        ]
        return (*joined, *apart)

    @kept
    def arrays(self) -> tuple[ArrayStudy, ...]:
        """One for each solar input that an array feeds."""
        found = []
        for array in self._circuit.arrays:
            sources = [
                leaf.element for leaf in leaves(array.tree) if isinstance(leaf.element, Source)
            ]
            strings = {s: StringStudy(s, self._site.climate, self.modules) for s in sources}
            feed = battery_feed(array, self._battery.positive_net)
            study = ArrayStudy(array, self._circuit.plan, self._site.climate, strings)
            study.feed = feed if self.leaks(array.controller) else None
            found.append(study)
        return tuple(found)

    @kept
    def too_much_alone(self) -> tuple[TooMuchAlone, ...]:
        """Modules of which not one is stood by an input, of strings that are not joined yet."""
        return tuple(too_much_alone(self._circuit.plan, self.modules))

    @kept
    def straight_on(self) -> tuple[StraightOn, ...]:
        """Strings that feed something with no controller between."""
        climate, side = self._site.climate, self._battery.side
        return tuple(straight_on(self._circuit, climate, self.modules, side))

    @kept
    def regulated_on(self) -> tuple[RegulatedOn, ...]:
        """Strings that charge banks by the regulator on their modules."""
        climate, side = self._site.climate, self._battery.side
        return tuple(regulated_on(self._circuit, climate, self.modules, side))

    @property
    def past_controllers(self) -> tuple[StraightOn | RegulatedOn, ...]:
        """Strings that no controller stands before, whether they have a regulator or not."""
        return (*self.straight_on, *self.regulated_on)

    @kept
    def doubtful(self) -> dict[Place, str]:
        """Places of label values that cannot all be true, with the module they belong to.

        What stands in for a value that the label does not tell says nothing against the others.
        """
        return {
            place: name
            for name, module in self.modules.items()
            for found in contradictions(module)
            if not (*found.power_point.assumptions, *found.limit.assumptions)
            for place in declared_places((found.power_point, found.limit))
        }

    def users_of(self, module: ModuleStudy) -> tuple[String, ...]:
        """The strings that use a module, in the order of the plan."""
        plan = self._circuit.plan
        strings = (*plan.strings.values(), *plan.open_strings.values())
        return tuple(s for s in strings if module.name in (s.modules or (s.module,)))

    def array_at(self, reached: Reached) -> ArrayStudy | None:
        """The array that a terminal named in the plan belongs to; None for one of no array."""
        for array in self.arrays:
            if reached.component == array.controller.name:
                if reached.port == array.array.port:
                    return array
                continue
            if reached.component in array.components:
                return array
        return None

    def part_of(self, element: Conductor | Passage) -> tuple[ArrayStudy, Tree] | None:
        """The array that a conductor or device is in, and the part whose current it carries.

        Of several that come back over it the one of the highest voltage, which it has to stand.
        """
        parts = self.carried.get(element, [])
        if len(parts) < 2:
            return parts[0] if parts else None
        return max(parts, key=lambda found: found[0].voc("coldest").number)

    def isc_through(self, element: Conductor | Passage, state: State) -> Value | None:
        """Short-circuit current that a conductor or device carries (A), of all arrays on it."""
        parts = self.carried.get(element, ())
        return _through(element, [array.isc(state, part) for array, part in parts])

    def imp_through(self, element: Conductor | Passage, state: State) -> Value | None:
        """The same at maximum power (A)."""
        parts = self.carried.get(element, ())
        return _through(element, [array.imp(state, part) for array, part in parts])

    @kept
    def carried(self) -> dict[Element, list[tuple[ArrayStudy, Tree]]]:
        """Conductors and devices of arrays, with the parts whose current they carry.

        There are several where arrays come back over one return.
        """
        found: dict[Element, list[tuple[ArrayStudy, Tree]]] = {}
        for array in self.arrays:
            for leaf, around in array.carried():
                found.setdefault(leaf.element, []).append((array, around))
        return found

    def notices_arcs(self, array: ArrayStudy) -> bool:
        """True where its controller, or a device in its circuit, notices an arc and opens."""
        controller = array.controller
        names = self._circuit.plan.arc_fault_devices
        leads = (leaf.element for leaf in leaves(array.tree))
        if any(isinstance(e, Passage) and e.name in names for e in leads):
            return True
        if controller.arc_fault_protection is not None:
            return bool(controller.arc_fault_protection)
        name = str(controller.name)
        return self._assume.is_so(NO_ARC_PROTECTION, name, controller.at, usual=False)[0]

    def stands_no_more(self, controller: Controller) -> bool:
        """True where the input current of a controller is the most that its input stands.

        Where its label has one figure alone, that may be what it takes at most, which is asked.
        """
        if not controller.one_input_current:
            return True
        name = str(controller.name)
        return not self._assume.is_so(NO_MEANING, name, controller.at, usual=False)[0]

    def input_currents(self, array: ArrayStudy) -> Iterator[tuple[Value, str]]:
        """The currents (A) that the controller of an array stands, each with what it is called."""
        controller = array.controller
        name = controller.name
        if controller.max_input_current is not None and self.stands_no_more(controller):
            words = f"largest input current of {name}"
            yield declared(controller.max_input_current, f"Imax({name})", words), "input limit"
        if controller.kind == "pwm":
            words = f"rated current of {name}"
            yield declared(controller.max_output_current, f"In({name})", words), "rating"

    def is_over_current(self, array: ArrayStudy, times: float) -> bool:
        """True where so many times its strings side by side give more than the input stands."""
        bright = times * array.isc("bright")
        return any(exceeds(bright, limit) for limit, _ in self.input_currents(array))

    def touched(self, array: ArrayStudy) -> Touched:
        """Which of an array's contacts hands can come to: the one judge of this question."""
        bare = tuple(s for s in array.all_strings if self._can_be_touched(s))
        unsaid = tuple(s for s in array.all_strings if s not in bare and is_told_nothing_of(s))
        plan, of_both = self._circuit.plan, (*bare, *unsaid)
        near = tuple(s for s in of_both if within_reach(s, plan, bare=s in bare))
        return Touched(bare, unsaid, near)

    def live_plug(self, array: ArrayStudy) -> LivePlug | None:
        """Plugs that stay live when portable strings are taken away; None where none does."""
        return live_plug(array, self.touched(array), self._circuit.plan)

    def _can_be_touched(self, string: StringStudy) -> bool:
        """True where contacts of a string's plugs can be touched.

        Where nothing tells what they are, they are taken as guarded, as those of modules are.
        """
        if is_told_nothing_of(string):
            declared = string.source.string
            name, at = str(declared.name), declared.at
            return not self._assume.is_so(NO_PLUGS, name, at, usual=True)[0]
        return not is_guarded(string)

    def on_building(self, array: ArrayStudy) -> tuple[String, ...]:
        """Its strings in places that are said to be on or in a building."""
        places = self._circuit.plan.site.places
        strings = array.declared_strings
        return tuple(s for s in strings if s.place and places[s.place].on_building)

    def on_cabin_roof(self, array: ArrayStudy) -> tuple[String, ...]:
        """Its strings on a roof in a plan of a cabin, in places that say nothing of a building."""
        return tuple(s for s in self._about_a_cabin(array) if s.mounting in ON_A_ROOF)

    def maybe_on_cabin_roof(self, array: ArrayStudy) -> tuple[String, ...]:
        """Its strings in a plan of a cabin of which nothing tells whether they are on its roof."""
        unmoved = (s for s in self._about_a_cabin(array) if not s.portable)
        return tuple(s for s in unmoved if s.mounting is None)

    def _about_a_cabin(self, array: ArrayStudy) -> tuple[String, ...]:
        plan = self._circuit.plan
        if plan.setting != "cabin":
            return ()
        told = {n for n, p in plan.site.places.items() if "on_building" in p.model_fields_set}
        return tuple(s for s in array.declared_strings if s.place not in told)

    def bonds_of(self, string: String) -> tuple[FrameBond, ...]:
        """The conductors that tie the frames of a string to earth or chassis."""
        bonds = self._circuit.plan.frame_bonds.values()
        return tuple(bond for bond in bonds if string.name in bond.strings)

    def loose_frames(self, array: ArrayStudy) -> tuple[String, ...]:
        """Its strings with frames that nothing ties.

        Those that say so, those that the plan leaves out where it names what ties others, and in a
        cabin those of a deadly voltage of which nobody knows.
        """
        return tuple(
            string
            for string in array.declared_strings
            if not self.bonds_of(string)
            and (string.frames_bonded is False or self._may_be_loose(string, array))
        )

    def _may_be_loose(self, string: String, array: ArrayStudy) -> bool:
        """True of frames of which nothing is told, where others are; in a cabin it is asked."""
        plan = self._circuit.plan
        if string.frames_bonded is not None or string.portable:
            return False
        if plan.frame_bonds:
            return True
        if plan.setting != "cabin":
            return False
        tied, _ = self._assume.is_so(NO_BOND_OF_FRAMES, str(string.name), string.at, usual=True)
        return not tied and exceeds(array.voc("coldest"), DEADLY)

    def switches_of(self, array: ArrayStudy, pole: str | None = None) -> tuple[Passage, ...]:
        """Switches and breakers that cut a whole array off its controller; empty without.

        pole: "positive" or "negative" where only what opens that pole counts.
        """
        return cut_off_by(array.tree, pole, self._two_poles)

    def left_on(self, array: ArrayStudy) -> tuple[tuple[Passage, ...], tuple[Tree, ...]]:
        """Switches that cut a part of an array off, and what stays on when they are open."""
        return left_on(array.tree, self._two_poles)

    def _two_poles(self, device: Switch | Breaker) -> bool:
        """True for a switch that opens both poles, or is taken to."""
        if device.poles is not None:
            return device.poles > 1
        both, _ = self._assume.is_so(NO_POLES, str(device.name), device.at, usual=True)
        return both

    def area_of(self, name: str) -> Value:
        """Area of a module (m²): of its label, or as its power lets expect."""
        module = self.modules[name]
        if module.sheet.area is not None:
            return declared(module.sheet.area, f"A({name})", f"area of {name}")
        usual = module.pmax.number / POWER_PER_AREA.value
        return self._assume.value(NO_AREA, name, module.sheet.at, number=usual)

    def rating_of_joint(self, joint: Combiner) -> Value:
        """Rated current of a joint (A): printed, or as is usual."""
        name = str(joint.name)
        if joint.rating is None:
            return self._assume.value(NO_JOINT_RATING, name, joint.at)
        return declared(joint.rating, f"In({name})", f"rating of {name}")

    def voltage_of_joint(self, joint: Combiner | Busbar) -> Value:
        """Rated DC voltage of a joint (V): printed, or as is usual of its kind."""
        name = str(joint.name)
        if joint.voltage is None:
            kind = str(getattr(joint, "kind", "busbar"))
            return self._assume.value(NO_JOINT_VOLTAGE, name, joint.at, kind=kind)
        return declared(joint.voltage, f"Un({name})", f"rated voltage of {name}")

    def is_unplugged(self, array: ArrayStudy) -> bool:
        """True for a small array that is set up, plugged in, and taken away again."""
        return is_unplugged(array, self._circuit.plan.setting)

    def leaks(self, controller: Controller) -> bool:
        """True where battery current can pass a controller backwards.

        A tracker's converter passes none; of a pulse-width controller only its manual tells.
        """
        if controller.blocks_reverse is not None or controller.kind != "pwm":
            return controller.blocks_reverse is False
        name = str(controller.name)
        blocks, _ = self._assume.is_so(NO_REVERSE_BLOCK, name, controller.at, usual=True)
        return not blocks


def _through(element: Conductor | Passage, amps: list[Value]) -> Value | None:
    """What several arrays drive through one element together (A); None where none does."""
    if len(amps) < 2:
        return amps[0] if amps else None
    words = f"current of all arrays that come back through {element.name}"
    return total(amps).named(f"I({element.name})", words, "A")
