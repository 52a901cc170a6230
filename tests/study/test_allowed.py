"""The one judge of protection: reasons, distances, the device that is named, all outputs alike."""

from __future__ import annotations

import pytest

from external.published_builds import Build, builds
from one_judge import disagreements
from plans import EXAMPLES, edited
from wattproof.engine import check_file
from wattproof.finding import Finding
from wattproof.loading import load_study
from wattproof.packs import discover
from wattproof.study.protection.answers import Allowed, worst_of
from wattproof.study.protection.spans import span_of
from wattproof.testing import A_DAY, check_text, study_of

RULES = discover()

BASE = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -5 °C, hottest: 40 °C, places: {cabin: {ambient: 30 °C}}}
datasheets:
  cables:
    thick: {size: 2/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
            voltage: 600 V}
    pv: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    thin: {size: 4 mm², kind: battery, material: copper, insulation_temperature: 105 °C,
           voltage: 600 V}
fuses:
  house-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  lamp-fuse: {rating: 20 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_current: 30 A}
busbars:
  bar: {rating: 250 A}
loads:
  lamp: {current: 5 A}
wires:
  house-run: {from: house, to: bar, cable: thick, length: 50 cm, place: cabin,
              inline: [{house-fuse: {from_end: from, distance: 10 cm}}]}
  lamp-run: {from: bar, to: lamp, cable: thin, length: 3 m, place: cabin,
             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}
"""
START = (
    ("  house: {", "  start: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}\n  house: {"),
    ("batteries:", "switches:\n  split: {rating: 200 A, voltage: 32 V, dc: true, poles: 1}\n"
                   "batteries:"),
)  # fmt: skip


def found(plan: str) -> list[Finding]:
    return list(check_text(plan, RULES).findings)


def fires(plan: str) -> list[str]:
    return sorted(
        f.rule
        for f in found(plan)
        if f.rule in ("battery-fuse-missing", "fuse-over-conductor", "each-pack-unfused")
    )


def reasons(plan: str, wire: str) -> list[str | None]:
    """For each stretch of a wire's positive, the reason of what decides there."""
    study = study_of(plan)
    answers: dict[object, list[Allowed]] = {}
    for answer in study.protection.allowed:
        if answer.wire.name == wire and answer.kind != "return":
            answers.setdefault(answer.part, []).append(answer)
    decided = [worst_of(own) for own in answers.values()]
    return [each.reason for each in decided if each is not None]


def test_a_sound_side_has_no_reason() -> None:
    assert not fires(BASE)
    assert not any(a.reason for a in study_of(BASE).protection.allowed)


class TestWhatEndsAStretch:
    @pytest.mark.parametrize("inline", ["[split]", "[{split: {from_end: from, distance: 1 m}}]"])
    @pytest.mark.parametrize(("length", "level"), [("5 m", "error"), ("40 cm", None)])
    def test_a_relay_between_two_batteries_is_no_fuse(
        self, inline: str, length: str, level: str | None
    ) -> None:
        if length == "40 cm" and "1 m" in inline:
            inline = inline.replace("1 m", "10 cm")
        link = (
            f"  link: {{from: start, to: house, cable: thick, length: {length}, place: cabin, "
            f"inline: {inline}}}\n"
        )
        plan = edited(*START, plan=BASE) + link
        levels = {
            (f.level, f.hazard)
            for f in found(plan)
            if f.rule == "battery-fuse-missing" and "link" in f.subjects
        }
        assert levels == ({(level, "fire")} if level else set())

    def test_a_stretch_through_relay_joints_and_wires_is_as_long_as_its_parts(self) -> None:
        wires = (
            "  one: {from: start, to: split.line, cable: thick, length: 20 cm, place: cabin}\n"
            "  two: {from: split.load, to: stud, cable: thick, length: 20 cm, place: cabin}\n"
            "  three: {from: stud, to: house, cable: thick, length: 20 cm, place: cabin}\n"
        )
        plan = edited(*START, ("  bar: {", "  stud: {rating: 250 A}\n  bar: {"), plan=BASE) + wires
        ways = [w for w in study_of(plan).protection.ways.all if w.exit.to_bank]
        assert [w.exit.span.most for w in ways] == pytest.approx([0.6, 0.6])
        assert {w.reason for w in ways} == {"no device"}

    def test_an_unknown_place_is_between_nothing_and_the_wire(self) -> None:
        plan = edited(
            ("[{house-fuse: {from_end: from, distance: 10 cm}}]", "[house-fuse]"),
            ("to: bar, cable: thick, length: 50 cm", "to: bar, cable: thick, length: 2 m"),
            plan=BASE,
        )
        [way] = study_of(plan).protection.ways.all
        assert tuple(way.exit.span) == (0.0, 2.0)
        assert (way.verdict, way.reason) == ("not known", None)

    def test_two_unknown_places_of_one_wire_add_up_to_it(self) -> None:
        plan = edited(
            *START,
            ("[{house-fuse: {from_end: from, distance: 10 cm}}]", "[split, house-fuse]"),
            plan=BASE,
        )
        wire = study_of(plan).wiring.wires["house-run"]
        parts = [c for c in wire.conductors if c.pole == "positive"]
        assert len(parts) == 3
        assert tuple(span_of(parts)) == pytest.approx((0.5, 0.5))
        assert tuple(span_of(parts[:2])) == pytest.approx((0.0, 0.5))


class TestWhichDeviceIsNamed:
    def test_a_wires_own_fuse_before_the_one_behind_the_bar(self) -> None:
        plan = edited(("lamp-fuse: {rating: 20 A", "lamp-fuse: {rating: 50 A"), plan=BASE)
        [finding] = [f for f in found(plan) if f.rule == "fuse-over-conductor"]
        assert finding.subjects == ("lamp-run", "lamp-fuse")
        assert "in place of `lamp-fuse`" in finding.remedy
        assert "house-fuse" not in finding.message
        assert set(reasons(plan, "lamp-run")) == {"too large"}

    def test_one_behind_a_switch_near_the_bar_counts(self) -> None:
        plan = edited(
            *START,
            (
                "inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]",
                "inline: [{split: {from_end: from, distance: 5 cm}}, "
                "{lamp-fuse: {from_end: from, distance: 10 cm}}]",
            ),
            plan=BASE,
        ).replace("  start: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}\n", "")
        assert not fires(plan)
        far = plan.replace("lamp-fuse: {from_end: from, distance: 10 cm", "lamp-fuse: {from_end: "
                           "from, distance: 60 cm")  # fmt: skip
        assert fires(far) == ["fuse-over-conductor"]
        assert reasons(far, "lamp-run")[:2] == ["too far", "too far"]


class TestOtherSources:
    def second(self, lead: str, inline: str) -> str:
        wires = (
            f"  start-run: {{from: start, to: bar, cable: thick, length: {lead}, place: cabin"
            f"{inline}}}\n"
        )
        return edited(
            START[0],
            ("to: bar, cable: thick, length: 50 cm", "to: bar, cable: thick, length: 30 cm"),
            plan=BASE,
        ) + wires  # fmt: skip

    def test_an_unfused_lead_is_not_excused_by_the_fuse_of_another(self) -> None:
        plan = self.second("2 m", "")
        [finding] = [f for f in found(plan) if f.rule == "battery-fuse-missing"]
        assert finding.level == "error"
        assert "the device of `house`" in finding.message or "lamp" in finding.message
        assert "of `start`" in finding.remedy
        assert "house-fuse" not in finding.remedy
        others = {w.reason for w in study_of(plan).protection.ways.all if w.owners}
        assert others == {"belongs to another source"}

    def test_a_fuse_in_the_negative_alone_is_named(self) -> None:
        plan = edited(
            ("  house-run: {from: house, to: bar,", "  house-minus: {from: house.negative, "
             "to: bar.negative,"),
            plan=BASE,
        ) + (
            "  house-plus: {from: house.positive, to: bar.positive, cable: thick, length: 1 m, "
            "place: cabin}\n"
            "  pump-run: {from: bar, to: pump, cable: thick, length: 1 m, place: cabin}\n"
        )  # fmt: skip
        plan = plan.replace("loads:\n", "loads:\n  pump: {current: 5 A}\n")
        [finding] = [f for f in found(plan) if f.rule == "battery-fuse-missing"]
        assert "with `house-fuse` in the negative only" in finding.message
        assert "only in the other pole" in reasons(plan, "pump-run")

    def test_an_alternator_is_judged_beside_a_small_bank_fuse(self) -> None:
        plan = edited(
            ("house-fuse: {rating: 100 A", "house-fuse: {rating: 20 A"),
            ("batteries:", "chargers:\n  alternator: {kind: alternator, max_output_current: 90 A, "
             "charge_voltage: 14.4 V}\nbatteries:"),
            (",\n             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]", ""),
            plan=BASE,
        ).replace("  lamp-fuse: {rating: 20 A, voltage: 125 V, style: class-t, interrupt: 20 kA, "
                  "dc: true}\n", "")  # fmt: skip
        plan += "  alt-run: {from: alternator, to: bar, cable: thick, length: 1 m, place: cabin}\n"
        own = [f for f in found(plan) if f.rule == "fuse-over-conductor"]
        assert [f.subjects[0] for f in own] == ["lamp-run"]
        assert "is fed with 90 A by `alternator`" in own[0].message


MODULES = """\
strings:
  roof: {module: rigid, series: 1, mounting: roof-gap}
datasheets:
  modules:
    rigid: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
            voc_coefficient: -0.29 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V}
"""


class TestLoadTerminals:
    PLAN = edited(
        ("batteries:", "controllers:\n  regulator: {kind: pwm, max_input_voltage: 50 V, "
         "max_output_current: 30 A, load_current: 20 A, charge_voltage: 14.2 V}\nbatteries:"),
        ("from: bar, to: lamp", "from: regulator.load, to: lamp"),
        ("datasheets:\n", MODULES),
        plan=BASE,
    ) + (
        "  home-run: {from: roof, to: regulator.pv, cable: pv, length: 2 m, place: cabin}\n"
        "  charge-run: {from: regulator.battery, to: bar, cable: thick, length: 1 m, "
        "place: cabin}\n"
    )  # fmt: skip

    def test_a_fused_circuit_is_sound(self) -> None:
        assert not [f for f in found(self.PLAN) if "lamp-run" in f.subjects]

    def test_no_fuse_behind_them_leaves_the_one_before(self) -> None:
        plan = edited(
            (",\n             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]", ""),
            ("  lamp-fuse: {rating: 20 A, voltage: 125 V, style: class-t, interrupt: 20 kA, "
             "dc: true}\n", ""),
            plan=self.PLAN,
        )  # fmt: skip
        [finding] = [f for f in found(plan) if f.rule == "fuse-over-conductor"]
        assert finding.subjects[:2] == ("lamp-run", "house-fuse")


class TestNegatives:
    def plan(self, cable: str) -> str:
        """Two banks, each with a fuse of its own; their negatives meet at the bar."""
        wires = (
            f"  start-minus: {{from: start.negative, to: bar.negative, cable: {cable}, "
            "length: 1 m, place: cabin}\n"
            "  start-plus: {from: start.positive, to: bar.positive, cable: thick, length: 1 m, "
            "place: cabin, inline: [{start-fuse: {from_end: from, distance: 10 cm}}]}\n"
        )
        return edited(
            START[0],
            ("fuses:\n", "fuses:\n  start-fuse: {rating: 100 A, voltage: 125 V, style: class-t, "
             "interrupt: 20 kA, dc: true}\n"),
            plan=BASE,
        ) + wires  # fmt: skip

    def test_a_thin_one_between_banks_is_told(self) -> None:
        rule = "negative-smaller-than-positive"
        assert not [f for f in found(self.plan("thick")) if f.rule == rule]
        [finding] = [f for f in found(self.plan("thin")) if f.rule == rule]
        assert finding.subjects[0] == "start-minus"
        assert finding.level == "error"


FILES = [*sorted(EXAMPLES.glob("*.yaml"))]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_all_outputs_of_an_example_say_the_same(path: object) -> None:
    result = check_file(str(path), RULES, today=A_DAY, try_remedies=False)
    assert not list(disagreements(load_study(str(path)), result.findings))


@pytest.mark.parametrize("build", builds(), ids=lambda build: build.name)
def test_all_outputs_of_a_published_build_say_the_same(build: Build) -> None:
    name = f"{build.name}.yaml"
    result = check_file(name, RULES, today=A_DAY, text=build.text, try_remedies=False)
    study = load_study(name, text=build.text)
    assert not list(disagreements(study, result.findings))
