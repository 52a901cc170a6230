"""A string of modules on a battery or a consumer with no charge controller between."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, all_found, found
from wattproof.testing import study_of

STRAIGHT = "charge-controller-missing"
SMALL = (
    "voc: 21 V, vmp: 17 V, isc: 0.3 A, imp: 0.29 A, pmax: 5 W",
    "chemistry: agm, nominal: 12 V, capacity: 100 Ah",
)


def test_a_module_straight_on_a_battery_stands_beside_its_missing_fuse() -> None:
    plan = edited(
        ("strings:\n", "strings:\n  bare: {module: rigid-100}\n"),
        ("wires:\n", "wires:\n  bare-run: {from: bare, to: house, cable: pv-10, length: 1 m}\n"),
    )
    levels = all_found(plan)
    assert levels[STRAIGHT] == "error"
    assert levels["battery-fuse-missing"] == "error"
    [finding] = found(plan, STRAIGHT)
    assert finding.message == (
        "`bare` feeds `house` with no charge controller between, and charges it with up to 5.2 A, "
        "full or not"
    )


def test_a_few_watts_keep_a_large_lead_battery_full() -> None:
    """0.3 A for an hour is 0.3 Ah, under 3 % of 100 Ah; 5.2 Ah is over."""
    rule = RULES.rules[STRAIGHT]
    plan = rule.faulty.of(rule.sound)
    lead = plan.replace(
        "chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah", SMALL[1]
    )
    assert [f.level for f in found(lead, STRAIGHT)] == ["error"]
    start = lead.index("porch-100: {")
    small = lead[:start] + lead[start:].replace(
        "voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W", SMALL[0], 1
    )
    assert [f.level for f in found(small, STRAIGHT)] == ["note"]
    lithium = small.replace(
        SMALL[1], "chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah"
    )
    assert [f.level for f in found(lithium, STRAIGHT)] == ["error"]


def test_a_module_on_a_consumer() -> None:
    rule = RULES.rules[STRAIGHT]
    plan = edited(
        ("to: house, cable: pv-10", "to: fan, cable: pv-10"),
        ("batteries:\n", "loads:\n  fan: {current: 2 A}\nbatteries:\n"),
        plan=rule.faulty.of(rule.sound),
    )
    [finding] = found(plan, STRAIGHT)
    assert "shows it up to" in finding.message
    assert finding.level == "error"
    assert finding.hazard == "damage"  # no battery is there to gas or to burn
    assert finding.remedy.endswith("or write its `max_voltage`, if its maker lets modules drive it")


@pytest.mark.parametrize(("stands", "told"), [("27.5 V", []), ("27 V", ["error"])])
@pytest.mark.parametrize("beside", ["", "lamp: {current: 1 A, max_voltage: 40 V}"])
def test_a_consumer_that_stands_what_the_module_shows_it(
    stands: str, told: list[str], beside: str
) -> None:
    """24.3 V, and 27.3 V on the coldest morning; what stands that is driven by modules alone."""
    rule = RULES.rules[STRAIGHT]
    plan = edited(
        ("to: house, cable: pv-10", "to: fan, cable: pv-10"),
        ("batteries:\n", f"loads:\n  fan: {{current: 2 A, max_voltage: {stands}}}\n  {beside}\n"
         "batteries:\n"),
        plan=rule.faulty.of(rule.sound),
    )  # fmt: skip
    if beside:
        on = "wires:\n  on: {from: porch-string, to: lamp, cable: pv-10, length: 1 m}\n"
        plan = plan.replace("wires:\n", on, 1)
    findings = found(plan, STRAIGHT)
    assert [f.level for f in findings] == told
    assert all(f"where it stands {stands}" in f.message for f in findings)


def test_a_battery_counts_alone_that_a_switch_parts_from_a_larger_one() -> None:
    """0.3 Ah in an hour is over 3 % of 9 Ah, and under 3 % of 9 Ah and 100 Ah together.

    `house` comes first by its name, and `start` is the one that the module is wired to.
    """
    rule = RULES.rules[STRAIGHT]
    plan = rule.faulty.of(rule.sound).replace(
        "chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah", SMALL[1]
    )
    start = plan.index("porch-100: {")
    plan = plan[:start] + plan[start:].replace(
        "voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W", SMALL[0], 1
    )
    two = edited(
        ("batteries:\n", "batteries:\n  start: {chemistry: agm, nominal: 12 V, capacity: 9 Ah}\n"),
        ("from: porch-string, to: house", "from: porch-string, to: start"),
        (
            "wires:\n",
            "wires:\n  link: {from: start, to: house, cable: pv-10, length: 1 m, inline: [LINK]}\n",
        ),
        ("switches:\n", "switches:\n  tie: {rating: 100 A}\n"),
        ("fuses:\n", "fuses:\n  link-fuse: {rating: 30 A}\n"),
        plan=plan,
    )
    [parted] = found(two.replace("LINK", "link-fuse, tie"), STRAIGHT)
    assert (parted.level, parted.subjects) == ("error", ("porch-string", "start"))
    [joined] = found(two.replace("LINK", "link-fuse"), STRAIGHT)
    assert (joined.level, joined.subjects) == ("note", ("porch-string", "start"))


WEAK = """
wattproof: 1
setting: vehicle
datasheets: {{modules: {{tiny: {{imp: 120 mA, voc: 17 V}}}}}}
strings: {{dash: {{module: tiny, series: {series}{diode}}}}}
batteries: {{starting: {{chemistry: flooded, nominal: 24 V, capacity: 100 Ah}}}}
fuses: {{one: {{rating: 1 A, style: blade}}}}
wires: {{lead: {{from: dash, to: starting, length: 2 m,
               inline: [{{one: {{from_end: to, distance: 5 cm}}}}]}}}}
"""


@pytest.mark.parametrize(
    ("series", "diode", "level", "hazard"),
    [
        (1, "", "error", "fire"),
        (1, ", blocking_diode: 0.5 V", "warning", "lost-energy"),
        (2, "", "note", "fire"),  # 34 V keep 24 V full
    ],
)
def test_a_battery_drives_current_back_through_modules_of_less_voltage(
    series: int, diode: str, level: str, hazard: str
) -> None:
    """Of 12 V on 24 V it was said that they keep it full."""
    [finding] = found(WEAK.format(series=series, diode=diode), STRAIGHT)
    assert (finding.level, finding.hazard) == (level, hazard)
    if series == 1:
        assert "charges nothing of 24 V" in finding.message
        assert ("driving its current back" in finding.message) is (not diode)


@pytest.mark.parametrize(("edit", "level"), [("", "error"), (", regulated: true", None)])
def test_a_diode_isolator_is_no_controller(edit: str, level: str | None) -> None:
    """Modules that fed two batteries through one were on nothing, by what was found."""
    plan = f"""\
wattproof: 1
setting: boat
datasheets: {{modules: {{m: {{voc: 22 V, vmp: 18 V, isc: 6 A, imp: 5.6 A{edit}}}}}}}
strings: {{bimini: {{module: m, portable: true}}}}
diode_isolators: {{splitter: {{rating: 20 A, outputs: [start, house]}}}}
batteries:
  start: {{chemistry: agm, nominal: 12 V, capacity: 80 Ah}}
  house: {{chemistry: agm, nominal: 12 V, capacity: 100 Ah}}
wires:
  in: {{from: bimini, to: splitter.input}}
  start-run: {{from: splitter.start, to: start}}
  house-run: {{from: splitter.house, to: house}}
"""
    assert [f.level for f in found(plan, STRAIGHT)] == ([level] if level else [])
    charged = {bank.name for each in study_of(plan).array.regulated_on for bank in each.banks}
    assert charged == ({"start", "house"} if edit else set())


REGULATED = """
wattproof: 1
setting: vehicle
datasheets: {{modules: {{case: {{pmax: 120 W, voc: 22.5 V, vmp: 18.6 V, isc: 6.9 A, build: folding,
                                regulated: true}}}}}}
strings: {{mats: {{module: case, arrangement: {arrangement}, mounting: ground}}}}
batteries: {{house: {{chemistry: agm, nominal: {nominal}, capacity: 80 Ah}}}}
fuses: {{case-fuse: {{rating: 15 A, style: bolt-down}}}}
wires: {{lead: {{from: mats, to: house, length: 4 m,
               inline: [{{case-fuse: {{from_end: to, distance: 10 cm}}}}]}}}}
"""


@pytest.mark.parametrize(
    ("arrangement", "nominal", "told"),
    [
        ("1s", "12 V", []),
        ("1s2p", "12 V", []),
        ("2s", "12 V", [("error", "fire")]),
        ("2s", "24 V", []),  # each of them holds its half
        ("1s", "24 V", [("warning", "lost-energy")]),
    ],
)
def test_regulators_hold_a_battery_of_their_own_voltage(
    arrangement: str, nominal: str, told: list[tuple[str, str]]
) -> None:
    """Two in series on 12 V, each with its regulator, were silent, and so was one on 24 V."""
    plan = REGULATED.format(arrangement=arrangement, nominal=nominal)
    assert [(f.level, f.hazard) for f in found(plan, STRAIGHT)] == told
