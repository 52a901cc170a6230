"""A plan with values changed: only what is named changes, and what cannot be read is refused."""

from __future__ import annotations

import pytest

from plans import BASE, edited
from wattproof.plan import Plan, load_plan
from wattproof.plan.amend import Addition, Amendment, Change, amended, following, name_in_plan
from wattproof.quantities import Mistake

PLAN = edited(
    (
        "wires:\n",
        "loads:\n  fridge: {current: 4 A}\n"
        "distribution:\n  panel: {ways: {cold: {fuse: 10 A}, light: {fuse: 5 A}}}\n"
        "wires:\n"
        "  panel-feed: {from: house, to: panel, cable: batt-8, length: 1 m}\n"
        "  cold-lead: {from: panel.cold, to: fridge, cable: pv-10, length: 2 m}\n",
    )
)


def plan(text: str = PLAN) -> Plan:
    return load_plan("plan.yaml", text=text)


def test_a_value_of_a_component_is_read_anew_and_the_plan_stays() -> None:
    before = plan()
    after = amended(before, [Change("charge-fuse", "rating", "30 A")])
    assert after.fuses["charge-fuse"].rating.value == 30.0
    assert after.fuses["charge-fuse"].rating.place == before.fuses["charge-fuse"].at
    assert before.fuses["charge-fuse"].rating.value == 40.0
    assert after.fuses["charge-fuse"].voltage == before.fuses["charge-fuse"].voltage


def test_a_key_that_was_not_written_is_added() -> None:
    after = amended(plan(), [Change("tracker", "limited_to", "15 A")])
    assert after.controllers["tracker"].limited_to.value == 15.0


def test_what_is_declared_of_a_use() -> None:
    text = PLAN + "energy: {uses: {fridge: {hours: {winter: 4 h, summer: 8 h}}}}\n"
    after = amended(plan(text), [Change("fridge", "use.hours", "2 h")])
    assert after.energy.uses["fridge"].hours.of("summer").value == 2 * 3600.0
    assert plan(text).energy.uses["fridge"].hours.of("summer").value == 8 * 3600.0


def test_one_wire_gets_a_cable_of_its_own_and_the_others_keep_theirs() -> None:
    after = amended(plan(), [Change("home-run", "cable.size", "8 AWG")])
    cables = after.datasheets.cables
    assert cables[after.wires["home-run"].cable].size.text == "8 AWG"
    assert cables[after.wires["home-run"].cable].kind == "pv"
    assert cables[after.wires["cold-lead"].cable].size.text == "10 AWG"


def test_several_changes_of_one_cable_hold_together() -> None:
    changes = [
        Change("home-run", "cable.size", "8 AWG"),
        Change("home-run", "cable.insulation_temperature", "105 °C"),
    ]
    after = amended(plan(), changes)
    sheet = after.datasheets.cables[after.wires["home-run"].cable]
    assert (sheet.size.text, sheet.insulation_temperature.value) == ("8 AWG", 105.0)


def test_a_device_in_a_wire_and_a_way_of_a_panel() -> None:
    changes = [
        Change("charge-run", "inline.charge-fuse.distance", "5 cm"),
        Change("panel", "ways.cold.fuse", "7.5 A"),
    ]
    after = amended(plan(), changes)
    assert after.wires["charge-run"].inline[0].distance.value == pytest.approx(0.05)
    assert after.distribution["panel"].ways["cold"].fuse.value == 7.5
    assert after.distribution["panel"].ways["light"].fuse.value == 5.0


def test_an_end_of_a_wire_is_named_as_the_plan_names_it() -> None:
    changes = [
        Change("charge-run", "from", "tracker.load"),
        Change("charge-run", "to", "house.negative"),
    ]
    wire = amended(plan(), changes).wires["charge-run"]
    assert (wire.start, wire.to) == ("tracker.load", "house.negative")


def test_a_key_is_left_out() -> None:
    before = plan(edited(("charge_voltage: 14.2 V", "charge_voltage: 14.2 V, limited_to: 15 A")))
    assert (
        amended(before, [Change("tracker", "limited_to", "")]).controllers["tracker"].limited_to
        is None
    )


def test_one_string_gets_a_label_of_its_own_and_a_part_that_it_did_not_have() -> None:
    changes = [
        Change("roof-string", "modules.rigid-100.max_system_voltage", "1000 V"),
        Change("roof-string", "modules.rigid-100.connector.style", "locking-pv"),
    ]
    before = plan()
    after = amended(before, changes)
    sheet = after.datasheets.modules[after.strings["roof-string"].module or ""]
    assert sheet.max_system_voltage is not None
    assert sheet.max_system_voltage.value == 1000.0
    assert sheet.connector is not None
    assert sheet.connector.style == "locking-pv"
    assert sheet.voc == before.datasheets.modules["rigid-100"].voc
    assert after.datasheets.modules["rigid-100"].connector is None
    assert name_in_plan(sheet.name) == "rigid-100"


def test_a_component_gets_a_place_of_its_own() -> None:
    before = plan(edited(("capacity: 100 Ah", "capacity: 100 Ah, place: cabin")))
    after = amended(before, [Change("house", "place.coldest", "5 °C")])
    place = after.site.places[after.batteries["house"].place or ""]
    assert place.coldest is not None
    assert place.ambient == before.site.places["cabin"].ambient
    assert after.site.places["cabin"].coldest is None
    with pytest.raises(ValueError, match="no single place"):
        amended(plan(), [Change("tracker", "place.coldest", "5 °C")])


def test_series_and_arrangement_take_each_others_place() -> None:
    paired = amended(plan(), [Change("roof-string", "arrangement", "2s2p")])
    string = paired.strings["roof-string"]
    assert (string.series, string.arrangement and string.arrangement.text) == (None, "2s2p")
    string = amended(paired, [Change("roof-string", "series", "2")]).strings["roof-string"]
    assert (string.series, string.arrangement) == (2, None)


SWITCH = Addition("switches", "new-off", (("rating", "40 A"), ("poles", "2")), "charge-run")
FUSE = Addition("fuses", "new-fuse", (("rating", "15 A"),), "charge-run", "to", "5 cm")


def test_a_device_is_added_in_a_wire() -> None:
    after = amended(plan(), [SWITCH, FUSE])
    assert after.switches["new-off"].rating.value == 40.0
    assert after.switches["new-off"].poles == 2
    assert [i.device for i in after.wires["charge-run"].inline] == [
        "charge-fuse",
        "new-off",
        "new-fuse",
    ]
    assert after.wires["charge-run"].inline[-1].distance.value == pytest.approx(0.05)
    first = FUSE._replace(from_end="from")
    assert amended(plan(), [first]).wires["charge-run"].inline[0].device == "new-fuse"


def test_later_changes_hold_over_earlier_ones() -> None:
    shorter, paired = (
        Change("roof-string", "series", "2"),
        Change("roof-string", "arrangement", "2s2p"),
    )
    assert list(following([shorter], [paired])) == [paired]
    thick = Change("home-run", "cable.size", "8 AWG")
    assert list(following([thick], [thick._replace(text="6 AWG"), FUSE])) == [
        thick._replace(text="6 AWG"),
        FUSE,
    ]
    rated = FUSE._replace(values=(("rating", "20 A"), ("style", "gpv")))
    later = [Change("new-fuse", "rating", "20 A"), Change("new-fuse", "style", "gpv")]
    assert list(following([FUSE], later)) == [rated]


def test_a_device_is_moved_to_the_other_end_of_its_wire() -> None:
    key = "inline.charge-fuse"
    changes = [Change("charge-run", f"{key}.from_end", "from")]
    after = amended(plan(), [SWITCH, *changes])
    assert [i.device for i in after.wires["charge-run"].inline] == ["charge-fuse", "new-off"]


@pytest.mark.parametrize(
    "addition",
    [
        FUSE._replace(name="tracker"),
        FUSE._replace(wire="nothing"),
        FUSE._replace(values=(("rating", "15 V"),)),
        FUSE._replace(values=(("voltage", "15 V"),)),
    ],
)
def test_what_cannot_be_added_is_refused(addition: Addition) -> None:
    with pytest.raises(ValueError, match=r"cannot be added|rating"):
        amended(plan(), [addition])


@pytest.mark.parametrize(
    "change",
    [
        Change("nothing", "rating", "30 A"),
        Change("charge-fuse", "colour", "red"),
        Change("charge-run", "inline.other.distance", "5 cm"),
        Change("panel", "ways.other.fuse", "5 A"),
        Change("charge-run", "inline", "other"),
        Change("roof-string", "modules.other.voc", "20 V"),
        Change("fridge", "use.hours", "2 h"),
    ],
)
def test_what_names_nothing_is_refused(change: Change) -> None:
    with pytest.raises(ValueError, match=r"named|key|not in|no way|no use"):
        amended(plan(), [change])


def test_what_is_no_such_value_is_refused() -> None:
    with pytest.raises(Mistake):
        amended(plan(), [Change("charge-fuse", "rating", "30 V")])
    with pytest.raises(Mistake):
        amended(plan(), [Change("charge-fuse", "rating", "")])  # it cannot be left out


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (Change("main", "rating", "30 A"), "`rating: 30 A` for `main`"),
        (Change("run", "cable.size", "8 AWG"), "`size: 8 AWG` for the cable of `run`"),
        (Change("run", "inline.main.distance", "5 cm"), "`distance: 5 cm` for `main` in `run`"),
        (Change("panel", "ways.cold.fuse", "5 A"), "`fuse: 5 A` for `cold` in `panel`"),
        (Change("house", "place.coldest", "5 °C"), "`coldest: 5 °C` for the place of `house`"),
        (
            Change("port", "modules.rigid.connector.make", "A"),
            "`connector: {make: A}` for the label of `rigid` in `port`",
        ),
        (Change("mains", "use.switched_on", "2 h"), "`switched_on: 2 h` for the use of `mains`"),
        (Change("port", "blocking_diode", ""), "no `blocking_diode` for `port`"),
        (
            FUSE,
            "`new-fuse: {rating: 15 A}` under `fuses`, in `charge-run`, 5 cm from its `to` end",
        ),
        (SWITCH, "`new-off: {rating: 40 A, poles: 2}` under `switches`, in `charge-run`"),
    ],
)
def test_a_change_in_words(change: Amendment, words: str) -> None:
    assert str(change) == words


def test_the_base_needs_no_change() -> None:
    before = plan(BASE)
    assert amended(before, []) is before
