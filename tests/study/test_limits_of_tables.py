"""Limits of small tables of common practice, each at the limit itself and beside it."""

from __future__ import annotations

import pytest

from plans import BASE, array_plan, edited
from rule_runs import found
from rules.protection.plans import CHARGE, FUSED
from wattproof.circuit import Passage
from wattproof.study.array import arrays
from wattproof.study.array.string_fuses import FuseWindow
from wattproof.study.protection.answers import names_of
from wattproof.testing import study_of
from wattproof.working import Value, tabled

BARE = "voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true"


@pytest.mark.parametrize(
    ("rating", "amps"), [("40 A", 1000.0), ("41 A", 2000.0), ("100 A", 2000.0), ("101 A", 6000.0)]
)
def test_what_a_fuse_of_no_known_style_breaks_by_its_size(rating: str, amps: float) -> None:
    plan = edited((f"rating: 40 A, {BARE}", f"rating: {rating}, voltage: 58 V, dc: true"))
    [duty] = [d for d in study_of(plan).protection.duties if d.name == "charge-fuse"]
    assert duty.interrupt is not None
    assert duty.interrupt.number == amps


@pytest.mark.parametrize(("volts", "told"), [("109 V", False), ("110 V", True)])
def test_a_voltage_from_which_a_switch_may_be_one_for_mains(volts: str, told: bool) -> None:
    plan = edited(("voltage: 150 V, dc: true, poles: 2", f"voltage: {volts}, poles: 2"),
                  plan=CHARGE)  # fmt: skip
    assert bool(found(plan, "device-not-for-dc")) is told


def test_devices_are_listed_as_a_sentence_lists_them() -> None:
    fuses = "".join(f"  f{n}: {{rating: 40 A, {BARE}}}\n" for n in (1, 2, 3))
    inline = ", ".join(f"{{f{n}: {{from_end: from, distance: {n}0 cm}}}}" for n in (1, 2, 3))
    plan = edited(
        (f"  charge-fuse: {{rating: 40 A, {BARE}}}\n", fuses),
        ("inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]", f"inline: [{inline}]"),
        plan=BASE,
    )
    passages = {e.name: e for e in study_of(plan).circuit.elements if isinstance(e, Passage)}
    for count, words in ((0, ""), (1, "`f1`"), (2, "`f1` and `f2`"), (3, "`f1`, `f2` and `f3`")):
        assert names_of(passages[f"f{n + 1}"] for n in range(count)) == words
    assert names_of([passages["f1"], passages["f1"]]) == "`f1`"


LINKED = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -10 °C, hottest: 40 °C, places: {cabin: {ambient: 35 °C}}}
datasheets:
  cables:
    bank-1: {size: 1 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
fuses:
  main: {rating: 100 A, voltage: 58 V, style: class-t, interrupt: 20 kA, dc: true}
batteries:
  left: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, short_circuit_current: 3 kA}
  right: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, short_circuit_current: 3 kA}
wires:
  link: {from: left, to: right, cable: bank-1, length: 2 m, place: cabin,
         inline: [{main: {from_end: from, distance: 1 m}}]}
"""


def test_a_fuse_halfway_between_two_banks_belongs_to_neither() -> None:
    """It is too far from the one that it is said of; nearer to one, it is that one's."""
    [halfway] = found(LINKED, "battery-fuse-missing")
    assert "`main` is 1 m from `left`" in halfway.message
    [nearer] = found(LINKED.replace("distance: 1 m", "distance: 80 cm"), "battery-fuse-missing")
    assert "only `main`, the device of `left`, guards 1.2 m" in nearer.message


LARGE = "    rigid-100: {"
TWO_KINDS = edited(
    (LARGE, f"    rigid-60: {{voc: 24.3 V, vmp: 20.0 V, isc: 3.2 A, imp: 3.0 A}}\n{LARGE}"),
    (
        "{module: rigid-100, series: 3, mounting: roof-gap}",
        "{modules: [rigid-100, rigid-100, rigid-60], mounting: roof-gap}",
    ),
)


def test_what_one_small_module_costs_a_string() -> None:
    """At 3.0 A all three give 60.8 V: 182.4 of 2 × 99.96 + 60 W, 29.8 % less."""
    [array] = study_of(TWO_KINDS).array.arrays
    [chain] = array.chains
    assert {(link.name, link.in_parallel) for link in chain.links} == {
        ("rigid-100", 1),
        ("rigid-60", 1),
    }
    whole = 2 * 20.4 * 4.9 + 20.0 * 3.0
    assert chain.loss.number == pytest.approx(1.0 - 3.0 * (2 * 20.4 + 20.0) / whole)


def test_the_air_in_which_a_limit_is_reached() -> None:
    """72.9 V at 25 °C and 0.29 % for each kelvin: 80 V are 33.6 K below it, at -8.6 °C."""
    [array] = study_of(BASE).array.arrays
    limit = array.voc("standard") * (80.0 / 72.9)
    found_at = array.temperature_at_open_circuit(limit)
    assert found_at == pytest.approx(25.0 - (80.0 / 72.9 - 1.0) / 0.0029)
    assert array.temperature_at_open_circuit(array.voc("standard") * 0.5) is None


def test_a_limit_that_is_reached_in_the_hottest_air_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    [array] = study_of(BASE).array.arrays
    limit = array.voc("standard") * 0.9
    reached = array.temperature_at_open_circuit(limit)
    assert reached is not None
    for hottest, told in ((reached, None), (reached + 0.01, reached)):
        monkeypatch.setattr(arrays, "HOTTEST_AIR", hottest)
        assert array.temperature_at_open_circuit(limit) == told


def test_how_many_modules_fit_under_a_limit() -> None:
    """24.3 V, 43 K colder: 27.33 V each, three under 82 V and four over 109.3 V."""
    [array] = study_of(BASE).array.arrays
    each = 24.3 * (1.0 + 0.0029 * 43.0)
    assert array.fitting_in_series(3.0 * each + 0.01) == 3
    assert array.fitting_in_series(4.0 * each - 0.01) == 3
    assert array.fitting_in_series(4.0 * each + 0.01) == 4


def test_a_string_far_below_the_others_costs_at_most_what_its_voltage_leaves() -> None:
    """Six in series beside two: 122.4 and 40.8 V at most power; above 48.6 V two give nothing.

    At 40.8 V both give 4.9 A: 400 W of 800 W are left at least. At 122.4 V, above what the joint
    has open, nothing is counted.
    """
    plan = array_plan(
        "  long: {module: rigid-100, series: 6}\n  short: {module: rigid-100, series: 2}\n",
        "  home: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m}\n",
        "  joint: {joins: [long, short], rating: 30 A}\n",
    )
    [array] = study_of(plan).array.arrays
    [joint] = array.joints
    assert array.loss_at(joint).number == pytest.approx(1.0 - 40.8 * 9.8 / (8 * 99.96))


def test_a_branch_whose_best_voltage_is_all_that_another_has_is_left_whole() -> None:
    """At 24.3 V the small one gives nothing more and the large one its 24.3 V × 49 A."""
    large = "    rigid-900: {voc: 29 V, vmp: 24.3 V, isc: 52 A, imp: 49 A}\n"
    plan = array_plan(
        "  small: {module: rigid-100, series: 1}\n  large: {module: rigid-900, series: 1}\n",
        "  home: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m}\n",
        "  joint: {joins: [small, large], rating: 90 A}\n",
    )
    [array] = study_of(edited((LARGE, large + LARGE), plan=plan)).array.arrays
    [joint] = array.joints
    assert array.loss_at(joint).number == pytest.approx(99.96 / (99.96 + 24.3 * 49.0))


def inflows(plan: str) -> dict[tuple[str, str], tuple[Value | None, Value | None, list[str], str]]:
    """What can flow back into each stretch, by its wire and where it begins."""
    [array] = study_of(plan).array.arrays
    return {
        (i.part.name, i.part.start.component): (
            i.sustained,
            i.unlimited,
            [device.name for device in i.devices],
            i.joint,
        )
        for i in array.inflows
    }


def amperes(value: Value | None) -> float:
    assert value is not None
    return value.number


class TestBackIntoAnArray:
    def test_others_push_into_one_string_up_to_its_fuse(self) -> None:
        """Two others of 6 A and a quarter are 15 A; a fuse of 10 A holds what is behind it."""
        told = inflows(FUSED)
        behind, before = told["middle-lead", "middle"], told["middle-lead", "middle-lead"]
        assert (amperes(behind[0]), amperes(behind[1])) == (10.0, 15.0)
        assert behind[2:] == (["middle-fuse"], "roof-joint")
        assert (amperes(before[0]), amperes(before[1])) == (15.0, 15.0)
        assert before[2:] == ([], "roof-joint")
        for start in ("roof-joint", "home-run"):
            assert told["home-run", start] == (None, None, [], "")

    def test_through_two_joints_what_comes_in_adds_up(self) -> None:
        """7.5 A of the sister and, of 15 A from beyond, what a fuse of 8 A lets pass."""
        plan = edited(
            ("  starboard: {module", "  far: {module: rigid-100, series: 2}\n  starboard: {module"),
            (
                "  roof-joint: {joins: [port, middle, starboard], kind: combiner-box, "
                "rating: 30 A, voltage: 600 V}\n",
                "  inner: {joins: [port, middle], rating: 30 A, voltage: 600 V}\n"
                "  roof-joint: {joins: [inner, starboard, far], rating: 60 A, voltage: 600 V}\n",
            ),
            ("fuses:\n", "fuses:\n  trunk-fuse: {rating: 8 A, voltage: 1000 V, dc: true}\n"),
            ("port-lead: {from: port, to: roof-joint", "port-lead: {from: port, to: inner"),
            ("middle-lead: {from: middle, to: roof-joint", "middle-lead: {from: middle, to: inner"),
            (
                "  home-run:",
                "  trunk: {from: inner, to: roof-joint, cable: pv-10, length: 1 m,\n"
                "          inline: [{trunk-fuse: {from_end: to, distance: 10 cm}}]}\n"
                "  far-lead: {from: far, to: roof-joint, cable: pv-10, length: 1 m}\n"
                "  home-run:",
            ),
            plan=FUSED,
        )
        told = inflows(plan)
        lead = told["port-lead", "port-lead"]
        assert (amperes(lead[0]), amperes(lead[1])) == (7.5 + 8.0, 7.5 + 15.0)
        trunk = told["trunk", "inner"]
        assert (amperes(trunk[0]), amperes(trunk[1])) == (8.0, 15.0)
        assert trunk[2] == ["trunk-fuse"]
        assert amperes(told["far-lead", "far"][0]) == pytest.approx(1.25 * 18.0)

    def test_of_two_runs_side_by_side_each_is_held_by_its_own_fuse_behind_it(self) -> None:
        """A pulse-width switch lets 40 A of the battery back; before its fuse a run sees less."""
        plan = array_plan(
            "  a: {module: rigid-100, series: 1}\n  b: {module: rigid-100, series: 1}\n",
            "".join(
                f"  run-{n}: {{from: joint, to: tracker.pv, cable: pv-10, length: 4 m,\n"
                f"          inline: [{{fuse-{n}: {{from_end: to, distance: 1 m}}}}]}}\n"
                for n in (1, 2)
            ),
            "  joint: {joins: [a, b], rating: 90 A}\n",
        )
        fuses = "".join(f"  fuse-{n}: {{rating: {10 + n} A, dc: true}}\n" for n in (1, 2))
        plan = edited(("fuses:\n", f"fuses:\n{fuses}"), ("kind: mppt", "kind: pwm"),
                      ("blocks_reverse: true", "blocks_reverse: false"), plan=plan)  # fmt: skip
        told = inflows(plan)
        for n in (1, 2):
            assert told[f"run-{n}", "joint"][2] == [f"fuse-{n}"]
            assert amperes(told[f"run-{n}", "joint"][0]) == 10.0 + n
            assert told[f"run-{n}", f"run-{n}"][2] == []
            assert amperes(told[f"run-{n}", f"run-{n}"][0]) == 40.0

    def test_a_wire_for_one_pole_stands_for_itself(self) -> None:
        plan = edited(
            (
                "  port-lead: {from: port, to: roof-joint, cable: pv-10",
                "  port-back: {from: port.negative, to: roof-joint, cable: pv-10, "
                "length: 2 m}\n"
                "  port-lead: {from: port.positive, to: roof-joint, cable: pv-10",
            ),
            plan=FUSED,
        )
        assert {wire for wire, _ in inflows(plan)} >= {"port-back", "port-lead", "middle-lead"}
        assert amperes(inflows(plan)["port-back", "port"][1]) == 15.0


def window(upper: float | None) -> FuseWindow:
    """The window of a string fuse from 9 A, up to 15 A on the label."""
    low, label = (tabled(a, "A", "I", "current", "as told") for a in (9.0, 15.0))
    high = tabled(upper, "A", "I", "current", "as told") if upper is not None else None
    return FuseWindow(low, high, label, (10.0,))


def test_a_string_fuse_at_both_ends_of_its_window() -> None:
    """A body with an upper factor has both ends open (IEC 62548), one without its lower closed."""
    strict, met = window(14.4), window(None)
    assert [strict.reaches_lower(a) for a in (8.99, 9.0, 9.01)] == [False, False, True]
    assert [met.reaches_lower(a) for a in (8.99, 9.0, 9.01)] == [False, True, True]
    assert [strict.under_upper(a) for a in (14.39, 14.4, 14.41)] == [True, False, False]
    assert met.under_upper(1000.0)


def test_the_words_of_a_window_name_its_nearer_upper_end() -> None:
    def words(upper: float | None) -> str:
        whole = window(upper)
        return FuseWindow(whole.lower, whole.upper, whole.label, ()).words

    assert words(14.4) == "no standard rating lies between 9 A and 14.4 A"
    assert words(15.6) == words(None) == "no standard rating lies between 9 A and 15 A"
    assert window(None).words == "10 A"
