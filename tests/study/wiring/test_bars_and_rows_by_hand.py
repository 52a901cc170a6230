"""Shorts at bars for one pole each, in wires beside others, and behind batteries in series."""

from __future__ import annotations

import pytest

from external.battery_sides import COLD, HEAD, RESTING, Run
from study.wiring.test_lasting_by_hand import LINKED
from study.wiring.test_network import packs
from study.wiring.test_shorts_by_hand import device
from wattproof.circuit import Terminal
from wattproof.study import Study
from wattproof.testing import study_of

METRE = COLD["batt-2"]
"""Of one pole of 2 AWG, cold (Ω/m)."""
INSIDE = RESTING / 3000.0

BARS = """\
fuses:
  pump-fuse: {rating: 30 A, voltage: 58 V, interrupt: 20 kA, style: class-t, dc: true}
  lamp-fuse: {rating: 30 A, voltage: 58 V, interrupt: 20 kA, style: class-t, dc: true}
switches:
  off: {rating: 50 A, voltage: 32 V, dc: true, poles: 1}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          short_circuit_current: 3 kA}
busbars:
  a-far-plus: {rating: 300 A}
  near-plus: {rating: 300 A}
  b-near-minus: {rating: 300 A}
  far-minus: {rating: 300 A}
loads: {pump: {current: 5 A}, lamp: {current: 2 A}, fan: {current: 3 A}, radio: {current: 1 A},
        heater: {current: 9 A}}
wires:
"""
RUNS = """\
plus: house.positive, near-plus.positive, 1 m
minus: house.negative, b-near-minus.negative, 3 m
on-plus: near-plus.positive, a-far-plus.positive, 2 m
on-minus: b-near-minus.negative, far-minus.negative, 4 m
pump-plus: near-plus.positive, pump.positive, 1 m, inline: [pump-fuse]
pump-minus: pump.negative, b-near-minus.negative, 2 m
lamp-plus: a-far-plus.positive, lamp.positive, 1 m, inline: [lamp-fuse]
lamp-minus: lamp.negative, far-minus.negative, 3 m
fan-plus: a-far-plus.positive, fan.positive, 1 m
fan-minus: fan.negative, far-minus.negative, 3 m
radio-plus: a-far-plus.positive, radio.positive, 1 m
radio-minus: radio.negative, b-near-minus.negative, 6 m
heat-plus: near-plus.positive, off.line, 1 m
heat-on: off.load, heater.positive, 1 m
heat-minus: heater.negative, far-minus.negative, 2 m
"""


def bars(runs: str = RUNS) -> Study:
    text = HEAD + BARS
    for name, run in (line.split(": ", 1) for line in runs.strip().splitlines()):
        start, end, length, *more = run.split(", ")
        pole = ", pole: positive" if name.startswith("heat-") and "minus" not in name else ""
        text += f"  {name}: {{from: {start}, to: {end}, cable: batt-2, length: {length}{pole}"
        text += f"{', ' if more else ''}{', '.join(more)}}}\n"
    return study_of(text)


def at(study: Study, component: str, pole: str = "positive") -> float:
    short = study.wiring.network.short_at(Terminal(component, "", pole))
    assert short is not None
    return short.current.number


@pytest.mark.parametrize(
    ("bar", "other", "metres"),
    [("near-plus", "b-near-minus", 4.0), ("a-far-plus", "far-minus", 10.0)],
)
def test_bars_are_faced_by_those_that_most_parts_share(bar: str, other: str, metres: float) -> None:
    """The far ones share lamp and fan, and one part each with the near ones: 1 + 3 m, or 6 more."""
    study = bars()
    assert at(study, bar) == pytest.approx(RESTING / (INSIDE + metres * METRE), rel=1e-3)
    assert at(study, other, "negative") == pytest.approx(at(study, bar))


def test_the_place_beside_one_in_a_run_that_has_another_beside_it() -> None:
    """A fuse a quarter along 2 m; the run back is 4 m, and one of 1 m leads there too.

    From that place 1 m leads to the post, and 3 + 1 m round the other way: 0.8 m together.
    """
    side = packs([2.0])
    side.runs[0].fuse_at = 0.5
    side.runs[1] = Run("lead-0-back", "negative", "pack-0", "bar", "batt-2", 4.0)
    side.runs.append(Run("more", "negative", "pack-0", "bar", "batt-2", 1.0))
    for turned in (False, True):
        if turned:
            side.runs[1] = Run("lead-0-back", "negative", "bar", "pack-0", "batt-2", 4.0)
        study = study_of(side.plan())
        short = study.wiring.network.through(device(study, "fuse-0"))
        assert short is not None
        amps = RESTING / (INSIDE + (0.5 + 0.8) * METRE)
        assert short.current.number == pytest.approx(amps, rel=1e-3)


def test_a_place_beside_one_lies_in_the_stretch_that_it_falls_into() -> None:
    """The run back is divided by a breaker of its own, before the place or behind it.

    Once more with 1 m beside it: whichever stretch it is in, 1 m and 3 + 1 m are parallel.
    """
    for divided in (0.6, 2.5):
        side = packs([2.0])
        side.runs[0].fuse_at = 0.5
        back = Run("lead-0-back", "negative", "pack-0", "bar", "batt-2", 4.0, "fuse-1", divided)
        side.runs[1] = back
        side.runs.append(Run("more", "negative", "pack-0", "bar", "batt-2", 1.0))
        study = study_of(side.plan())
        short = study.wiring.network.through(device(study, "fuse-0"))
        assert short is not None
        amps = RESTING / (INSIDE + (0.5 + 0.8) * METRE)
        assert short.current.number == pytest.approx(amps, rel=1e-3)


ROWS = """\
fuses:
  fuse-a: {rating: 200 A, voltage: 58 V, interrupt: 20 kA, style: class-t, dc: true}
  fuse-b: {rating: 200 A, voltage: 58 V, interrupt: 20 kA, style: class-t, dc: true}
batteries:
  a-top: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          short_circuit_current: 1 kA}
  a-low: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          short_circuit_current: 2 kA}
  b-top: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          short_circuit_current: 3 kA}
  b-low: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          short_circuit_current: 4 kA}
busbars:
  bar: {rating: 300 A}
loads:
  lamp: {current: 30 A}
wires:
  a-link: {from: a-top.negative, to: a-low.positive, cable: batt-2, length: 0.2 m}
  b-link: {from: b-top.negative, to: b-low.positive, cable: batt-2, length: 0.4 m}
  a-plus: {from: a-top.positive, to: bar.positive, cable: batt-2, length: 1 m,
           inline: [{fuse-a: {from_end: from, distance: 0.1 m}}]}
  b-plus: {from: b-top.positive, to: bar.positive, cable: batt-2, length: 2 m,
           inline: [{fuse-b: {from_end: to, distance: 0.5 m}}]}
  a-minus: {from: a-low.negative, to: bar.negative, cable: batt-2, length: 1 m}
  b-minus: {from: b-low.negative, to: bar.negative, cable: batt-2, length: 2 m}
  lamp-run: {from: bar, to: lamp, cable: batt-2, length: 3 m}
"""


def test_rows_of_two_in_series_side_by_side() -> None:
    """Each row drives twice 13.4 V through the resistances inside it and its wires."""
    study = study_of(HEAD + ROWS)
    ohms = {
        "a": RESTING / 1000 + RESTING / 2000 + (0.2 + 2 * 1.0) * METRE,
        "b": RESTING / 3000 + RESTING / 4000 + (0.4 + 2 * 2.0) * METRE,
    }
    both = sum(1.0 / each for each in ohms.values())
    lamp = study.wiring.network.short_at(Terminal("lamp", "", "positive"))
    assert lamp is not None
    amps = 2 * RESTING / (1.0 / both + 2 * 3.0 * METRE)
    assert lamp.current.number == pytest.approx(amps, rel=1e-3)
    assert {bank.name: part.number for bank, part in lamp.banks} == pytest.approx(
        {f"{row}-top": amps / each / both for row, each in ohms.items()}, rel=1e-3
    )
    # At the bar itself each fuse passes what its own row drives; beyond it, into its own row, what
    # the other drives from the bar on. The fuses face the places beside them in the negative runs.
    for row, metres in (("a", 0.1), ("b", 1.5)):
        fuse = device(study, f"fuse-{row}")
        out = study.wiring.network.through_from(fuse, start=fuse.start.component != "bar")
        assert out is not None
        own = ohms[row] - 2 * ((1.0 if row == "a" else 2.0) - metres) * METRE
        amps = 2 * RESTING / own
        assert out.current.number == pytest.approx(amps, rel=1e-3)
        assert [(bank.name, round(part.number)) for bank, part in out.banks] == [
            (f"{row}-top", round(out.current.number))
        ]


def test_the_outer_posts_of_a_row_face_each_other() -> None:
    """At the upper post: what its own row drives through nothing but itself, and the other row."""
    study = study_of(HEAD + ROWS)
    a = RESTING / 1000 + RESTING / 2000 + 0.2 * METRE
    b = RESTING / 3000 + RESTING / 4000 + (0.4 + 2 * 2.0 + 2 * 1.0) * METRE
    amps = 2 * RESTING / a + 2 * RESTING / b
    assert at(study, "a-top") == pytest.approx(amps, rel=1e-3)
    assert at(study, "a-low", "negative") == pytest.approx(amps, rel=1e-3)


def test_seen_from_a_bar_of_one_pole_its_own_way_alone_counts() -> None:
    """1 m of the positive and what is inside the battery: no other pole is at that bar."""
    study = bars()
    banks, network = list(study.battery.side.banks.values()), study.wiring.network
    ohms = network.resistance(banks, Terminal("near-plus", "", "positive"))
    assert ohms is not None
    assert ohms.number == pytest.approx(INSIDE + METRE, rel=1e-3)
    at_load = network.resistance(banks, Terminal("fan", "", "positive"))
    assert at_load is not None
    assert at_load.number == pytest.approx(INSIDE + (1 + 2 + 1 + 3 + 4 + 3) * METRE, rel=1e-3)


def test_into_its_own_pack_the_place_on_that_side_of_the_fuse_counts() -> None:
    """A second pack drives through the bar and the fuse into a short 0.5 m from the first.

    Back from there 1 m leads to the first's post, 3 m to the bar, and 1 m between these two: a
    triangle, or a star of 0.6 m, 0.2 m and 0.6 m. The two currents share the first of its rays.
    """
    side = packs([2.0, 1.0])
    side.runs[0].fuse_at = 0.5
    side.runs[1] = Run("lead-0-back", "negative", "pack-0", "bar", "batt-2", 4.0)
    side.runs.append(Run("more", "negative", "pack-0", "bar", "batt-2", 1.0))
    study = study_of(side.plan())
    own, other = INSIDE + (0.5 + 0.2) * METRE, INSIDE + (2 * 1.0 + 1.5 + 0.6) * METRE
    amps = RESTING / (other + 0.6 * METRE * (1.0 + other / own))
    short = study.wiring.network.through_from(device(study, "fuse-0"), start=False)
    assert short is not None
    assert short.current.number == pytest.approx(amps, rel=1e-3)
    assert [bank.name for bank, _ in short.banks] == ["pack-1"]


def test_a_bar_of_one_pole_is_faced_by_one_other_alone() -> None:
    """All comes back to one negative bar, which shares more with the far one: 1 + 2 + 3 m."""
    lines = RUNS.replace("far-minus", "b-near-minus").splitlines()
    runs = "\n".join(line for line in lines if line.partition(":")[0] != "on-minus")
    study = bars(runs.replace("pump-plus: near-plus", "pump-plus: a-far-plus"))
    assert at(study, "b-near-minus", "negative") == pytest.approx(
        RESTING / (INSIDE + 6.0 * METRE), rel=1e-3
    )
    assert at(study, "a-far-plus") == pytest.approx(at(study, "b-near-minus", "negative"))


def test_of_batteries_in_series_that_are_unlike_the_resistances_add_up() -> None:
    text = HEAD + LINKED.replace(
        "lower: {chemistry: agm, nominal: 6 V, capacity: 100 Ah, short_circuit_current: 3 kA",
        "lower: {chemistry: agm, nominal: 6 V, capacity: 100 Ah, short_circuit_current: 1 kA",
    )
    study = study_of(text)
    [row] = [bank for bank in study.battery.side.wholes if len(bank.parts) == 2]
    rest = row.resting_voltage.number
    found = study.wiring.network.inside.short_circuit(row)
    assert found.number == pytest.approx(rest / (rest / 2 / 3000.0 + rest / 2 / 1000.0))
