"""The one-line view: which way each wire leads, what stands where, and what is said of it."""

from __future__ import annotations

from plans import BASE, EXAMPLES, edited
from wattproof.testing import study_of
from wattproof.views.one_line.view import End, OneLine, Part, Run, one_line

MORE = (
    "busbars:\n  bar: {rating: 100 A}\n"
    "distribution:\n  panel: {ways: {lights: {fuse: 10 A}}}\n"
    "loads:\n  lamp: {current: 2 A}\n  pump: {power: 60 W, critical: true}\n"
    "chargers:\n  shore: {kind: shore, max_output_current: 15 A}\n"
)


def view_of(text: str) -> OneLine:
    return one_line(study_of(text), "standard")


def with_wires(*wires: str) -> OneLine:
    """The base plan with more parts and the wires that join them to the bank."""
    drawn = "".join(
        f"  w{n}: {{{wire}, cable: batt-8, length: 2 m}}\n" for n, wire in enumerate(wires)
    )
    return view_of(edited(("fuses:\n", MORE + "fuses:\n")) + drawn)


def run(view: OneLine, name: str) -> Run:
    return next(r for r in view.runs if r.name == name)


def part(view: OneLine, key: str) -> Part:
    return next(p for p in view.parts if p.key == key)


JOINED = (
    "from: house, to: bar",
    "from: lamp, to: panel.lights",
    "from: panel, to: bar",
    "from: pump, to: bar",
    "from: bar, to: shore",
)


def test_wires_lead_from_sources_to_loads_however_they_are_written() -> None:
    view = with_wires(*JOINED)
    ends = {r.name: (r.upper, r.lower) for r in view.runs}
    assert ends["home-run"] == (End("roof-string"), End("tracker", "pv"))
    assert ends["charge-run"] == (End("tracker", "battery"), End("house"))
    assert ends["w1"] == (End("panel", "lights"), End("lamp"))
    assert ends["w2"] == (End("bar"), End("panel"))
    assert ends["w3"] == (End("bar"), End("pump"))
    assert ends["w4"] == (End("shore"), End("bar"))


def test_without_a_source_wires_lead_from_the_bank() -> None:
    plan = BASE[: BASE.index("strings:")] + (
        "batteries:\n  house: {chemistry: agm, nominal: 12 V, capacity: 90 Ah}\n"
        "loads:\n  lamp: {current: 2 A}\n"
        "wires:\n  run: {from: lamp, to: house, cable: batt-8, length: 2 m}\n"
    )
    assert run(view_of(plan), "run").upper == End("house")


def test_devices_follow_the_wire_from_its_upper_end() -> None:
    text = edited(
        ("from: tracker.battery, to: house,", "from: house, to: tracker.battery,"),
        (
            "[{charge-fuse: {from_end: to, distance: 10 cm}}]",
            "[{charge-fuse: {from_end: from, distance: 10 cm}}, off]",
        ),
        ("fuses:\n", "switches:\n  off: {rating: 30 A}\nfuses:\n"),
    )
    charge = run(view_of(text), "charge-run")
    assert charge.upper == End("tracker", "battery")
    assert [d.name for d in charge.devices] == ["off", "charge-fuse"]
    assert [d.share for d in charge.devices] == [None, 0.9]
    assert charge.devices[1].says[-1] == "10 cm from house"


def test_each_conductor_to_a_ground_has_a_sign_of_its_own() -> None:
    bonds = "bonds:\n  tie: {from: house.negative, to: chassis, cable: batt-8, length: 1 m}\n"
    returning = (
        "  feed: {from: house.positive, to: lamp.positive, cable: batt-8, length: 1 m}\n"
        "  back: {from: lamp.negative, to: chassis, cable: batt-8, length: 1 m}\n"
    )
    view = view_of(
        edited(("fuses:\n", f"{bonds}loads:\n  lamp: {{current: 2 A}}\nfuses:\n")) + returning
    )
    grounds = [p for p in view.parts if p.kind == "chassis"]
    assert len(grounds) == 2
    assert run(view, "tie").poles == run(view, "back").poles == "negative"
    assert run(view, "feed").poles == "positive"
    assert str(run(view, "tie").length) == "1 m"


def test_an_arrester_stands_where_current_arrives_or_leaves() -> None:
    arresters = (
        "arresters:\n"
        "  a: {across: tracker.pv, voltage: 150 V}\n"
        "  b: {across: house, voltage: 60 V}\n"
    )
    view = view_of(edited(("fuses:\n", f"{arresters}fuses:\n")))
    taps = {r.key: (r.upper.part, r.lower.part) for r in view.runs if not r.name}
    assert taps == {"a:tap": ("a", "tracker"), "b:tap": ("house", "b")}


def test_strings_plugged_straight_in_are_joined_without_a_wire() -> None:
    view = one_line(
        study_of((EXAMPLES / "van-vehicle-charger.yaml").read_text("utf-8")), "standard"
    )
    plugged = [r for r in view.runs if not r.name]
    assert [(r.upper.part, r.lower.part) for r in plugged] == [
        ("roof-left", "roof-branch"),
        ("roof-right", "roof-branch"),
    ]
    assert part(view, "alternator").kind == "alternator"


def test_readings_are_values_that_can_be_traced() -> None:
    study = study_of(BASE)
    view = one_line(study, "hottest")
    [array] = study.array.arrays
    [string] = array.all_strings
    read = {r.words: r.value for r in part(view, "roof-string").readings}
    assert read["Voc"] is string.voc("hottest")
    assert read["Vmp"] is string.vmp("hottest")
    assert [r.value for r in run(view, "home-run").readings] == [
        array.vmp("hottest"),
        array.imp("hottest"),
    ]
    charge = study.wiring.wires["charge-run"]
    assert [r.value for r in run(view, "charge-run").readings] == [charge.volts, charge.current]


def test_a_panel_shows_its_ways_and_a_string_its_diode() -> None:
    view = with_wires(*JOINED)
    assert [(w.key, w.says) for w in part(view, "panel").ways] == [("panel.lights", ("fuse 10 A",))]
    assert part(view, "pump").says == ("critical", "60 W")
    blocked = view_of(edited(("mounting: roof-gap}", "mounting: roof-gap, blocking_diode: 0.5 V}")))
    assert part(blocked, "roof-string").blocks
    assert "blocking diode 0.5 V" in part(blocked, "roof-string").says


def test_a_marked_breaker_tells_what_is_on_its_line_side() -> None:
    more = "breakers:\n  main: {rating: 30 A, polarised: true}\nloads:\n  lamp: {current: 2 A}\n"
    text = edited(("fuses:\n", f"{more}fuses:\n"))
    wires = (
        "  feed: {from: main.line, to: house, cable: batt-8, length: 1 m}\n"
        "  out: {from: main.load, to: lamp, cable: batt-8, length: 1 m}\n"
    )
    assert part(view_of(text + wires), "main").says[1:] == ("polarised", "line side: feed")


def test_modules_not_chosen_stand_with_where_they_may_lead() -> None:
    view = view_of(
        edited(
            ("series: 3,", "arrangement: open, count: 6, controllers: [tracker],"),
            (
                "  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, "
                "place: [roof, cabin]}\n",
                "",
            ),
        )
    )
    string = next(p for p in view.parts if p.name == "roof-string")
    assert string.says == ("6 × rigid-100",)
    drawn = next(r for r in view.runs if r.upper == End("roof-string"))
    assert (drawn.lower, drawn.says) == (End("tracker", "pv"), ("not chosen yet",))


RING = """\
busbars:
  plus: {rating: 100 A}
  minus: {rating: 100 A}
switches:
  relay: {rating: 100 A, dc: true}
"""
POLE_BY_POLE = """\
  a: {from: tracker.battery.positive, to: plus.positive, cable: batt-8, length: 1 m}
  b: {from: tracker.battery.negative, to: minus.negative, cable: batt-8, length: 1 m}
  c: {from: plus.positive, to: relay, cable: batt-8, length: 1 m, pole: positive}
  d: {from: relay, to: charge-fuse, cable: batt-8, length: 1 m, pole: positive}
  e: {from: house.positive, to: charge-fuse, cable: batt-8, length: 1 m, pole: positive}
  f: {from: house.negative, to: minus.negative, cable: batt-8, length: 1 m}
"""


def test_current_passes_the_device_at_which_a_ring_of_two_poles_closes() -> None:
    """The fuse is furthest from the controller by either pole, and no end where two wires stop."""
    plan = edited(("fuses:\n", RING + "fuses:\n"))
    view = view_of(plan[: plan.index("  charge-run:")] + POLE_BY_POLE)
    ends = {r.name: (r.upper.part, r.lower.part) for r in view.runs}
    assert ends["c"] == ("plus", "relay")
    assert ends["d"] == ("relay", "charge-fuse")
    assert ends["e"] == ("charge-fuse", "house")
    assert ends["f"] == ("minus", "house")
