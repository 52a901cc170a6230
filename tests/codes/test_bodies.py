"""What every body of rules must answer, and where each one differs."""

import pytest

from codes.same_plan import BODIES
from wattproof.codes import (
    DISTANCE_KINDS,
    DROP_KINDS,
    FORBIDDABLE,
    BodyOfRules,
    NotTabulated,
    Surroundings,
    body,
    for_setting,
    known,
    style,
)
from wattproof.codes.body import usual_for
from wattproof.physics.conductors import ConductorSize
from wattproof.plan.power import CHEMISTRIES

EVERY = [body(name) for name in known()]
every_body = pytest.mark.parametrize("rules", EVERY, ids=lambda rules: rules.id)


def test_known_bodies() -> None:
    assert known() == BODIES
    with pytest.raises(
        ValueError, match=r"'nec' is not a known body of rules: abyc-e11, as-nzs-3001"
    ):
        body("nec")
    with pytest.raises(ValueError, match="not a known body"):
        body("../../etc/passwd")


def test_settings() -> None:
    assert for_setting("boat") == ("abyc-e11", "iso-13297")
    assert for_setting("cabin") == ("iec", "nec-2023")
    for setting in ("vehicle", "portable"):
        assert for_setting(setting) == ("as-nzs-3001", "iec", "nec-2023")
    assert for_setting("spacecraft") == ()


@every_body
def test_every_body_says_what_it_is(rules: BodyOfRules) -> None:
    assert body(rules.id) is rules
    assert rules.title
    assert rules.edition
    assert rules.scope
    assert rules.local
    assert rules.size_system in ("awg", "mm2")
    assert hash(rules) == hash(body(rules.id))


def test_the_code_for_buildings_says_that_it_leaves_vehicles_to_others() -> None:
    scope = body("nec-2023").scope
    for word in ("551.1", "ANSI/RVIA LV", "NFPA 1192"):
        assert word in scope


@every_body
def test_every_figure_has_a_source(rules: BodyOfRules) -> None:
    figures = [
        rules.irradiance_factor,
        rules.continuous_factor,
        rules.reverse_current_factor,
        *(rules.drop_limit(kind) for kind in DROP_KINDS),
        *(rules.source_distance(kind) for kind in DISTANCE_KINDS),
        *rules.string_fuse_window(10.0),
        rules.voltage_factor(-10),
    ]
    for figure in figures:
        if figure is not None:
            assert figure.source
            assert figure.what
            assert figure.value > 0


def test_boats_borrow_the_rules_for_arrays_and_say_so() -> None:
    for name in ("abyc-e11", "iso-13297"):
        rules = body(name)
        lower, upper = rules.string_fuse_window(10.0)
        assert upper is not None
        assert (lower.value, upper.value) == (1.5, 2.4)
        assert f"as {rules.title} states none" in lower.source
        factor = rules.voltage_factor(0)
        assert factor is not None
        assert f"as {rules.title} states none" in factor.source


@pytest.mark.parametrize(
    ("name", "irradiance", "continuous", "reverse"),
    [
        ("nec-2023", 1.25, 1.25, 1.25),
        ("iec", 1.25, 1.0, 1.0),
        ("abyc-e11", 1.25, 1.0, 1.25),
        ("iso-13297", 1.25, 1.0, 1.25),
        ("as-nzs-3001", 1.25, 1.0, 1.0),
    ],
)
def test_factors(name: str, irradiance: float, continuous: float, reverse: float) -> None:
    rules = body(name)
    assert rules.irradiance_factor.value == irradiance
    assert rules.continuous_factor.value == continuous
    assert rules.reverse_current_factor.value == reverse


def test_string_fuse_windows() -> None:
    lower, upper = body("nec-2023").string_fuse_window(10.2)
    assert (lower.value, upper) == (1.5625, None)
    assert "15.94 A" in lower.what
    for name in ("iec", "as-nzs-3001"):
        lower, upper = body(name).string_fuse_window(10.0)
        assert upper is not None
        assert (lower.value, upper.value) == (1.5, 2.4)
        assert "24 A" in upper.what


@pytest.mark.parametrize(
    ("name", "distances"),
    [
        ("nec-2023", [0.46, 0.46, 0.46, None]),
        ("abyc-e11", [0.178, 1.016, 1.829, None]),
        ("iso-13297", [0.2, 0.2, 1.8, None]),
        ("iec", [0.2, 3.0, 1.0, None]),
        ("as-nzs-3001", [0.2, 1.0, 1.0, 1.0]),
    ],
)
def test_distances(name: str, distances: list[float | None]) -> None:
    found = [body(name).source_distance(kind) for kind in DISTANCE_KINDS]
    assert [figure and figure.value for figure in found] == distances
    assert {figure.unit for figure in found if figure} == {"m"}
    with pytest.raises(ValueError, match="'buried' is not one of open"):
        body(name).source_distance("buried")


@every_body
def test_a_distance_in_whole_inches_is_not_lost_by_rounding(rules: BodyOfRules) -> None:
    inches = {"nec-2023": (18, 18, 18), "abyc-e11": (7, 40, 72)}.get(rules.id, ())
    for kind, count in zip(DISTANCE_KINDS, inches, strict=False):
        figure = rules.source_distance(kind)
        assert figure is not None
        assert count * 0.0254 <= figure.value < (count + 0.2) * 0.0254


def test_a_borrowed_distance_says_that_the_code_has_none() -> None:
    figure = body("nec-2023").source_distance("open")
    assert figure is not None
    assert "states no figure" in figure.source


@pytest.mark.parametrize(
    ("name", "limits"),
    [
        ("nec-2023", [0.03, 0.02, 0.03, 0.05]),
        ("abyc-e11", [0.03, 0.02, 0.03, 0.10]),
        ("iso-13297", [0.03, 0.02, 0.03, 0.10]),
        ("iec", [0.03, 0.02, 0.06, 0.08]),
        ("as-nzs-3001", [0.03, 0.02, 0.05, 0.05]),
    ],
)
def test_drop_limits(name: str, limits: list[float]) -> None:
    assert [body(name).drop_limit(kind).value for kind in DROP_KINDS] == limits
    with pytest.raises(ValueError, match="is not one of array"):
        body(name).drop_limit("house")


@every_body
def test_voltage_factor_at_the_edges(rules: BodyOfRules) -> None:
    cold = {25: 1.0, 40: 1.0, 24.9: 1.02, 19.5: 1.04, -18: 1.18, -40: 1.25}
    for coldest, expected in cold.items():
        found = rules.voltage_factor(coldest)
        assert found is not None
        assert found.value == expected
    assert rules.voltage_factor(-40.5) is None


@every_body
def test_ratings_up_and_down(rules: BodyOfRules) -> None:
    standard = rules.standard_ratings()
    assert list(standard) == sorted(set(standard))
    for rating in standard:
        assert rules.next_rating(rating) == rules.previous_rating(rating) == rating
    assert rules.next_rating(18.75) == 20
    assert rules.previous_rating(22) == 20
    assert rules.next_rating(40 * 1.25) == 50
    with pytest.raises(NotTabulated, match="no standard rating reaches"):
        rules.next_rating(standard[-1] + 1)
    with pytest.raises(NotTabulated, match="no standard rating is below"):
        rules.previous_rating(0.1)


def test_odd_ratings_belong_to_some_bodies_only() -> None:
    assert body("nec-2023").next_rating(16) == 20
    assert body("iec").next_rating(15.5) == 16
    assert body("abyc-e11").next_rating(15.5) == 20


@every_body
def test_sizes_ascend_and_are_named_by_the_body_s_system(rules: BodyOfRules) -> None:
    sizes = rules.conductor_sizes()
    areas = [size.area_mm2 for size in sizes]
    assert areas == sorted(set(areas))
    assert all((size.gauge is not None) == (rules.size_system == "awg") for size in sizes)


# What is asked for besides figures.


def test_what_is_forbidden_and_where() -> None:
    everywhere = ("boat", "cabin", "portable", "vehicle")
    for what in ("body-return", "welding-cable"):
        for name in known():
            ban = body(name).ban(what)
            assert ban.source
            settings = {"iso-13297": everywhere, "abyc-e11": everywhere[:3]}  # not a van's body
            assert ban.settings == settings.get(name, ("boat", "cabin"))
            assert body(name).forbids(what, "vehicle") == (name == "iso-13297")
    for name in known():
        marine = name in for_setting("boat")
        assert body(name).forbids("self-resetting-breaker", "vehicle") == marine
    for name in known():
        assert body(name).ban("loose-frames").source
        assert body(name).forbids("loose-frames", "cabin") == (name == "nec-2023")
    assert FORBIDDABLE == (
        "body-return",
        "welding-cable",
        "loose-frames",
        "self-resetting-breaker",
    )
    with pytest.raises(ValueError, match="'solder' is not one of body-return"):
        body("iec").ban("solder")


def test_batteries_among_people() -> None:
    assert body("nec-2023").vented_outside == ("flooded",)
    assert set(body("as-nzs-3001").vented_outside) == set(CHEMISTRIES)
    for name in known():
        assert "flooded" in body(name).vented_outside


def test_the_smallest_conductor_in_parallel() -> None:
    found = {name: body(name).parallel_size for name in known()}
    named = {name: (each.size.name, each.advice) for name, each in found.items() if each}
    assert named == {
        "abyc-e11": ("1/0 AWG", True),
        "as-nzs-3001": ("4 mm²", False),
        "iec": ("4 mm²", True),
        "iso-13297": ("1/0 AWG", True),
        "nec-2023": ("1/0 AWG", False),
    }


def test_the_tie_to_the_chassis() -> None:
    nec, abyc = body("nec-2023"), body("abyc-e11")
    least = nec.bond_size("vehicle", None)
    assert least is not None
    assert least.size.gauge == "8"
    assert nec.bond_size("cabin", 33.6) is None
    below = abyc.bond_size("boat", 33.6)  # 2 AWG; 3 AWG is not sold
    assert below is not None
    assert below.size.gauge == "4"
    assert abyc.bond_size("boat", None) is None
    assert abyc.bond_size("boat", 0.8) is None  # nothing below the table's first row
    assert body("iec").bond_size("vehicle", 33.6) is None


def test_packs_in_parallel() -> None:
    limits = {name: body(name).pack_device for name in known()}
    assert {name: each.value for name, each in limits.items() if each} == {"abyc-e11": 500.0}


def test_notes_on_a_body_go_by_the_setting() -> None:
    assert [note.key for note in body("nec-2023").notes("vehicle", "battery")] == ["scope"]
    assert not body("nec-2023").notes("cabin", "battery")
    assert not body("nec-2023").notes("vehicle", "array")  # its scope covers arrays
    for setting in body("as-nzs-3001").settings:
        [note] = body("as-nzs-3001").notes(setting, "battery")
        assert "AS/NZS 3008.1" in note.says
        assert note.instead


def test_tables_that_stand_in_say_so_with_every_capacity() -> None:
    ours, theirs = body("as-nzs-3001"), body("iec")
    for kind in (None, "pv"):
        place = Surroundings(ambient=45.0)
        here = ours.ampacity(ConductorSize(6.0), 90.0, place, cable_kind=kind)
        there = theirs.ampacity(ConductorSize(6.0), 90.0, place, cable_kind=kind)
        assert here.value == there.value
        assert here.notes == (
            *there.notes,
            "the table stands in for AS/NZS 3008.1, which is not held",
        )


# Voltage drop by a body's own formula


@pytest.mark.parametrize(
    ("name", "area", "ohm_per_km"),
    [
        ("abyc-e11", 5.261, 10.75 / 10380 / 0.3048 * 1000),  # 10 AWG, 10 380 circular mils
        ("iso-13297", 6.0, 16.4 / 6.0),
    ],
)
def test_boats_reckon_the_drop_that_they_limit_by_their_own_formula(
    name: str, area: float, ohm_per_km: float
) -> None:
    size = ConductorSize(area)
    for kind in ("critical", "other"):
        found = body(name).drop_resistance(kind, size)
        assert found is not None
        assert found.value * 1000 == pytest.approx(ohm_per_km, rel=1e-3)
        assert found.unit == "ohm/m"
    for kind in ("array", "charge"):
        assert body(name).drop_resistance(kind, size) is None
    with pytest.raises(ValueError, match="is not one of"):
        body(name).drop_resistance("roof", size)


@pytest.mark.parametrize("name", ["nec-2023", "iec", "as-nzs-3001"])
def test_other_bodies_have_no_formula_of_their_own(name: str) -> None:
    for kind in DROP_KINDS:
        assert body(name).drop_resistance(kind, ConductorSize(6.0)) is None


# The second condition of overload protection


@pytest.mark.parametrize(
    ("made", "ampacity", "most"),
    [
        ("cartridge", 40.0, 40 * 1.45 / 1.6),
        ("cartridge", 16.0, 16 * 1.45 / 1.9),  # 14.5 A by the multiple of large ones is none
        ("cartridge", 5.0, 5 * 1.45 / 2.1),
        ("rail-breaker", 40.0, 40.0),
        ("moulded-case-breaker", 40.0, 40 * 1.45 / 1.3),
        ("gpv", 20.0, 20.0),
        ("blade", 20.0, 20 * 1.45 / 1.35),
    ],
)
def test_a_device_trips_in_time_for_the_conductor(made: str, ampacity: float, most: float) -> None:
    for name in ("iec", "as-nzs-3001"):
        found = body(name).overload_rating(ampacity, style(made))
        assert found is not None
        assert found.value == pytest.approx(most)
        assert "433.1" in found.source or "2.5.3" in found.source


def test_the_condition_is_of_the_international_bodies_alone() -> None:
    for name in ("nec-2023", "abyc-e11", "iso-13297"):
        assert body(name).overload_share is None
        assert body(name).overload_rating(40.0, style("cartridge")) is None
    assert body("iec").overload_rating(40.0, None) is None
    assert body("iec").overload_rating(40.0, style("wide-strip")) is None


# Equipment grounding conductors, and roofs


@pytest.mark.parametrize(
    ("amps", "gauge"),
    [(10, "14"), (15, "14"), (20, "12"), (30, "10"), (60, "10"), (61, "8"), (200, "6"), (250, "4")],
)
def test_equipment_grounding_by_the_device_before_it(amps: float, gauge: str) -> None:
    least = body("nec-2023").equipment_grounding(amps)
    assert least is not None
    assert least.size.gauge == gauge
    assert "Table 250.122" in least.figure.source
    assert body("nec-2023").equipment_grounding(5000.0) is None
    assert body("iec").equipment_grounding(amps) is None


@pytest.mark.parametrize(
    ("amps", "branch"),
    [(900, 750), (1500, 750), (1501, 1500), (3000, 1500), (3001, 2500), (12000, 2500)],
)
def test_branch_breakers_by_the_marine_table(amps: float, branch: float) -> None:
    """ABYC E-11 Table V-A as panel makers print it: 650, 1100 and more cranking amperes."""
    least = body("abyc-e11").branch_breaker(amps, 12.0)
    assert least is not None
    assert (least.value, least.verified) == (branch, True)
    assert body("abyc-e11").branch_breaker(amps, 24.0) == least
    assert body("abyc-e11").branch_breaker(amps, 24.1) is None
    assert body("nec-2023").branch_breaker(amps, 12.0) is None


def test_the_sun_on_a_roof_is_added_by_the_building_code_alone() -> None:
    adder = body("nec-2023").roof_adder
    assert adder is not None
    assert (adder.adds.value, adder.adds.unit) == (33.0, "K")
    assert adder.under == pytest.approx(7 / 8 * 0.0254, abs=0.001)
    for name in ("abyc-e11", "as-nzs-3001", "iec", "iso-13297"):
        assert body(name).roof_adder is None


@pytest.mark.parametrize(
    ("setting", "metric", "name"),
    [
        ("boat", True, "iso-13297"),
        ("boat", False, "abyc-e11"),
        ("vehicle", True, "iec"),
        ("vehicle", False, "nec-2023"),
        ("cabin", True, "iec"),
    ],
)
def test_what_is_reckoned_by_where_a_plan_names_no_body(
    setting: str, metric: bool, name: str
) -> None:
    assert usual_for(setting, metric=metric) is body(name)
