"""A plan with a usual figure in the place of each value that it needs and does not tell.

What else the plan tells of the same thing comes first: a fuse by the cable that it is in, a cable
by its fuse or by what its device draws, a label by the rest of it. Every figure knows that it is
assumed, so that each number made of it does. A plan that tells all it needs stays itself.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from typing import Any, NamedTuple, TypeVar

from wattproof.codes import style
from wattproof.physics.conductors import gauge_area_mm2
from wattproof.plan.array import String
from wattproof.plan.boxes import PowerBox
from wattproof.plan.datasheets import CableSheet, ModuleSheet
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Controller, Load
from wattproof.plan.removal import without
from wattproof.plan.root import Plan
from wattproof.plan.terminals import pole_of
from wattproof.plan.told_units import units_of
from wattproof.plan.wiring import TRAILER_PLUGS, Inline, Wire
from wattproof.quantities import UNKNOWN, Quantity
from wattproof.source import Place, Text
from wattproof.study.assumptions import batteries, labels
from wattproof.study.assumptions.cables import PLUG_RATING
from wattproof.study.assumptions.rows import Silence
from wattproof.working import Assumption, Supposed, SupposedWord, shown

OF = " of "
"""Between what it is and whose, in the name of a datasheet that no plan holds."""

_Part = TypeVar("_Part", bound=Named)
ANY_CHOICE = (0.1, 10.0)
"""What can be chosen, told by the figure that would be usual: the smallest and the largest."""
_SQUARE_MM = 1e-6
_BY_SIZE = "as of modules of its size"
_NO_VOLTAGES = (labels.NO_VOC, labels.NO_VMP)
_HOUR = 3600.0
_ROUNDED = 1.001
"""So that a gauge counts as itself."""


class Figure(NamedTuple):
    """A figure for a value that is not told.

    value: in the SI unit of its dimension. why: where it comes from, as an end of a sentence.
    least: what it cannot be under, by what else the plan tells. reach: the smallest and the largest
    that it may well be, where that is more than such a figure would reach. bound: what it cannot be
    above.
    """

    value: float
    why: str = "as is usual"
    least: float = 0.0
    reach: tuple[float, ...] = ()
    bound: float = math.inf


Choose = Callable[[str, str, str, Figure], Figure]
"""Takes family, name, key and the usual figure of an unknown value; gives the one to use."""


def completed(plan: Plan, choose: Choose | None = None) -> Plan:
    """The plan with a figure for everything that it needs and does not tell.

    choose: gives another figure than the usual one. Families are those of the plan, and `modules`
    and `cables` of its datasheets.
    """
    return _Completing(plan, choose).plan


class _Completing:
    """Fills one plan, one family after the other: what later ones read is filled first."""

    def __init__(self, plan: Plan, choose: Choose | None) -> None:
        self.plan = _without_open_strings(plan)
        self._at: dict[str, list[str]] = {}  # names of wires by what they lead to
        self._through: dict[str, list[str]] = {}  # and by the devices in them
        for name, wire in self.plan.wires.items():
            for end in dict.fromkeys(wire.components):
                self._at.setdefault(end, []).append(name)
            for device in dict.fromkeys(str(each.device) for each in wire.inline):
                self._through.setdefault(device, []).append(name)
        self.told_in = units_of(plan)
        self.choose = choose
        self._named_sheets()
        self._modules()
        self._units()
        self._batteries()
        self._cables()
        self._devices()
        self._lengths()

    def _wires(self, where: Mapping[str, list[str]], name: str) -> list[Wire]:
        """The wires at something, or through it, in the order of the plan."""
        return [self.plan.wires[wire] for wire in where.get(name, ())]

    def _supposed(
        self, family: str, part: Named, key: str, silence: Silence, dimension: str, figure: Figure
    ) -> Supposed:
        """The quantity that stands in the place of one that is not told."""
        name = str(part.name)
        if self.choose is not None:
            figure = self.choose(family, name, key, figure)
        left = part.open.get(key)
        place = left or part.unknown.get(key) or part.unknown.get("") or part.at
        subject = name.partition(OF)[2] or name
        amount = self.told_in.said(shown(figure.value, _SHOWN.get(dimension, "V")))
        opened = left is not None
        why = _since(figure.why, opened=opened)
        says = silence.says.format(subject=subject, shown=amount, why=why)
        look_up = None if opened else silence.look_up
        assumption = Assumption(
            silence.key, subject, says, silence.instead, place, look_up, opened, silence.guess
        )
        ends = [silence.figure(which, "", figure.value) for which in ("kind", "harsh")]
        if opened:
            ends = [figure.value * factor for factor in ANY_CHOICE]
        ends = [min(max(e, figure.least), figure.bound) for e in (*ends, *figure.reach)]
        return Supposed.of(figure.value, dimension, place, assumption, (min(ends), max(ends)))

    def _filled(
        self, family: str, part: _Part, *lacking: tuple[str, Silence, str, Figure]
    ) -> _Part:
        """The part with figures under the keys that are not told."""
        update = {
            key: self._supposed(family, part, key, silence, dimension, figure)
            for key, silence, dimension, figure in lacking
            if getattr(part, key) is None
        }
        return part.model_copy(update=update) if update else part

    def _word(
        self, part: _Part, key: str, silence: Silence, usual: str, why: str, ends: tuple[str, str]
    ) -> _Part:
        """The part with the usual word under a key that is not told."""
        if getattr(part, key) is not None:
            return part
        place = part.unknown.get(key) or part.unknown.get("") or part.at
        subject = str(part.name)
        says = silence.says.format(
            subject=subject, shown=_CALLED[usual], why=_since(why, opened=False)
        )
        assumption = Assumption(
            silence.key, subject, says, silence.instead, place, silence.look_up, guess=silence.guess
        )
        word = SupposedWord.of(usual, place, assumption, ends)
        return part.model_copy(update={key: word})

    def _replace(self, family: str, parts: dict[str, Any]) -> None:
        old = getattr(self.plan, family)
        if any(parts[name] is not old[name] for name in parts):
            self.plan = self.plan.model_copy(update={family: parts})

    def _replace_sheets(self, family: str, sheets: dict[str, Any]) -> None:
        old = getattr(self.plan.datasheets, family)
        if len(old) != len(sheets) or any(sheets[name] is not old[name] for name in old):
            whole = self.plan.datasheets.model_copy(update={family: sheets})
            self.plan = self.plan.model_copy(update={"datasheets": whole})

    def _named_sheets(self) -> None:
        """Datasheets of their own for what names none: unknown cables and modules."""
        plan = self.plan
        cables = dict(plan.datasheets.cables)
        for family in ("wires", "bonds", "frame_bonds"):
            parts = dict(getattr(plan, family))
            for name, part in parts.items():
                if part.cable is None:
                    opened = part.open.get("cable")
                    sheet = CableSheet.model_construct(
                        name=_own_name(part, "cable"),
                        left_open={"size": opened} if opened is not None else None,
                    )
                    cables[sheet.name] = sheet
                    parts[name] = part.model_copy(update={"cable": sheet.name})
            self._replace(family, parts)
        self._replace_sheets("cables", cables)
        modules = dict(plan.datasheets.modules)
        strings = {name: self._with_modules(s, modules) for name, s in plan.strings.items()}
        self._replace_sheets("modules", modules)
        self._replace("strings", strings)

    def _with_modules(self, string: String, modules: dict[str, ModuleSheet]) -> String:
        """The string, its unknown modules in a datasheet of their own."""
        update: dict[str, Any] = {}
        if string.facing is None and string.tilt is not None and string.tilt.value > 0.0:
            update["tilt"] = None  # a tilt alone says nothing
        among = "modules" in string.unknown and string.modules is not None
        if (string.module is None and string.modules is None) or among:
            name = _own_name(string, "modules" if among else "module")
            modules[name] = ModuleSheet.model_construct(name=name)
            update["module"] = None if among else name
            if among:
                listed = string.modules or ()
                update["modules"] = tuple(name if m == UNKNOWN else m for m in listed)
        return string.model_copy(update=update) if update else string

    def _modules(self) -> None:
        sheets = self.plan.datasheets.modules
        self._replace_sheets("modules", {name: self._module(s) for name, s in sheets.items()})

    def _module(self, sheet: ModuleSheet) -> ModuleSheet:
        """A label of which one value tells another, as those of real modules do."""
        told = None not in (sheet.voc, sheet.isc, sheet.vmp)
        if told and (sheet.imp is not None or sheet.pmax is not None):
            return sheet
        kind = str(sheet.technology)
        voltage, current = labels.VMP_SHARE.value[kind], labels.IMP_SHARE.value[kind]
        of_label = "by the rest of its label"
        if sheet.vmp is not None:
            vmp = Figure(sheet.vmp.value, of_label)
        elif sheet.voc is not None:
            vmp = Figure(voltage * sheet.voc.value, of_label)
        elif sheet.pmax is not None and sheet.imp is not None:
            vmp = Figure(sheet.pmax.value / sheet.imp.value, of_label)
        elif sheet.cells_in_series is not None:
            vmp = Figure(labels.VMP_PER_CELL.value * sheet.cells_in_series, "by its cells")
        else:
            large = _is_large(sheet)
            cells = labels.CELLS.value["above" if large else "up to 220 W"]
            vmp = Figure(labels.VMP_PER_CELL.value * cells, _BY_SIZE)
        if sheet.imp is not None:
            imp = Figure(sheet.imp.value, of_label)
        elif sheet.pmax is not None:
            imp = Figure(sheet.pmax.value / vmp.value, of_label)
        elif sheet.isc is not None:
            imp = Figure(current * sheet.isc.value, of_label)
        else:
            imp = Figure(labels.MODULE_POWER.value / vmp.value, "as of a module of 100 W")
        by_power = vmp.why == _BY_SIZE and sheet.imp is None
        isc = _no_isc(sheet) if by_power else labels.NO_ISC
        of_any = sheet.imp is None and sheet.pmax is None and sheet.isc is None
        isc_figure = Figure(imp.value / current, imp.why)
        no_voc, no_vmp = _no_voltages(sheet) if vmp.why == _BY_SIZE else _NO_VOLTAGES
        found = self._filled(
            "modules",
            sheet,
            ("voc", no_voc, "voltage", Figure(vmp.value / voltage, vmp.why)),
            ("vmp", no_vmp, "voltage", vmp),
            ("isc", labels.NO_ISC_OF_ANY if of_any else isc, "current", isc_figure),
        )
        if sheet.imp is None and sheet.pmax is None:
            no_imp = labels.NO_IMP_OF_ANY if of_any else labels.NO_IMP
            found = self._filled("modules", found, ("imp", no_imp, "current", imp))
        return found

    def _units(self) -> None:
        """What stands on controllers, chargers, inverters, loads, starters and arresters."""
        for family in ("controllers", "power_boxes"):
            units = getattr(self.plan, family)
            self._replace(family, {n: self._controller(family, c) for n, c in units.items()})
        for family in ("chargers", "inverter_chargers", "converters"):
            self._replace(
                family,
                {n: self._charger(family, c) for n, c in getattr(self.plan, family).items()},
            )
        for family, key, silence, dimension, figure in (
            (
                "starters",
                "current",
                labels.NO_CURRENT,
                "current",
                Figure(labels.STARTER_CURRENT.value),
            ),
            ("arresters", "voltage", labels.NO_ARRESTER_VOLTAGE, "voltage", self._arrester()),
        ):
            wanted = (key, silence, dimension, figure)
            parts = getattr(self.plan, family)
            self._replace(family, {n: self._filled(family, p, wanted) for n, p in parts.items()})
        for family in ("inverters", "inverter_chargers"):
            parts = getattr(self.plan, family)
            self._replace(family, {n: self._inverter(family, p) for n, p in parts.items()})
        for family in ("loads", "heaters"):
            self._replace(
                family, {n: self._load(family, x) for n, x in getattr(self.plan, family).items()}
            )

    def _inverter(self, family: str, inverter: _Part) -> _Part:
        """An inverter with a power: what fits the cable and the devices that are told of it."""
        share = labels.AT_FULL_POWER * self._volts(getattr(inverter, "nominal", None))
        fits = self._fitting(str(inverter.name), labels.INVERTER_POWER.value / share)
        watts = Figure(fits.value * share, fits.why)
        return self._filled(family, inverter, ("power", labels.NO_POWER, "power", watts))

    def _load(self, family: str, load: Load) -> Load:
        if load.power is not None:
            return load
        amps = self._fitting(str(load.name), labels.LOAD_CURRENT.value)
        return self._filled(family, load, ("current", labels.NO_CURRENT, "current", amps))

    def _controller(self, family: str, unit: Controller) -> Controller:
        if family == "controllers":
            ends = ("pwm", "mppt")
            usual = labels.CONTROLLER.value
            unit = self._word(unit, "kind", labels.NO_KIND, usual, "as is usual", ends)
        kind = str(unit.kind)
        asked = {*unit.unknown, *unit.open}
        told = unit.inputs and all(i.max_input_voltage is not None for i in unit.inputs.values())
        has_array = kind != "vehicle-charger" or self._has_array(unit)
        if not told and (has_array or "max_input_voltage" in asked):
            high = kind == "pwm" and (self._system_voltage() or 12.0) > labels.TO_24_V.value
            volts = self._above_array(
                labels.INPUT_VOLTAGE.value["pwm above 24 V" if high else kind]
            )
            silence = labels.NO_INPUT_VOLTAGE
            unit = self._filled(family, unit, ("max_input_voltage", silence, "voltage", volts))
        if isinstance(unit, PowerBox):
            watts = Figure(labels.BOX_POWER.value)
            silence = labels.NO_INPUT_POWER
            return self._filled(family, unit, ("max_input_power", silence, "power", watts))
        amps = self._for_array(kind, labels.OUTPUT_CURRENT.value[kind])
        silence = labels.NO_OUTPUT_CURRENT
        return self._filled(family, unit, ("max_output_current", silence, "current", amps))

    def _has_array(self, unit: Controller) -> bool:
        """True where a wire leads to its solar input."""
        port = f"{unit.name}.pv"
        wires = self.plan.wires.values()
        return any(port in (_port(wire.start), _port(wire.to)) for wire in wires)

    def _arrester(self) -> Figure:
        """The voltage (V) of a surge arrester: as is bought for the array, or any that is sold."""
        bought = self._above_array(labels.ARRESTER.value)
        return bought._replace(reach=labels.SOLD_ARRESTERS)

    def _above_array(self, least: float) -> Figure:
        """The highest input voltage (V) of a controller that is bought for the array.

        For one whose layout is still compared nothing was bought: by what is there one is chosen.
        """
        sheets = self.plan.datasheets.modules
        volts = 0.0
        reach: tuple[float, ...] = ()
        for string in self.plan.strings.values():
            members = [sheets[m] for m in string.modules or (string.module,) if m in sheets]
            layout = string.arrangement
            if layout is not None and layout.tried:
                reach = labels.SOLD_INPUTS
                continue
            count = int(string.series or 1) if layout is None else layout.in_series
            voc = sum(sheet.voc.value for sheet in members)
            volts = max(volts, voc if string.modules else voc * count)
        if volts <= least:
            return Figure(least, reach=reach)
        enough = (size for size in labels.SOLD_INPUTS if size >= labels.SPARE.value * volts)
        return Figure(next(enough, labels.SOLD_INPUTS[-1]), "as is bought for such an array")

    def _for_array(self, kind: str, least: float) -> Figure:
        """The output current (A) of a controller that is bought for the array: its equal share."""
        if kind == "vehicle-charger":
            return Figure(least)
        sheets = self.plan.datasheets.modules
        amps = watts = 0.0
        for string in self.plan.strings.values():
            members = [sheets[m] for m in string.modules or (string.module,) if m in sheets]
            layout = string.arrangement
            count = int(string.series or 1) if layout is None else layout.in_series
            beside = 1 if layout is None else layout.in_parallel
            amps += beside * max((sheet.isc.value for sheet in members), default=0.0)
            each = sum(sheet.vmp.value * _imp(sheet) for sheet in members)
            watts += each * (1 if string.modules else count) * beside
        if kind != "pwm":
            amps = watts / (self._system_voltage() or 12.0)
        share = labels.SPARE.value * amps / len(self.plan.controllers)
        enough = (size for size in labels.SOLD_CONTROLLERS if size >= max(share, least))
        return Figure(next(enough, labels.SOLD_CONTROLLERS[-1]), "as is bought for such an array")

    def _charger(self, family: str, unit: Any) -> Any:
        amps = self._fitting(str(unit.name), labels.CHARGER_CURRENT.value[str(unit.kind)])
        turns = unit.kind == "alternator"
        silence = labels.NO_ALTERNATOR_CURRENT if turns else labels.NO_OUTPUT_CURRENT
        return self._filled(family, unit, ("max_output_current", silence, "current", amps))

    def _fitting(self, name: str, usual: float) -> Figure:
        """The current (A) of something on wires whose devices or sizes are told: what fits them."""
        plan = self.plan
        devices = plan.in_the_way
        told = []
        for wire in self._wires(self._at, name):
            ratings = [getattr(devices.get(i.device), "rating", None) for i in wire.inline]
            told += [rating.value for rating in ratings if rating is not None]
            sheet = plan.datasheets.cables.get(wire.cable)
            if sheet is not None and sheet.size is not None:
                told.append(_fuse_for(sheet.size.value / _SQUARE_MM * int(wire.parallel or 1)))
            for end in (_port(wire.start), _port(wire.to)):
                panel, _, way = end.partition(".")
                held = plan.distribution.get(panel)
                if held is not None and way in held.ways and held.ways[way].fuse is not None:
                    told.append(held.ways[way].fuse.value)
        fits = min(told, default=math.inf) / labels.SPARE.value
        return Figure(fits, "as fits the wire on it") if fits < usual else Figure(usual)

    def _batteries(self) -> None:
        self._replace("batteries", {n: self._battery(b) for n, b in self.plan.batteries.items()})

    def _battery(self, battery: Battery) -> Battery:
        battery = self._of_a_kind(battery)
        volts = labels.NOMINAL.value[str(battery.chemistry)]
        joined = self._joined_voltage(str(battery.name))
        apart = joined is None and self._is_apart(str(battery.name))
        system = joined or (None if apart else self._system_voltage())
        figure = Figure(volts, reach=(labels.NOMINAL_OF_TRUCKS,) if apart else ())
        if system is not None and battery.nominal is None:
            twelves = system / 12.0 / _in_series(battery)
            cells = 4 if battery.chemistry == "lithium-iron-phosphate" else 6
            in_cells = max(1, round(twelves * cells)) / cells
            count = in_cells if twelves < labels.NEARLY_12_V else round(twelves)
            figure = Figure(volts * count, "by what it feeds")
        hours = labels.CAPACITY.value * _HOUR
        return self._filled(
            "batteries",
            _each_of(battery),
            ("nominal", labels.NO_NOMINAL, "voltage", figure),
            ("capacity", labels.NO_CAPACITY, "charge", Figure(hours)),
        )

    def _of_a_kind(self, battery: Battery) -> Battery:
        """The battery with a chemistry: by its nominal voltage, where that tells it."""
        usual, why = labels.CHEMISTRY.value, "as is usual"
        ends = ("flooded", "lithium-iron-phosphate")
        volts = battery.nominal.value if battery.nominal is not None else None
        if volts in labels.LITHIUM_VOLTS:
            usual, why, ends = ends[1], "by its nominal voltage", (ends[1], ends[1])
        elif volts is not None and volts <= labels.LEAD_BLOCK:
            usual, why, ends = "flooded", "by its nominal voltage", ("flooded", "agm")
        return self._word(battery, "chemistry", labels.NO_CHEMISTRY, usual, why, ends)

    def _joined_voltage(self, name: str) -> float | None:
        """The nominal voltage (V) that is told most by what a battery is joined to, post to post.

        A converter tells it at the side that is wired there.
        """
        plan, told = self.plan, list[float]()
        leads_on = (plan.selectors, plan.diode_isolators, plan.busbars, plan.distribution)
        beside = {**plan.in_the_way, **{k: v for family in leads_on for k, v in family.items()}}
        seen, left = {name}, [name]
        while left:
            for wire in self._wires(self._at, left.pop()):
                if pole_of(wire) == "negative":
                    continue
                of_one_pole = not any(end.endswith(".negative") for end in (wire.start, wire.to))
                through = {**beside, **plan.batteries} if of_one_pole else beside
                for end in (wire.start, wire.to):
                    other, _, port = _port(end).partition(".")
                    volts = self._told_voltage(other, port)
                    if volts is not None:
                        told.append(volts)
                    if other in through and other not in seen:
                        left.append(other)
                    seen.add(other)
        return max(sorted(set(told)), key=told.count) if told else None

    def _is_apart(self, name: str) -> bool:
        """True for a battery that nothing of a told voltage is joined to, where another has one.

        What the others feed tells nothing of such a one: that of an engine before a charger.
        """
        others = (other for other in self.plan.batteries if other != name)
        return any(self._told_voltage(other, "") or self._joined_voltage(other) for other in others)

    def _told_voltage(self, name: str, port: str) -> float | None:
        """The nominal voltage (V) of one terminal, where its component tells it."""
        plan = self.plan
        if (converter := plan.converters.get(name)) is not None:
            side = converter.input_nominal if port == "input" else converter.output_nominal
            return side.value
        if (bank := plan.batteries.get(name)) is not None:
            if bank.nominal is None or isinstance(bank.nominal, Supposed):
                return None
            return bank.nominal.value * _in_series(bank)
        if name in plan.controllers and port not in ("battery", "load"):
            return None
        families = (plan.controllers, plan.all_inverters, plan.all_loads, plan.chargers)
        parts = (family.get(name) for family in families)
        found = next((part for part in parts if part is not None), None)
        told: Quantity | None = getattr(found, "nominal", None)
        return told.value if told is not None else None

    def _system_voltage(self) -> float | None:
        """The nominal voltage (V) that the other parts of the plan tell, the commonest one."""
        told = [
            part.nominal.value
            for parts in (
                self.plan.controllers,
                self.plan.inverters,
                self.plan.loads,
                self.plan.chargers,
            )
            for part in parts.values()
            if part.nominal is not None
        ]
        return max(sorted(set(told)), key=told.count) if told else None

    def _cables(self) -> None:
        wires_of: dict[str, list[Wire]] = {}
        for wire in self.plan.wires.values():
            wires_of.setdefault(wire.cable, []).append(wire)
        sheets = dict(self.plan.datasheets.cables)
        bonding = {bond.cable for bond in self.plan.bonds.values()}
        bonding |= {bond.cable for bond in self.plan.frame_bonds.values()}
        for name in sorted(sheets, key=bonding.__contains__):
            largest = self._largest(sheets, wires_of) if name in bonding else None
            sheets[name] = self._cable(sheets[name], wires_of.get(name, []), largest)
        self._replace_sheets("cables", sheets)

    def _largest(
        self, sheets: dict[str, CableSheet], wires_of: dict[str, list[Wire]]
    ) -> Figure | None:
        """The size (mm²) of a bond: that of the largest conductor, as is asked for at the most."""
        areas = [
            sheet.size.value / _SQUARE_MM * int(wire.parallel or 1)
            for name, sheet in sheets.items()
            if sheet.size is not None
            for wire in wires_of.get(name, ())
        ]
        if not areas:
            return None
        return Figure(max(areas), "as large as the largest conductor", reach=(labels.THIN_BOND,))

    def _cable(
        self, sheet: CableSheet, wires: Iterable[Wire], bond: Figure | None = None
    ) -> CableSheet:
        """A cable with a size. bond: that of one which bonds something, if only that."""
        if sheet.size is not None:
            return sheet
        sizes = [self._size(wire) for wire in wires] or [bond or Figure(labels.OTHER_CABLE.value)]
        largest = max(sizes, key=lambda size: size.value)
        reaches = (*largest.reach, *((*bond.reach, bond.value) if bond is not None else ()))
        reach = tuple(end * _SQUARE_MM for end in reaches)
        size = Figure(largest.value * _SQUARE_MM, largest.why, reach=reach)
        return self._filled("cables", sheet, ("size", labels.NO_SIZE, "conductor size", size))

    def _size(self, wire: Wire) -> Figure:
        """A usual size (mm²): behind the fuse in the wire, for what its device draws, or by place.

        Several conductors in parallel share what is drawn. A negative is as large as its positive.
        """
        count = int(wire.parallel or 1)
        if told := self._ratings_in(wire):
            return Figure(_copper_for(max(told) / count), "behind the device in it")
        beside = self._positives_beside(wire)
        if areas := [area for each in beside if (area := self._copper_of(each)) is not None]:
            return Figure(max(areas) / count, "as large as its positive")
        if told := [amps for each in beside for amps in self._ratings_in(each)]:
            return Figure(_copper_for(max(told) / count), "behind the device in its positive")
        if told := self._ratings_before(wire):
            return Figure(_copper_for(max(told) / count), "behind the device before it")
        drawn = [
            amps
            for end in wire.components
            if (amps := self._drawn(end) or self._passed(end, {str(wire.name)})) is not None
        ]
        if drawn:
            return Figure(
                _copper_for(labels.SPARE.value * min(drawn) / count), "by what it carries"
            )
        if self._on_array(wire):
            return Figure(labels.ARRAY_CABLE.value)
        if self._is_link(wire):
            return Figure(labels.LINK_CABLE.value)
        return Figure(labels.OTHER_CABLE.value)

    def _ratings_in(self, wire: Wire) -> list[float]:
        """The ratings (A) of the devices in a wire that tell one."""
        devices = self.plan.in_the_way
        found = (devices.get(str(inline.device)) for inline in wire.inline)
        ratings = (getattr(device, "rating", None) for device in found)
        return [rating.value for rating in ratings if rating is not None]

    def _ratings_before(self, wire: Wire) -> list[float]:
        """The ratings (A) before a bar of one consumer alone, where nobody tells what that draws.

        They were chosen for that consumer, and say more of it than what is usual.
        """
        bars = [name for name in wire.components if name in self.plan.busbars]
        if not bars or not any(self._draws_untold(name) for name in wire.components):
            return []
        others = [w for w in self._wires(self._at, bars[0]) if w.name != wire.name]
        if any(self.plan.batteries.keys().isdisjoint(other.components) for other in others):
            return []
        return [rating for other in others for rating in self._ratings_in(other)]

    def _draws_untold(self, name: str) -> bool:
        """True for a consumer of which neither current nor power is told."""
        load, inverter = self.plan.all_loads.get(name), self.plan.all_inverters.get(name)
        told = inverter.power if inverter is not None else load and (load.current or load.power)
        return isinstance(told, Supposed)

    def _positives_beside(self, wire: Wire) -> list[Wire]:
        """The positives of a negative alone: those at the end where the fewest of them are.

        At a bar those of others are too.
        """
        if pole_of(wire) != "negative":
            return []
        at_ends = (self._wires(self._at, n) for n in wire.components if n not in self.plan.busbars)
        found = ([each for each in at_end if pole_of(each) == "positive"] for at_end in at_ends)
        return min(filter(None, found), key=len, default=[])

    def _copper_of(self, wire: Wire) -> float | None:
        """All conductors of a wire together (mm²); None where the size of its cable is not told."""
        sheet = self.plan.datasheets.cables.get(wire.cable)
        if sheet is None or sheet.size is None:
            return None
        return sheet.size.value / _SQUARE_MM * int(wire.parallel or 1)

    def _passed(self, name: str, seen: set[str]) -> float | None:
        """The most (A) that one thing draws or gives through a selector or an isolator."""
        if name not in self.plan.selectors and name not in self.plan.diode_isolators:
            return None
        found: list[float] = []
        for wire in self._wires(self._at, name):
            if str(wire.name) in seen:
                continue
            seen.add(str(wire.name))
            for end in wire.components:
                amps = None if end == name else self._drawn(end) or self._passed(end, seen)
                found += [amps] if amps is not None else []
        return max(found, default=None)

    def _drawn(self, name: str) -> float | None:
        """Current (A) that the component at an end of a wire draws or gives; None for joints."""
        plan = self.plan
        if (load := plan.all_loads.get(name)) is not None:
            if load.current is not None:
                return load.current.value
            assert load.power is not None
            return load.power.value / self._volts(load.nominal)
        if (inverter := plan.all_inverters.get(name)) is not None:
            return inverter.power.value / labels.AT_FULL_POWER / self._volts(inverter.nominal)
        if (controller := plan.controllers.get(name)) is not None:
            return controller.max_output_current.value
        if (charger := plan.all_chargers.get(name)) is not None:
            return charger.max_output_current.value
        starter = plan.starters.get(name)
        return starter.current.value if starter is not None else None

    def _volts(self, nominal: Quantity | None) -> float:
        return nominal.value if nominal is not None else self._system_voltage() or 12.0

    def _devices(self) -> None:
        """Ratings by the conductors that devices are in."""
        for family in ("fuses", "breakers", "switches", "selectors", "diode_isolators"):
            parts = getattr(self.plan, family)
            self._replace(family, {n: self._device(family, d) for n, d in parts.items()})
        panels = self.plan.distribution
        self._replace("distribution", {n: self._panel(p) for n, p in panels.items()})

    def _device(self, family: str, device: Any) -> Any:
        if device.rating is not None:
            return device
        amps = self._rating(family, str(device.name))
        made = style(device.style) if getattr(device, "style", None) is not None else None
        if made is not None and made.largest is not None:
            largest = made.largest.value
            amps = amps._replace(value=min(amps.value, largest), bound=largest)
        return self._filled(family, device, ("rating", labels.NO_RATING, "current", amps))

    def _rating(self, family: str, name: str) -> Figure:
        plan = self.plan
        packs = [b for b in plan.batteries.values() if b.each_pack and b.each_pack.fuse == name]
        if packs:
            return self._pack_fuse(packs)
        wires = self._wires(self._through, name) or self._wires(self._at, name)
        strings = [
            s for w in wires for end in w.components if (s := plan.strings.get(end)) is not None
        ]
        if strings and family in ("fuses", "breakers"):
            return self._string_fuse(strings[0])
        found = [amps for w in wires if (amps := self._fuse_on(w)) is not None]
        usual = Figure(labels.STRING_FUSE.value)
        figure = min(found, key=lambda figure: figure.value, default=usual)
        plugs = [_plug_stands(wire) for wire in wires if wire.plug is not None]
        if plugs and min(plugs) < figure.value:
            figure = Figure(min(plugs), "as the plug beside it stands")
        if any(self._tells_size(wire) for wire in wires):
            return figure
        least = labels.SMALLEST_DEVICE if family in ("fuses", "breakers") else figure.value
        return figure._replace(reach=(least, labels.LARGEST_DEVICE))

    def _tells_size(self, wire: Wire) -> bool:
        """True where the size of its conductors is told, and not supposed as well."""
        sheet = self.plan.datasheets.cables.get(wire.cable)
        return sheet is not None and not isinstance(sheet.size, Supposed)

    def _pack_fuse(self, banks: Iterable[Battery]) -> Figure:
        """The rating (A) usual at the post of each pack: by what the smallest of them gives."""
        given = [self._given_by(bank) for bank in banks]
        return Figure(_sold_fuse(min(given)), "by what a pack gives")

    def _given_by(self, bank: Battery) -> float:
        """What one pack of a bank gives for long (A): told, or as is usual for its capacity."""
        if bank.max_discharge_current is not None:
            return bank.max_discharge_current.value
        assert bank.capacity is not None
        return batteries.DISCHARGE_RATE.value * bank.capacity.value / _HOUR

    def _string_fuse(self, string: String) -> Figure:
        names = string.modules or (string.module,)
        sheets = [self.plan.datasheets.modules[m] for m in names if m is not None]
        isc = max((s.isc.value for s in sheets), default=0.0)
        printed = [s.max_series_fuse.value for s in sheets if s.max_series_fuse is not None]
        amps = max(labels.STRING_FUSE.value, 1.56 * isc)
        return Figure(min([amps, *printed]), "as in a string of such modules")

    def _fuse_on(self, wire: Wire) -> Figure | None:
        """The rating (A) usual on the conductors of a wire; None where the cable is not known."""
        area = self._copper_of(wire)
        if area is None:
            return None
        return Figure(_fuse_for(area), f"as on the cable of `{wire.name}`")

    def _panel(self, panel: Any) -> Any:
        ways = {name: self._way(str(panel.name), way) for name, way in panel.ways.items()}
        if all(ways[name] is panel.ways[name] for name in ways):
            return panel
        return panel.model_copy(update={"ways": ways})

    def _way(self, panel: str, way: Any) -> Any:
        if way.fuse is not None:
            return way
        end = f"{panel}.{way.name}"
        wires = [w for w in self._wires(self._at, panel) if end in (_port(w.start), _port(w.to))]
        found = [amps for w in wires if (amps := self._fuse_on(w)) is not None]
        usual = Figure(labels.WAY_FUSE.value)
        amps = min([usual, *found], key=lambda figure: figure.value)
        drawn = [d for w in wires for e in w.components if (d := self._drawn(e)) is not None]
        least = labels.SPARE.value * max(drawn, default=0.0)
        if amps.value < least:
            larger = (size for size in labels.SOLD_FUSES if size >= least)
            amps = Figure(next(larger, labels.SOLD_FUSES[-1]), "by what hangs on it")
        return self._filled("distribution", way, ("fuse", labels.NO_WAY_FUSE, "current", amps))

    def _lengths(self) -> None:
        self._replace("wires", {n: self._measured(w) for n, w in self.plan.wires.items()})

    def _measured(self, wire: Wire) -> Wire:
        wire = self._placed(wire)
        if wire.length is not None:
            return wire
        if self._on_array(wire):
            usual = Figure(labels.ARRAY_LENGTH.value)
        elif told := [w.length.value for w in self._positives_beside(wire) if w.length is not None]:
            usual = Figure(max(told), "as long as its positive")
        elif wire.plug in TRAILER_PLUGS:
            usual = Figure(labels.TRAILER_LENGTH.value, "as through the plug of a trailer")
        else:
            link = self._is_link(wire)
            usual = Figure(labels.LINK_LENGTH.value if link else labels.LENGTH.value)
        room = sum(_farthest(i.distance) for i in wire.inline if i.distance is not None)
        if wire.plug in TRAILER_PLUGS:
            room = max(room, labels.SHORT_TRAILER_LENGTH.value)
        figure = usual._replace(value=max(usual.value, room), least=room)
        return self._filled("wires", wire, ("length", labels.NO_LENGTH, "length", figure))

    def _placed(self, wire: Wire) -> Wire:
        """The wire with its devices near the ends that the plan tells of them."""
        if all(i.from_end is None or i.distance is not None for i in wire.inline):
            return wire
        most = wire.length.value / len(wire.inline) if wire.length is not None else math.inf
        return wire.model_copy(update={"inline": [self._near(i, most) for i in wire.inline]})

    def _near(self, inline: Inline, most: float) -> Inline:
        """The device with a distance of at most so many metres from its end."""
        if inline.from_end is None or inline.distance is not None:
            return inline
        place = inline.unknown.get("distance") or inline.device.place
        metres, subject = min(labels.NEAR_AN_END.value, most), str(inline.device)
        silence = labels.NO_DISTANCE
        amount = self.told_in.said(shown(metres, "m"))
        says = silence.says.format(subject=subject, shown=amount)
        assumption = Assumption(
            silence.key, subject, says, silence.instead, place, silence.look_up, guess=silence.guess
        )
        ends = (silence.figure("kind", "", metres), min(silence.figure("harsh", "", metres), most))
        distance = Supposed.of(metres, "length", place, assumption, ends)
        return inline.model_copy(update={"distance": distance})

    def _on_array(self, wire: Wire) -> bool:
        plan = self.plan
        return any(
            end in plan.strings or end in plan.combiners or port.endswith(".pv")
            for end, port in zip(wire.components, (_port(wire.start), _port(wire.to)), strict=True)
        )

    def _is_link(self, wire: Wire) -> bool:
        """True for a short bar or cable beside a battery, with nothing in it or in its positive."""
        plan = self.plan
        if wire.inline or any(each.inline for each in self._positives_beside(wire)):
            return False
        ends = [end in plan.batteries for end in wire.components]
        bars = [end in plan.busbars or end in plan.batteries for end in wire.components]
        return any(ends) and all(bars)


def _without_open_strings(plan: Plan) -> Plan:
    """The plan without strings of which it is not chosen how they are joined, which it keeps apart.

    Nothing can be computed of them, nor of what only they lead to.
    """
    left = {name: s for name, s in plan.strings.items() if "arrangement" in s.open}
    if not left:
        return plan
    rest = without(plan, left)
    return rest.model_copy(update={"open_strings": {**plan.open_strings, **left}})


_CALLED = {
    "agm": "sealed lead",
    "flooded": "lead that is filled up",
    "lithium-iron-phosphate": "lithium iron phosphate",
    "mppt": "a tracker (MPPT)",
}
"""What is taken for a word that is not told, as a sentence says it."""

_SHOWN = {
    "voltage": "V",
    "current": "A",
    "power": "W",
    "charge": "C",
    "length": "m",
    "conductor size": "m²",
}


def _since(why: str, *, opened: bool) -> str:
    return f"{why}, since {'it is not chosen yet' if opened else 'the plan does not tell it'}"


def _is_large(sheet: ModuleSheet) -> bool:
    """True for a module of a power that only those for roofs have."""
    return sheet.pmax is not None and sheet.pmax.value > labels.LARGE_MODULE.value


def _each_of(battery: Battery) -> Battery:
    """The battery with the capacity of one, where the plan tells that of the bank."""
    whole, layout = battery.bank_capacity, battery.arrangement
    if whole is None:
        return battery
    count = layout.in_parallel if layout is not None else 1
    each = whole.value / count
    told = whole._replace(
        value=each,
        text=f"{each / _HOUR:.4g} Ah" if count > 1 else whole.text,
        resolution=whole.resolution / count,
    )
    return battery.model_copy(update={"capacity": told})


def _no_isc(sheet: ModuleSheet) -> Silence:
    """What is said of a short-circuit current that only the power of a module tells, if any."""
    if sheet.pmax is not None and sheet.pmax.value <= labels.SMALL_MODULE.value:
        return labels.NO_ISC_OF_SMALL
    return labels.NO_ISC if _is_large(sheet) else labels.NO_ISC_BY_POWER


def _no_voltages(sheet: ModuleSheet) -> tuple[Silence, Silence]:
    """What is said of an open voltage, and of that at maximum power, that only the power tells."""
    if _is_large(sheet):
        return labels.NO_VOC_BY_SIZE, labels.NO_VMP_BY_SIZE
    if sheet.pmax is None or sheet.pmax.value > labels.SMALL_MODULE.value:
        return labels.NO_VOC_BY_POWER, labels.NO_VMP_BY_POWER
    return _NO_VOLTAGES


def _own_name(part: Named, key: str) -> Text:
    """The name of a datasheet that stands for what a component does not name."""
    place: Place = part.unknown.get(key) or part.open.get(key) or part.unknown.get("") or part.at
    return Text.at(f"{key.removesuffix('s')}{OF}{part.name}", place)


def _in_series(bank: Battery) -> int:
    """How many batteries of a bank are one behind another."""
    return bank.arrangement.in_series if bank.arrangement is not None else 1


def _plug_stands(wire: Wire) -> float:
    """What the plug in a wire is rated for, or usually good for (A)."""
    if wire.plug_rating is not None:
        return wire.plug_rating.value
    amps: float = PLUG_RATING.value[str(wire.plug)]
    return amps


def _port(reference: str) -> str:
    """A reference without its pole."""
    return reference.removesuffix(".positive").removesuffix(".negative")


def _farthest(distance: Quantity) -> float:
    """A distance (m) from an end, at the most where it is not told."""
    return distance.ends[1] if isinstance(distance, Supposed) else distance.value


def _imp(sheet: ModuleSheet) -> float:
    """Current at maximum power (A) of a label that is complete."""
    if sheet.imp is not None:
        return sheet.imp.value
    return sheet.pmax.value / sheet.vmp.value if sheet.pmax is not None else 0.0


def _copper_for(amps: float) -> float:
    """The smallest size sold (mm²) on which a fuse of so many amperes is usual."""
    enough = (size for size in labels.SOLD_SIZES if _fuse_for(size) >= amps)
    return next(enough, labels.SOLD_SIZES[-1])


def _sold_fuse(amps: float) -> float:
    """The smallest fuse (A) sold for cables that carries so many amperes."""
    larger = (size for size in labels.FUSE_ON_COPPER.value.values() if size >= amps)
    return next(larger, max(amps, *labels.FUSE_ON_COPPER.value.values()))


def _fuse_for(area: float) -> float:
    """The fuse (A) usual on copper of an area (mm²)."""
    smaller = [
        amps
        for size, amps in labels.FUSE_ON_COPPER.value.items()
        if gauge_area_mm2(size.removesuffix(" AWG")) <= area * _ROUNDED
    ]
    return max(smaller, default=labels.FUSE_ON_COPPER.value["18 AWG"])
