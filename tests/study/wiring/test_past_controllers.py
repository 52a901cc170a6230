"""What modules drive through the wires that lead them to a battery past any controller."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found
from wattproof.testing import study_of

PLAN = """\
wattproof: 1
setting: portable
code: nec-2023
datasheets:
  modules:
    folding: {voc: 17.5 V, vmp: 14 V, isc: 9.4 A, imp: 8.6 A, regulated: true}
  cables:
    lead: {size: 24 AWG, insulation_temperature: 90 °C, material: copper}
strings: {sheet: {module: folding, portable: true}}
fuses: {lead-fuse: {rating: 6 A, style: blade, voltage: 32 V, interrupt: 10 kA, dc: true}}
batteries: {house: {chemistry: flooded, nominal: 12 V, capacity: 100 Ah}}
wires:
  run: {from: sheet, to: house, cable: lead, length: 5 m,
        inline: [{lead-fuse: {from_end: to, distance: 5 cm}}]}
"""
UNREGULATED = (", regulated: true", "")


@pytest.mark.parametrize("edits", [(), (UNREGULATED,)])
def test_a_lead_carries_the_current_of_its_modules_in_bright_sun(
    edits: tuple[tuple[str, str], ...],
) -> None:
    """9.4 A by the label, and a quarter more in sun that clouds add to (NEC 690.8(A)(1))."""
    wire = study_of(edited(*edits, plan=PLAN)).wiring.wires["run"]
    assert wire.current is not None
    assert wire.current.number == pytest.approx(1.25 * 9.4)


def test_strings_side_by_side_add_up() -> None:
    wire = study_of(
        edited(("{module: folding,", "{module: folding, arrangement: 1s2p,"), plan=PLAN)
    ).wiring.wires["run"]
    assert wire.current is not None
    assert wire.current.number == pytest.approx(2 * 1.25 * 9.4)


def test_a_lead_that_is_too_thin_for_its_modules_is_found() -> None:
    """A regulated module of 120 W on 24 AWG was found sound behind a fuse of 6 A."""
    assert found(PLAN, "fuse-under-load")
    [large] = found(edited(("rating: 6 A", "rating: 15 A"), plan=PLAN), "conductor-too-small")
    assert large.level == "error"
    stout = edited(("24 AWG", "8 AWG"), ("rating: 6 A", "rating: 20 A"), plan=PLAN)
    assert not found(stout, "conductor-too-small")
    assert not found(stout, "fuse-under-load")


def test_what_is_lost_on_a_lead_is_told() -> None:
    [lost] = found(
        edited(("24 AWG", "14 AWG"), ("rating: 6 A", "rating: 15 A"), plan=PLAN),
        "voltage-drop-high",
    )
    assert "is lost between `sheet` and `house`" in lost.message
    assert "more way" not in lost.message


CORD_20 = 13.3e-3
"""Ω/m of 1.5 mm² of fine copper strands at 20 °C (IEC 60228 Table 3, class 5, bare)."""
HOT = 1.0 + 0.00393 * 50.0
"""Of copper at 70 °C to 20 °C (the coefficient of IEC 60228)."""


def test_what_is_lost_is_by_the_sun_of_the_label_and_a_controller_near_the_battery_helps() -> None:
    """Out and back. Where nothing regulates them what is lost is no matter."""
    cord = ("size: 24 AWG,", "size: 1.5 mm², strands: fine,")
    [path] = [p for p in study_of(edited(cord, plan=PLAN)).wiring.paths if p.origin == "sheet"]
    assert path.drop is not None
    assert path.drop.number == pytest.approx(9.4 * 10.0 * CORD_20 * HOT, rel=0.03)
    [lost] = found(edited(cord, ("length: 5 m", "length: 15 m"), plan=PLAN), "voltage-drop-high")
    assert "put a controller near `house`" in lost.remedy
    assert not found(edited(cord, UNREGULATED, plan=PLAN), "voltage-drop-high")


def test_a_plug_too_small_for_the_modules_is_found() -> None:
    plug = ("length: 5 m,", "length: 5 m, plug: cigar,"), ("rating: 6 A", "rating: 15 A")
    [small] = found(edited(*plug, plan=PLAN), "small-plug-overloaded")
    assert "11.8 A" in small.message


def test_a_string_on_a_controller_is_no_second_source() -> None:
    controlled = edited(
        ("wires:\n", "controllers: {ctl: {kind: pwm, max_output_current: 10 A}}\nwires:\n"),
        ("to: house, cable: lead, length: 5 m,", "to: ctl.pv, cable: lead, length: 5 m}"),
        (
            "        inline: [{lead-fuse: {from_end: to, distance: 5 cm}}]}",
            "  out: {from: ctl.battery, to: house, cable: lead, length: 1 m, inline: [lead-fuse]}",
        ),
        UNREGULATED,
        plan=PLAN,
    )
    study = study_of(controlled)
    assert [port.name for port in study.wiring.network.ports] == ["ctl"]


def test_the_fuse_of_a_small_module_is_small() -> None:
    """A fuse of 60 A was proposed, the most that a usual wire stands."""
    plan = """\
wattproof: 1
setting: boat
datasheets: {modules: {case: {pmax: 6 W, regulated: true}}}
strings: {sheet: {module: case, portable: true}}
batteries: {house: {chemistry: flooded, nominal: 12 V, capacity: 100 Ah}}
wires: {run: {from: sheet, to: house}}
"""
    [bare] = found(plan, "battery-fuse-missing")
    assert bare.remedy.startswith("put a fuse of 1 A (1 to 60 A will do)")


PUMP = """\
wattproof: 1
setting: cabin
code: iec
datasheets:
  modules: {m: {voc: 22 V, vmp: 18 V, isc: 6 A, imp: 5.6 A}}
  cables: {lead: {size: 0.75 mm², insulation_temperature: 90 °C, material: copper}}
strings: {left: {module: m, arrangement: 1s2p}, right: {module: m, arrangement: 1s2p}}
combiners: {joint: {joins: [left-run, right-run], kind: terminal-block, rating: 40 A}}
loads: {pump: {current: 6 A, nominal: 12 V, max_voltage: 30 V}}
wires:
  left-run: {from: left, to: joint, cable: lead, length: 1 m}
  right-run: {from: right, to: joint, cable: lead, length: 1 m}
  pump-run: {from: joint, to: pump, cable: lead, length: 3 m}
"""


def test_wires_to_a_pump_without_a_battery_bear_what_the_sun_drives() -> None:
    """No fuse opens at what modules give into a short (IEC 62548): 6 A each, and a quarter more."""
    wires = study_of(PUMP).wiring.wires
    amps = {name: wire.current for name, wire in wires.items()}
    assert all(each is not None for each in amps.values())
    numbers = {name: each.number for name, each in amps.items() if each is not None}
    assert numbers["left-run"] == pytest.approx(2 * 1.25 * 6)
    assert numbers["pump-run"] == pytest.approx(4 * 1.25 * 6)
    assert {f.subjects[0] for f in found(PUMP, "conductor-too-small")} >= {"pump-run"}
    assert not found(PUMP.replace("0.75 mm²", "4 mm²"), "conductor-too-small")
