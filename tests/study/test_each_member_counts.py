"""All of several, any of them, the first and the last: each asked of members that are not alike."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import pytest

from external.battery_sides import HEAD
from plans import array_plan, edited
from study.test_allowed import BASE
from study.test_returns_by_hand import returns, with_heater
from study.wiring.test_grounding_by_hand import LAMP, TWO
from study.wiring.test_grounding_by_hand import study as grounded
from study.wiring.test_ports_by_hand import ROOF, SUN, port_of
from wattproof.circuit import Terminal
from wattproof.codes import body as body_of
from wattproof.study.array.connectors import GUARDED, is_guarded, is_told_nothing_of
from wattproof.study.array.series import in_series_with
from wattproof.study.array.string_fuses import most_without
from wattproof.study.array.switching import is_unplugged
from wattproof.study.assumptions.modules import MOUNTING
from wattproof.study.protection.answers import worst_of
from wattproof.study.protection.breaking import _by_size
from wattproof.study.protection.guards import Exit, _metres
from wattproof.study.protection.interrupts import Duty
from wattproof.study.protection.larger_device import Exposed
from wattproof.study.protection.spans import Span, span_of
from wattproof.study.wiring.busbars import _sorted
from wattproof.study.wiring.closing import _led_to_the_body
from wattproof.study.wiring.in_use import _together
from wattproof.study.wiring.sharing import _by_switch
from wattproof.study.wiring.wires import Carrying
from wattproof.testing import study_of
from wattproof.working import Value


def thing(**told: object) -> Any:
    return cast(Any, SimpleNamespace(**told))


def asked(kind: type, name: str, **told: object) -> object:
    """What a property says of something that has no more than it reads."""
    return vars(kind)[name].fget(thing(**told))


def test_the_worst_answer_decides() -> None:
    fine, unknown = thing(verdict="cleared", reason=None), thing(verdict="not known", reason=None)
    bad, worse = (thing(verdict="not allowed", reason=r) for r in ("too far", "no device"))
    assert worst_of([fine, bad, unknown]) is bad
    assert worst_of([fine, unknown]) is unknown
    assert worst_of([bad, worse]) is worst_of([worse, bad])


def test_a_way_is_enclosed_where_each_of_its_wires_is() -> None:
    wires = [thing(wire=thing(enclosed=each)) for each in (True, False)]
    assert asked(Exit, "enclosed", conductors=wires) is False
    assert asked(Exit, "enclosed", conductors=wires[:1]) is True


def test_a_device_is_placed_where_each_of_its_poles_is() -> None:
    poles = [thing(inline=thing(distance=each)) for each in (0.1, None)]
    assert asked(Duty, "placed", device=thing(passages=poles)) is False
    assert asked(Duty, "placed", device=thing(passages=[*poles[:1], thing(inline=None)])) is True


def test_an_array_is_taken_away_where_each_of_its_strings_is() -> None:
    def array(*portable: bool) -> Any:
        return thing(
            declared_strings=[thing(portable=each) for each in portable],
            voc=lambda _: Value(20.0, "V"),
            isc=lambda _: Value(5.0, "A"),
        )

    assert not is_unplugged(array(True, False), "vehicle")
    assert is_unplugged(array(True, True), "vehicle")
    assert is_unplugged(array(False), "portable")


def test_a_string_is_guarded_where_each_of_its_plugs_is() -> None:
    def string(*styles: str | None) -> Any:
        plugs = [thing(style=style) if style else None for style in styles]
        return thing(modules=[thing(sheet=thing(connector=plug)) for plug in plugs])

    assert is_guarded(string(GUARDED, GUARDED))
    assert not is_guarded(string(GUARDED, "ring"))
    assert not is_guarded(string(GUARDED, None))
    assert is_told_nothing_of(string(GUARDED, None))
    assert not is_told_nothing_of(string(GUARDED, GUARDED))
    assert not is_told_nothing_of(string("ring", None))


def test_two_banks_are_joined_by_a_switch_where_one_of_their_ways_has_one() -> None:
    one, two = thing(name="one"), thing(name="two")
    ways = [thing(first=two, second=one, switch=each) for each in (None, "relay")]
    assert _by_switch([one, two], ways)
    assert not _by_switch([one, two], ways[:1])
    assert not _by_switch([one, thing(name="three")], ways)


def test_what_is_joined_with_one_of_a_group_is_of_the_group() -> None:
    beside = {("a", "b"), ("b", "c"), ("d", "e")}
    found = _together(list("acdbe"), lambda x, y: (x, y) in beside or (y, x) in beside)
    assert sorted(map(sorted, found)) == [["a", "b", "c"], ["d", "e"]]


def test_legs_of_a_bar_come_with_the_largest_first_and_alike_ones_by_name() -> None:
    legs = [("c", Value(5.0, "A")), ("b", Value(5.0, "A")), ("a", Value(1.0, "A")),
            ("d", Value(9.0, "A"))]  # fmt: skip
    assert [name for name, _ in _sorted(legs)] == ["d", "b", "c", "a"]


def test_a_length_within_what_decimals_lose() -> None:
    assert Span(0.0, 0.0).is_within(0.0)
    assert not Span(0.0, 0.1).is_within(0.0)
    assert span_of(()) == Span(0.0, 0.0)


def test_a_loop_is_one_where_both_poles_end_where_they_begin() -> None:
    wire = "  loop: {from: bar, to: bar, cable: thick, length: 1 m, place: cabin}\n"
    assert study_of(BASE + wire).wiring.wires["loop"].is_loop
    assert not study_of(BASE).wiring.wires["lamp-run"].is_loop


def test_the_negative_of_an_output_that_has_none_is_that_of_the_battery() -> None:
    """A lamp on the load terminals of a controller, whose current comes back to the battery."""
    parts = SUN.replace("output_current: 90 A", "output_current: 90 A, load_current: 10 A")
    found = grounded(parts, TWO.replace(TWO.splitlines()[0] + "\n", LAMP) + ROOF)
    assert port_of(found, "sun.load").minus == Terminal("sun", "battery", "negative")


def test_air_that_nobody_tells_is_hotter_on_the_side_of_the_array() -> None:
    study = study_of(edited((", place: [roof, cabin]", ""), (", place: cabin,", ",")))
    wires = study.wiring.wires
    assert wires["home-run"].ambient.number > wires["charge-run"].ambient.number


def test_a_string_without_a_word_on_its_mounting_is_taken_to_be_mounted_as_usual() -> None:
    told = MOUNTING.value
    plain, mounted = (
        study_of(edited((", mounting: roof-gap", mounting))).array.arrays[0].all_strings[0]
        for mounting in ("", f", mounting: {told}")
    )
    assert plain.cells("hottest").number == mounted.cells("hottest").number


def test_the_module_that_gets_hotter_decides_how_hot_cells_get() -> None:
    """Of 45 °C and 48 °C at nominal operating conditions the latter."""
    plan = edited(
        ("max_series_fuse: 15 A", "noct: 45 °C, max_series_fuse: 15 A"),
        ("  cables:\n", "    other: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,"
         " noct: 48 °C, max_series_fuse: 15 A, max_system_voltage: 600 V}\n  cables:\n"),
        ("{module: rigid-100, series: 3,", "{modules: [rigid-100, other, rigid-100],"),
        ("mounting: roof-gap", "mounting: open-rack"),
    )  # fmt: skip
    cells = [
        study_of(each).array.arrays[0].all_strings[0].cells("hottest").number
        for each in (
            plan,
            plan.replace("noct: 45 °C", "noct: 48 °C"),
            plan.replace("48 °C", "45 °C"),
        )
    ]
    assert cells[0] == cells[1] > cells[2]


@pytest.mark.parametrize("count", [2, 3])
def test_a_link_between_batteries_in_series_is_guarded_by_what_is_at_the_top(count: int) -> None:
    """Of two or three in a row the fuse at the positive of the last."""
    made = "voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true"
    cells = "".join(
        f"  b{k}: {{chemistry: agm, nominal: 6 V, capacity: 100 Ah}}\n" for k in range(count)
    )
    links = "".join(
        f"  link-{k}: {{from: b{k}.positive, to: b{k + 1}.negative, cable: batt-2, length: 1 m}}\n"
        for k in range(count - 1)
    )
    text = HEAD + (
        f"fuses:\n  main: {{rating: 80 A, {made}}}\nbatteries:\n{cells}"
        f"loads:\n  lamp: {{current: 5 A}}\nwires:\n{links}"
        f"  out: {{from: b{count - 1}.positive, to: lamp.positive, cable: batt-2, length: 2 m, "
        "inline: [{main: {from_end: from, distance: 10 cm}}]}\n"
        "  back: {from: lamp.negative, to: b0.negative, cable: batt-2, length: 2 m}\n"
    )
    guards = study_of(text).protection.link_guards
    assert [(g.wire.name, [d.name for d in g.devices]) for g in guards] == [
        (f"link-{k}", ["main"]) for k in range(count - 1)
    ]


def test_two_arrays_side_by_side_give_both_their_currents() -> None:
    plan = array_plan(
        "  a: {module: rigid-100, series: 1, mounting: roof-gap}\n"
        "  b: {module: rigid-100, series: 1, mounting: roof-gap}\n",
        "  a-lead: {from: a, to: joint, cable: pv-10, length: 2 m, place: roof}\n"
        "  b-lead: {from: b, to: joint, cable: pv-10, length: 2 m, place: roof}\n"
        "  home-run: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m, place: roof}\n",
        "  joint: {rating: 50 A, voltage: 600 V}\n",
    )
    [array] = study_of(plan).array.arrays
    assert array.isc("standard").number == pytest.approx(10.4)


def test_a_wire_in_place_of_another_is_protected_and_bears_its_current() -> None:
    def size(name: str, protected: bool, most: float) -> Any:
        may = Carrying(*(Value(most, "A"),) * 3, ())
        return thing(
            name=name,
            carrying=may,
            current=Value(50.0, "A"),
            is_protected_by=lambda _: protected,
            is_overloaded=most < 50.0,
            fails=lambda _: () if most >= 50.0 else ("too much",),
        )

    sizes = [size("a", False, 60.0), size("b", True, 40.0), size("c", True, 60.0)]
    wire = thing(larger_sizes=lambda: iter(sizes))
    found = Exposed(wire, Value(70.0, "A")).thicker()
    assert found is not None
    assert found.name == "c"


def part(begins: tuple[float, float], ends: tuple[float, float]) -> Any:
    return thing(name="wire", pole="positive", begins=begins, ends=ends)


def test_how_long_a_way_is_at_least_and_at_most() -> None:
    """From the latest begin to the earliest end, and the other way round; never below nothing."""
    assert span_of([part((0.1, 0.2), (0.5, 0.6))]) == pytest.approx((0.3, 0.5))
    assert span_of([part((0.0, 1.0), (0.5, 1.0))]) == pytest.approx((0.0, 1.0))
    two = [part((0.4, 0.4), (1.2, 1.2)), part((0.0, 1.0), (1.0, 1.0))]
    assert span_of(two) == span_of(two[::-1]) == pytest.approx((0.2, 1.2))


def test_a_device_has_no_length() -> None:
    assert _metres(thing()) == 0.0


def test_a_breaker_without_a_word_on_it_is_no_fuse() -> None:
    plan = edited(
        ("fuses:\n", "breakers:\n  spare: {rating: 30 A}\nfuses:\n"),
        ("inline: [{lamp-fuse:", "inline: [spare, {lamp-fuse:"),
        plan=BASE,
    )
    found = study_of(plan).plan
    kinds = [_by_size(found.breakers["spare"]), _by_size(found.fuses["lamp-fuse"])]
    assert kinds == ["breaker", "fuse to 40 A"]


def test_what_leads_to_a_battery_first_is_not_led_to_the_body() -> None:
    house, lamp, body = (Terminal(name, "", "negative") for name in ("house", "lamp", "chassis"))
    circuit = thing(
        plan=thing(batteries={"house": None}), around={lamp: [thing(start=lamp, end=body)]}
    )
    assert not _led_to_the_body({house, lamp}, circuit)
    assert _led_to_the_body({lamp}, circuit)


def test_as_many_strings_as_just_reach_what_one_stands_need_one_more_for_a_fuse() -> None:
    """Two of 10 A push back what a third stands, which is just 20 A by the factor of the body."""
    nec = body_of("nec-2023")
    factor = nec.reverse_current_factor.value
    assert most_without(Value(10.0, "A"), 20.0 * factor, nec) == 3
    assert most_without(Value(10.0, "A"), 19.9 * factor, nec) == 2


def test_two_groups_of_two_straight_on_a_battery_show_both_voltages_and_both_currents() -> None:
    """Two in parallel, twice in series: 2 × 5.2 A, and twice the cold voltage of one."""
    plan = edited(
        ("strings:\n", "strings:\n  one: {module: rigid-100}\n"
         "  bare: {module: rigid-100, arrangement: 2p2s}\n"),
        ("wires:\n", "wires:\n  bare-run: {from: bare, to: house, cable: pv-10, length: 1 m}\n"
         "  one-run: {from: one, to: house, cable: pv-10, length: 1 m}\n"),
    )  # fmt: skip
    bare, one = study_of(plan).array.straight_on
    assert (one.string.name, bare.string.name) == ("one", "bare")
    assert bare.volts.number == pytest.approx(2 * one.volts.number)
    assert bare.current.number == pytest.approx(2 * one.current.number) == pytest.approx(10.4)


def test_strings_side_by_side_count_their_own_modules_alone() -> None:
    plan = array_plan(
        "  a: {module: rigid-100, series: 2, mounting: roof-gap}\n"
        "  b: {module: rigid-100, series: 2, mounting: roof-gap}\n",
        "  a-lead: {from: a, to: joint, cable: pv-10, length: 2 m, place: roof}\n"
        "  b-lead: {from: b, to: joint, cable: pv-10, length: 2 m, place: roof}\n"
        "  home-run: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m, place: roof}\n",
        "  joint: {rating: 50 A, voltage: 600 V}\n",
    )
    [array] = study_of(plan).array.arrays
    assert [count for _, count in in_series_with(array)] == [2, 2]


def test_what_is_borrowed_of_a_body_says_so_of_both_its_ends() -> None:
    for factor in body_of("iso-13297").string_fuse_window(5.0):
        assert factor is not None
        assert factor.source.endswith(", as ISO 13297 states none")


def test_what_comes_back_comes_in_on_the_side_of_the_bank() -> None:
    """From either end of the wire: it is written from the heater, and turned."""
    plan = with_heater("80 A", "to: bar, cable: thin")
    run = "pole: negative, length: 1 m, place: cabin, to:"
    turned = plan.replace(f"{{from: heater, {run} bar", f"{{from: bar, {run} heater")
    assert turned != plan
    for each in (plan, turned):
        assert {answer.fed_at for answer in returns(each, "heater-minus")} == {"bar"}
