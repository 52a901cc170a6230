"""One body of rules for the array side and one for the battery side of a plan."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

import pytest

from codes.same_plan import BODIES, CAMPER, EXPECTED
from found import found_alone
from wattproof.codes import body
from wattproof.codes.bodies import Bodies
from wattproof.engine import Result
from wattproof.packs import discover
from wattproof.plan import load_plan
from wattproof.source import PlanUnusable
from wattproof.testing import study_of

RULES = discover()
ON_ARRAY = {"front-string", "rear-string"}


def split(array: str, battery: str) -> str:
    return CAMPER.replace("code: nec-2023", f"code: {{array: {array}, battery: {battery}}}")


def checked(array: str, battery: str) -> Result:
    return found_alone("plan.yaml", split(array, battery), RULES)


@pytest.mark.parametrize(("array", "battery"), list(permutations(BODIES, 2)))
def test_each_side_is_judged_by_its_own(array: str, battery: str) -> None:
    """What the plan's page says of each body holds for the side that is read by it."""
    expected = {}
    for (rule, subject), levels in EXPECTED.items():
        level = levels[BODIES.index(array if subject in ON_ARRAY else battery)]
        if level:
            expected[rule, subject] = level
    found = {(f.rule, f.subjects[0]): f.level for f in checked(array, battery).each}
    assert found == expected


def test_wires_devices_and_strings_have_the_body_of_their_side() -> None:
    study = study_of(split("nec-2023", "abyc-e11"))
    bodies = {name: wire.code.id for name, wire in study.wiring.wires.items()}
    assert bodies.pop("roof-run") == bodies.pop("rear-run") == "nec-2023"
    assert set(bodies.values()) == {"abyc-e11"}
    assert study.codes.id == "{array: nec-2023, battery: abyc-e11}"
    assert study.code_of("front-string", "overcurrent").id == "nec-2023"
    assert study.code_of("array-off", "switch").id == "nec-2023"
    assert study.code_of("main-fuse", "overcurrent").id == "abyc-e11"
    assert study.code_of("tracker", "controller").id == "nec-2023"
    assert study.code_of("tracker", "battery").id == "abyc-e11"
    assert study.code_of("house", "battery").id == "abyc-e11"


def test_every_result_says_which_side_is_read_by_which() -> None:
    result = checked("nec-2023", "abyc-e11")
    assert result.codes == ("nec-2023", "abyc-e11")
    assert "array side: National Electrical Code (NFPA 70, 2023)" in result.code_title
    assert "battery side: ABYC E-11" in result.code_title
    assert "for the array" in result.local
    assert "marine" in result.local
    noted = {a.key: a.says for a in result.uses}
    assert "two bodies of rules" in noted
    assert "scope" not in noted  # the building code reads only what its scope covers
    for finding in result.findings:
        clauses = " ".join(finding.basis)
        if finding.subjects[0] in ON_ARRAY:
            assert "ABYC" not in clauses
        elif finding.rule in ("fuse-over-conductor", "battery-fuse-missing"):
            assert "NEC" not in clauses


def test_one_body_for_both_is_as_it_was() -> None:
    both = checked("nec-2023", "nec-2023")
    one = found_alone("plan.yaml", CAMPER, RULES)
    assert [(f.rule, f.subjects, f.level, f.basis) for f in both.findings] == [
        (f.rule, f.subjects, f.level, f.basis) for f in one.findings
    ]
    assert (
        (both.code, both.code_title)
        == (one.code, one.code_title)
        == (
            "nec-2023",
            "National Electrical Code (NFPA 70, 2023)",
        )
    )


def test_where_a_vehicle_is_read_by_the_building_code_alone_the_pair_is_offered() -> None:
    [scope] = [a for a in found_alone("plan.yaml", CAMPER, RULES).uses if a.key == "scope"]
    assert "`code: {array: nec-2023, battery: abyc-e11}`" in scope.instead


@pytest.mark.parametrize(
    ("written", "message", "instead"),
    [
        ("{array: nec-2023}", "names no body of rules for the battery side", "name both"),
        ("{battery: iec}", "names no body of rules for the array side", "name both"),
        ("{array: nec, battery: iec}", "`nec` is none of", "nec-2023"),
        ("{array: nec-2023, batteries: iec}", "no key `batteries`", "battery"),
        ("{array: nec-2023, battery: iec, boat: iso-13297}", "no key `boat`", "code: {array:"),
        ("[nec-2023, iec]", "not a body of rules", "code: {array:"),
        ("{array: [nec-2023], battery: iec}", "not the id of a body", "code: {array:"),
        ("nec", "`nec` is none of", "nec-2023"),
    ],
)
def test_what_is_refused_at_its_line(written: str, message: str, instead: str) -> None:
    text = CAMPER.replace("code: nec-2023", f"code: {written}")
    with pytest.raises(PlanUnusable) as caught:
        load_plan("plan.yaml", text=text)
    [problem] = caught.value.problems
    assert message in problem.message
    assert instead in problem.instead
    assert problem.place.line == 5


def test_whom_to_ask_is_told_once_where_it_is_the_same_for_both_sides() -> None:
    nec, iec = body("nec-2023"), body("iec")
    like_nec = replace(nec, title="another")
    assert Bodies(nec, nec).local == Bodies(nec, like_nec).local == nec.local
    assert Bodies(nec, iec).local == (
        f"{nec.local}, for the array; {iec.local}, for the battery side"
    )
