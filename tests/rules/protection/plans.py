"""Plans and helpers that several tests of this room start from."""

from __future__ import annotations

from plans import edited
from rule_runs import RULES

SMALL = "string-fuse-too-small"
CONDUCTOR = "fuse-over-conductor"
FUSED = RULES.rules[SMALL].sound
"""Three strings at a joint, 6 A each, label 15 A, a fuse in each."""
CHARGE = RULES.rules[CONDUCTOR].sound
"""One string, a tracker, a 40 A fuse at the bank, 8 AWG."""


def packs(number: int, rating: int, cable: str, rest: str, families: str = "") -> str:
    """Lithium packs in parallel on a bar, each with a fuse at its post; and what hangs on it."""
    numbers = range(1, number + 1)
    battery = (
        "{chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah, "
        "max_charge_current: 50 A, max_charge_voltage: 14.6 V}"
    )
    fuse = f"{{rating: {rating} A, voltage: 125 V, style: class-t, dc: true}}"
    banks = "".join(f"  pack-{n}: {battery}\n" for n in numbers)
    fuses = "".join(f"  fuse-{n}: {fuse}\n" for n in numbers)
    leads = "".join(
        f"  pack-run-{n}: {{from: pack-{n}, to: bar, cable: {cable}, length: 1 m, place: cabin, "
        f"inline: [{{fuse-{n}: {{from_end: from, distance: 10 cm}}}}]}}\n"
        for n in numbers
    )
    kind = "kind: battery, material: copper, insulation_temperature: 105 °C, voltage: 600 V"
    return f"""\
wattproof: 1
setting: vehicle
code: nec-2023
site: {{places: {{cabin: {{ambient: 30 °C}}}}}}
datasheets:
  cables:
    b-2-0: {{size: 2/0 AWG, {kind}}}
    b-4: {{size: 4 AWG, {kind}}}
    b-8: {{size: 8 AWG, {kind}}}
    b-14: {{size: 14 AWG, {kind}}}
batteries:
{banks}busbars:
  bar: {{rating: 300 A}}
{families}loads:
  lamp: {{current: 5 A}}
fuses:
{fuses}  lamp-fuse: {{rating: 10 A, voltage: 32 V, style: blade}}
wires:
{leads}{rest}"""


PANEL = """\
distribution:
  panel: {rating: 100 A, voltage: 32 V, ways: {lights: {fuse: 10 A}, pump: {fuse: 30 A}}}
"""
PANEL_WIRES = """\
  feed: {from: bar, to: panel, cable: b-8, length: 40 cm, place: cabin}
  lamp-run: {from: panel.lights, to: lamp, cable: b-14, length: 2 m, place: cabin}
  spare-run: {from: panel.pump, to: lamp, cable: b-14, length: 2 m, place: cabin}
"""


def panel(*edits: tuple[str, str]) -> str:
    plan = packs(2, 60, "b-2-0", PANEL_WIRES, PANEL)
    plan = plan.replace("  lamp-fuse: {rating: 10 A, voltage: 32 V, style: blade}\n", "")
    plan = plan.replace("loads:\n", "loads:\n  pump: {current: 8 A}\n")
    return edited(("panel.pump, to: lamp", "panel.pump, to: pump"), *edits, plan=plan)


def on_selector(*edits: tuple[str, str]) -> str:
    """Two banks with 300 A each on a selector, and a bar of 400 A behind it.

    On the bar hang 250 A of an inverter, 80 A of a panel, and 200 A of an alternator that charges.
    """
    kind = "kind: battery, material: copper, insulation_temperature: 105 °C, voltage: 600 V"
    fuse = "style: class-t, voltage: 125 V, interrupt: 20 kA, dc: true"
    return edited(*edits, plan=f"""\
wattproof: 1
setting: vehicle
code: abyc-e11
datasheets:
  cables:
    g4-0: {{size: 4/0 AWG, {kind}}}
    g2: {{size: 2 AWG, {kind}}}
selectors:
  one-two: {{rating: 400 A, voltage: 32 V, dc: true, both: true, make_before_break: true}}
fuses:
  first-fuse: {{rating: 300 A, {fuse}}}
  second-fuse: {{rating: 300 A, {fuse}}}
  mains-fuse: {{rating: 250 A, {fuse}}}
  charge-fuse: {{rating: 200 A, {fuse}}}
  panel-fuse: {{rating: 80 A, {fuse}}}
batteries:
  first: {{chemistry: agm, nominal: 12 V, capacity: 200 Ah}}
  second: {{chemistry: agm, nominal: 12 V, capacity: 200 Ah}}
chargers:
  alternator: {{kind: alternator, max_output_current: 140 A, charge_voltage: 14.4 V}}
inverters:
  mains: {{power: 2000 W, nominal: 12 V}}
loads:
  lights: {{current: 20 A, nominal: 12 V}}
busbars:
  plus: {{rating: 400 A, voltage: 48 V}}
  minus: {{rating: 700 A, voltage: 48 V}}
wires:
  first-run: {{from: first.positive, to: one-two.1.positive, cable: g4-0, length: 1 m,
               inline: [{{first-fuse: {{from_end: from, distance: 10 cm}}}}]}}
  second-run: {{from: second.positive, to: one-two.2.positive, cable: g4-0, length: 1 m,
                inline: [{{second-fuse: {{from_end: from, distance: 10 cm}}}}]}}
  first-back: {{from: first.negative, to: minus.negative, cable: g4-0, length: 1 m}}
  second-back: {{from: second.negative, to: minus.negative, cable: g4-0, length: 1 m}}
  common-run: {{from: one-two.common.positive, to: plus.positive, cable: g4-0, length: 1 m}}
  mains-run: {{from: plus.positive, to: mains.positive, cable: g4-0, length: 1 m,
               inline: [{{mains-fuse: {{from_end: from, distance: 10 cm}}}}]}}
  mains-back: {{from: mains.negative, to: minus.negative, cable: g4-0, length: 1 m}}
  charge-run: {{from: alternator.positive, to: plus.positive, cable: g4-0, length: 4 m,
                inline: [{{charge-fuse: {{from_end: to, distance: 10 cm}}}}]}}
  charge-back: {{from: alternator.negative, to: minus.negative, cable: g4-0, length: 4 m}}
  panel-run: {{from: plus.positive, to: lights.positive, cable: g2, length: 1 m,
               inline: [{{panel-fuse: {{from_end: from, distance: 10 cm}}}}]}}
  panel-back: {{from: lights.negative, to: minus.negative, cable: g2, length: 1 m}}
""")  # fmt: skip
