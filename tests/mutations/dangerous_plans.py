"""Changes of whole plans that make sound ones dangerous, and what must catch each, at its level.

Each names a sound plan (of `tests/sound` or a base plan of the rules), what is other in it, what it
has less and more, the rule that must tell, and the level at which it does: that of a finding, or
`question` where what is not told decides it. Where no body of rules has to do with it, it is caught
under each.
"""

from __future__ import annotations

from typing import NamedTuple

from wattproof.example import Edit


class PlanMutation(NamedTuple):
    """A change of a sound plan, and the rule that must tell it at a level."""

    name: str
    plan: str
    catches: str
    level: str
    edits: tuple[Edit, ...] = ()
    less: tuple[str, ...] = ()
    more: str = ""
    any_body: bool = True


PLAN_MUTATIONS = [
    PlanMutation(
        "arc nec cabin",
        "cabin-arc-device",
        "arc-protection-missing",
        "warning",
        edits=(Edit("inline: [arc-guard, pv-off]", "inline: [pv-off]"),),
        less=("arc_fault_devices",),
        any_body=False,
    ),
    PlanMutation(
        "arc nec cabin false",
        "cabin-arc-device",
        "arc-protection-missing",
        "error",
        edits=(
            Edit("inline: [arc-guard, pv-off]", "inline: [pv-off]"),
            Edit(
                "ground_fault_protection: true",
                "ground_fault_protection: true, arc_fault_protection: false",
            ),
        ),
        less=("arc_fault_devices",),
        any_body=False,
    ),
    PlanMutation(
        "touch fixed 82 V, nothing said of the plugs",
        "van-in-sun",
        "array-voltage-touchable",
        "note",
        edits=(Edit("connector: {style: locking-pv}", "noct: 45 °C"),),
    ),
    PlanMutation(
        "touch fixed 109 V, nothing said of the plugs",
        "van-in-sun",
        "array-voltage-touchable",
        "note",
        edits=(
            Edit("connector: {style: locking-pv}", "noct: 45 °C"),
            Edit("series: 3", "series: 4"),
            Edit("max_input_voltage: 100 V", "max_input_voltage: 150 V"),
        ),
    ),
    PlanMutation(
        "touch fixed 81 V flat plug",
        "van-in-sun",
        "array-voltage-touchable",
        "warning",
        edits=(Edit("{style: locking-pv}", "{style: flat-two-pin}"),),
    ),
    PlanMutation(
        "touch portable 54V",
        "portable-box-iec",
        "array-voltage-touchable",
        "note",
    ),
    PlanMutation(
        "sole removable mppt",
        "van-in-sun",
        "battery-switch-strands-controller",
        "note",
        edits=(
            Edit("short_circuit_current: 5 kA", "short_circuit_current: 5 kA, removable: true"),
        ),
    ),
    PlanMutation(
        "sole removable mppt no pv switch",
        "van-in-sun",
        "battery-switch-strands-controller",
        "warning",
        edits=(
            Edit("short_circuit_current: 5 kA", "short_circuit_current: 5 kA, removable: true"),
            Edit((",\n             inline: [pv-off]}"), "}"),
        ),
        less=("switches",),
    ),
    PlanMutation(
        "no bank switch boat",
        "boat-converter",
        "battery-switch-missing",
        "note",
    ),
    PlanMutation(
        "six lugs on post",
        "boat-two-banks-one-negative",
        "terminal-overcrowded",
        "warning",
        more="""\
loads:
  l0: {current: 3 A}
  l1: {current: 3 A}
  l2: {current: 3 A}
  l3: {current: 3 A}
  l4: {current: 3 A}
fuses:
  l0-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
  l1-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
  l2-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
  l3-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
  l4-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
wires:
  l0-run: {from: house, to: l0, cable: batt-6, length: 1 m, place: cabin,
             inline: [{l0-fuse: {from_end: from, distance: 0 cm}}]}
  l1-run: {from: house, to: l1, cable: batt-6, length: 1 m, place: cabin,
             inline: [{l1-fuse: {from_end: from, distance: 0 cm}}]}
  l2-run: {from: house, to: l2, cable: batt-6, length: 1 m, place: cabin,
             inline: [{l2-fuse: {from_end: from, distance: 0 cm}}]}
  l3-run: {from: house, to: l3, cable: batt-6, length: 1 m, place: cabin,
             inline: [{l3-fuse: {from_end: from, distance: 0 cm}}]}
  l4-run: {from: house, to: l4, cable: batt-6, length: 1 m, place: cabin,
             inline: [{l4-fuse: {from_end: from, distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "glued no area",
        "van-in-sun",
        "mount-not-proven",
        "warning",
        edits=(Edit("mounting: roof-gap", "mounting: roof-gap, fixing: bonded"),),
    ),
    PlanMutation(
        "glued small area",
        "van-in-sun",
        "mount-not-proven",
        "warning",
        edits=(
            Edit("mounting: roof-gap", "mounting: roof-gap, fixing: bonded"),
            Edit("connector: {style: locking-pv}", "area: 1 m², connector: {style: locking-pv}"),
        ),
    ),
    PlanMutation(
        "array neg & battery neg bonded",
        "van-in-sun",
        "negative-bonded-twice",
        "warning",
        more="""\
bonds:
  a: {from: roof-string.negative, to: chassis, cable: pv-10, length: 1 m}
  b: {from: house.negative, to: chassis, cable: batt-8, length: 1 m}
""",
    ),
    PlanMutation(
        "array neg & battery neg bonded common",
        "van-in-sun",
        "negative-bonded-twice",
        "warning",
        edits=(Edit("blocks_reverse: true", "blocks_reverse: true, common: negative"),),
        more="""\
bonds:
  a: {from: roof-string.negative, to: chassis, cable: pv-10, length: 1 m}
  b: {from: house.negative, to: chassis, cable: batt-8, length: 1 m}
""",
    ),
    PlanMutation(
        "array pos & battery neg bonded",
        "van-in-sun",
        "positive-bonded",
        "warning",
        more="""\
bonds:
  a: {from: roof-string.positive, to: chassis, cable: pv-10, length: 1 m}
  b: {from: house.negative, to: chassis, cable: batt-8, length: 1 m}
""",
    ),
    PlanMutation(
        "tracker.pv neg & battery neg bonded",
        "van-in-sun",
        "negative-bonded-twice",
        "warning",
        more="""\
bonds:
  a: {from: tracker.pv.negative, to: chassis, cable: pv-10, length: 1 m}
  b: {from: house.negative, to: chassis, cable: batt-8, length: 1 m}
""",
    ),
    PlanMutation(
        "tracker.battery neg & battery neg bonded",
        "van-in-sun",
        "negative-bonded-twice",
        "warning",
        more="""\
bonds:
  a: {from: tracker.battery.negative, to: chassis, cable: pv-10, length: 1 m}
  b: {from: house.negative, to: chassis, cable: batt-8, length: 1 m}
""",
    ),
    PlanMutation(
        "load neg to chassis wire & battery bonded",
        "van-in-sun",
        "negative-bonded-twice",
        "warning",
        more="""\
loads:
  lamp: {current: 3 A}
fuses:
  lf: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
bonds:
  a: {from: lamp.negative, to: chassis, cable: batt-8, length: 1 m}
  b: {from: house.negative, to: chassis, cable: batt-8, length: 1 m}
wires:
  lr: {from: house, to: lamp, cable: batt-8, length: 2 m, place: cabin,
             inline: [{lf: {from_end: from, distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "common positive pv on chassis",
        "van-in-sun",
        "common-positive-controller-grounded",
        "error",
        edits=(Edit("blocks_reverse: true", "blocks_reverse: true, common: positive"),),
        more="""\
bonds:
  a: {from: tracker.pv.negative, to: chassis, cable: pv-10, length: 1 m}
  b: {from: house.negative, to: chassis, cable: batt-8, length: 1 m}
""",
    ),
    PlanMutation(
        "common positive pv string on chassis, pwm",
        "van-in-sun",
        "common-positive-controller-grounded",
        "error",
        edits=(
            Edit("kind: mppt", "kind: pwm"),
            Edit("series: 3", "series: 1"),
            Edit("blocks_reverse: true", "blocks_reverse: true, common: positive"),
        ),
        more="""\
bonds:
  a: {from: roof-string.negative, to: chassis, cable: pv-10, length: 1 m}
  b: {from: house.negative, to: chassis, cable: batt-8, length: 1 m}
""",
    ),
    PlanMutation(
        "common positive load neg on chassis only & bank",
        "van-in-sun",
        "common-positive-controller-grounded",
        "error",
        edits=(
            Edit("kind: mppt", "kind: pwm"),
            Edit("series: 3", "series: 1"),
            Edit(
                "blocks_reverse: true", "blocks_reverse: true, load_current: 10 A, common: positive"
            ),
        ),
        more="""\
loads:
  lamp: {current: 3 A}
bonds:
  b: {from: house.negative, to: chassis, cable: batt-8, length: 1 m}
wires:
  lp: {from: tracker.load.positive, to: lamp.positive, cable: batt-8, length: 2 m, place: cabin}
  ln: {from: lamp.negative, to: chassis, cable: batt-8, length: 2 m, place: cabin}
""",
    ),
    PlanMutation(
        "inverter on one of two parallel",
        "van-in-sun",
        "parallel-paths-unequal",
        "note",
        more="""\
batteries:
  twin: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
             max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true,
             short_circuit_current: 5 kA}
fuses:
  inv-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  link-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  link2-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
datasheets:
  cables:
    big: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
inverters:
  inv: {power: 800 W, nominal: 12 V}
wires:
  link: {from: house, to: twin, cable: big, length: 50 cm, place: cabin,
             inline: [{link-fuse: {from_end: from, distance: 0 cm}}, {link2-fuse: {from_end: to,
             distance: 0 cm}}]}
  inv-run: {from: house, to: inv, cable: big, length: 1 m, place: cabin,
             inline: [{inv-fuse: {from_end: from, distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "charge above max temp",
        "van-in-sun",
        "battery-too-hot",
        "warning",
        edits=(
            Edit(
                "short_circuit_current: 5 kA",
                "short_circuit_current: 5 kA, max_temperature: 45 °C, place: engine",
            ),
            Edit(
                "cabin: {ambient: 35 °C}",
                "cabin: {ambient: 35 °C}, engine: {ambient: 60 °C, engine_space: true}",
            ),
        ),
    ),
    PlanMutation(
        "charge above: site hottest, no place",
        "van-in-sun",
        "battery-too-hot",
        "warning",
        edits=(
            Edit(
                "short_circuit_current: 5 kA", "short_circuit_current: 5 kA, max_temperature: 35 °C"
            ),
        ),
    ),
    PlanMutation(
        "no max temp, in oven",
        "van-in-sun",
        "battery-too-hot",
        "warning",
        edits=(
            Edit("short_circuit_current: 5 kA", "short_circuit_current: 5 kA, place: engine"),
            Edit(
                "cabin: {ambient: 35 °C}",
                "cabin: {ambient: 35 °C}, engine: {ambient: 80 °C, engine_space: true}",
            ),
        ),
    ),
    PlanMutation(
        "input no negative",
        "vehicle-charger-without-sun-nec-2023",
        "circuit-not-closed",
        "error",
        edits=(
            Edit(
                "{from: start, to: dc-charger.alternator,",
                "{from: start.positive, to: dc-charger.alternator.positive,",
            ),
        ),
    ),
    PlanMutation(
        "input no negative isolated charger",
        "vehicle-charger-without-sun-nec-2023",
        "circuit-not-closed",
        "error",
        edits=(
            Edit(
                "{from: start, to: dc-charger.alternator,",
                "{from: start.positive, to: dc-charger.alternator.positive,",
            ),
            Edit("{kind: vehicle-charger,", "{kind: vehicle-charger, isolated: true,"),
        ),
    ),
    PlanMutation(
        "negatives via water",
        "boat-two-banks-one-negative",
        "circuit-not-closed",
        "error",
        less=("wires.negatives",),
        more="""\
bonds:
  a: {from: house.negative, to: water, cable: batt-6, length: 1 m}
  b: {from: second.negative, to: water, cable: batt-6, length: 1 m}
""",
    ),
    PlanMutation(
        "charger: charge current through water",
        "vehicle-charger-without-sun-iec",
        "circuit-not-closed",
        "error",
        edits=(
            Edit("setting: vehicle", "setting: boat"),
            Edit(
                "{from: start, to: dc-charger.alternator,",
                "{from: start.positive, to: dc-charger.alternator.positive,",
            ),
        ),
        more="""\
bonds:
  hb: {from: house.negative, to: water, cable: batt-2-0, length: 50 cm}
""",
    ),
    PlanMutation(
        "boat relay positive only link, via water",
        "boat-two-banks-one-negative",
        "circuit-not-closed",
        "error",
        less=(
            "wires.negatives",
            "wires.lamp-back",
        ),
        more="""\
switches:
  join: {rating: 100 A, voltage: 32 V, dc: true, closes_above: 13.3 V, load_break: true}
fuses:
  j1: {rating: 60 A, voltage: 58 V, style: class-t, interrupt: 20 kA, dc: true}
  j2: {rating: 60 A, voltage: 58 V, style: class-t, interrupt: 20 kA, dc: true}
bonds:
  a: {from: house.negative, to: water, cable: batt-6, length: 1 m}
  b: {from: second.negative, to: water, cable: batt-6, length: 1 m}
wires:
  lamp-back: {from: lamp.negative, to: house.negative, cable: wire-12, length: 2 m, place: cabin}
  jr: {from: house.positive, to: second.positive, cable: batt-6, length: 1 m, place: cabin,
             inline: [{j1: {from_end: from, distance: 0 cm}}, join, {j2: {from_end: to,
             distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "busbar voltage low",
        "van-in-sun",
        "device-not-for-dc",
        "error",
        more="""\
busbars:
  bar: {rating: 100 A, voltage: 10 V}
loads:
  lamp: {current: 3 A}
fuses:
  bf: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  lf: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
wires:
  br: {from: house, to: bar, cable: batt-8, length: 20 cm, place: cabin,
             inline: [{bf: {from_end: from, distance: 0 cm}}]}
  lr: {from: bar, to: lamp, cable: batt-8, length: 2 m, place: cabin,
             inline: [{lf: {from_end: from, distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "panel voltage low",
        "van-in-sun",
        "device-not-for-dc",
        "error",
        more="""\
distribution:
  panel: {rating: 40 A, voltage: 6 V, ways: {a: {fuse: 10 A, style: blade}}}
loads:
  lamp: {current: 3 A}
fuses:
  bf: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
wires:
  br: {from: house, to: panel, cable: batt-8, length: 20 cm, place: cabin,
             inline: [{bf: {from_end: from, distance: 0 cm}}]}
  lr: {from: panel.a, to: lamp, cable: batt-8, length: 2 m, place: cabin}
""",
    ),
    PlanMutation(
        "lithium alone on alternator",
        "boat-external-regulator",
        "alternator-can-lose-battery",
        "warning",
        edits=(
            Edit("regulator: external", "regulator: external"),
            Edit(("arresters:\n  surge: {across: alternator, voltage: 16 V}\n"), ""),
        ),
    ),
    PlanMutation(
        "lithium alone internal regulator",
        "boat-external-regulator",
        "alternator-can-lose-battery",
        "warning",
        edits=(
            Edit(
                (
                    "regulator: external,\n"
                    "               senses_heat: true, low_temperature_cutoff: true, "
                ),
                "regulator: internal, ",
            ),
            Edit(("arresters:\n  surge: {across: alternator, voltage: 16 V}\n"), ""),
        ),
    ),
    PlanMutation(
        "switch in alternator output",
        "vehicle-charger-without-sun-nec-2023",
        "alternator-can-lose-battery",
        "warning",
        edits=(
            Edit(
                "inline: [{alternator-fuse: {from_end: to, distance: 0 cm}}]",
                "inline: [alt-off, {alternator-fuse: {from_end: to, distance: 0 cm}}]",
            ),
            Edit(
                "switches:\n",
                (
                    "switches:\n"
                    "  alt-off: {rating: 200 A, voltage: 32 V, dc: true, poles: 1, "
                    "load_break: true}\n"
                ),
            ),
        ),
    ),
    PlanMutation(
        "main switch between alternator and bank",
        "vehicle-charger-without-sun-nec-2023",
        "alternator-can-lose-battery",
        "warning",
        edits=(
            Edit(
                "inline: [{alternator-fuse: {from_end: to, distance: 0 cm}}]",
                "inline: [{alternator-fuse: {from_end: to, distance: 0 cm}}, alt-off]",
            ),
            Edit(
                "switches:\n",
                (
                    "switches:\n"
                    "  alt-off: {rating: 200 A, voltage: 32 V, dc: true, poles: 1, "
                    "load_break: true}\n"
                ),
            ),
        ),
    ),
    PlanMutation(
        "selector with off on alternator",
        "boat-selector-abyc-e11",
        "alternator-can-lose-battery",
        "note",
        more="""\
chargers:
  alternator: {kind: alternator, max_output_current: 50 A, charge_voltage: 14.4 V}
fuses:
  af: {rating: 80 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
wires:
  ar: {from: alternator, to: selector.common, cable: batt-6, length: 1 m, place: cabin,
             inline: [{af: {from_end: to, distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "selector break-before-make on alternator",
        "boat-selector-abyc-e11",
        "alternator-can-lose-battery",
        "warning",
        edits=(Edit("make_before_break: true", "make_before_break: false"),),
        more="""\
chargers:
  alternator: {kind: alternator, max_output_current: 50 A, charge_voltage: 14.4 V}
fuses:
  af: {rating: 80 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
wires:
  ar: {from: alternator, to: selector.common, cable: batt-6, length: 1 m, place: cabin,
             inline: [{af: {from_end: to, distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "removable sole battery on alternator",
        "alternator",
        "alternator-can-lose-battery",
        "warning",
        edits=(
            Edit("short_circuit_current: 2.7 kA", "short_circuit_current: 2.7 kA, removable: true"),
        ),
    ),
    PlanMutation(
        "critical behind selector",
        "boat-selector-abyc-e11",
        "critical-load-can-be-cut-off",
        "warning",
        edits=(Edit("lamp: {current: 4 A}", "lamp: {current: 4 A, critical: true}"),),
    ),
    PlanMutation(
        "critical on load terminals",
        "van-in-sun",
        "critical-load-can-be-cut-off",
        "warning",
        edits=(Edit("blocks_reverse: true", "blocks_reverse: true, load_current: 10 A"),),
        more="""\
loads:
  lamp: {current: 3 A, critical: true}
wires:
  lp: {from: tracker.load, to: lamp, cable: batt-8, length: 2 m, place: cabin}
""",
    ),
    PlanMutation(
        "module straight on battery",
        "van-in-sun",
        "charge-controller-missing",
        "error",
        more="""\
strings:
  extra: {module: rigid-100, mounting: roof-gap}
wires:
  xr: {from: extra, to: house, cable: pv-10, length: 3 m, place: roof}
""",
    ),
    PlanMutation(
        "module straight on battery alone",
        "van-in-sun",
        "charge-controller-missing",
        "error",
        edits=(
            Edit("to: tracker.pv", "to: house"),
            Edit("series: 3", "series: 1"),
        ),
        less=(
            "wires.charge-run",
            "controllers",
            "fuses",
        ),
    ),
    PlanMutation(
        "same plug array and outlet",
        "van-in-sun",
        "plugs-alike",
        "warning",
        edits=(
            Edit(
                "place: [roof, cabin],",
                "place: [roof, cabin], plug: genderless-50, plug_rating: 50 A,",
            ),
        ),
        more="""\
loads:
  lamp: {current: 3 A}
fuses:
  lf: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
wires:
  lr: {from: house, to: lamp, cable: batt-8, length: 2 m, place: cabin, plug: genderless-50,
             plug_rating: 30 A, inline: [{lf: {from_end: from, distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "same plug flat array and outlet",
        "van-in-sun",
        "plugs-alike",
        "warning",
        edits=(
            Edit(
                "place: [roof, cabin],",
                "place: [roof, cabin], plug: flat-two-pin, plug_rating: 20 A,",
            ),
        ),
        more="""\
loads:
  lamp: {current: 3 A}
fuses:
  lf: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
wires:
  lr: {from: house, to: lamp, cable: batt-8, length: 2 m, place: cabin, plug: flat-two-pin,
             plug_rating: 30 A, inline: [{lf: {from_end: from, distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "29.4 V on 12 V",
        "van-in-sun",
        "battery-label-odd",
        "error",
        edits=(Edit("max_charge_voltage: 14.6 V", "max_charge_voltage: 29.2 V"),),
    ),
    PlanMutation(
        "29.4 V on 12 V of 2s",
        "van-in-sun",
        "battery-label-odd",
        "error",
        edits=(
            Edit("max_charge_voltage: 14.6 V", "max_charge_voltage: 29.2 V, arrangement: 2s"),
            Edit("charge_voltage: 14.2 V", "charge_voltage: 28.4 V"),
            Edit("series: 3", "series: 4"),
            Edit("max_input_voltage: 100 V", "max_input_voltage: 150 V"),
        ),
    ),
    PlanMutation(
        "14.6 on 24",
        "van-in-sun",
        "battery-label-odd",
        "error",
        edits=(
            Edit("nominal: 12.8 V", "nominal: 25.6 V"),
            Edit("charge_voltage: 14.2 V", "charge_voltage: 28.4 V"),
        ),
    ),
    PlanMutation(
        "14.6 on 24, with a charger for 12",
        "van-in-sun",
        "battery-label-odd",
        "error",
        edits=(Edit("nominal: 12.8 V", "nominal: 25.6 V"),),
    ),
    PlanMutation(
        "bank cap on one: nominal 25.6 with 2s & 28.4",
        "van-in-sun",
        "battery-label-odd",
        "error",
        edits=(
            Edit("nominal: 12.8 V", "nominal: 25.6 V, arrangement: 2s"),
            Edit("charge_voltage: 14.2 V", "charge_voltage: 28.4 V"),
        ),
    ),
    PlanMutation(
        "low-voltage cutoff inverter 10.5 V on 24 V",
        "van-in-sun",
        "low-voltage-switch-odd",
        "warning",
        edits=(
            Edit("nominal: 12.8 V", "nominal: 25.6 V"),
            Edit("max_charge_voltage: 14.6 V", "max_charge_voltage: 29.2 V"),
            Edit(" charge_voltage: 14.2 V", " charge_voltage: 28.4 V"),
        ),
        more="""\
inverters:
  inv: {power: 200 W, nominal: 24 V, low_voltage: 10.5 V}
fuses:
  lf: {rating: 50 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
wires:
  lr: {from: house, to: inv, cable: batt-8, length: 1 m, place: cabin,
             inline: [{lf: {from_end: from, distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "low-voltage cutoff inverter 21 V on 12 V",
        "van-in-sun",
        "low-voltage-switch-odd",
        "warning",
        more="""\
inverters:
  inv: {power: 200 W, nominal: 12 V, low_voltage: 21 V}
fuses:
  lf: {rating: 50 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
wires:
  lr: {from: house, to: inv, cable: batt-8, length: 1 m, place: cabin,
             inline: [{lf: {from_end: from, distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "relay closes 26 V on 12 V",
        "vehicle-low-voltage-switch",
        "relay-voltage-odd",
        "warning",
        edits=(Edit("opens_below: 11.8 V", "closes_above: 26.6 V"),),
    ),
    PlanMutation(
        "min charge temp 0 F",
        "van-in-sun",
        "battery-label-odd",
        "warning",
        edits=(
            Edit(
                "short_circuit_current: 5 kA",
                "short_circuit_current: 5 kA, min_charge_temperature: 0 °F",
            ),
        ),
    ),
    PlanMutation(
        "min charge temp 0 F no cutoff",
        "van-in-sun",
        "battery-label-odd",
        "warning",
        edits=(
            Edit(
                "max_charge_voltage: 14.6 V, low_temperature_cutoff: true",
                "max_charge_voltage: 14.6 V, min_charge_temperature: 0 °F",
            ),
            Edit(" low_temperature_cutoff: true, blocks", " blocks"),
        ),
    ),
    PlanMutation(
        "min charge temp 32 C",
        "van-in-sun",
        "battery-label-odd",
        "warning",
        edits=(
            Edit(
                "short_circuit_current: 5 kA",
                "short_circuit_current: 5 kA, min_charge_temperature: 32 °C",
            ),
        ),
    ),
    PlanMutation(
        "max temp 55 F",
        "van-in-sun",
        "battery-label-odd",
        "warning",
        edits=(
            Edit(
                "short_circuit_current: 5 kA", "short_circuit_current: 5 kA, max_temperature: 55 °F"
            ),
        ),
    ),
    PlanMutation(
        "arrester too low on pv",
        "van-in-sun",
        "cold-voltage-over-device",
        "error",
        more="""\
arresters:
  s: {across: tracker.pv, voltage: 60 V}
""",
    ),
    PlanMutation(
        "arrester too low on battery",
        "van-in-sun",
        "arrester-unfit",
        "error",
        more="""\
arresters:
  s: {across: house, voltage: 12 V}
""",
    ),
    PlanMutation(
        "arrester far too high on pv",
        "van-in-sun",
        "arrester-unfit",
        "warning",
        more="""\
arresters:
  s: {across: tracker.pv, voltage: 1000 V}
""",
    ),
    PlanMutation(
        "arrester far too high on alternator",
        "boat-external-regulator",
        "arrester-unfit",
        "warning",
        edits=(Edit("voltage: 16 V", "voltage: 60 V"),),
    ),
    PlanMutation(
        "arrester 32 V on 12 V alternator",
        "boat-external-regulator",
        "arrester-unfit",
        "warning",
        edits=(Edit("voltage: 16 V", "voltage: 32 V"),),
    ),
    PlanMutation(
        "packs differ, voltage key",
        "van-in-sun",
        "reading-packs-unequal",
        "warning",
        more="""\
batteries:
  twin: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
             max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true,
             short_circuit_current: 5 kA}
fuses:
  link-fuse: {rating: 60 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  link2-fuse: {rating: 60 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
datasheets:
  cables:
    big: {size: 4 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
wires:
  link: {from: house, to: twin, cable: big, length: 50 cm, place: cabin,
             inline: [{link-fuse: {from_end: from, distance: 0 cm}}, {link2-fuse: {from_end: to,
             distance: 0 cm}}]}
readings:
  a: {at: house, voltage: 13.4 V}
  b: {at: twin, voltage: 12.3 V}
""",
    ),
    PlanMutation(
        "place hot below site coldest",
        "van-in-sun",
        "place-temperature-odd",
        "warning",
        edits=(Edit("cabin: {ambient: 35 °C}", "cabin: {ambient: -20 °C}"),),
    ),
    PlanMutation(
        "place coldest above site hottest?",
        "van-in-sun",
        "place-temperature-odd",
        "warning",
        edits=(Edit("cabin: {ambient: 35 °C}", "cabin: {ambient: 60 °C, coldest: 50 °C}"),),
    ),
    PlanMutation(
        "roof 5 C ambient",
        "van-in-sun",
        "place-temperature-odd",
        "warning",
        edits=(Edit("roof: {ambient: 60 °C", "roof: {ambient: 5 °C"),),
    ),
    PlanMutation(
        "cold, told false",
        "van-in-sun",
        "charge-below-freezing",
        "error",
        edits=(
            Edit(
                "max_charge_voltage: 14.6 V, low_temperature_cutoff: true",
                "max_charge_voltage: 14.6 V, low_temperature_cutoff: false",
            ),
            Edit(" low_temperature_cutoff: true, blocks", " low_temperature_cutoff: false, blocks"),
        ),
    ),
    PlanMutation(
        "cold, left out",
        "van-in-sun",
        "charge-below-freezing",
        "warning",
        edits=(
            Edit(
                "max_charge_voltage: 14.6 V, low_temperature_cutoff: true",
                "max_charge_voltage: 14.6 V",
            ),
            Edit(" low_temperature_cutoff: true, blocks", " blocks"),
        ),
    ),
    PlanMutation(
        "voc within 3 %",
        "van-in-sun",
        "cold-voltage-over-controller",
        "warning",
        edits=(Edit("max_input_voltage: 100 V", "max_input_voltage: 82.6 V"),),
    ),
    PlanMutation(
        "voc within 3 % module",
        "van-in-sun",
        "cold-voltage-over-module",
        "warning",
        edits=(Edit("max_system_voltage: 600 V", "max_system_voltage: 82.6 V"),),
    ),
    PlanMutation(
        "voc within 3 % device",
        "van-in-sun",
        "cold-voltage-over-device",
        "warning",
        edits=(Edit("rating: 30 A, voltage: 150 V", "rating: 30 A, voltage: 82.6 V"),),
    ),
    PlanMutation(
        "voc within 3 % arrester",
        "van-in-sun",
        "cold-voltage-over-device",
        "warning",
        more="""\
arresters:
  s: {across: tracker.pv, voltage: 82.6 V}
""",
    ),
    PlanMutation(
        "inverter neg other bank",
        "van-in-sun",
        "circuit-not-closed",
        "error",
        more="""\
batteries:
  second: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_voltage: 14.7 V}
inverters:
  inv: {power: 300 W, nominal: 12 V}
loads:
  l2: {current: 1 A}
fuses:
  f1: {rating: 50 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  f2: {rating: 10 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
wires:
  a: {from: house.positive, to: inv.positive, cable: batt-8, length: 1 m, place: cabin,
             inline: [{f1: {from_end: from, distance: 0 cm}}]}
  b: {from: inv.negative, to: second.negative, cable: batt-8, length: 1 m, place: cabin}
  c: {from: second, to: l2, cable: batt-8, length: 1 m, place: cabin,
             inline: [{f2: {from_end: from, distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "tracker neg other bank",
        "van-in-sun",
        "circuit-not-closed",
        "error",
        edits=(
            Edit(
                "{from: tracker.battery, to: house,",
                "{from: tracker.battery.positive, to: house.positive,",
            ),
        ),
        more="""\
batteries:
  second: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_voltage: 14.7 V}
loads:
  l1: {current: 1 A}
  l2: {current: 1 A}
fuses:
  f1: {rating: 10 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  f2: {rating: 10 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
wires:
  b: {from: tracker.battery.negative, to: second.negative, cable: batt-8, length: 1 m,
             place: cabin}
  c: {from: second, to: l2, cable: batt-8, length: 1 m, place: cabin,
             inline: [{f2: {from_end: from, distance: 0 cm}}]}
  d: {from: house, to: l1, cable: batt-8, length: 1 m, place: cabin,
             inline: [{f1: {from_end: from, distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "shore charger neg other bank",
        "van-in-sun",
        "circuit-not-closed",
        "error",
        more="""\
batteries:
  second: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_voltage: 14.7 V}
chargers:
  shore: {kind: shore, max_output_current: 10 A, charge_voltage: 14.2 V}
loads:
  l2: {current: 1 A}
fuses:
  f1: {rating: 30 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  f2: {rating: 10 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
wires:
  a: {from: house.positive, to: shore.positive, cable: batt-8, length: 1 m, place: cabin,
             inline: [{f1: {from_end: from, distance: 0 cm}}]}
  b: {from: shore.negative, to: second.negative, cable: batt-8, length: 1 m, place: cabin}
  c: {from: second, to: l2, cable: batt-8, length: 1 m, place: cabin,
             inline: [{f2: {from_end: from, distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "positive from other bank (both poles crossed)",
        "van-in-sun",
        "circuit-not-closed",
        "error",
        more="""\
batteries:
  second: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_voltage: 14.7 V}
loads:
  l1: {current: 1 A}
  l2: {current: 1 A}
fuses:
  f1: {rating: 10 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  f2: {rating: 10 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
wires:
  a: {from: second.positive, to: l1.positive, cable: batt-8, length: 1 m, place: cabin,
             inline: [{f1: {from_end: from, distance: 0 cm}}]}
  b: {from: l1.negative, to: house.negative, cable: batt-8, length: 1 m, place: cabin}
  c: {from: second, to: l2, cable: batt-8, length: 1 m, place: cabin,
             inline: [{f2: {from_end: from, distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "load terminals thin",
        "van-in-sun",
        "fuse-over-conductor",
        "error",
        edits=(
            Edit("kind: mppt", "kind: pwm"),
            Edit("series: 3", "series: 1"),
            Edit("blocks_reverse: true", "blocks_reverse: true, load_current: 20 A"),
        ),
        more="""\
datasheets:
  cables:
    thin: {size: 18 AWG, kind: automotive, material: copper, insulation_temperature: 90 °C,
             voltage: 60 V}
loads:
  l: {current: 2 A}
wires:
  w: {from: tracker.load, to: l, cable: thin, length: 5 m, place: cabin}
""",
        any_body=False,
    ),
    PlanMutation(
        "load terminals panel way larger than wire",
        "van-in-sun",
        "fuse-over-conductor",
        "error",
        edits=(
            Edit("kind: mppt", "kind: pwm"),
            Edit("series: 3", "series: 1"),
            Edit("blocks_reverse: true", "blocks_reverse: true, load_current: 20 A"),
        ),
        more="""\
datasheets:
  cables:
    thin: {size: 18 AWG, kind: automotive, material: copper, insulation_temperature: 90 °C,
             voltage: 60 V}
loads:
  l: {current: 2 A}
distribution:
  panel: {rating: 30 A, voltage: 32 V, ways: {a: {fuse: 20 A, style: blade}}}
wires:
  w: {from: tracker.load, to: panel, cable: batt-8, length: 1 m, place: cabin}
  x: {from: panel.a, to: l, cable: thin, length: 5 m, place: cabin}
""",
        any_body=False,
    ),
    PlanMutation(
        "inverter on load terminals",
        "van-in-sun",
        "inverter-on-load-terminals",
        "error",
        edits=(
            Edit("kind: mppt", "kind: pwm"),
            Edit("series: 3", "series: 1"),
            Edit("blocks_reverse: true", "blocks_reverse: true, load_current: 20 A"),
        ),
        more="""\
inverters:
  inv: {power: 300 W, nominal: 12 V}
wires:
  w: {from: tracker.load, to: inv, cable: batt-8, length: 1 m, place: cabin}
""",
    ),
    PlanMutation(
        "rail breaker voltage typed",
        "van-in-sun",
        "device-not-for-dc",
        "warning",
        edits=(
            Edit(
                (
                    "charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, "
                    "interrupt: 20 kA, dc: true}"
                ),
                (
                    "charge-fuse: {rating: 40 A, voltage: 230 V, interrupt: 6 kA, style: "
                    "rail-breaker}"
                ),
            ),
        ),
    ),
    PlanMutation(
        "isolator AC on array",
        "van-in-sun",
        "device-not-for-dc",
        "warning",
        edits=(
            Edit(
                "pv-off: {rating: 30 A, voltage: 150 V, dc: true",
                "pv-off: {rating: 30 A, voltage: 440 V",
            ),
        ),
    ),
    PlanMutation(
        "arc device low",
        "cabin-arc-device",
        "cold-voltage-over-device",
        "error",
        edits=(
            Edit(
                "arc-guard: {rating: 20 A, voltage: 600 V",
                "arc-guard: {rating: 20 A, voltage: 60 V",
            ),
        ),
    ),
    PlanMutation(
        "selector behind fuse",
        "boat-selector-abyc-e11",
        "device-behind-larger-fuse",
        "error",
        edits=(Edit("selector: {rating: 200 A", "selector: {rating: 20 A"),),
    ),
    PlanMutation(
        "isolator behind fuse",
        "boat-isolator-abyc-e11",
        "isolator-over-rating",
        "error",
        edits=(Edit("splitter: {rating: 120 A", "splitter: {rating: 20 A"),),
    ),
    PlanMutation(
        "bundle boat e11",
        "boat-two-banks-one-negative",
        "fuse-over-conductor",
        "error",
        edits=(
            Edit(
                "lamp-feed: {from: house.positive, to: lamp.positive, cable: wire-12",
                (
                    "lamp-feed: {bundled: 30, from: house.positive, to: lamp.positive, "
                    "cable: wire-16b"
                ),
            ),
            Edit("first-fuse: {rating: 10 A", "first-fuse: {rating: 30 A"),
        ),
        more="""\
datasheets:
  cables:
    wire-16b: {size: 16 AWG, kind: marine, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
""",
        any_body=False,
    ),
    PlanMutation(
        "engine 60C insulation e11",
        "boat-isolator-abyc-e11",
        "insulation-too-cool",
        "error",
        edits=(
            Edit(
                (
                    "batt-2-0: {size: 2/0 AWG, kind: marine, material: copper, strands: "
                    "fine,\n"
                    "               insulation_temperature: 105 °C"
                ),
                (
                    "batt-2-0: {size: 2/0 AWG, kind: marine, material: copper, strands: "
                    "fine,\n"
                    "               insulation_temperature: 60 °C"
                ),
            ),
        ),
    ),
    PlanMutation(
        "sealed in van living space",
        "van-in-sun",
        "battery-place-unsafe",
        "error",
        edits=(
            Edit(
                "chemistry: lithium-iron-phosphate, nominal: 12.8 V",
                "chemistry: flooded, nominal: 12 V",
            ),
            Edit("max_charge_voltage: 14.6 V", "max_charge_voltage: 14.8 V"),
            Edit("short_circuit_current: 5 kA", "short_circuit_current: 5 kA, place: cabin"),
            Edit(
                "cabin: {ambient: 35 °C}",
                "cabin: {ambient: 35 °C, living_space: true, vented: false}",
            ),
        ),
    ),
    PlanMutation(
        "gel boat living",
        "boat-two-banks-one-negative",
        "battery-place-unsafe",
        "warning",
        edits=(
            Edit(
                "cabin: {ambient: 35 °C, coldest: 5 °C}",
                ("cabin: {ambient: 35 °C, coldest: 5 °C, living_space: true, vented: false}"),
            ),
        ),
    ),
    PlanMutation(
        "packs no fuse 2p",
        "van-in-sun",
        "each-pack-unfused",
        "warning",
        edits=(
            Edit("short_circuit_current: 5 kA", "short_circuit_current: 5 kA, arrangement: 2p"),
        ),
    ),
    PlanMutation(
        "packs no fuse 4p abyc",
        "cabin-packs-iec",
        "each-pack-unfused",
        "warning",
        edits=(Edit(", each_pack: {fuse: pack-fuse, distance: 0 cm}", ""),),
        less=("fuses.pack-fuse",),
    ),
    PlanMutation(
        "cold by site when place unheated",
        "van-in-sun",
        "charge-below-freezing",
        "error",
        edits=(
            Edit(
                "max_charge_voltage: 14.6 V, low_temperature_cutoff: true",
                "max_charge_voltage: 14.6 V, low_temperature_cutoff: false",
            ),
            Edit(" low_temperature_cutoff: true, blocks", " low_temperature_cutoff: false, blocks"),
        ),
    ),
    PlanMutation(
        "distance enclosed not said",
        "boat-two-banks-one-negative",
        "battery-fuse-missing",
        "error",
        edits=(
            Edit(
                (
                    "lamp-feed: {from: house.positive, to: lamp.positive, cable: wire-12, "
                    "length: 2 m, place: cabin,\n"
                    "              inline: [{first-fuse: {from_end: from, distance: 0 cm}}]"
                ),
                (
                    "lamp-feed: {from: house.positive, to: lamp.positive, cable: wire-12, "
                    "length: 2 m, place: cabin,\n"
                    "              inline: [{first-fuse: {from_end: from, distance: 80 "
                    "cm}}]"
                ),
            ),
        ),
    ),
    PlanMutation(
        "reading other string label",
        "two-strings",
        "reading-voltage-low",
        "warning",
        more="""\
readings:
  a: {at: port, voc: 50 V}
""",
    ),
    PlanMutation(
        "alternator cable thin vehicle",
        "vehicle-charger-without-sun-nec-2023",
        "conductor-too-small",
        "error",
        edits=(
            Edit(
                "alternator-run: {from: alternator, to: start, cable: batt-2-0",
                "alternator-run: {from: alternator, to: start, cable: wire-12",
            ),
        ),
    ),
    PlanMutation(
        "alternator cable thin boat",
        "boat-external-regulator",
        "fuse-over-conductor",
        "error",
        edits=(
            Edit(
                "alternator-run: {from: alternator, to: house, cable: batt-2-0",
                "alternator-run: {from: alternator, to: house, cable: wire-12",
            ),
        ),
    ),
    PlanMutation(
        "alternator unfused cable vehicle",
        "vehicle-charger-without-sun-nec-2023",
        "battery-fuse-missing",
        "note",
        edits=(
            Edit(
                (
                    "pole: positive,\n"
                    "                   inline: [{alternator-fuse: {from_end: to, "
                    "distance: 0 cm}}]}"
                ),
                "pole: positive}",
            ),
        ),
        less=("fuses.alternator-fuse",),
    ),
    PlanMutation(
        "alternator unfused as boat",
        "vehicle-charger-without-sun-iec",
        "battery-fuse-missing",
        "note",
        edits=(
            Edit("setting: vehicle", "setting: boat"),
            Edit(
                (
                    "pole: positive,\n"
                    "                   inline: [{alternator-fuse: {from_end: to, "
                    "distance: 0 cm}}]}"
                ),
                "pole: positive}",
            ),
        ),
        less=("fuses.alternator-fuse",),
    ),
    PlanMutation(
        "alternator fuse at alternator end",
        "vehicle-charger-without-sun-nec-2023",
        "battery-fuse-missing",
        "error",
        edits=(
            Edit(
                "{alternator-fuse: {from_end: to, distance: 0 cm}}",
                "{alternator-fuse: {from_end: from, distance: 0 cm}}",
            ),
        ),
    ),
    PlanMutation(
        "cable voltage low battery side",
        "van-in-sun",
        "device-not-for-dc",
        "error",
        edits=(
            Edit(
                (
                    "batt-8: {size: 8 AWG, kind: battery, material: copper, "
                    "insulation_temperature: 105 °C,\n"
                    "             voltage: 600 V}"
                ),
                (
                    "batt-8: {size: 8 AWG, kind: battery, material: copper, "
                    "insulation_temperature: 105 °C,\n"
                    "             voltage: 6 V}"
                ),
            ),
        ),
    ),
    PlanMutation(
        "isolator voltage low",
        "boat-isolator-abyc-e11",
        "device-not-for-dc",
        "error",
        edits=(Edit("splitter: {rating: 120 A", "splitter: {voltage: 10 V, rating: 120 A"),),
    ),
    PlanMutation(
        "selector voltage low",
        "boat-selector-abyc-e11",
        "device-not-for-dc",
        "error",
        edits=(
            Edit(
                "selector: {rating: 200 A, voltage: 32 V", "selector: {rating: 200 A, voltage: 10 V"
            ),
        ),
    ),
    PlanMutation(
        "fuse too large in heat",
        "van-in-sun",
        "fuse-over-conductor",
        "error",
        edits=(
            Edit("cabin: {ambient: 35 °C}", "cabin: {ambient: 95 °C}"),
            Edit("rating: 40 A, voltage: 125 V", "rating: 80 A, voltage: 125 V"),
        ),
    ),
    PlanMutation(
        "pwm battery mgmt opens",
        "van-in-sun",
        "lithium-cut-off-in-sun",
        "warning",
        edits=(
            Edit("kind: mppt", "kind: pwm"),
            Edit("series: 3", "series: 1"),
            Edit("blocks_reverse: true", "blocks_reverse: true, load_current: 20 A"),
        ),
        more="""\
loads:
  lamp: {current: 3 A}
fuses:
  lf: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
wires:
  lr: {from: house, to: lamp, cable: batt-8, length: 2 m, place: cabin,
             inline: [{lf: {from_end: from, distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "tracker removable & load pwm",
        "van-in-sun",
        "battery-taken-away-in-sun",
        "warning",
        edits=(
            Edit("kind: mppt", "kind: pwm"),
            Edit("series: 3", "series: 1"),
            Edit("short_circuit_current: 5 kA", "short_circuit_current: 5 kA, removable: true"),
        ),
        more="""\
loads:
  lamp: {current: 3 A}
fuses:
  lf: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
wires:
  lr: {from: house, to: lamp, cable: batt-8, length: 2 m, place: cabin,
             inline: [{lf: {from_end: from, distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "module on load",
        "van-in-sun",
        "charge-controller-missing",
        "error",
        more="""\
strings:
  x: {module: rigid-100, mounting: roof-gap}
loads:
  fan: {current: 2 A}
wires:
  xr: {from: x, to: fan, cable: pv-10, length: 2 m, place: roof}
""",
    ),
    PlanMutation(
        "converter output on a thin wire without a fuse",
        "truck-twenty-four-volt",
        "fuse-over-conductor",
        "error",
        edits=(
            Edit(
                "lights, cable: small, length: 4 m, place: box,\n"
                "             inline: [{lamp-fuse: {from_end: from, distance: 15 cm}}]}",
                "lights, cable: thin, length: 4 m, place: box}",
            ),
        ),
        less=("fuses.lamp-fuse",),
        more="""\
datasheets:
  cables:
    thin: {type: H07V-K, size: 0.75 mm², material: copper}
""",
        any_body=False,
    ),
    PlanMutation(
        "outlet of a power box on a thin wire without a fuse",
        "portable-box-outlet",
        "fuse-over-conductor",
        "error",
        edits=(
            Edit(",\n            inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}", "}"),
        ),
        less=("fuses",),
        any_body=False,
    ),
    PlanMutation(
        "lost minus sign of the coldest air",
        "truck-twenty-four-volt",
        "place-temperature-odd",
        "warning",
        edits=(Edit("coldest: -25 °C", "coldest: 25 °C"),),
    ),
    PlanMutation(
        "flooded in a closed room",
        "cabin-generator-charger",
        "battery-place-unsafe",
        "warning",
        edits=(Edit("coldest: 6 °C, vented: true", "coldest: 6 °C, vented: false"),),
    ),
    PlanMutation(
        "flooded in a closed locker of a boat",
        "boat-relay-and-bilge-pump",
        "battery-place-unsafe",
        "error",
        edits=(
            Edit("house: {chemistry: agm", "house: {chemistry: flooded"),
            Edit("coldest: 0 °C, vented: true", "coldest: 0 °C, vented: false"),
        ),
    ),
    PlanMutation(
        "sealed lead in a closed locker of a boat",
        "boat-relay-and-bilge-pump",
        "battery-place-unsafe",
        "warning",
        edits=(Edit("coldest: 0 °C, vented: true", "coldest: 0 °C, vented: false"),),
    ),
    PlanMutation(
        "starter on a thin cable",
        "boat-isolator-abyc-e11",
        "cranking-cable-overheats",
        "error",
        edits=(Edit("to: engine-starter, cable: batt-2-0", "to: engine-starter, cable: wire-12"),),
    ),
    PlanMutation(
        "starter behind a small switch",
        "boat-relay-and-bilge-pump",
        "cranking-switch-small",
        "warning",
        edits=(Edit("engine-off: {rating: 300 A", "engine-off: {rating: 50 A"),),
    ),
    PlanMutation(
        "breaker in an alternator's output",
        "boat-relay-and-bilge-pump",
        "alternator-can-lose-battery",
        "note",
        edits=(Edit("[{alternator-fuse: {from_end: to,", "[{alternator-breaker: {from_end: to,"),),
        less=("fuses.alternator-fuse",),
        more="""\
breakers:
  alternator-breaker: {rating: 100 A, voltage: 32 V, dc: true, interrupt: 10 kA, poles: 1}
""",
    ),
    PlanMutation(
        "a bilge pump behind a switch of its own",
        "boat-relay-and-bilge-pump",
        "critical-load-can-be-cut-off",
        "note",
        edits=(
            Edit(
                "[{pump-fuse: {from_end: from, distance: 10 cm}}]",
                "[{pump-fuse: {from_end: from, distance: 10 cm}}, pump-off]",
            ),
        ),
        more="""\
switches:
  pump-off: {rating: 20 A, voltage: 32 V, dc: true, load_break: true}
""",
    ),
    PlanMutation(
        "a lithium battery that reads far below empty",
        "van-in-sun",
        "reading-battery-flat",
        "warning",
        more="""\
readings:
  a: {at: house, voltage: 9.1 V}
""",
    ),
    PlanMutation(
        "a cigar plug of no printed rating behind 30 A",
        "boat-two-banks-one-negative",
        "device-behind-larger-fuse",
        "error",
        edits=(
            Edit("second-fuse: {rating: 10 A", "second-fuse: {rating: 30 A"),
            Edit("to: second-lamp, cable: wire-12", "to: second-lamp, plug: cigar, cable: batt-6"),
        ),
    ),
    PlanMutation(
        "a switch between a wind generator and its battery",
        "boat-wind-generator",
        "alternator-can-lose-battery",
        "warning",
        edits=(
            Edit(
                "inline: [{wind-fuse: {from_end: to, distance: 5 cm}}]",
                "inline: [wind-off, {wind-fuse: {from_end: to, distance: 5 cm}}]",
            ),
        ),
        more="""\
switches:
  wind-off: {rating: 60 A, voltage: 32 V, dc: true, load_break: true}
""",
    ),
    PlanMutation(
        "a wind generator's wire without a fuse at the battery",
        "boat-wind-generator",
        "battery-fuse-missing",
        "error",
        edits=(Edit(",\n             inline: [{wind-fuse: {from_end: to, distance: 5 cm}}]", ""),),
        less=("fuses.wind-fuse",),
    ),
    PlanMutation(
        "an inverter in a gas locker",
        "vehicle-inverter-charger",
        "spark-in-gas-space",
        "warning",
        edits=(
            Edit(
                "cabin: {ambient: 35 °C,",
                "bottles: {gas_locker: true}\n    cabin: {ambient: 35 °C,",
            ),
        ),
        more="""\
fuses:
  inv-fuse: {rating: 60 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true, place: cabin}
inverters:
  inv: {power: 400 W, nominal: 12 V, place: bottles}
wires:
  inv-run: {from: house, to: inv, cable: batt-6, length: 1 m, place: cabin,
            inline: [{inv-fuse: {from_end: from, distance: 0 cm}}]}
""",
    ),
    PlanMutation(
        "a power box in a gas locker",
        "portable-box-outlet",
        "spark-in-gas-space",
        "warning",
        edits=(
            Edit("load_current: 25 A, place: camp", "load_current: 25 A, place: bottles"),
            Edit("    camp: {", "    bottles: {gas_locker: true}\n    camp: {"),
        ),
    ),
    PlanMutation(
        "an isolator that can spark in petrol vapour",
        "boat-isolator-abyc-e11",
        "spark-in-gas-space",
        "error",
        edits=(
            Edit("ignition_protected: true}\nloads", "ignition_protected: false}\nloads"),
            Edit(
                "engine_space: true, vented: true", "engine_space: true, vented: true, petrol: true"
            ),
        ),
    ),
    PlanMutation(
        "a bank of 234 V",
        "van-in-sun",
        "battery-voltage-shock",
        "warning",
        edits=(
            Edit("nominal: 12.8 V", "nominal: 51.2 V, arrangement: 4s"),
            Edit("max_charge_voltage: 14.6 V", "max_charge_voltage: 58.4 V"),
        ),
    ),
    PlanMutation(
        "a switch in the negative behind a larger fuse",
        "boat-two-banks-one-negative",
        "device-behind-larger-fuse",
        "error",
        edits=(
            Edit(
                "to: second.negative, cable: wire-12, length: 2 m, place: cabin}",
                "to: second.negative, cable: wire-12, length: 2 m, place: cabin, inline: [off]}",
            ),
        ),
        more="""\
switches:
  off: {rating: 5 A, voltage: 32 V, dc: true, load_break: true}
""",
    ),
    PlanMutation(
        "connectors of modules that carry too much",
        "truck-twenty-four-volt",
        "connector-over-rating",
        "error",
        edits=(Edit("{style: locking-pv, rating: 30 A,", "{style: locking-pv, rating: 15 A,"),),
    ),
    PlanMutation(
        "more charge current read than the battery takes",
        "van-in-sun",
        "reading-charge-current-high",
        "warning",
        more="""\
readings:
  a: {at: house, voltage: 13.9 V, current: 80 A}
""",
    ),
    PlanMutation(
        "long thin wire behind load terminals",
        "hut-load-terminals",
        "voltage-drop-high",
        "warning",
        edits=(Edit("cable: inside, length: 5 m", "cable: inside, length: 80 m"),),
    ),
    PlanMutation(
        "what must not stop on a long thin wire behind a converter",
        "truck-twenty-four-volt",
        "voltage-drop-high",
        "warning",
        edits=(
            Edit("lights: {current: 8 A", "lights: {critical: true, current: 8 A"),
            Edit("to: lights, cable: small, length: 4 m", "to: lights, cable: small, length: 14 m"),
        ),
    ),
    PlanMutation(
        "short-circuit current of 5 A for 5 kA",
        "van-in-sun",
        "battery-label-odd",
        "warning",
        edits=(Edit("short_circuit_current: 5 kA", "short_circuit_current: 5 A"),),
    ),
    PlanMutation(
        "charge current of 1000 A on 100 Ah",
        "van-in-sun",
        "battery-label-odd",
        "warning",
        edits=(Edit("max_charge_current: 50 A", "max_charge_current: 1000 A"),),
    ),
    PlanMutation(
        "insulation of 221 °F written as °C",
        "van-in-sun",
        "insulation-temperature-odd",
        "warning",
        edits=(
            Edit(
                "material: copper, insulation_temperature: 105 °C",
                "material: copper, insulation_temperature: 221 °C",
            ),
        ),
    ),
    PlanMutation(
        "a series fuse of 150 A on the label",
        "van-in-sun",
        "module-fuse-label-low",
        "warning",
        edits=(
            Edit("max_series_fuse: 15 A", "max_series_fuse: 150 A"),
            Edit("series: 3", "arrangement: 3s4p"),
        ),
    ),
    PlanMutation(
        "an inverter of 2 W, meant as kW",
        "cabin-generator-charger",
        "inverter-label-odd",
        "warning",
        edits=(Edit("power: 2000 W, surge: 4000 W", "power: 2 W, surge: 4 W"),),
    ),
    PlanMutation(
        "float voltage of 24 V on 12 V lithium",
        "van-charger-with-solar-input",
        "float-voltage-wrong",
        "error",
        edits=(
            Edit(
                "charge_voltage: 14.2 V, float_voltage: 13.5 V",
                "charge_voltage: 14.2 V, float_voltage: 27.0 V",
            ),
        ),
    ),
    PlanMutation(
        "lithium held for months at what fills it",
        "van-charger-with-solar-input",
        "float-voltage-wrong",
        "warning",
        edits=(
            Edit(
                "charge_voltage: 14.2 V, float_voltage: 13.5 V",
                "charge_voltage: 14.4 V, float_voltage: 14.4 V",
            ),
        ),
    ),
    PlanMutation(
        "a roof of 140 °F, written as °C",
        "van-in-sun",
        "place-temperature-odd",
        "warning",
        edits=(Edit("roof: {ambient: 60 °C", "roof: {ambient: 140 °C"),),
    ),
    PlanMutation(
        "a battery's place of 32 °F at least, written as °C",
        "boat-two-banks-one-negative",
        "place-temperature-odd",
        "warning",
        edits=(
            Edit(
                "cabin: {ambient: 35 °C, coldest: 5 °C}", "cabin: {ambient: 35 °C, coldest: 32 °C}"
            ),
        ),
    ),
    PlanMutation(
        "a stud fuse told as 125 V and 20 kA",
        "teardrop-two-ways-in",
        "fuse-style-confused",
        "warning",
        edits=(
            Edit(
                "box-fuse: {rating: 30 A, style: stud-mounted, voltage: 58 V, interrupt: 10 kA",
                "box-fuse: {rating: 30 A, style: stud-mounted, voltage: 125 V, interrupt: 20 kA",
            ),
        ),
    ),
    PlanMutation(
        "a blade fuse of 500 V",
        "trailer-hydraulic-pump",
        "fuse-style-confused",
        "warning",
        edits=(Edit("style: blade, voltage: 32 V", "style: blade, voltage: 500 V"),),
    ),
    PlanMutation(
        "the label of a string written for one module",
        "truck-twenty-four-volt",
        "module-cells-odd",
        "warning",
        edits=(
            Edit("pmax: 400 W, voc: 37.1 V, vmp: 31.0 V", "pmax: 800 W, voc: 74.2 V, vmp: 62.0 V"),
        ),
    ),
    PlanMutation(
        "the winch's fuse in the negative of a bank of two in series",
        "trailer-two-in-series",
        "battery-fuse-missing",
        "error",
        edits=(
            Edit(
                "[{winch-fuse: {from_end: from, distance: 10 cm}}, winch-off]",
                "[winch-off]",
            ),
            Edit(
                "to: lower.negative, cable: main, length: 2 m, place: box}",
                "to: lower.negative, cable: main, length: 2 m, place: box, inline: [winch-fuse]}",
            ),
        ),
    ),
    PlanMutation(
        "the winch's switch in the tied negative of a bank in series",
        "trailer-two-in-series",
        "switch-in-tied-negative",
        "warning",
        edits=(
            Edit(", winch-off]", "]"),
            Edit(
                "to: lower.negative, cable: main, length: 2 m, place: box}",
                "to: lower.negative, cable: main, length: 2 m, place: box, inline: [winch-off]}",
            ),
        ),
    ),
    PlanMutation(
        "a switch in the tied negative of a controller",
        "van-chassis-returns",
        "switch-in-tied-negative",
        "warning",
        more="""\
switches:
  neg-off: {rating: 60 A, voltage: 48 V, dc: true, load_break: true, poles: 1}
wires:
  charge: {from: tracker.battery.positive, to: leisure.positive, cable: charge, length: 1 m,
           place: van, inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  charge-n: {from: tracker.battery.negative, to: leisure.negative, cable: charge, length: 1 m,
          place: van, inline: [neg-off]}
""",
    ),
    PlanMutation(
        "a tracker for 12 V with an input limit of 1000 V",
        "van-in-sun",
        "rating-odd",
        "warning",
        edits=(Edit("max_input_voltage: 100 V", "max_input_voltage: 1000 V"),),
    ),
    PlanMutation(
        "a branch connector of 300 A",
        "portable-two-on-a-box",
        "rating-odd",
        "warning",
        edits=(Edit("branch-connector, rating: 30 A", "branch-connector, rating: 300 A"),),
    ),
    PlanMutation(
        "a plug of 500 A",
        "teardrop-two-ways-in",
        "rating-odd",
        "warning",
        edits=(Edit("plug_rating: 50 A", "plug_rating: 500 A"),),
    ),
    PlanMutation(
        "a fuse of 100 A before a starter of 250 A",
        "boat-relay-and-bilge-pump",
        "cranking-cut-short",
        "warning",
        edits=(
            Edit(
                "enclosed: true, inline: [engine-off]}",
                "enclosed: true, inline: [{crank-fuse: {from_end: from, distance: 0 cm}}, "
                "engine-off]}",
            ),
        ),
        more="""\
fuses:
  crank-fuse: {rating: 100 A, style: stud-mounted, voltage: 58 V, interrupt: 10 kA, dc: true}
""",
    ),
    PlanMutation(
        "a starter on a lithium pack of 120 A",
        "boat-lithium-behind-charger",
        "cranking-cut-short",
        "warning",
        edits=(Edit("cranking: {from: start, to: starter", "cranking: {from: house, to: starter"),),
    ),
    PlanMutation(
        "a controller that does not block at night",
        "portable-pair-pulse-width",
        "controller-drains-at-night",
        "note",
        edits=(Edit("blocks_reverse: true", "blocks_reverse: false"),),
    ),
    PlanMutation(
        "a folding module with flat pins beside one on the roof",
        "teardrop-two-ways-in",
        "portable-plug-live",
        "warning",
        edits=(
            Edit(
                "fixed-lead: {from: fixed, to: fixed-tracker.pv",
                "fixed-lead: {from: both, to: fixed-tracker.pv",
            ),
            Edit(
                "folding-lead: {from: folding, to: folding-tracker.pv, cable: sun, "
                "length: 6 m, place: [campsite, galley], plug: genderless-50, plug_rating: 50 A}",
                "folding-lead: {from: folding, to: both, cable: sun, length: 6 m, place: "
                "campsite, plug: flat-two-pin}",
            ),
        ),
        less=(
            "controllers.folding-tracker",
            "fuses.folding-fuse",
            "wires.folding-charge",
        ),
        more="""\
combiners:
  both: {joins: [fixed, folding], rating: 30 A, voltage: 100 V}
""",
    ),
    PlanMutation(
        "lamps between the middle of a bank and its top, unfused",
        "trailer-two-in-series",
        "load-on-half-bank",
        "warning",
        edits=(
            Edit(
                "lamp-run: {from: step-down.output, to: lamps, cable: lamp, length: 3 m, "
                "place: box}",
                "lamp-plus: {from: upper.positive, to: lamps.positive, cable: lamp, "
                "length: 3 m, place: box}\n"
                "  lamp-minus: {from: lamps.negative, to: lower.positive, "
                "cable: lamp, length: 3 m, place: box}",
            ),
        ),
    ),
    PlanMutation(
        "the tracker's negative at the middle of a bank",
        "trailer-two-in-series",
        "charge-voltage-wrong",
        "error",
        edits=(
            Edit(
                "charge-minus: {from: tracker.battery.negative, to: lower.negative",
                "charge-minus: {from: tracker.battery.negative, to: lower.positive",
            ),
        ),
    ),
    PlanMutation(
        "the link of a bank in series of a lamp's wire",
        "trailer-two-in-series",
        "fuse-over-conductor",
        "error",
        edits=(
            Edit(
                "middle: {from: upper.negative, to: lower.positive, cable: main",
                "middle: {from: upper.negative, to: lower.positive, cable: lamp",
            ),
        ),
    ),
    PlanMutation(
        "a bank in series of unlike batteries",
        "trailer-two-in-series",
        "unlike-batteries-joined",
        "error",
        edits=(
            Edit(
                "lower: {chemistry: agm, nominal: 12 V, capacity: 120 Ah",
                "lower: {chemistry: agm, nominal: 12 V, capacity: 70 Ah",
            ),
        ),
    ),
    PlanMutation(
        "the chassis tied to the middle of a bank",
        "trailer-two-in-series",
        "positive-bonded",
        "error",
        edits=(
            Edit(
                "tie: {from: lower.negative, to: chassis", "tie: {from: lower.positive, to: chassis"
            ),
        ),
    ),
    PlanMutation(
        "a main switch of 32 V in 48 V",
        "van-forty-eight-volt",
        "device-not-for-dc",
        "error",
        edits=(
            Edit(
                "main-off: {rating: 200 A, voltage: 96 V", "main-off: {rating: 200 A, voltage: 32 V"
            ),
        ),
    ),
    PlanMutation(
        "a lithium pack of 15 cells charged as one of 16",
        "van-forty-eight-volt",
        "charge-voltage-wrong",
        "error",
        edits=(Edit("max_charge_voltage: 58.4 V", "max_charge_voltage: 54.7 V"),),
    ),
    PlanMutation(
        "inverter's negative over the thin feed of a panel",
        "boat-selector-and-starter",
        "negative-smaller-than-positive",
        "error",
        more="""\
inverters:
  inv: {power: 800 W, nominal: 12 V}
fuses:
  inv-fuse: {rating: 125 A, style: stud-mounted, voltage: 58 V, dc: true, interrupt: 10 kA}
wires:
  inv-plus: {from: second.positive, to: inv.positive, cable: crank, length: 1 m,
          place: battery-box, inline: [{inv-fuse: {from_end: from, distance: 0 cm}}]}
  inv-minus: {from: inv.negative, to: board.negative, cable: crank, length: 1 m, place: battery-box}
""",
        any_body=False,
    ),
    PlanMutation(
        "the array's clips and the battery's of one kind",
        "portable-pair-pulse-width",
        "plugs-alike",
        "warning",
        edits=(
            Edit(
                "clip-run: {from: regulator.battery, to: crate, cable: lead, length: 1 m, "
                "place: tent,",
                "clip-run: {from: regulator.battery, to: crate, cable: lead, length: 1 m, "
                "place: tent, plug: genderless-50, plug_rating: 50 A,",
            ),
        ),
    ),
    PlanMutation(
        "the fuse of each pack a metre from its post",
        "cabin-packs-iec",
        "pack-fuse-unfit",
        "error",
        edits=(Edit("fuse: pack-fuse, distance: 0 cm", "fuse: pack-fuse, distance: 1 m"),),
        any_body=False,
    ),
    PlanMutation(
        "a cigar plug behind a converter of 40 A",
        "van-forty-eight-volt",
        "device-behind-larger-fuse",
        "error",
        edits=(
            Edit(
                "cable: six, length: 1 m, place: garage",
                "cable: six, length: 1 m, place: garage, plug: cigar, plug_rating: 10 A",
            ),
        ),
    ),
    PlanMutation(
        "a capacity in watt hours",
        "van-in-sun",
        "battery-label-odd",
        "note",
        edits=(Edit("capacity: 100 Ah", "capacity: 1280 Ah"),),
    ),
    PlanMutation(
        "cable of a building in sun and rain",
        "portable-pair-pulse-width",
        "cable-not-for-outdoors",
        "warning",
        edits=(
            Edit(
                "lead: {type: H1Z2Z2-K, size: 4 mm², material: copper}",
                "lead: {kind: building, size: 4 mm², material: copper, strands: fine}",
            ),
        ),
    ),
    PlanMutation(
        "glass fuses on the posts of packs",
        "cabin-packs-nec-2023",
        "pack-fuse-unfit",
        "warning",
        edits=(
            Edit(
                "pack-fuse: {rating: 60 A, voltage: 125 V, style: class-t, interrupt: 20 kA, "
                "dc: true}",
                "pack-fuse: {rating: 60 A, style: glass, interrupt: 20 kA}",
            ),
        ),
    ),
    PlanMutation(
        "two packs on leads of 80 cm and 4 m",
        "boat-two-packs-two-trackers",
        "parallel-paths-unequal",
        "note",
        edits=(
            Edit(
                "second-run: {from: second-pack, to: bar, cable: main, length: 80 cm",
                "second-run: {from: second-pack, to: bar, cable: main, length: 4 m",
            ),
        ),
    ),
    PlanMutation(
        "a body bond thinner than its fuse needs",
        "van-body-bonds-at-both-ends",
        "bond-too-small",
        "warning",
        edits=(
            Edit(
                "body: {from: minus-bar.negative, to: chassis, cable: c50",
                "body: {from: minus-bar.negative, to: chassis, cable: c2",
            ),
        ),
        any_body=False,
    ),
    PlanMutation(
        "insulation of 105 degrees Fahrenheit",
        "van-body-bonds-at-both-ends",
        "insulation-temperature-odd",
        "warning",
        edits=(
            Edit(
                "c50: {size: 50 mm², kind: battery, material: copper, strands: fine, "
                "insulation_temperature: 105 °C",
                "c50: {size: 50 mm², kind: battery, material: copper, strands: fine, "
                "insulation_temperature: 105 °F",
            ),
        ),
    ),
    PlanMutation(
        "a digit too many in a current",
        "van-body-bonds-at-both-ends",
        "module-fill-factor-odd",
        "error",
        edits=(Edit("isc: 9.4 A", "isc: 94 A"),),
    ),
    PlanMutation(
        "a tie to earth of 18 AWG",
        "cabin-three-packs-two-arrays",
        "bond-too-small",
        "warning",
        edits=(Edit("bond-6: {type: THWN-2, size: 6 AWG", "bond-6: {type: THWN-2, size: 18 AWG"),),
    ),
    PlanMutation(
        "one of three packs without its fuse",
        "cabin-three-packs-two-arrays",
        "battery-fuse-missing",
        "error",
        edits=(Edit(", inline: [{pack-3-fuse: {from_end: from, distance: 5 cm}}]", ""),),
    ),
    PlanMutation(
        "an engine that charges a far bank bare",
        "boat-thruster-and-windlass",
        "battery-fuse-missing",
        "error",
        edits=(
            Edit(
                "alternator-run: {from: alternator, to: start,",
                "alternator-run: {from: alternator, to: house,",
            ),
            Edit(
                ", enclosed: true, inline: [{alternator-fuse: {from_end: to, distance: 5 cm}}]",
                ", enclosed: true",
            ),
        ),
    ),
    PlanMutation(
        "a thruster on 8 AWG",
        "boat-thruster-and-windlass",
        "conductor-too-small",
        "error",
        edits=(Edit("to: thruster, cable: m-4-0", "to: thruster, cable: m-8"),),
    ),
    PlanMutation(
        "a thruster behind half its fuse",
        "boat-thruster-and-windlass",
        "fuse-under-load",
        "warning",
        edits=(Edit("thruster-fuse: {rating: 300 A", "thruster-fuse: {rating: 150 A"),),
    ),
    PlanMutation(
        "a windlass behind a switch of 60 A",
        "boat-thruster-and-windlass",
        "switch-not-load-break",
        "error",
        edits=(
            Edit(
                "inline: [{windlass-breaker",
                "inline: [anchor-off, {windlass-breaker",
            ),
            Edit(
                "switches:\n", "switches:\n  anchor-off: {rating: 60 A, voltage: 48 V, dc: true}\n"
            ),
        ),
    ),
    PlanMutation(
        "a charger set as low as a battery at rest",
        "boat-thruster-and-windlass",
        "charge-voltage-wrong",
        "warning",
        edits=(
            Edit(
                "max_output_current: 50 A, charge_voltage: 28.8 V",
                "max_output_current: 50 A, charge_voltage: 24.6 V",
            ),
        ),
    ),
    PlanMutation(
        "a fuse of 6 V on load terminals",
        "cabin-pulse-width-gel",
        "device-not-for-dc",
        "error",
        edits=(
            Edit(
                "lamp-fuse: {rating: 10 A, style: blade, voltage: 32 V",
                "lamp-fuse: {rating: 10 A, style: blade, voltage: 6 V",
            ),
        ),
    ),
    PlanMutation(
        "a panel of 6 V behind a converter",
        "van-forty-eight-volt",
        "device-not-for-dc",
        "error",
        edits=(Edit("panel: {rating: 60 A, voltage: 32 V", "panel: {rating: 60 A, voltage: 6 V"),),
    ),
    PlanMutation(
        "an arc device of a third of the current",
        "cabin-arc-device",
        "switch-not-load-break",
        "error",
        edits=(Edit("arc-guard: {rating: 20 A", "arc-guard: {rating: 2 A"),),
    ),
    PlanMutation(
        "an alternator that boils what is behind its isolator",
        "boat-isolator-abyc-e11",
        "charge-voltage-wrong",
        "error",
        edits=(
            Edit(
                "max_output_current: 90 A, charge_voltage: 14.4 V",
                "max_output_current: 90 A, charge_voltage: 16.6 V",
            ),
        ),
    ),
    PlanMutation(
        "a compressor on 15 cm of bare wire",
        "van-body-bonds-at-both-ends",
        "battery-fuse-missing",
        "error",
        more="""\
loads:
  compressor: {current: 30 A, nominal: 12 V}
wires:
  air-plus: {from: house.positive, to: compressor.positive, cable: c6, length: 15 cm}
  air-minus: {from: minus-bar.negative, to: compressor.negative, cable: c6, length: 15 cm}
""",
    ),
    # What a switch takes away, or does not, and what pumps in a circle.
    PlanMutation(
        "tracker past a relay of the management",
        "boat-lithium-behind-charger",
        "management-bypassed",
        "warning",
        edits=(Edit("inline: [{out-fuse", "inline: [charge-relay, {out-fuse"),),
        more="switches:\n  charge-relay: {rating: 60 A, dc: true, opened_by: house}\n",
    ),
    PlanMutation(
        "tracker on the post of a pack with a relay",
        "cabin-three-packs-two-arrays",
        "management-bypassed",
        "warning",
        edits=(
            Edit(
                "inline: [{pack-1-fuse: {from_end: from, distance: 5 cm}}]",
                "inline: [{pack-1-fuse: {from_end: from, distance: 5 cm}}, pack-relay]",
            ),
            Edit(
                "roof-plus: {from: roof-tracker.battery.positive, to: plus.positive",
                "roof-plus: {from: roof-tracker.battery.positive, to: pack-1.positive",
            ),
        ),
        more="switches:\n  pack-relay: {rating: 150 A, dc: true, opened_by: pack-1}\n",
    ),
    PlanMutation(
        "tracker behind the relay that saves the bank",
        "motorhome-low-voltage-cut",
        "low-voltage-switch-stops-charge",
        "warning",
        edits=(Edit("from: tracker.battery, to: bank", "from: tracker.battery, to: board"),),
    ),
    PlanMutation(
        "charger on the lamp's side of a low-voltage switch",
        "vehicle-low-voltage-switch",
        "low-voltage-switch-stops-charge",
        "note",
        edits=(Edit("from: house, to: lamp,", "from: house, to: stud,"),),
        more="""\
chargers:
  shore: {kind: shore, max_output_current: 8 A, charge_voltage: 14.4 V, place: cabin}
busbars:
  stud: {rating: 50 A, voltage: 32 V}
wires:
  shore-run: {from: shore, to: stud, cable: wire-12, length: 1 m, place: cabin}
  lamp-branch: {from: stud, to: lamp, cable: wire-12, length: 1 m, place: cabin}
""",
    ),
    PlanMutation(
        "heater behind a low-voltage switch",
        "cabin-heated-battery",
        "charge-below-freezing",
        "warning",
        edits=(
            Edit(
                "inline: [{mat-fuse: {from_end: from, distance: 0 cm}}",
                "inline: [{mat-fuse: {from_end: from, distance: 0 cm}}, low-off",
            ),
        ),
        more="switches:\n  low-off: {rating: 40 A, dc: true, opens_below: 12 V}\n",
    ),
    PlanMutation(
        "heater behind the main switch, and the sun past it",
        "cabin-heated-battery",
        "charge-below-freezing",
        "warning",
        edits=(Edit("from: house, to: mat", "from: bar, to: mat"),),
        more="""\
switches:
  main-off: {rating: 100 A, voltage: 32 V, dc: true, load_break: true}
fuses:
  main-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
busbars:
  bar: {rating: 100 A, voltage: 48 V}
wires:
  main-run: {from: house, to: bar, cable: batt-6, length: 1 m, place: cabin,
             inline: [{main-fuse: {from_end: from, distance: 0 cm}}, main-off]}
""",
    ),
    PlanMutation(
        "heater hotter than the cells stand",
        "cabin-heated-battery",
        "battery-too-hot",
        "warning",
        edits=(Edit("keeps: 5 °C", "keeps: 60 °C"),),
    ),
    PlanMutation(
        "maintainer from house to start beside a vehicle charger",
        "van-charger-with-solar-input",
        "vehicle-charger-input-wrong",
        "warning",
        more="""\
converters:
  maintainer: {input_nominal: 12 V, output_nominal: 12 V, max_output_current: 5 A,
               charge_voltage: 13.8 V, place: seat-box}
wires:
  there: {from: house, to: maintainer.input, cable: feed, length: 1 m, place: seat-box}
  back: {from: maintainer.output, to: start, cable: feed, length: 4 m, place: [seat-box, bonnet]}
""",
    ),
    PlanMutation(
        "inverter under the floor, where spray reaches",
        "van-forty-eight-volt",
        "inverter-in-wet-place",
        "warning",
        edits=(Edit("garage: {ambient: 42 °C", "garage: {wet: true, ambient: 42 °C"),),
    ),
    PlanMutation(
        "inverter and charger in one case in the bilge",
        "boat-inverter-charger",
        "inverter-in-wet-place",
        "warning",
        edits=(Edit("cabin: {ambient: 35 °C", "cabin: {wet: true, ambient: 35 °C"),),
    ),
    PlanMutation(
        "inverter where the air is of 70 °C, its limit not told",
        "van-forty-eight-volt",
        "unit-too-hot",
        "warning",
        edits=(Edit("garage: {ambient: 42 °C", "garage: {ambient: 70 °C"),),
    ),
    PlanMutation(
        "wind generator behind the fuse of a lamp",
        "boat-wind-generator",
        "alternator-can-lose-battery",
        "warning",
        edits=(Edit("from: wind, to: house", "from: wind, to: lamp"),),
    ),
    PlanMutation(
        "fuse that opens below what the alternator gives",
        "boat-relay-and-bilge-pump",
        "alternator-can-lose-battery",
        "warning",
        edits=(Edit("alternator-fuse: {rating: 100 A", "alternator-fuse: {rating: 50 A"),),
    ),
    PlanMutation(
        "a switch in the lead of one string of two",
        "two-strings",
        "array-switch-missing",
        "warning",
        edits=(
            Edit("place: [roof, cabin],\n             inline: [pv-off]}", "place: [roof, cabin]}"),
        ),
        more="""\
wires:
  port-lead: {from: port, to: roof-joint, cable: pv-10, length: 1 m, place: roof, inline: [pv-off]}
""",
    ),
    PlanMutation(
        "the plus of a string at the earth, and nothing else",
        "two-strings",
        "positive-bonded",
        "warning",
        more="""\
bonds:
  rod: {from: port.positive, to: earth, cable: batt-6, length: 2 m}
""",
    ),
    PlanMutation(
        "both poles of an array at the chassis",
        "two-strings",
        "positive-bonded",
        "error",
        more="""\
bonds:
  plus: {from: roof-joint.positive, to: chassis, cable: batt-6, length: 2 m}
  minus: {from: tracker.pv.negative, to: chassis, cable: batt-6, length: 2 m}
""",
    ),
    PlanMutation(
        "a lost minus sign in the coldest air",
        "van",
        "coldest-air-odd",
        "warning",
        edits=(Edit("coldest: -18 °C,", "coldest: 18 °C, latitude: 47°,"),),
    ),
    PlanMutation(
        "a mean of winter in the south as the coldest air",
        "van",
        "coldest-air-odd",
        "warning",
        edits=(Edit("coldest: -18 °C,", "coldest: 48 °F, latitude: -44°,"),),
    ),
    PlanMutation(
        "a tracker in the rain",
        "cabin-pulse-width-gel",
        "charger-in-wet-place",
        "warning",
        edits=(Edit("common: negative, place: hut", "common: negative, place: roof"),),
    ),
    PlanMutation(
        "a folding module of made-up watts",
        "portable-suitcase",
        "module-power-per-area-odd",
        "warning",
        edits=(Edit("half-60: {pmax: 60 W,", "half-60: {pmax: 60 W, area: 1.9 ft²,"),),
    ),
    PlanMutation(
        "the voltage of the solar side read at the battery side",
        "van",
        "reading-battery-overcharged",
        "error",
        more="""\
readings:
  noon: {at: tracker.battery, voltage: 61.2 V, current: 4.8 A, stage: bulk}
""",
    ),
    PlanMutation(
        "thin wire between the negatives of two banks of which one is tied",
        "boat-thruster-and-windlass",
        "bond-too-small",
        "warning",
        edits=(Edit("to: start.negative, cable: m-2-0", "to: start.negative, cable: m-14"),),
    ),
    PlanMutation(
        "fuse of a converter too large and at the far end of its wire",
        "van-forty-eight-volt",
        "fuse-over-conductor",
        "error",
        edits=(
            Edit("step-fuse: {rating: 30 A", "step-fuse: {rating: 100 A"),
            Edit("{step-fuse: {from_end: from,", "{step-fuse: {from_end: to,"),
        ),
    ),
    PlanMutation(
        "charger behind a low-voltage relay in the minus",
        "motorhome-low-voltage-cut",
        "low-voltage-switch-stops-charge",
        "warning",
        edits=(
            Edit(
                "{living-fuse: {from_end: from, distance: 15 cm}}, saver]}",
                "{living-fuse: {from_end: from, distance: 15 cm}}], pole: positive}",
            ),
            Edit(
                "charge: {from: tracker.battery, to: bank,",
                "charge: {from: tracker.battery.positive, to: bank.positive,",
            ),
        ),
        more="""\
wires:
  living-minus: {from: board.negative, to: bank.negative, cable: feed, length: 4 m, place: garage,
                 inline: [saver]}
  charge-minus: {from: tracker.battery.negative, to: board.negative, cable: feed, length: 1 m,
                 place: garage}
""",
    ),
    PlanMutation(
        "a converter between two 24 V banks, back from what a vehicle charger fills",
        "truck-twenty-four-volt",
        "vehicle-charger-input-wrong",
        "warning",
        more="""\
converters:
  back: {input_nominal: 24 V, output_nominal: 24 V, max_output_current: 5 A, charge_voltage: 28 V,
         place: box}
wires:
  back-in: {from: plus, to: back.input, cable: small, length: 1 m, place: box}
  back-out: {from: back.output, to: starting, cable: small, length: 6 m, place: [box, frame]}
""",
    ),
    PlanMutation(
        "a vehicle charger in a circle through the main switch",
        "truck-twenty-four-volt",
        "vehicle-charger-input-wrong",
        "warning",
        edits=(Edit("cab-run: {from: starting", "cab-run: {from: living"),),
    ),
    PlanMutation(
        "what must not stop behind a converter behind the main switch",
        "truck-twenty-four-volt",
        "critical-load-can-be-cut-off",
        "note",
        edits=(
            Edit("lights: {current: 8 A, nominal: 12 V}", "lights: {current: 8 A, critical: true}"),
        ),
    ),
    PlanMutation(
        "string fuses in the earthed minus and no others",
        "cabin-four-strings-fused",
        "string-fuse-one-pole",
        "warning",
        edits=(
            Edit(", inline: [plus-1]", ""),
            Edit(", inline: [plus-2]", ""),
            Edit(", inline: [plus-3]", ""),
            Edit(", inline: [plus-4]", ""),
        ),
        less=("fuses.plus-1", "fuses.plus-2", "fuses.plus-3", "fuses.plus-4"),
        more="""\
bonds:
  rod: {from: bank.negative, to: earth, cable: main, length: 3 m}
""",
        any_body=False,
    ),
    PlanMutation(
        "the array's switch in the earthed minus alone",
        "cabin-four-strings-fused",
        "array-switch-one-pole",
        "warning",
        edits=(Edit("voltage: 500 V, dc: true, poles: 2", "voltage: 500 V, dc: true, poles: 1"),),
        less=("wires.trunk-run",),
        more="""\
bonds:
  rod: {from: bank.negative, to: earth, cable: main, length: 3 m}
wires:
  trunk-plus: {from: field-box.positive, to: tracker.pv.positive, cable: trunk, length: 14 m,
               place: [meadow, hut], run: conduit}
  trunk-minus: {from: field-box.negative, to: tracker.pv.negative, cable: trunk, length: 14 m,
                place: [meadow, hut], run: conduit, inline: [field-off]}
""",
    ),
    PlanMutation(
        "one of three packs that may give a fifth of its neighbours",
        "cabin-three-packs-two-arrays",
        "load-over-battery-discharge",
        "error",
        edits=(
            Edit(
                "pack-2: *p",
                "pack-2: {chemistry: lithium-iron-phosphate, nominal: 51.2 V, capacity: 100 Ah, "
                "max_charge_current: 50 A, max_discharge_current: 20 A, "
                "max_charge_voltage: 58.4 V, low_temperature_cutoff: true, "
                "short_circuit_current: 4 kA, place: plant}",
            ),
        ),
    ),
    PlanMutation(
        "16 AWG of a car behind 30 A",
        "van",
        "fuse-over-conductor",
        "error",
        more="""\
datasheets:
  cables:
    thin: {size: 16 AWG, kind: automotive, material: copper, insulation_temperature: 80 °C}
fuses:
  lamp-fuse: {rating: 30 A, voltage: 58 V, style: stud-mounted, interrupt: 10 kA, dc: true}
loads:
  lamp: {current: 2 A}
wires:
  lamp-run: {from: house, to: lamp, cable: thin, length: 3 m, place: cabin,
             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}
""",
    ),
    PlanMutation(
        "a relay that opens above where it closes",
        "boat-relay-and-bilge-pump",
        "relay-voltage-odd",
        "warning",
        edits=(Edit("closes_above: 13.3 V", "closes_above: 13.3 V, opens_below: 13.6 V"),),
    ),
    PlanMutation(
        "a fuse of 16 V on a bank of 24 V whose tracker is set for 12 V",
        "boat-twenty-four-volt",
        "device-not-for-dc",
        "error",
        edits=(
            Edit("charge_voltage: 28.8 V", "charge_voltage: 14.4 V"),
            Edit("float_voltage: 27.2 V", "float_voltage: 13.6 V"),
            Edit(
                "main-fuse: {rating: 125 A, style: stud-mounted, voltage: 58 V",
                "main-fuse: {rating: 125 A, style: stud-mounted, voltage: 16 V",
            ),
        ),
    ),
    PlanMutation(
        "40 mΩ inside lithium, and a fuse that breaks 1 kA",
        "van",
        "fuse-interrupt-low",
        "error",
        edits=(
            Edit(
                "max_charge_voltage: 14.6 V",
                "max_charge_voltage: 14.6 V, internal_resistance: 40 mΩ",
            ),
            Edit("interrupt: 20 kA", "interrupt: 1 kA"),
        ),
    ),
    PlanMutation(
        "1000 A into a short from 300 Ah of lithium",
        "van",
        "battery-label-odd",
        "note",
        edits=(Edit("capacity: 100 Ah", "capacity: 300 Ah, short_circuit_current: 1000 A"),),
    ),
    PlanMutation(
        "a power box that charges on in frost",
        "portable-box-iec",
        "charge-below-freezing",
        "warning",
        edits=(Edit("load_current: 10 A", "load_current: 10 A, low_temperature_cutoff: false"),),
    ),
    PlanMutation(
        "a converter that takes all of an alternator",
        "alternator",
        "alternator-overloaded",
        "error",
        edits=(
            Edit("to: twin.alternator,", "to: twin.input,"),
            Edit("from: twin.battery,", "from: twin.output,"),
        ),
        less=("controllers",),
        more="""\
converters:
  twin: {input_nominal: 12 V, output_nominal: 12 V, max_output_current: 80 A,
         max_input_current: 100 A, charge_voltage: 14.2 V}
""",
    ),
    PlanMutation(
        "a refrigerator on the starting battery",
        "alternator",
        "starting-battery-drained",
        "note",
        more="""\
fuses:
  cold-fuse: {rating: 15 A, voltage: 58 V, interrupt: 10 kA, style: stud-mounted, dc: true}
loads:
  cold-box: {current: 5 A, nominal: 12 V}
wires:
  cold-run: {from: start, to: cold-box, cable: flex-16, length: 2 m, place: bay,
             inline: [{cold-fuse: {from_end: from, distance: 10 cm}}]}
""",
    ),
    PlanMutation(
        "one module that starts its tracker only in the cold",
        "van-two-modules",
        "tracker-will-not-start",
        "warning",
        edits=(
            Edit("series: 2", "series: 1"),
            Edit("charge_voltage: 14.2 V", "charge_voltage: 14.2 V, start_above_battery: 9 V"),
        ),
    ),
    PlanMutation(
        "PV cable that is not for outdoors",
        "van-in-sun",
        "cable-not-for-outdoors",
        "note",
        edits=(Edit("outdoor: true", "outdoor: false"),),
    ),
    PlanMutation(
        "a wire of 0.5 mm² to the body, behind 25 A",
        "van-chassis-returns",
        "negative-smaller-than-positive",
        "error",
        edits=(
            Edit("lamps: {fuse: 10 A", "lamps: {fuse: 25 A"),
            Edit(
                "lamp-back: {from: lamps.negative, to: chassis, cable: lamp",
                "lamp-back: {from: lamps.negative, to: chassis, cable: back",
            ),
        ),
        more="""\
datasheets:
  cables:
    back: {type: FLRY-B, size: 0.5 mm², material: copper}
""",
    ),
]
