"""Fault currents: by hand, by theorems of networks, and what must hold for all."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattproof.physics.faults import (
    Conductor,
    Limited,
    Source,
    Stiff,
    bank_resistance,
    fault_currents,
    prospective_current,
)

ohms = st.floats(1e-4, 1.0)


@given(st.floats(1.0, 60.0), ohms, st.lists(st.floats(0.0, 1.0), max_size=5))
def test_bank_by_hand_and_by_network(emf: float, inner: float, way: list[float]) -> None:
    simple = prospective_current(emf, inner, way)
    assert simple == pytest.approx(emf / (inner + sum(way)))
    cable = max(sum(way), 1e-6)
    network = fault_currents(
        [Stiff("bank", "a", "0", emf, inner)],
        [Conductor("cable", "a", "b", cable)],
        ("b", "0"),
    )
    assert network.fault_current == pytest.approx(emf / (inner + cable), rel=1e-9)
    assert network.conductor_currents["cable"] == pytest.approx(network.fault_current, rel=1e-9)


@given(st.lists(st.tuples(st.floats(1.0, 60.0), ohms), min_size=1, max_size=6), ohms)
def test_stiff_sources_on_one_bus(pairs: list[tuple[float, float]], fault: float) -> None:
    """Millman's theorem; and a bolted fault has the sum of all prospective currents."""
    sources = [Stiff(f"s{k}", "bus", "0", emf, r) for k, (emf, r) in enumerate(pairs)]
    bolted = fault_currents(sources, [], ("bus", "0"))
    assert bolted.fault_current == pytest.approx(sum(emf / r for emf, r in pairs), rel=1e-9)
    found = fault_currents(sources, [], ("bus", "0"), fault)
    conductance = 1.0 / fault + sum(1.0 / r for _, r in pairs)
    expected = sum(emf / r for emf, r in pairs) / conductance
    assert found.voltages["bus"] == pytest.approx(expected, rel=1e-9)
    assert found.fault_current == pytest.approx(expected / fault, rel=1e-9)
    assert sum(found.source_currents.values()) == pytest.approx(found.fault_current, rel=1e-6)


@given(
    st.floats(0.0, 100.0),
    st.floats(5.0, 150.0),
    st.floats(5.0, 60.0),
    ohms,
    ohms,
    st.one_of(st.just(0.0), st.floats(1e-3, 100.0)),
)
def test_limited_source_beside_a_bank(
    current: float, highest: float, emf: float, inner: float, cable: float, fault: float
) -> None:
    sources: list[Source] = [
        Stiff("bank", "bus", "0", emf, inner),
        Limited("array", "out", "0", current, highest),
    ]
    wires = [Conductor("cable", "out", "bus", cable)]
    found = fault_currents(sources, wires, ("bus", "0"), fault)
    given_out = found.source_currents["array"]
    assert -1e-6 <= given_out <= current * (1.0 + 1e-6) + 1e-6
    if found.voltages["out"] > highest * (1.0 + 1e-6):
        assert given_out == pytest.approx(0.0, abs=1e-6)
    if found.voltages["out"] < 0.998 * highest:
        assert given_out == pytest.approx(current, rel=1e-6, abs=1e-5)
    assert found.fault_current == pytest.approx(
        given_out + found.source_currents["bank"], rel=1e-5, abs=1e-5
    )


@given(st.lists(st.tuples(st.floats(0.1, 60.0), st.floats(5.0, 150.0), ohms), max_size=6), ohms)
def test_less_resistance_never_lowers_the_fault(
    arrays: list[tuple[float, float, float]], fault: float
) -> None:
    sources: list[Source] = [Stiff("bank", "bus", "0", 26.0, 0.004)]
    wires = []
    for k, (current, highest, cable) in enumerate(arrays):
        sources.append(Limited(f"array{k}", f"out{k}", "0", current, highest))
        wires.append(Conductor(f"cable{k}", f"out{k}", "bus", cable))
    through = fault_currents(sources, wires, ("bus", "0"), fault).fault_current
    bolted = fault_currents(sources, wires, ("bus", "0")).fault_current
    assert bolted >= through - 1e-6
    most = 26.0 / 0.004 + sum(current for current, _, _ in arrays)
    assert 26.0 / 0.004 <= bolted <= most * (1.0 + 1e-9)


def test_limited_sources_in_series_without_anything_else() -> None:
    """The smaller current limits; the other stands at its highest voltage."""
    sources = [Limited("low", "a", "0", 5.0, 40.0), Limited("high", "b", "a", 8.0, 40.0)]
    found = fault_currents(sources, [Conductor("link", "b", "c", 0.1)], ("c", "0"))
    assert found.fault_current == pytest.approx(5.0, rel=1e-3)


def test_what_has_no_way_to_the_fault_is_left_out() -> None:
    sources = [Stiff("near", "a", "0", 12.0, 0.01), Stiff("far", "x", "y", 12.0, 0.01)]
    found = fault_currents(sources, [Conductor("other", "x", "z", 1.0)], ("a", "0"))
    assert found.fault_current == pytest.approx(1200.0)
    assert set(found.source_currents) == {"near"}
    assert found.conductor_currents == {}


def test_fault_inside_the_bank_s_own_string() -> None:
    """Two batteries in series, the lower one shorted: only that one feeds the fault."""
    sources = [Stiff("lower", "m", "0", 12.0, 0.01), Stiff("upper", "p", "m", 12.0, 0.01)]
    found = fault_currents(sources, [], ("m", "0"))
    assert found.source_currents["lower"] == pytest.approx(1200.0)
    assert found.source_currents["upper"] == pytest.approx(0.0, abs=1e-6)
    assert found.fault_current == pytest.approx(1200.0)


def test_bank_resistance() -> None:
    assert bank_resistance(0.004, 4, 2) == pytest.approx(0.008)


def test_bad_values() -> None:
    bank = Stiff("bank", "a", "0", 12.0, 0.01)
    for call, reason in (
        (lambda: Stiff("bank", "a", "0", 12.0, 0.0), "resistance above zero"),
        (lambda: Stiff("bank", "a", "a", 12.0, 0.1), "same node"),
        (lambda: Stiff("bank", "a", "0", -1.0, 0.1), "emf"),
        (lambda: Limited("pv", "a", "0", -1.0, 20.0), "current"),
        (lambda: Limited("pv", "a", "0", 1.0, 0.0), "highest voltage"),
        (lambda: Conductor("wire", "a", "b", 0.0), "above zero"),
        (lambda: fault_currents([bank], [], ("a", "a")), "two different"),
        (lambda: fault_currents([bank], [], ("z", "0")), "nothing is connected"),
        (lambda: fault_currents([bank], [], ("a", "0"), -1.0), "not negative"),
        (lambda: fault_currents([bank, bank], [], ("a", "0")), "more than once"),
        (lambda: bank_resistance(0.0, 1, 1), "at least one battery"),
        (lambda: prospective_current(12.0, 0.0, []), "resistance above zero"),
        (lambda: prospective_current(12.0, -0.1, [1.0]), "not be negative"),
    ):
        with pytest.raises(ValueError, match=reason):
            call()
