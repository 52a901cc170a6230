"""The sheet to take along before measuring: in order, what a meter should show, and with what care.

Order as IEC 62446-1 has it (from memory: continuity of bonds, polarity, joints, open-circuit
voltage, short-circuit or operating current, function, insulation), the battery side first as common
practice has it where a controller learns its voltage. The bands are those of the judge of readings.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, Final, NamedTuple

from wattproof.finding import Caution
from wattproof.quantities import Quantity, read_quantity
from wattproof.source import Place, Text
from wattproof.study.readings.should_show import AtArray, AtBank, Shown, Sky
from wattproof.views.connection_order import AGREE
from wattproof.words import quoted
from wattproof.working import Value

if TYPE_CHECKING:
    from wattproof.study import Study
    from wattproof.study.array.arrays import ArrayStudy

SUNS: Final = ("1000 W/m²", "700 W/m²", "400 W/m²")
CELLS: Final = ("25 °C", "45 °C", "65 °C")


class Box(NamedTuple):
    """One value to read, and a box for it.

    at, key: where it goes in a reading of the plan; key is empty for what is no reading. what: in
    words. right: what the meter should show. likely: what is likeliest. finds: how small a loss it
    finds.
    """

    at: str
    key: str
    what: str
    right: str
    likely: str = ""
    finds: str = ""


class Grid(NamedTuple):
    """What a meter should show at one place, by sun (down) and heat of the cells (across)."""

    at: str
    what: str
    across: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]


class Step(NamedTuple):
    """One step of measuring: what to do, with what care, what to read, and what else to note."""

    heading: str
    words: str
    caution: Caution | None = None
    boxes: tuple[Box, ...] = ()
    grids: tuple[Grid, ...] = ()


class Sheet(NamedTuple):
    """The steps in order. conditions: what they are made for, in words; empty for the tables."""

    conditions: str
    steps: tuple[Step, ...]


def sheet_of(study: Study, sky: Sky) -> Sheet:
    """The sheet of one plan. Without sun and temperature it has tables by both."""
    steps = (
        _before(study, sky),
        _bonds(study),
        _banks(study, sky),
        *_array_steps(study, sky),
        _insulation(study),
        *_running(study, sky),
        _charging(study, sky),
    )
    return Sheet(_conditions(sky), tuple(step for step in steps if step is not None))


def is_told(sky: Sky) -> bool:
    """Whether a sheet is for one sky, and not for a table of several."""
    return sky.sun is not None and (sky.air is not None or sky.cells is not None)


def _conditions(sky: Sky) -> str:
    if not is_told(sky):
        return ""
    heat = f"cells of {sky.cells}" if sky.cells is not None else f"air of {sky.air}"
    return f"{sky.sun} in the plane of the modules, {heat}"


def _before(study: Study, sky: Sky) -> Step:
    highest = max((a.voc("coldest").number for a in study.array.arrays), default=0.0)
    meter = f", rated above {highest:.0f} V" if highest else ""
    told = "" if is_told(sky) else " Write down sun, air and the back of a module with each value."
    open_ones = [str(name) for name in study.plan.open_strings]
    if open_ones:
        told += f" How {quoted(open_ones)} is joined is not chosen yet, so nothing is told of it."
    return Step(
        "Before the first value",
        f"Meter for direct current{meter}, measurement category III or better (IEC "
        "61010-1); prove it at a battery of known voltage before and after. Steady sun, modules "
        f"uncovered for a quarter of an hour, nobody in their light. What is written into the plan "
        "now halves what a later reading of the same place, with the same meters, still "
        f"finds.{told}",
        Caution(
            "DANGER",
            "Modules are live in any daylight and cannot be switched off; a battery drives "
            "thousands of amperes into a slipped probe. Rings and watches off, insulated tools, "
            "guarded probes, not alone. If you are not trained for it, have it measured.",
        ),
    )


def _bonds(study: Study) -> Step | None:
    names = [str(bond.name) for bond in study.plan.frame_bonds.values()]
    if not names:
        return None
    boxes = tuple(Box(name, "", "continuity", "a few tenths of an ohm at most") for name in names)
    return Step(
        "Bonds of the frames",
        "From each frame to the point that the bond leads to, with an ohmmeter, its leads zeroed.",
        None,
        boxes,
    )


def _banks(study: Study, sky: Sky) -> Step | None:
    found = study.readings.expected_at_banks(sky)
    if not found:
        return None
    return Step(
        "Each battery at rest",
        "At its posts, nothing charging or drawing for some hours: red on plus, no minus shown.",
        Caution(
            "DANGER",
            "Whatever bridges two posts welds and burns. Cover the one that you do not touch.",
        ),
        tuple(_at_rest(bank) for bank in found),
    )


def _at_rest(bank: AtBank) -> Box:
    right = f"{bank.empty} ({'flat' if bank.is_lead else 'empty'}) to about {bank.resting} (full)"
    return Box(bank.where, "voltage", "voltage at rest", right)


def _array_steps(study: Study, sky: Sky) -> Iterator[Step]:
    table = [(sky, study.readings.expected(sky))] if is_told(sky) else list(_skies(study))
    first = table[0][1]
    if not first:
        return
    spark = Caution(
        "DANGER",
        "Never part or join a connector in which current flows: the arc of direct current does not "
        "go out. Stop the controller, open the switch, prove with a clamp that nothing flows.",
    )
    strings = [n for n, e in enumerate(first) if e.kind == "string"]
    yield _step(
        "Open-circuit voltage of each string, by itself",
        "Unplugged from its neighbours and from the controller. Polarity first: the meter must not "
        "show minus. A string far below is not joined to others.",
        spark,
        "voc",
        strings,
        table,
    )
    yield _step(
        "Short-circuit current of each string",
        "Only with a switch that is made to close and open a short at this voltage and current: "
        "close it with the modules covered, uncover, read with a clamp, cover, open. Without one, "
        "leave it out and compare the currents in operation instead.",
        Caution(
            "DANGER",
            "Never lay an ammeter across a string, and never open a short by its plugs.",
        ),
        "isc",
        strings,
        table,
    )
    joints = [n for n, e in enumerate(first) if e.kind == "joint"]
    if joints:
        yield _step(
            "Open-circuit voltage at each joint",
            f"Join strings only when they were within {_percent(AGREE)} of each other, read "
            "at the same time and with the same polarity.",
            spark,
            "voc",
            joints,
            table,
        )
    inputs = [n for n, e in enumerate(first) if e.kind == "input"]
    limits = [f"`{a.controller.name}` {a.controller.input_limit}" for a in study.array.arrays]
    yield _step(
        "Open-circuit voltage where the array meets its controller",
        "At the open end or switch, before it is plugged in: polarity, and below what the "
        f"controller ever stands: {', '.join(limits)}.",
        Caution("WARNING", "Reversed, or over its limit, a controller can fail shorted, and burn."),
        "voc",
        inputs,
        table,
    )


def _skies(study: Study) -> Iterator[tuple[Sky, tuple[AtArray, ...]]]:
    for sun in SUNS:
        for cells in CELLS:
            sky = Sky(_read(sun, "irradiance"), None, _read(cells, "temperature"))
            yield sky, study.readings.expected(sky)


def _read(text: str, dimension: str) -> Quantity:
    return read_quantity(Text.at(text, Place("", 1, 1, 1, 1)), dimension)


def _step(
    heading: str,
    words: str,
    caution: Caution,
    key: str,
    which: list[int],
    table: list[tuple[Sky, tuple[AtArray, ...]]],
) -> Step:
    what = "open-circuit voltage" if key == "voc" else "short-circuit current"
    if len(table) == 1:
        found = table[0][1]
        boxes = tuple(_box(found[n], key, what) for n in which)
        return Step(heading, words, caution, boxes)
    boxes = tuple(
        Box(table[0][1][n].where, key, what, "see the table", "", _finds_of(n, key, table))
        for n in which
    )
    grids = tuple(_grids(key, what, which, table))
    return Step(heading, words, caution, boxes, grids)


def _box(found: AtArray, key: str, what: str) -> Box:
    shown: Shown | None = getattr(found, key)
    if shown is None:
        return Box(found.where, key, what, "no band: its label gives no curve, or too little sun")
    return Box(found.where, key, what, _range(shown), str(shown.likely), _finds(shown))


def _range(shown: Shown) -> str:
    unit = shown.least.unit
    return f"{shown.least.number:.1f} to {shown.most.number:.1f} {unit}"


def _finds(shown: Shown) -> str:
    told = f"finds a loss of {_percent(shown.finds)}; surely of {_percent(shown.surely)}"
    if shown.again is None:
        return told
    return f"{told}; of {_percent(shown.again)} since {quoted(shown.before)}"


def _percent(share: float) -> str:
    """A share in whole per cent, rounded up: it never promises to find less than it does."""
    return f"{math.ceil(share * 100.0 - 1e-6)} %"


def _finds_of(n: int, key: str, table: list[tuple[Sky, tuple[AtArray, ...]]]) -> str:
    """The smallest loss that is found over a whole table."""
    shown: list[Shown] = [s for _, found in table if (s := getattr(found[n], key)) is not None]
    if not shown:
        return ""
    each = [one.finds for one in shown]
    told = f"finds a loss of {_percents(each)}, by sun and heat"
    again = [one.again for one in shown if one.again is not None]
    if not again:
        return told
    since = quoted(shown[0].before)
    return f"{told}; of {_percents(again)} since {since}"


def _percents(shares: list[float]) -> str:
    """The least and the most of some shares, or one where that is the same."""
    least, most = _percent(min(shares)), _percent(max(shares))
    return least if least == most else f"{least} to {most}"


def _grids(
    key: str, what: str, which: list[int], table: list[tuple[Sky, tuple[AtArray, ...]]]
) -> Iterator[Grid]:
    """One table for all places that show the same."""
    same: dict[tuple[str, ...], list[str]] = {}
    for n in which:
        cells = tuple(_cell(getattr(found[n], key)) for _, found in table)
        same.setdefault(cells, []).append(table[0][1][n].where)
    for cells, places in same.items():
        rows = tuple(
            (sun, cells[i * len(CELLS) : (i + 1) * len(CELLS)]) for i, sun in enumerate(SUNS)
        )
        yield Grid(quoted(places), what, tuple(f"cells {c}" for c in CELLS), rows)


def _cell(shown: Shown | None) -> str:
    return _range(shown) if shown is not None else "no band"


def _insulation(study: Study) -> Step | None:
    if not study.array.arrays:
        return None
    volts = max(a.voc("coldest").number for a in study.array.arrays)
    test, least = ("250 V", "0.5 MΩ") if volts < 120.0 else ("500 V", "1 MΩ")
    if volts > 500.0:
        test = "1000 V"
    return Step(
        "Insulation of the array",
        "From each pole to earth, chassis or frame, controller and arresters parted, by somebody "
        "with the tester and the training. Figures of IEC 62446-1, from memory.",
        Caution("DANGER", f"The tester puts {test} on everything that is joined."),
        (Box("array", "", f"resistance at {test}", f"at least {least}"),),
    )


def _running(study: Study, sky: Sky) -> Iterator[Step]:
    if not is_told(sky):
        if study.array.arrays:
            boxes = tuple(
                box
                for array in study.array.arrays
                for box in (
                    Box(
                        _input_of(array), "voltage", "voltage in operation", "needs --sun and --air"
                    ),
                    Box(
                        _input_of(array), "current", "current in operation", "needs --sun and --air"
                    ),
                )
            )
            yield Step(_RUNNING, _RUNNING_WORDS, _RUNNING_CARE, boxes)
        return
    running: list[Box] = []
    for found in study.readings.expected(sky):
        if found.kind == "input" and found.working is not None:
            likely, dim, bright = found.working
            lost = f"tells of a loss of {_percent(found.found_of_power)} of {likely.given}"
            held = f"; held by its {likely.held}" if likely.held else ""
            running.append(
                Box(
                    found.where,
                    "voltage",
                    "voltage in operation",
                    f"that of its battery, at most {likely.voltage}"
                    if likely.tied
                    else _between(dim.voltage, bright.voltage, likely.voltage),
                    str(likely.voltage),
                )
            )
            running.append(
                Box(
                    found.where,
                    "current",
                    "current in operation",
                    _between(dim.current, bright.current, likely.current),
                    str(likely.current),
                    lost + held,
                )
            )
    if running:
        running += _ends(study, sky)
        yield Step(_RUNNING, _RUNNING_WORDS, _RUNNING_CARE, tuple(running))


def _ends(study: Study, sky: Sky) -> Iterator[Box]:
    """The upper end of each way: what voltage there shows of resistance on it, and power does not.

    By the share of power that is told, so many ohms in one joint hide behind it.
    """
    found = study.readings.expected(sky)
    inputs = {e.controller: e for e in found if e.kind == "input" and e.working is not None}
    for upper in found:
        below = inputs.get(upper.controller)
        if upper.kind != "string" or below is None or below.working is None:
            continue
        likely = below.working[0]
        amps = likely.current.number / below.strings
        if not amps > 0.0:
            continue
        hidden = below.found_of_power * likely.given.number / (amps * amps)
        yield Box(
            upper.where,
            "voltage",
            "voltage in operation, within a minute of that at the input",
            "above that by what the wires take, and a few tenths of a volt",
            "",
            f"finds resistance in plugs, which power shows from {hidden:.2g} Ω in one string only",
        )


_RUNNING: Final = "In operation, at the solar input"
_RUNNING_WORDS: Final = (
    "Voltage and current at the same moment, near noon, loads on, and what the controller says "
    "that it does: little power of a battery that is nearly full is no fault."
)
_RUNNING_CARE: Final = Caution(
    "WARNING", "Probe guarded contacts only; read current with a clamp around one pole."
)


def _input_of(array: ArrayStudy) -> str:
    return f"{array.controller.name}.{array.array.port}"


def _between(*values: Value) -> str:
    numbers = sorted(value.number for value in values)
    return f"{numbers[0]:.1f} to {numbers[-1]:.1f} {values[0].unit}"


def _charging(study: Study, sky: Sky) -> Step | None:
    found = [bank for bank in study.readings.expected_at_banks(sky) if bank.most is not None]
    if not found:
        return None
    return Step(
        "In charge, at the posts of each battery",
        "Together with the voltage at the controller's battery terminals: the difference is what "
        "the way loses.",
        None,
        tuple(
            Box(bank.where, "voltage", "voltage in charge", f"at most {bank.most}")
            for bank in found
        ),
    )
