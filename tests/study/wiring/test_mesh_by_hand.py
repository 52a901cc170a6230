"""The network of resistances, in circuits of a few ohms that can be solved in the head."""

from __future__ import annotations

import pytest

from wattproof.circuit import Terminal
from wattproof.study.wiring.mesh import Cell, Link, Mesh

A, B, C, D, E = (Terminal(name, "", "positive") for name in "abcde")


def test_what_is_led_in_divides_as_conductances_do() -> None:
    """3 A between c and d: by the bank of 1 Ω two thirds, by 2 Ω a third.

    Inside the joint a-b-c the two amperes of the bank come in at a, half by each of two joints to
    b, of which one is written the other way, and on to c.
    """
    links = [
        Link("one", A, B, 0.0),
        Link("two", B, A, 0.0),
        Link("on", B, C, 0.0),
        Link("ohms", C, D, 2.0),
    ]
    cell = Cell("bank", A, D, 1.0)
    mesh = Mesh(links, [cell])
    flow = mesh.solve({C: -3.0, D: 3.0})
    assert flow.through(cell) == pytest.approx(2.0)
    assert flow.across(cell) == pytest.approx(-2.0)
    assert flow.volts(A) == flow.volts(C) == pytest.approx(-2.0)
    assert flow.volts(D) == 0.0
    carried = {link.key: flow.in_link(link) for link in links}
    assert carried == pytest.approx({"one": 1.0, "two": -1.0, "on": 2.0, "ohms": -1.0})


@pytest.mark.parametrize("at", ["plus", "minus"])
@pytest.mark.parametrize("turned", [False, True])
def test_a_single_joint_beside_a_bank(at: str, turned: bool) -> None:
    """4 A pass it, whichever way it is written and at whichever pole of the bank it stands."""
    start, end = (B, A) if turned else (A, B)
    joint = Link("joint", start, end, 0.0)
    ohms = Link("ohms", B, C, 5.0)
    cell = Cell("bank", A, C, 1.0) if at == "plus" else Cell("bank", C, A, 1.0)
    mesh = Mesh([joint, ohms], [cell])
    led = {C: -4.0, A: 4.0}  # by the bank 5/6, by joint and resistance 1/6
    assert mesh.solve(led).in_link(joint) == pytest.approx(-4.0 / 6.0 if turned else 4.0 / 6.0)
    led = {C: -4.0, B: 4.0}  # now the bank's part passes the joint
    by_bank = -4.0 * 5.0 / 6.0
    assert mesh.solve(led).in_link(joint) == pytest.approx(-by_bank if turned else by_bank)


def test_a_joint_far_from_any_bank() -> None:
    """Between two resistances; what is taken out at one of its ends passes it, at the other not."""
    joint = Link("joint", B, C, 0.0)
    mesh = Mesh([Link("in", A, B, 1.0), joint, Link("out", C, D, 2.0)], [])
    assert not mesh.has_bank(B)
    assert mesh.solve({A: 7.0, D: -7.0}).in_link(joint) == pytest.approx(7.0)
    assert mesh.solve({A: 7.0, C: -7.0}).in_link(joint) == pytest.approx(7.0)
    assert mesh.solve({A: 7.0, B: -7.0}).in_link(joint) == pytest.approx(0.0)


def test_a_ring_without_resistance() -> None:
    """Of three alike joints in a ring two thirds pass the direct one, a third goes round."""
    ring = [Link("ab", A, B, 0.0), Link("bc", B, C, 0.0), Link("ac", A, C, 0.0)]
    cell = Cell("bank", A, D, 1.0)
    load = Link("load", C, D, 3.0)
    flow = Mesh([*ring, load], [cell]).solve({C: -9.0, D: 9.0})
    by_bank = 9.0 * 3.0 / 4.0
    carried = {link.key: flow.in_link(link) for link in ring}
    assert carried == pytest.approx(
        {"ab": by_bank / 3.0, "bc": by_bank / 3.0, "ac": by_bank * 2.0 / 3.0}
    )


def test_islands_have_their_own_ground_and_banks_their_own() -> None:
    """Two islands: in the first the negative of its first bank is the ground."""
    cells = [Cell("one", A, B, 1.0), Cell("two", A, C, 2.0)]
    links = [Link("between", B, C, 3.0), Link("apart", D, E, 4.0), Link("itself", D, D, 1.0)]
    mesh = Mesh(links, cells)
    assert [link.key for link in mesh.links] == ["between", "apart"]
    assert mesh.island(A) == mesh.island(C) != mesh.island(D) == mesh.island(E)
    assert (mesh.has_bank(C), mesh.has_bank(D)) == (True, False)
    assert (A in mesh, Terminal("nowhere", "", "positive") in mesh) == (True, False)
    flow = mesh.solve({A: 6.0, B: -6.0, D: 1.0, E: -1.0})
    # 1 Ω beside 2 + 3 Ω: 5 A and 1 A.
    assert flow.volts(B) == 0.0
    assert flow.volts(A) == pytest.approx(5.0)
    assert flow.volts(C) == pytest.approx(3.0)
    assert flow.amps == pytest.approx({0: -1.0, 1: 1.0})
    assert flow.volts(D) - flow.volts(E) == pytest.approx(4.0)
    assert [flow.through(cell) for cell in cells] == pytest.approx([-5.0, -1.0])


def test_what_is_led_in_at_one_place_adds_up() -> None:
    joint = Link("joint", A, B, 0.0)
    mesh = Mesh([joint, Link("ohms", B, C, 2.0)], [Cell("bank", A, C, 2.0)])
    flow = mesh.solve({A: 3.0, B: 5.0, C: -8.0})
    assert flow.volts(A) == pytest.approx(8.0)
    assert flow.in_link(joint) == pytest.approx(3.0 - 4.0)
