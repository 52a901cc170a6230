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
