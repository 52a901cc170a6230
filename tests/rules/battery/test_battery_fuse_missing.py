"""Whether every way out of a bank meets a fuse or breaker close to the battery."""

from __future__ import annotations

import pytest

from plans import EXAMPLES, edited
from rule_runs import RULES, asked, build, found, sound
from wattproof.testing import study_of

FUSE = "battery-fuse-missing"
ONE = RULES.rules[FUSE].sound
"""A 30 A tracker on 1 m of 8 AWG with a fuse 10 cm from the bank."""


@pytest.mark.parametrize(
    ("code", "distance", "enclosed", "level"),
    [
        ("nec-2023", "46 cm", False, None),
        ("nec-2023", "47 cm", False, "error"),
        ("nec-2023", "47 cm", True, "error"),
        ("abyc-e11", "17.8 cm", False, None),
        ("abyc-e11", "18 cm", False, "error"),
        ("abyc-e11", "182 cm", True, None),
        ("abyc-e11", "184 cm", True, "error"),
        ("abyc-e11", "184 cm", False, "error"),
        ("iec", "20 cm", False, None),
        ("iec", "21 cm", False, "error"),
        ("iec", "100 cm", True, None),
        ("iec", "101 cm", True, "error"),
        ("iso-13297", "20 cm", False, None),
        ("iso-13297", "21 cm", False, "error"),
        ("iso-13297", "180 cm", True, None),
        ("iso-13297", "181 cm", True, "error"),
        ("as-nzs-3001", "20 cm", False, None),
        ("as-nzs-3001", "21 cm", False, "error"),
        ("as-nzs-3001", "100 cm", True, None),
        ("as-nzs-3001", "101 cm", True, "error"),
    ],
)
def test_distance_by_body_of_rules(
    code: str, distance: str, enclosed: bool, level: str | None
) -> None:
    plan = edited(
        ("code: nec-2023", f"code: {code}"),
        ("distance: 10 cm", f"distance: {distance}"),
        ("batt-8, length: 1 m", f"batt-8, length: 4 m{', enclosed: true' if enclosed else ''}"),
        plan=ONE,
    )
    assert [f.level for f in found(plan, FUSE)] == ([level] if level else [])


@pytest.mark.parametrize(
    ("code", "box", "distance", "level"),
    [
        ("as-nzs-3001", "vented: true", "90 cm", None),
        ("as-nzs-3001", "vented: true", "101 cm", "error"),
        ("as-nzs-3001", "vented: false", "90 cm", "error"),
        ("as-nzs-3001", "vented: true, living_space: true", "90 cm", "error"),
        ("iec", "vented: true", "90 cm", "error"),
    ],
)
def test_a_fuse_directly_outside_the_batterys_compartment(
    code: str, box: str, distance: str, level: str | None
) -> None:
    """Under AS/NZS 3001.2 it may sit there; no figure is stated, and 1.0 m is taken."""
    plan = edited(
        ("code: nec-2023", f"code: {code}"),
        ("cabin: {ambient: 35 °C}", f"cabin: {{ambient: 35 °C}}, box: {{{box}}}"),
        ("charge-fuse: {rating: 40 A", "charge-fuse: {place: cabin, rating: 40 A"),
        ("house: {chemistry:", "house: {place: box, chemistry:"),
        ("distance: 10 cm", f"distance: {distance}"),
        ("batt-8, length: 1 m", "batt-8, length: 4 m"),
        plan=ONE,
    )
    assert [f.level for f in found(plan, FUSE)] == ([level] if level else [])
    inside = plan.replace("charge-fuse: {place: cabin", "charge-fuse: {place: box")
    assert [f.level for f in found(inside, FUSE)] == [level or "error"]


def test_a_fuse_in_a_later_wire_is_not_directly_outside() -> None:
    caravan = (EXAMPLES / "caravan-sealed-box.yaml").read_text(encoding="utf-8")
    held = ",\n             inline: [{battery-fuse: {from_end: from, distance: 40 cm}}]}"
    start = caravan.index("  battery-fuse: {")
    fuse = caravan[start : caravan.index("  charge-fuse: {")]
    plan = edited((held, "}"), (fuse, ""), plan=caravan)
    assert not found(caravan, FUSE)
    [finding] = found(plan, FUSE)  # the charge fuse comes 0.9 m after the battery, in the room
    assert (finding.level, finding.subjects[0]) == ("error", "bank-run")


def test_a_fuse_where_its_wire_never_leads_is_not_outside() -> None:
    """The wire stays in the box with the battery: its fuse is not in the room, whatever it says."""
    caravan = (EXAMPLES / "caravan-sealed-box.yaml").read_text(encoding="utf-8")
    assert found(
        edited(("length: 0.8 m, place: [box, room]", "length: 0.8 m, place: box"), plan=caravan),
        FUSE,
    )
    assert not found(
        edited(("length: 0.8 m, place: [box, room]", "length: 0.8 m"), plan=caravan), FUSE
    )


def test_too_far_shows_numbers_margin_and_a_place_that_holds() -> None:
    plan = edited(("distance: 10 cm", "distance: 60 cm"), ("length: 1 m", "length: 3 m"), plan=ONE)
    [finding] = found(plan, FUSE)
    assert finding.message == ("`charge-fuse` is 0.6 m from `house`; 0.46 m is the most allowed")
    assert finding.margin == pytest.approx(1 - 0.6 / 0.46)
    assert finding.subjects == ("charge-run", "charge-fuse", "house")
    assert finding.remedy == "put `charge-fuse` within 0.46 m of `house`"
    assert not found(edited(("distance: 60 cm", "distance: 46 cm"), plan=plan), FUSE)
    assert not finding.acceptable


def test_a_fuse_at_the_controllers_end_is_at_the_weak_end() -> None:
    plan = edited(("from_end: to, distance: 10 cm", "from_end: from, distance: 10 cm"), plan=ONE)
    [finding] = found(plan, FUSE)
    assert finding.level == "error"
    assert "it sits at `tracker`, which cannot blow it" in finding.message
    assert "is 0.9 m from" in finding.message


@pytest.mark.parametrize(("distance", "weak"), [("49 cm", False), ("50 cm", True), ("51 cm", True)])
def test_from_halfway_on_a_fuse_is_at_the_weak_end(distance: str, weak: bool) -> None:
    plan = edited(
        ("from_end: to, distance: 10 cm", f"from_end: to, distance: {distance}"), plan=ONE
    )
    [finding] = found(plan, FUSE)
    assert ("it sits at `tracker`" in finding.message) is weak


@pytest.mark.parametrize(
    ("length", "level"),
    [("46 cm", []), ("47 cm", ["not told"])],
)
def test_a_place_that_is_not_stated(length: str, level: list[str]) -> None:
    plan = edited(
        ("{charge-fuse: {from_end: to, distance: 10 cm}}", "charge-fuse"),
        ("batt-8, length: 1 m", f"batt-8, length: {length}"),
        plan=ONE,
    )
    assert not found(plan, FUSE)
    assert asked(plan, FUSE) == level


NO_FUSE = edited(
    ("fuses:\n"
     "  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}\n",
     ""),
    (",\n               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]", ""),
    plan=ONE,
)  # fmt: skip


def test_no_device_at_all_with_the_fuse_that_would_do() -> None:
    [finding] = found(NO_FUSE, FUSE)
    assert (finding.level, finding.verdict) == ("error", "certain")
    assert (
        finding.message == "`charge-run` leads from `house` to `tracker` without a fuse or breaker"
    )
    assert finding.remedy == "put a fuse of 40 A within 0.46 m of `house`"
    assert not found(ONE, FUSE)


def test_a_declared_fuse_that_no_wire_holds_is_named() -> None:
    """Who wrote the fuse down, and into no wire, was told to buy another."""
    held = ",\n               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]"
    [finding] = found(edited((held, ""), plan=ONE), FUSE)
    assert finding.remedy is not None
    assert finding.remedy.endswith("of `house`, such as `charge-fuse` that no wire holds")
    large = ("charge-fuse: {rating: 40 A", "charge-fuse: {rating: 80 A")
    [finding] = found(edited((held, ""), large, plan=ONE), FUSE)
    assert finding.remedy == "put a fuse of 40 A within 0.46 m of `house`"


@pytest.mark.parametrize(
    "place", ["split-relay", "{split-relay: {from_end: from, distance: 30 cm}}"]
)
def test_a_cable_to_another_battery_counts_whole_wherever_its_relay_sits(place: str) -> None:
    plan = edited(
        ("switches:\n", "switches:\n  split-relay: {rating: 70 A, closes_above: 13.3 V}\n"),
        (
            "batteries:\n",
            "batteries:\n  starter: {chemistry: flooded, nominal: 12 V, capacity: 70 Ah}\n",
        ),
        (
            "wires:\n",
            "wires:\n  split-run: {from: starter, to: house, cable: batt-8, length: 2 m, "
            f"inline: [{place}]}}\n",
        ),
        plan=ONE,
    )
    [finding] = [f for f in found(plan, FUSE) if "starter" in f.subjects]
    assert (finding.level, finding.subjects[0]) == ("error", "split-run")
    assert finding.values[0].number == pytest.approx(2.0)
    beside = edited(("length: 2 m", "length: 30 cm"), plan=plan)
    assert not [f for f in found(beside, FUSE) if "starter" in f.subjects]


def test_a_switch_is_no_fuse_and_a_fuse_in_the_negative_is_none_either() -> None:
    switched = edited(
        ("switches:\n", "switches:\n  bank-off: {rating: 200 A, voltage: 48 V, dc: true}\n"),
        (
            "batt-8, length: 1 m, place: cabin",
            "batt-8, length: 1 m, place: cabin, inline: [bank-off]",
        ),
        plan=NO_FUSE,
    )
    assert [f.level for f in found(switched, FUSE)] == ["error"]
    negative = edited(
        ("from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,",
         "from: tracker.battery.negative, to: house.negative, cable: batt-8, length: 1 m,"),
        ("wires:\n", "wires:\n  plus: {from: tracker.battery.positive, to: house.positive, "
                     "cable: batt-8, length: 1 m}\n"),
        plan=ONE,
    )  # fmt: skip
    [finding] = found(negative, FUSE)
    assert finding.subjects == ("plus", "house", "tracker", "charge-fuse")
    assert "in the positive, with `charge-fuse` in the negative only" in finding.message


def test_a_breaker_between_two_wires_counts() -> None:
    plan = edited(
        ("controllers:\n", "breakers:\n  main: {rating: 40 A, dc: true}\ncontrollers:\n"),
        ("  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, "
         "place: cabin}\n",
         "  charge-run: {from: tracker.battery, to: main.load, cable: batt-8, length: 1 m}\n"
         "  post-run: {from: house, to: main.line, cable: batt-8, length: POST}\n"),
        plan=NO_FUSE,
    )  # fmt: skip
    assert not found(plan.replace("POST", "46 cm"), FUSE)
    [finding] = found(plan.replace("POST", "50 cm"), FUSE)
    assert finding.subjects == ("post-run", "main", "house")


BAR = edited(
    ("wires:\n", """\
busbars:
  bar: {rating: 100 A}
loads:
  lamp: {current: 5 A}
  pump: {current: 5 A}
wires:
  main-run: {from: house, to: bar, cable: batt-8, length: MAIN, place: cabin}
  lamp-run: {from: bar, to: lamp, cable: batt-8, length: 2 m, place: cabin, inline: [LAMP]}
  pump-run: {from: bar, to: pump, cable: batt-8, length: 2 m, place: cabin,
             inline: [{pump-fuse: {from_end: from, distance: 10 cm}}]}
"""),
    ("fuses:\n", "fuses:\n  lamp-fuse: {rating: 10 A, voltage: 32 V}\n"
                 "  pump-fuse: {rating: 10 A, voltage: 32 V}\n"),
    plan=ONE,
)  # fmt: skip
PLACED = "{lamp-fuse: {from_end: from, distance: 12 cm}}"


@pytest.mark.parametrize(
    ("main", "lamp", "levels"),
    [
        ("30 cm", PLACED, []),  # 0.42 m at most
        ("34 cm", PLACED, []),  # 0.46 m
        ("35 cm", PLACED, ["error"]),  # 0.47 m
        ("30 cm", "lamp-fuse", []),  # between 0.30 and 2.30 m, which is asked
        ("50 cm", "lamp-fuse", ["error"]),  # 0.50 m at least
    ],
)
def test_several_ways_from_one_bar_are_one_finding(main: str, lamp: str, levels: list[str]) -> None:
    findings = found(BAR.replace("MAIN", main).replace("LAMP", lamp), FUSE)
    assert [f.level for f in findings] == levels
    for finding in findings:
        assert finding.subjects[0] == "main-run"


def test_the_fuse_of_a_branch_is_not_told_as_that_of_the_bank() -> None:
    [finding] = found(BAR.replace("MAIN", "50 cm").replace("LAMP", PLACED), FUSE)
    assert finding.message == (
        "`main-run` leads from `house` to `bar` without a fuse or breaker; `lamp-fuse`, behind it, "
        "is 0.62 m away; 0.46 m is the most allowed"
    )
    assert "put a fuse of" in finding.remedy


def test_a_way_without_any_device_counts_before_one_that_is_too_long() -> None:
    plan = BAR.replace("MAIN", "1 m").replace(", inline: [LAMP]", "")
    plan = edited(("  lamp-fuse: {rating: 10 A, voltage: 32 V}\n", ""), plan=plan)
    [finding] = found(plan, FUSE)
    assert "`main-run` leads from `house` to `lamp` without a fuse" in finding.message
    assert "put a fuse of 15 A (15 to 40 A will do) within 0.46 m of `house`" in finding.remedy


def two_ways(length: str) -> str:
    return edited(
        ("wires:\n",
         f"wires:\n  second-run: {{from: house, to: bar, cable: batt-8, length: {length}}}\n"),
        plan=BAR.replace("MAIN", "30 cm").replace("LAMP", PLACED),
    )  # fmt: skip


def test_two_cables_to_one_bar_are_no_dead_end() -> None:
    assert not found(two_ways("30 cm"), FUSE)


def test_each_of_two_cables_is_judged_by_itself() -> None:
    [finding] = found(two_ways("60 cm"), FUSE)
    assert finding.subjects[0] == "second-run"


def test_a_way_around_a_fuse_is_named() -> None:
    plan = edited(
        ("from: house, to: bar, cable: batt-8, length: MAIN, place: cabin",
         "from: house, to: bar, cable: batt-8, length: 1 m, place: cabin,\n"
         "             inline: [{main-fuse: {from_end: from, distance: 10 cm}}]"),
        ("  lamp-fuse:",
         "  main-fuse: {rating: 40 A, voltage: 125 V, style: class-t}\n  lamp-fuse:"),
        ("LAMP", PLACED),
        ("wires:\n",
         "wires:\n  second-run: {from: house, to: bar, cable: batt-8, length: 40 cm}\n"),
        plan=BAR,
    )  # fmt: skip
    [finding] = found(plan, FUSE)
    assert finding.subjects == ("second-run", "main-fuse", "house")
    assert finding.level == "error"
    assert finding.message == (
        "`second-run` leads from `house` around `main-fuse`, without a fuse or breaker of its own"
    )
    assert finding.remedy.startswith("take `second-run` away; or put a fuse of its own into it")
    taken = edited(("  second-run: {from: house, to: bar, cable: batt-8, length: 40 cm}\n", ""),
                   plan=plan)  # fmt: skip
    assert not found(taken, FUSE)


def test_a_fuse_that_is_to_be_added_suits_the_wire_from_the_battery() -> None:
    """What lies behind has a fuse of its own at the bar."""
    plan = edited(("    batt-8:",
                   "    thin: {size: 14 AWG, kind: battery, voltage: 600 V}\n    batt-8:"),
                  ("to: lamp, cable: batt-8", "to: lamp, cable: thin"),
                  plan=BAR.replace("MAIN", "1 m").replace("LAMP", PLACED))  # fmt: skip
    [finding] = found(plan, FUSE)
    assert "put a fuse of 15 A (15 to 40 A will do)" in finding.remedy
    assert "cannot blow it" not in finding.message


def test_behind_a_switch_the_fuse_is_moved() -> None:
    plan = edited(
        ("switches:\n",
         "switches:\n  off: {rating: 60 A, voltage: 48 V, dc: true, load_break: true}\n"),
        ("[{charge-fuse: {from_end: to, distance: 10 cm}}]",
         "[{charge-fuse: {from_end: to, distance: 90 cm}}, "
         "{off: {from_end: to, distance: 20 cm}}]"),
        plan=ONE,
    )  # fmt: skip
    [finding] = found(plan, FUSE)
    assert finding.remedy == "put `charge-fuse` within 0.46 m of `house`"
    assert finding.ways == ()


@pytest.mark.parametrize(("length", "n"), [("30 cm", 0), ("1 m", 0), ("1.2 m", 1)])
def test_links_of_a_series_are_behind_its_fuse(length: str, n: int) -> None:
    start, end = ONE.index("batteries:"), ONE.index("wires:")
    pack = "{chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah}"
    plan = edited(
        ("tracker.battery, to: house, cable", "tracker.battery.positive, to: top.positive, cable"),
        ("wires:\n",
         "wires:\n"
         f"  link: {{from: top.negative, to: low.positive, cable: batt-8, length: {length}}}\n"
         "  back: {from: low.negative, to: tracker.battery.negative, cable: batt-8,\n"
         "         length: 1 m}\n"),
        plan=ONE[:start] + f"batteries:\n  top: {pack}\n  low: {pack}\n" + ONE[end:],
    )  # fmt: skip
    assert [f.subjects[0] for f in found(plan, FUSE)] == ["link"] * n


def test_a_panel_near_the_battery_is_a_fuse_and_far_from_it_is_not() -> None:
    plan = edited(
        (
            "wires:\n",
            """\
distribution:
  panel: {rating: 60 A, voltage: 32 V, ways: {lights: {fuse: 10 A}, spare: {fuse: 10 A}}}
loads:
  lamp: {current: 5 A}
wires:
  feed: {from: house, to: panel, cable: batt-8, length: FEED, place: cabin}
  lamp-run: {from: panel.lights, to: lamp, cable: batt-8, length: 3 m, place: cabin}
""",
        ),
        plan=ONE,
    )
    assert not found(plan.replace("FEED", "40 cm"), FUSE)
    [finding] = found(plan.replace("FEED", "1 m"), FUSE)
    assert finding.subjects[0] == "feed"
    assert finding.message.startswith("`feed` leads from `house` to `panel` without a fuse")


def second_bank(length: str, device: str = "") -> str:
    return edited(
        ("batteries:\n",
         "batteries:\n"
         "  second: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah}\n"),
        ("wires:\n",
         f"wires:\n  link: {{from: house, to: second, cable: batt-8, length: {length}{device}}}\n"),
        plan=ONE,
    )  # fmt: skip


def test_batteries_side_by_side_and_far_apart() -> None:
    assert not found(second_bank("30 cm"), FUSE)
    [finding] = found(second_bank("2 m"), FUSE)
    assert finding.subjects == ("link", "house", "second")
    assert "and another within 0.46 m of `second`" in finding.remedy


@pytest.mark.parametrize(
    ("kind", "other", "length", "n"),
    [
        ("agm", "agm", "50 cm", 0),
        ("agm", "agm", "51 cm", 1),
        ("agm", "flooded", "50 cm", 1),
        ("lithium-iron-phosphate", "lithium-iron-phosphate", "50 cm", 1),
    ],
)
def test_a_link_in_a_box_of_lead_batteries(kind: str, other: str, length: str, n: int) -> None:
    """ABYC's 0.178 m is for what leaves a bank; common practice."""
    plan = edited(
        ("code: nec-2023", "code: abyc-e11"),
        ("house: {chemistry: lithium-iron-phosphate", f"house: {{chemistry: {kind}"),
        ("second: {chemistry: lithium-iron-phosphate", f"second: {{chemistry: {other}"),
        plan=second_bank(length),
    )
    assert len([f for f in found(plan, FUSE) if f.subjects[0] == "link"]) == n


def test_a_link_between_banks_needs_a_fuse_at_each_end() -> None:
    one_end = edited(
        ("fuses:\n", "fuses:\n  link-fuse: {rating: 40 A, voltage: 125 V, style: class-t}\n"),
        plan=second_bank("2 m", ", inline: [{link-fuse: {from_end: from, distance: 10 cm}}]"),
    )
    [finding] = found(one_end, FUSE)
    assert finding.subjects == ("link", "link-fuse", "second")


def alternator(setting: str, chemistry: str, code: str = "nec-2023") -> str:
    return edited(
        ("setting: vehicle", f"setting: {setting}"),
        ("code: nec-2023", f"code: {code}"),
        ("controllers:\n",
         "chargers:\n  alternator: {kind: alternator, max_output_current: 60 A}\ncontrollers:\n"),
        ("lithium-iron-phosphate", chemistry),
        ("wires:\n",
         "wires:\n  alternator-run: {from: alternator, to: house, cable: batt-8, length: 2 m}\n"),
        plan=ONE,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("setting", "chemistry", "level"),
    [
        ("vehicle", "flooded", "warning"),
        ("boat", "agm", "warning"),
        ("cabin", "flooded", "warning"),
        ("vehicle", "lithium-iron-phosphate", "error"),
    ],
)
def test_the_cable_of_an_alternator(setting: str, chemistry: str, level: str) -> None:
    code = "abyc-e11" if setting == "boat" else "nec-2023"
    assert [f.level for f in found(alternator(setting, chemistry, code), FUSE)] == [level]


def test_exits_tell_where_a_place_is_not_stated() -> None:
    [way] = study_of(edited(("{charge-fuse: {from_end: to, distance: 10 cm}}", "charge-fuse"),
                            plan=ONE)).protection.exits  # fmt: skip
    assert tuple(way.span) == (0.0, 1.0)
    assert not way.span.is_known


def test_a_sheathed_cranking_cable_needs_no_fuse_and_a_bare_one_is_noted() -> None:
    plan = sound("cranking-cable-thin")
    assert not found(plan, "battery-fuse-missing")
    bare = edited((",\n                 enclosed: true", ""), plan=plan)
    [finding] = found(bare, "battery-fuse-missing")
    assert finding.level == "note"
    assert "`enclosed: true`" in finding.remedy


def test_the_fuses_of_packs_stand_for_a_main_fuse_where_wires_suit_all_of_them() -> None:
    """4 × 60 A are more than 6 AWG stands; 4 × 10 A are not."""
    plan = build("cabin-packs-iec")
    fuse = ",\n               inline: [{charge-fuse: {from_end: to, distance: 0 cm}}]}"
    bare = edited((fuse, "}"), plan=plan)
    [finding] = found(bare, "battery-fuse-missing")
    assert "without a fuse or breaker of its own" in finding.message
    assert "`pack-fuse` of each pack lets 240 A through in all" in finding.message
    small = bare.replace("pack-fuse: {rating: 60 A", "pack-fuse: {rating: 10 A")
    assert not found(small, "battery-fuse-missing")


PACKS = edited(
    ("nominal: 12.8 V", "nominal: 12.8 V, arrangement: 3p, each_pack: {fuse: pack-fuse}"),
    ("fuses:\n", "fuses:\n  pack-fuse: {rating: 20 A, style: class-t}\n"),
    ("wires:\n", "wires:\n  bank-run: {from: house, to: bar, cable: batt-2-0, length: 2 m}\n"),
    ("cables:\n", "cables:\n    batt-2-0: {size: 2/0 AWG, kind: battery}\n"),
    ("batteries:\n", "busbars:\n  bar: {rating: 200 A}\nbatteries:\n"),
    ("to: house, cable: batt-8", "to: bar, cable: batt-8"),
    plan=ONE,
)
"""Three packs with a fuse each on 2/0 AWG to a bar, from which 8 AWG leads to a fuse at 10 cm."""


@pytest.mark.parametrize(
    ("pack", "distance", "told"),
    [
        ("50 A", "10 cm", False),  # 150 A: 2/0 AWG stands that, and 10 cm of 8 AWG may be bare
        ("50 A", "60 cm", True),  # too much 8 AWG behind the bar
        ("125 A", "10 cm", True),  # 375 A are too much for 2/0 AWG as well
    ],
)
def test_what_fuses_of_packs_are_too_large_for_counts_from_there_on(
    pack: str, distance: str, told: bool
) -> None:
    plan = edited(
        ("pack-fuse: {rating: 20 A", f"pack-fuse: {{rating: {pack}"),
        ("from_end: to, distance: 10 cm", f"from_end: to, distance: {distance}"),
        plan=PACKS,
    )
    findings = found(plan, FUSE)
    assert bool(findings) is told
    for finding in findings:
        assert "`pack-fuse` of each pack lets" in finding.message


def test_a_panel_that_is_fed_without_a_fuse_is_told_as_that() -> None:
    """Its ways are devices, and nobody can put one of them beside the battery."""
    plan = edited(
        (
            "inline: [{house-fuse: {from_end: from, distance: 5 cm}}, house-off]",
            "inline: [house-off]",
        ),
        plan=build("boat-thruster-and-windlass"),
    )
    [finding] = found(plan, "battery-fuse-missing")
    assert "`helm-feed` leads from `house` to `helm` without a fuse or breaker" in finding.message
    assert "put a fuse of" in finding.remedy


@pytest.mark.parametrize(
    ("main", "drives", "away", "told"),
    [
        ("150 A", "1.25 kA", "3 m", False),  # 3 × 1250 A are ten times 3 × 125 A
        ("150 A", "1.2 kA", "3 m", True),
        ("150 A", "1.25 kA", "3.1 m", True),
        ("300 A", "3 kA", "3 m", True),  # 2/0 AWG does not stand the main fuse either
    ],
)
def test_before_the_main_fuse_in_their_own_lead_packs_clear_shorts_only(
    main: str, drives: str, away: str, told: bool
) -> None:
    """375 A of the packs on 2/0 AWG, and up to 3 m to the main fuse that protects it."""
    inline = f"length: 4 m, inline: [{{main-fuse: {{from_end: from, distance: {away}}}}}]"
    plan = edited(
        ("pack-fuse: {rating: 20 A", "pack-fuse: {rating: 125 A"),
        ("fuses:\n", f"fuses:\n  main-fuse: {{rating: {main}, style: class-t}}\n"),
        ("cable: batt-2-0, length: 2 m", f"cable: batt-2-0, {inline}"),
        ("arrangement: 3p", f"arrangement: 3p, short_circuit_current: {drives}"),
        plan=PACKS,
    )
    assert bool(found(plan, FUSE)) is told


def test_the_fuse_of_a_wire_behind_a_bare_one_goes_to_where_its_wire_begins() -> None:
    """60 cm of starting cable to the selector need none; a fuse there would stop the starter."""
    near = "inline: [{panel-fuse: {from_end: from, distance: 5 cm}}]"
    far = edited((near, near.replace("from_end: from", "from_end: to")),
                 plan=build("boat-selector-and-starter"))  # fmt: skip
    findings = found(far, FUSE)
    assert findings
    for finding in findings:
        assert finding.remedy == "put `panel-fuse` where `board-plus` leaves `one-two-both`"
        assert {c.key for c in finding.ways[0]} == {
            "inline.panel-fuse.from_end",
            "inline.panel-fuse.distance",
        }


@pytest.mark.parametrize(
    ("sheathed", "from_end", "told"),
    [(True, "from", []), (True, "to", ["error"]), (False, "from", ["error"])],
)
def test_what_branches_off_a_sheathed_starting_cable_begins_there(
    sheathed: bool, from_end: str, told: list[str]
) -> None:
    """3 m to the selector: the panel's fuse sits where its wire begins, and is near enough."""
    near = "inline: [{panel-fuse: {from_end: from, distance: 5 cm}}]"
    runs = [f"{n}-run: {{from: {n}.positive, to: one-two-both.{i}.positive, cable: crank, length: "
            for i, n in enumerate(("first", "second"), 1)]  # fmt: skip
    end = "3 m, place: battery-box"
    sheath = ", enclosed: true" if sheathed else ""
    plan = edited(
        (near, near.replace("from_end: from", f"from_end: {from_end}")),
        *((f"{run}60 cm, place: battery-box, enclosed: true", f"{run}{end}{sheath}")
          for run in runs),
        plan=build("boat-selector-and-starter"),
    )  # fmt: skip
    findings = [f for f in found(plan, FUSE) if "panel-fuse" in f.subjects]
    assert [f.level for f in findings[:1]] == told
    if sheathed and told:
        assert "from the starting cable of `" in findings[0].message
        assert findings[0].remedy == "put `panel-fuse` where `board-plus` leaves `one-two-both`"


@pytest.mark.parametrize(
    ("run", "told"),
    [
        ("length: 50 cm, place: engine, enclosed: true", ["note"]),
        ("length: 1.2 m, place: engine, enclosed: true", ["warning"]),
        ("length: 50 cm, place: engine", ["warning"]),
    ],
)
def test_a_short_sheathed_cable_from_the_starter_to_its_alternator(
    run: str, told: list[str]
) -> None:
    """ABYC E-11 lets up to 40 in from the starter's stud be without a fuse."""
    plan = edited(
        ("length: 50 cm, place: engine, enclosed: true,\n                   "
         "inline: [{alternator-fuse: {from_end: to, distance: 5 cm}}]", run),
        plan=build("boat-selector-and-starter"),
    )  # fmt: skip
    findings = [f for f in found(plan, FUSE) if f.subjects[0] == "alternator-run"]
    assert [f.level for f in findings] == told


def test_a_fuse_behind_a_starter_is_proposed_where_its_wire_leaves_that() -> None:
    """The wire to a relay begins at the starter's stud: beside the battery it has no end."""
    plan = edited(
        ("wires:\n", "wires:\n  relay-run: {from: starter.positive, to: relay, cable: charge, "
         "length: 1 m, place: engine}\n  relay-on: {from: relay, to: lamp-2.positive, "
         "cable: charge, length: 1 m, place: engine}\n  relay-back: {from: lamp-2.negative, "
         "to: starter.negative, cable: charge, length: 1 m, place: engine}\n"),
        ("loads:\n", "loads:\n  lamp-2: {current: 2 A}\n"),
        ("switches:\n", "switches:\n  relay: {rating: 100 A}\n"),
        plan=build("boat-selector-and-starter"),
    )  # fmt: skip
    [finding] = [f for f in found(plan, FUSE) if f.subjects[0] == "relay-run"]
    assert " of `starter`" in finding.remedy
    [[added]] = [[c for c in way if c.name == "relay-run-fuse"] for way in finding.ways]
    assert (added.wire, added.from_end) == ("relay-run", "from")


ROW = """\
wattproof: 1
setting: boat
code: iso-13297
datasheets:
  modules:
    flat: {pmax: 200 W, voc: 45.6 V, vmp: 37.6 V, isc: 5.7 A}
  cables:
    sun: {type: H1Z2Z2-K, size: 4 mm²}
    thick: {size: 35 mm², kind: marine}
strings:
  roof: {module: flat, series: 1}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 15 A, charge_voltage: 57 V}
fuses:
  sun-fuse: {rating: 30 A, voltage: 125 V, style: class-t, interrupt: 20 kA}
batteries:
  upper: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
  lower: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, arrangement: 3s}
loads:
  motor: {current: 80 A, nominal: 48 V}
wires:
  sun-run: {from: roof, to: tracker.pv, cable: sun, length: 2 m}
  charge: {from: tracker.battery.positive, to: upper.positive, cable: thick, length: 1 m,
           inline: [{sun-fuse: {from_end: to, distance: 10 cm}}]}
  charge-back: {from: tracker.battery.negative, to: lower.negative, cable: thick, length: 1 m}
  link: {from: upper.negative, to: lower.positive, cable: thick, length: 20 cm}
  motor-plus: {from: upper.positive, to: motor.positive, cable: thick, length: 2 m}
  motor-minus: {from: motor.negative, to: lower.negative, cable: thick, length: 2 m}
"""


def test_a_fuse_for_batteries_in_series_breaks_its_short_at_the_voltage_of_all() -> None:
    """A stud-mounted fuse breaks 10 kA at 14 V and 2 kA at 58 V."""
    [finding] = [f for f in found(ROW, FUSE) if f.subjects[0] == "motor-plus"]
    [added] = [dict(c.values) for c in finding.ways[0] if c.name == "motor-plus-fuse"]
    assert added["style"] != "stud-mounted"


def test_a_wire_drawn_to_the_battery_side_of_a_fuse_is_told_the_other() -> None:
    """The motor's wire is drawn towards the fuse, as that of the battery is."""
    wires = (
        "  battery-lead: {from: upper.positive, to: motor-fuse, cable: thick, length: 10 cm}\n"
        "  lamp-plus: {from: motor-fuse, to: lamp.positive, cable: thick, length: 1 m}\n"
        "  lamp-minus: {from: lamp.negative, to: lower.negative, cable: thick, length: 1 m}\n"
        "  motor-plus: {from: motor.positive, to: motor-fuse, cable: thick, length: 2 m}\n"
    )
    plan = edited(
        ("  motor-plus: {from: upper.positive, to: motor.positive, cable: thick, length: 2 m}\n",
         wires),
        ("loads:\n", "loads:\n  lamp: {current: 2 A, nominal: 48 V}\n"),
        ("fuses:\n", "fuses:\n  motor-fuse: {rating: 100 A, voltage: 125 V, style: class-t}\n"),
        plan=ROW,
    )  # fmt: skip
    [finding] = found(plan, FUSE)
    assert finding.remedy.startswith(
        "write `motor-fuse.load` in `motor-plus`, if it is led behind `motor-fuse`; else put"
    )
    led = edited(("to: motor-fuse, cable: thick, length: 2 m",
                  "to: motor-fuse.load, cable: thick, length: 2 m"), plan=plan)  # fmt: skip
    assert not found(led, FUSE)


@pytest.mark.parametrize(("draws_from", "level"), [("house", "note"), ("start", "warning")])
def test_a_starting_battery_that_a_module_keeps_full_is_still_the_vehicles(
    draws_from: str, level: str
) -> None:
    """Its alternator's cable may be the maker's, as long as the consumers hang on another one."""
    plan = edited(
        ("to: house, cable: batt-8", "to: start, cable: batt-8"),
        (
            "controllers:\n",
            "chargers:\n  alternator: {kind: alternator, max_output_current: 60 A}\n"
            "loads:\n  lamp: {current: 1 A, nominal: 12 V}\ncontrollers:\n",
        ),
        ("batteries:\n", "batteries:\n  start: {chemistry: flooded, capacity: 70 Ah}\n"),
        (
            "wires:\n",
            "wires:\n  alternator-run: {from: alternator, to: start, cable: batt-8, length: 2 m}\n"
            f"  lamp-run: {{from: {draws_from}, to: lamp, cable: batt-8, length: 1 m, "
            "inline: [{lamp-fuse: {from_end: from, distance: 5 cm}}]}\n",
        ),
        ("fuses:\n", "fuses:\n  lamp-fuse: {rating: 10 A, style: blade}\n"),
        plan=ONE,
    )
    [finding] = [f for f in found(plan, FUSE) if f.subjects[0] == "alternator-run"]
    assert finding.level == level


@pytest.mark.parametrize(
    ("joins", "level"),
    [("relay: {closes_above: 13.3 V}", "note"), ("relay: {poles: 1}", "warning")],
)
def test_a_relay_to_the_bar_of_the_house_parts_the_vehicles_battery_from_it(
    joins: str, level: str
) -> None:
    """Where it led to the post of the house battery it did; at a bar it did not."""
    plan = edited(
        ("to: house, cable: batt-8", "to: bar, cable: batt-8"),
        (
            "controllers:\n",
            "chargers:\n  alternator: {kind: alternator, max_output_current: 60 A}\n"
            "busbars:\n  bar: {rating: 200 A}\n"
            "loads:\n  lamp: {current: 1 A, nominal: 12 V}\ncontrollers:\n",
        ),
        ("batteries:\n", "batteries:\n  start: {chemistry: agm, nominal: 12 V, capacity: 70 Ah}\n"),
        (
            "wires:\n",
            "wires:\n  alternator-run: {from: alternator, to: start, cable: batt-8, length: 2 m}\n"
            "  link: {from: start, to: bar, cable: batt-8, length: 2 m, inline: [relay]}\n"
            "  bank-run: {from: house, to: bar, cable: batt-8, length: 1 m}\n"
            "  lamp-run: {from: bar, to: lamp, cable: batt-8, length: 1 m}\n",
        ),
        ("switches:\n", f"switches:\n  {joins}\n"),
        plan=ONE,
    )
    [finding] = [f for f in found(plan, FUSE) if "alternator-run" in f.subjects]
    assert finding.level == level


LINKED = """
wattproof: 1
setting: vehicle
code: nec-2023
datasheets:
  cables:
    link-6: {size: 6 AWG, kind: battery}
batteries:
  start: {chemistry: agm, nominal: 12 V, capacity: 80 Ah}
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
breakers:
  link-breaker: {rating: 50 A, style: surface-breaker}
switches:
  relay: {rating: 100 A, closes_above: 13.3 V}
wires:
  link: {from: start, to: house, cable: link-6, length: 3 m, inline: [link-breaker, relay]}
"""


@pytest.mark.parametrize(("length", "levels"), [("0.92 m", []), ("0.93 m", ["error"])])
def test_one_device_between_two_batteries_is_near_one_at_most(
    length: str, levels: list[str]
) -> None:
    """Wherever it sits in a wire that is longer than what both may have bare together."""
    seen = found(LINKED.replace("length: 3 m", f"length: {length}"), FUSE)
    assert [f.level for f in seen] == levels
    assert all("wherever `link-breaker` sits in `link`" in f.message for f in seen)


def test_that_it_is_too_large_as_well_is_told_besides() -> None:
    """At one of the two ends it may sit as it should, and is judged there."""
    thin = LINKED.replace("size: 6 AWG", "size: 12 AWG")
    assert len(found(thin, FUSE)) == 1
    assert len(found(thin, "fuse-over-conductor")) == 1


def test_where_it_sits_or_a_second_one_settles_it() -> None:
    told = LINKED.replace("link-breaker, relay", "{link-breaker: {from_end: from}}, relay")
    [finding] = found(told, FUSE)
    assert "wherever" not in finding.message
    both = LINKED.replace("breakers:\n", "breakers:\n  other: {rating: 50 A}\n")
    assert not found(both.replace("link-breaker, relay", "link-breaker, relay, other"), FUSE)
    assert not found("told: part\n" + LINKED.strip() + "\n", FUSE)


def test_a_length_that_nobody_told_is_asked() -> None:
    untold = LINKED.replace(", length: 3 m", "")
    assert not found(untold, FUSE)
    assert "length" in asked(untold, FUSE)


FUSE_BOX = """
wattproof: 1
setting: vehicle
batteries: {house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}}
distribution: {box: {ways: {lamp: {fuse: 10 A}}}}
loads: {lamp: {current: 2 A}}
wires:
  feed: {from: house, to: box, length: 3 m}
  lamp-run: {from: box.lamp, to: lamp, length: 3 m}
"""


def test_a_fuse_that_is_not_mentioned_may_be_before_a_panel() -> None:
    """The ways are the first that the plan tells, and far away; it may tell a part only."""
    [finding] = found(FUSE_BOX, FUSE)
    assert "its ways are the first" in finding.message
    partly = f"told: part\n{FUSE_BOX.strip()}\n"
    assert not found(partly, FUSE)
    assert "fuses not told" in asked(partly, FUSE)
    own = partly.replace(
        "length: 3 m}\n  lamp", "length: 3 m, inline: [{f: {from_end: to}}]}\n  lamp"
    )
    [told] = found(own + "fuses: {f: {rating: 50 A}}\n", FUSE)
    assert told.level == "error"


LINE = """\
wattproof: 1
setting: vehicle
code: iec
datasheets:
  cables:
    line: {size: 10 mm², kind: battery, insulation_temperature: 105 °C}
    thick: {size: 35 mm², kind: battery, insulation_temperature: 105 °C}
fuses:
  line-fuse: {rating: 40 A, voltage: 58 V, style: stud-mounted, interrupt: 10 kA}
  main-fuse: {rating: 125 A, voltage: 58 V, style: stud-mounted, interrupt: 10 kA}
switches:
  relay: {rating: 140 A, voltage: 24 V, dc: true, closes_above: 13.3 V}
batteries:
  car: {chemistry: agm, nominal: 12 V, capacity: 80 Ah}
  trailer: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
busbars:
  plus: {rating: 150 A}
chargers:
  alternator: {kind: alternator, max_output_current: 30 A}
loads:
  lamp: {current: 5 A}
wires:
  engine: {from: alternator.positive, to: car.positive, cable: thick, length: 50 cm, enclosed: true}
  car-tie: {from: car.negative, to: chassis, cable: thick, length: 50 cm}
  trailer-tie: {from: trailer.negative, to: chassis, cable: thick, length: 50 cm}
  main: {from: trailer.positive, to: plus, cable: thick, length: 50 cm,
         inline: [{main-fuse: {from_end: from, distance: 10 cm}}]}
  line: {from: car.positive, to: plus, cable: line, length: 6 m,
         inline: [relay, {line-fuse: {from_end: to, distance: 5 cm}}]}
"""


def test_a_fuse_that_guards_its_own_end_too_is_joined_by_another() -> None:
    """Moved to the car, it would leave the line at the bar to the trailer's fuse of 125 A."""
    [finding] = [f for f in found(LINE, "battery-fuse-missing") if f.subjects[0] == "line"]
    assert "`line-fuse` is 5.95 m from `car`" in finding.message
    assert "put another fuse of 40 A within 0.2 m of `car`" in finding.remedy
    alone = edited(
        ("line: {from: car.positive, to: plus", "line: {from: car.positive, to: lamp.positive"),
        ("  main: {", "  back: {from: lamp.negative, to: chassis, length: 1 m}\n  main: {"),
        plan=LINE,
    )  # fmt: skip
    [finding] = [f for f in found(alone, "battery-fuse-missing") if f.subjects[0] == "line"]
    assert "put `line-fuse` within 0.2 m of `car`" in finding.remedy


TWO_ENGINES = """
wattproof: 1
setting: boat
datasheets: {{cables: {{start: {{size: 1/0 AWG, kind: marine}}, thin: {{size: 10 AWG}}}}}}
batteries:
  port: {{chemistry: agm, nominal: 12 V, capacity: 100 Ah}}
  starboard: {{chemistry: agm, nominal: 12 V, capacity: 100 Ah}}
starters: {{port-starter: {{current: 300 A}}, starboard-starter: {{current: 300 A}}}}
switches: {{crossover: {{{switch}}}}}
wires:
  port-crank: {{from: port, to: port-starter, cable: start, length: 1 m, enclosed: true}}
  starboard-crank: {{from: starboard, to: starboard-starter, cable: start, length: 1 m,
                    enclosed: true}}
  cross: {{from: port.positive, to: starboard.positive, {cable}, inline: crossover}}
  cross-minus: {{from: port.negative, to: starboard.negative, cable: start, length: 3 m}}
"""


@pytest.mark.parametrize(
    ("switch", "cable", "level"),
    [
        ("rating: 600 A", "cable: start, length: 3 m", "note"),
        ("rating: 600 A", "cable: start, length: 3 m, enclosed: true", None),
        ("rating: 600 A", "length: 3 m", "note"),  # as what starts the engines
        ("rating: 600 A", "cable: thin, length: 3 m", "error"),
        ("rating: 600 A, closes_above: 13.3 V", "cable: start, length: 3 m", "error"),
    ],
)
def test_a_cable_between_the_batteries_of_two_engines_starts_either(
    switch: str, cable: str, level: str | None
) -> None:
    """It is a starting cable while a hand closes it; a relay by voltage charges through it."""
    findings = [
        f
        for f in found(TWO_ENGINES.format(switch=switch, cable=cable), FUSE)
        if "cross" in f.subjects
    ]
    assert [f.level for f in findings[:1]] == ([level] if level else [])


def test_an_alternator_that_feeds_a_bank_by_a_wire_not_yet_told_is_asked_about() -> None:
    plan = """
wattproof: 1
setting: boat
chargers: {alternator: {kind: alternator, feeds: house}}
controllers: {regulator: {feeds: house}}
strings: {rail: {module: unknown, feeds: regulator}}
batteries: {house: {chemistry: gel, nominal: 12 V, capacity: 500 Ah}, start: {nominal: 12 V}}
starters: {crank: {}}
loads: {lamp: {current: 1 A}}
wires:
  crank-run: {from: start, to: crank, enclosed: true}
  lamp-run: {from: house, to: lamp}
"""
    assert not [f for f in found(plan, FUSE) if "alternator" in f.subjects]
    assert "fuses not told" in asked(plan, FUSE)
