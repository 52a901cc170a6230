"""What is found in a plan, as an editor is told of it while the plan is typed."""

from __future__ import annotations

import json
from pathlib import Path

from lsprotocol import types as lsp

from cli.calls import FAULTY, SOUND, call, failing_pack
from editor.clients import SIX, at, editor, run

CRASHING = """\
from wattproof.rule import Edit, Observation, practice, rule


@rule(
    id="ill", summary="A rule for tests.", level="note", hazard="fire", part="plan",
    basis={{"common practice": practice("one does so")}}, explanation="It is only a test.",
    sound="", faulty=Edit("a", "b"),
)
def ill(study):
    {what}
    yield Observation("never", on=(study.plan.setting,))
"""


def test_findings_come_as_one_types(tmp_path: Path) -> None:
    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(tmp_path / "plan.yaml", SOUND)
            await client.until(lambda: client.told.get(uri))
            assert not [d for d in client.last(uri) if d.severity == lsp.DiagnosticSeverity.Error]
            client.type(uri, FAULTY)
            told = await client.found(uri, "cold-voltage-over-controller")
            found = next(d for d in told if d.code == "cold-voltage-over-controller")
            assert found.severity == lsp.DiagnosticSeverity.Error
            assert found.source == "wattproof"
            assert "wattproof basis cold-voltage-over-controller" in found.message
            client.type(uri, SOUND)
            await client.until(
                lambda: "cold-voltage-over-controller" not in {d.code for d in client.last(uri)}
            )

    run(scenario())


def test_what_is_found_is_what_the_check_finds(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_text(FAULTY, encoding="utf-8")
    checked = json.loads(call("check", "--format", "json", str(path)).stdout)["plans"][0]
    rules = sorted(f["rule"] for f in checked["findings"])

    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(path)
            await client.until(lambda: len(client.told.get(uri, ())) == 2)
            told = [d for d in client.last(uri) if d.code not in ("to-look-up", "not-chosen-yet")]
            assert sorted(str(d.code) for d in told) == rules

    run(scenario())


def test_what_is_to_be_looked_up_is_a_hint_where_it_would_be_told() -> None:
    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(SIX)
            told = await client.found(uri, "to-look-up")
            assert {d.severity for d in told} == {lsp.DiagnosticSeverity.Hint}

    run(scenario())


def test_codes_lead_to_the_pages_of_the_documentation(tmp_path: Path) -> None:
    async def scenario() -> None:
        async with editor(options={"documentation": "https://example.org/docs/"}) as client:
            uri = client.open(tmp_path / "plan.yaml", FAULTY)
            told = await client.found(uri, "cold-voltage-over-controller")
            page = "https://example.org/docs/generated/rules/cold-voltage-over-controller.html"
            assert told[0].code_description == lsp.CodeDescription(page)
            assert "wattproof basis" not in told[0].message

    run(scenario())


def test_what_cannot_be_read_is_told_at_its_place(tmp_path: Path) -> None:
    async def scenario() -> None:
        async with editor() as client:
            text = SOUND.replace("series: 3", "seris: 3")
            uri = client.open(tmp_path / "plan.yaml", text)
            told = await client.found(uri, "plan-unusable")
            assert at(text, "seris") in [d.range.start for d in told]
            assert any("write `series`" in d.message for d in told)

    run(scenario())


def test_a_rule_that_fails_is_told(tmp_path: Path) -> None:
    rule = CRASHING.format(what='raise RuntimeError("a fault of the pack")')
    packs = failing_pack(tmp_path / "packs", rule)

    async def scenario() -> None:
        async with editor(packs=packs) as client:
            uri = client.open(tmp_path / "plan.yaml", SOUND)
            told = await client.found(uri, "rule-failed")
            assert "a fault of the pack" in told[0].message
            client.type(uri, FAULTY)
            await client.found(uri, "rule-failed", "cold-voltage-over-controller")

    run(scenario())


def test_a_rule_that_prints_or_ends_the_program_disturbs_nothing(tmp_path: Path) -> None:
    rule = CRASHING.format(what="print('Content-Length: 5'); raise SystemExit(3)")
    packs = failing_pack(tmp_path / "packs", rule)

    async def scenario() -> None:
        async with editor(packs=packs) as client:
            uri = client.open(tmp_path / "plan.yaml", FAULTY)
            await client.found(uri, "rule-failed", "cold-voltage-over-controller")

    run(scenario())


def test_a_rule_that_never_comes_back_is_stopped(tmp_path: Path) -> None:
    hasten = "from wattproof import guarding\nguarding.guarding.__wrapped__.__defaults__ = (0.5,)\n"
    rule = hasten + CRASHING.format(what="while True: pass")
    packs = failing_pack(tmp_path / "packs", rule)

    async def scenario() -> None:
        async with editor(packs=packs) as client:
            uri = client.open(tmp_path / "plan.yaml", FAULTY)
            told = await client.found(uri, "rule-failed", "cold-voltage-over-controller")
            assert any("did not come back" in d.message for d in told)

    run(scenario())
