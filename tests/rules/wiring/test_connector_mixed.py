"""Connectors of unlike makes or styles that are plugged into each other."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES
from rule_runs import found_beside_all as found

MIXED = "connector-mixed"
PAIR = RULES.rules[MIXED].sound


@pytest.mark.parametrize(
    ("connector", "said"),
    [
        ("{style: locking-pv, make: A}", ""),
        ("{style: LOCKING-PV, make: a}", ""),
        ("{style: locking-pv, make: B}", "differ in make (A and B)"),
        ("{style: flat-two-pin, make: A}", "differ in style (locking-pv and flat-two-pin)"),
        ("{style: flat-two-pin, make: B}", "differ in make (A and B) and style"),
        ("{style: locking-pv}", ""),  # of no stated make
        ("{make: B}", "differ in make"),
        ("{rating: 30 A}", ""),
        ("{style: locking-pv, make: tbd}", ""),  # words that name no make
        ("{style: locking-pv, make: Unknown}", ""),
        ("{style: locking-pv, make: '?'}", ""),
        ("{style: locking-pv, make: n/a}", ""),
        ("{style: various, make: Various}", ""),
    ],
)
def test_connectors_in_a_string(connector: str, said: str) -> None:
    plan = edited(("{style: locking-pv, make: A}}", f"{connector}}}"), plan=PAIR)
    findings = found(plan, MIXED)
    assert len(findings) == (1 if said else 0)
    for finding in findings:
        assert finding.level == "warning"
        assert said in finding.message
        assert finding.subjects == ("roof-string", "rigid-100", "soft-100")


JOINED = edited(
    ("modules: [rigid-100, soft-100]", "module: rigid-100, series: 2"),
    (
        "switches:\n",
        "  other-string: {module: rigid-100, series: 2, mounting: roof-gap}\n"
        "combiners:\n"
        "  branch: {joins: [roof-string, other-string], kind: branch-connector, rating: 30 A,\n"
        "           voltage: 600 V, connector: {style: locking-pv, make: A}}\n"
        "switches:\n",
    ),
    ("from: roof-string, to", "from: branch, to"),
    plan=PAIR,
)


def test_connectors_at_a_branch() -> None:
    assert not found(JOINED, MIXED)
    mixed = JOINED.replace(
        "voltage: 600 V, connector: {style: locking-pv, make: A}",
        "voltage: 600 V, connector: {style: locking-pv, make: B}",
    )
    (finding,) = found(mixed, MIXED)
    assert finding.subjects == ("branch", "rigid-100")
    wired = mixed.replace(
        "wires:\n",
        "wires:\n  one: {from: roof-string, to: branch, cable: pv-10, length: 1 m}\n"
        "  two: {from: other-string, to: branch, cable: pv-10, length: 1 m}\n",
    )
    assert not found(wired, MIXED)  # whose plugs are at the wires' ends
