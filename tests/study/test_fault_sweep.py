"""The fault sweep: what each source drives into a short in each stretch, and what clears it."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import pytest

from found import found_alone
from plans import BASE, EXAMPLES, array_plan, data_of, edited, text_of
from wattproof.packs import discover
from wattproof.study import Study
from wattproof.study.protection.fault_sweep import Fault
from wattproof.testing import study_of
from wattproof.working import steps

SOUND = sorted(EXAMPLES.glob("*.yaml"))
RULES = discover()


def faults(text: str) -> dict[str, Fault]:
    return {f.name: f for f in study_of(text).protection.fault_sweep.faults}


def bank_current(text: str, stretch: str) -> float:
    feed = next(f for f in faults(text)[stretch].feeds if f.stiff)
    assert feed.prospective is not None
    return feed.prospective.number


def prospective_current(emf: float, inner: float, poles: list[float]) -> float:
    """Ohm's law by hand (A): an emf (V) behind resistances in series (Ω)."""
    return emf / (inner + sum(poles))


class TestBanks:
    def test_ohms_law_by_hand(self) -> None:
        """6000 A at 13.4 V is 2.233 mΩ; 1 m of 8 AWG is 2.099 mΩ a pole at 20 °C."""
        text = edited(("max_charge_current: 50 A", "short_circuit_current: 6 kA"))
        inner = 13.4 / 6000
        pole = 0.778 / 304.8 * (1 + 0.00323 * (20 - 75))
        assert pole == pytest.approx(2.099e-3, abs=2e-5)
        far = prospective_current(13.4, inner, [pole, pole])
        near = prospective_current(13.4, inner, [pole * 0.1, pole * 0.1])
        assert bank_current(text, "charge-run part 1") == pytest.approx(near, rel=1e-6)
        assert far < near < 6000
        assert bank_current(text, "charge-run part 2") == pytest.approx(6000)

    def test_of_one_bank_the_working_is_ohms_law_and_no_network(self) -> None:
        for stretch in ("charge-run part 1", "charge-run part 2"):
            feed = next(f for f in faults(BASE)[stretch].feeds if f.stiff)
            assert feed.prospective is not None
            assert not any("network" in step.formula for step in steps(feed.prospective))

    @pytest.mark.parametrize(
        ("fields", "amps"),
        [
            ("short_circuit_current: 6 kA", 6000.0),
            ("internal_resistance: 4 mΩ", 3350.0),
            ("short_circuit_current: 6 kA, arrangement: 3p", 18_000.0),
            ("short_circuit_current: 6 kA, arrangement: 2s", 6000.0),
        ],
    )
    def test_parallel_adds_and_series_does_not(self, fields: str, amps: float) -> None:
        study = study_of(edited(("max_charge_current: 50 A", fields)))
        [bank] = study.battery.banks
        assert study.wiring.network.inside.short_circuit(bank).number == pytest.approx(amps)

    @pytest.mark.parametrize(
        ("chemistry", "amps"),
        [("lithium-iron-phosphate", 3500.0), ("agm", 3000.0), ("flooded", 1500.0)],
    )
    def test_what_no_label_says_is_assumed_by_chemistry(self, chemistry: str, amps: float) -> None:
        study = study_of(edited(("lithium-iron-phosphate", chemistry)))
        [bank] = study.battery.banks
        value = study.wiring.network.inside.short_circuit(bank)
        assert value.number == pytest.approx(amps)
        assert {a.key for a in value.assumptions} == {"short-circuit current"}


class TestChassis:
    BOND = (
        "wires:\n",
        "bonds:\n  tie: {from: house.negative, to: chassis, cable: batt-8}\nwires:\n",
    )

    def test_a_bonded_negative_carries_a_positive_that_touches_the_chassis(self) -> None:
        """Through the chassis only the positive's own cable is in the way."""
        text = edited(("max_charge_current: 50 A", "short_circuit_current: 6 kA"), self.BOND)
        feed = next(f for f in faults(text)["charge-run part 1"].feeds if f.stiff)
        assert feed.to_chassis is not None
        assert feed.prospective is not None
        pole = 0.778 / 304.8 * (1 + 0.00323 * (20 - 75))
        near = prospective_current(13.4, 13.4 / 6000, [pole * 0.1])
        assert feed.to_chassis.number == pytest.approx(near, rel=1e-6)

    def test_a_floating_negative_has_none(self) -> None:
        assert all(f.to_chassis is None for f in faults(BASE)["charge-run part 1"].feeds)


class TestVerdicts:
    def verdicts(self, text: str, stretch: str) -> dict[str, str]:
        return {f.source: f.verdict for f in faults(text)[stretch].feeds}

    def test_the_fuse_at_the_battery_guards_what_lies_beyond(self) -> None:
        assert self.verdicts(BASE, "charge-run part 1") == {
            "house": "cleared",
            "tracker": "limited",
        }
        assert self.verdicts(BASE, "charge-run part 2") == {
            "house": "short enough",
            "tracker": "limited",
        }

    def test_a_fuse_that_is_too_large(self) -> None:
        text = edited(("charge-fuse: {rating: 40 A", "charge-fuse: {rating: 80 A"))
        assert self.verdicts(text, "charge-run part 1")["house"] == "too large"

    def test_modules_are_limited_to_their_current(self) -> None:
        assert self.verdicts(BASE, "home-run") == {"array at tracker": "limited"}

    def test_a_group_of_strings_is_fed_by_the_other_groups(self) -> None:
        strings = "".join(f"  s{i}: {{module: rigid-100}}\n" for i in range(8))
        joints = (
            "  left: {joins: [s0, s1, s2, s3], rating: 60 A}\n"
            "  right: {joins: [s4, s5, s6, s7], rating: 60 A}\n  joint: {rating: 90 A}\n"
        )
        wires = (
            "  left-lead: {from: left, to: joint, cable: pv-10, length: 1 m}\n"
            "  right-lead: {from: right, to: joint, cable: pv-10, length: 1 m}\n"
            "  home: {from: joint, to: tracker.pv, cable: pv-10, length: 1 m}\n"
        )
        found = faults(array_plan(strings, wires, joints))
        other = next(f for f in found["left-lead"].feeds if f.source.startswith("other"))
        assert other.sustained.number == pytest.approx(4 * 1.25 * 5.2)

    def test_two_wires_side_by_side_are_each_swept(self) -> None:
        wires = (
            "  one: {from: s, to: tracker.pv, cable: pv-10, length: 4 m}\n"
            "  two: {from: s, to: tracker.pv, cable: pv-10, length: 4 m}\n"
        )
        found = faults(array_plan("  s: {module: rigid-100}\n", wires))
        assert {"one", "two"} <= set(found)

    def test_every_stretch_of_every_example_has_a_verdict(self) -> None:
        for path in SOUND:
            study = Study(_circuit(path))
            names = {f.wire.name for f in study.protection.fault_sweep.faults}
            wires = {w.name for w in study.wiring.wires.values() if w.poles == 2}
            assert wires <= names, path.name
            for fault in study.protection.fault_sweep.faults:
                assert fault.feeds
                assert all(feed.why for feed in fault.feeds)


def _circuit(path: Path) -> Any:
    from wattproof.circuit import build_circuit
    from wattproof.plan import load_plan

    return build_circuit(load_plan(str(path)))


def _findings(plan: dict[str, Any]) -> set[tuple[str, tuple[str, ...]]]:
    result = found_alone("plan.yaml", text_of(plan), RULES)
    assert not result.failed
    return {(f.rule, f.subjects) for f in result.findings}


def _without(plan: dict[str, Any], device: str) -> dict[str, Any]:
    """The plan with a protective device taken out and its wire closed."""
    changed = copy.deepcopy(plan)
    for family in ("fuses", "breakers"):
        changed.get(family, {}).pop(device, None)
        if not changed.get(family, True):
            del changed[family]
    for battery in changed.get("batteries", {}).values():
        if battery.get("each_pack", {}).get("fuse") == device:
            del battery["each_pack"]
    readings = changed.pop("readings", {})
    changed["readings"] = {name: r for name, r in readings.items() if r["at"] != device}
    for wire in changed["wires"].values():
        kept = [
            i
            for i in wire.get("inline", [])
            if device not in (i, *(i if isinstance(i, dict) else ()))
        ]
        if "inline" in wire:
            wire["inline"] = kept
        if not wire.get("inline", True):
            del wire["inline"]
    return changed


CASES = [
    (path, device)
    for path in SOUND
    for family in ("fuses", "breakers")
    for device in data_of(path).get(family, {})
]


@pytest.mark.parametrize(("path", "device"), CASES, ids=lambda v: getattr(v, "stem", v))
def test_removing_any_protective_device_gives_a_new_finding(path: Path, device: str) -> None:
    plan = data_of(path)
    assert not _findings(plan)
    assert _findings(_without(plan, device))


SMALLER = {
    "awg": ["4/0", "3/0", "2/0", "1/0", "1", "2", "3", "4", "6", "8", "10", "12", "14", "16", "18"],
    "mm²": ["120", "95", "70", "50", "35", "25", "16", "10", "6", "4", "2.5", "1.5"],
}


def _two_sizes_smaller(size: str) -> str | None:
    number, unit = size.split()
    sizes = SMALLER["awg" if unit == "AWG" else "mm²"]
    place = sizes.index(number) + 2
    return f"{sizes[place]} {unit}" if place < len(sizes) else None


@pytest.mark.parametrize(
    "path", SOUND + sorted((EXAMPLES / "faulty").glob("*.yaml")), ids=lambda p: p.stem
)
def test_a_smaller_conductor_never_removes_a_finding(path: Path) -> None:
    plan = data_of(path)
    before = {(rule, on) for rule, on in _findings(plan)}
    for name in plan["datasheets"]["cables"]:
        changed = copy.deepcopy(plan)
        cable = changed["datasheets"]["cables"][name]
        smaller = _two_sizes_smaller(cable["size"])
        if smaller is None:
            continue
        cable["size"] = smaller
        after = {(rule, on[0]) for rule, on in _findings(changed)}
        assert {(rule, on[0]) for rule, on in before} <= after, name
