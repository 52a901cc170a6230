"""What can be done about what is found, and what is computed in the lines of a plan."""

from __future__ import annotations

from pathlib import Path

from lsprotocol import types as lsp

from cli.calls import FAULTY, call
from editor.clients import ROOT, SIX, Editor, applied, at, editor, run

TEXT = SIX.read_text(encoding="utf-8")
OPEN = (ROOT / "docs" / "tutorial" / "hut-open.yaml").read_text(encoding="utf-8")


def whole(text: str) -> lsp.Range:
    return lsp.Range(lsp.Position(0, 0), lsp.Position(text.count("\n") + 1, 0))


async def actions(client: Editor, uri: str, text: str) -> dict[str, lsp.CodeAction]:
    context = lsp.CodeActionContext(diagnostics=client.last(uri))
    params = lsp.CodeActionParams(lsp.TextDocumentIdentifier(uri), whole(text), context)
    found = await client.text_document_code_action_async(params)
    return {each.title: each for each in found or () if isinstance(each, lsp.CodeAction)}


def edited(text: str, action: lsp.CodeAction) -> str:
    assert action.edit is not None
    assert action.edit.changes is not None
    [edits] = action.edit.changes.values()
    return applied(text, edits)


def test_a_remedy_is_written_as_mend_writes_it(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_text(FAULTY, encoding="utf-8")
    call("mend", "--write", str(path))
    mended = path.read_text(encoding="utf-8")

    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(path, FAULTY)
            await client.until(lambda: client.last(uri))
            found = await actions(client, uri, FAULTY)
            texts = [edited(FAULTY, each) for each in found.values()]
            assert mended in texts
            client.type(uri, mended)
            await client.until(lambda: not [d for d in client.last(uri) if d.severity == 1])

    run(scenario())


def test_an_acceptance_waits_for_a_reason(tmp_path: Path) -> None:
    text = TEXT.replace("cable: hook-up-12, length: 5 m", "cable: hook-up-12, length: 15 m")

    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(SIX, text)
            told = await client.found(uri, "voltage-drop-high")
            found = await actions(client, uri, text)
            title = next(t for t in found if t.startswith("Accept `voltage-drop-high`"))
            new = edited(text, found[title])
            client.type(uri, new)
            told = await client.found(uri, "plan-unusable")
            assert at(new, "reason: ''", into=8) in [d.range.start for d in told]
            client.type(uri, new.replace("reason: ''", "reason: a lamp that may be dim"))
            await client.until(
                lambda: any(d.message.startswith("accepted") for d in client.last(uri))
            )
            assert not [d for d in client.last(uri) if d.severity in (1, 2)]

    run(scenario())


def test_what_is_open_is_chosen_as_choose_writes_it(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_text(OPEN, encoding="utf-8")
    call("choose", "--write", str(path))
    chosen = path.read_text(encoding="utf-8")

    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(path, OPEN)
            await client.found(uri, "not-chosen-yet")
            context = lsp.CodeActionContext(diagnostics=[])
            params = lsp.CodeActionParams(lsp.TextDocumentIdentifier(uri), whole(OPEN), context)
            found = await client.text_document_code_action_async(params)
            assert "Choose all that is open" in {each.title for each in found or ()}
            await client.workspace_execute_command_async(
                lsp.ExecuteCommandParams("wattproof.choose", [uri, "", ""])
            )
            [made] = client.applied
            assert made.edit.changes is not None
            assert applied(OPEN, made.edit.changes[uri]) == chosen

    run(scenario())


def test_nothing_is_offered_for_what_cannot_be_read_or_is_sound(tmp_path: Path) -> None:
    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(SIX)
            assert await actions(client, uri, TEXT) == {}
            client.type(uri, FAULTY.replace("kind: mppt", "kind: something"))
            assert await actions(client, uri, FAULTY) == {}

    run(scenario())


def test_what_is_misspelt_is_corrected(tmp_path: Path) -> None:
    async def scenario() -> None:
        async with editor() as client:
            text = FAULTY.replace("series: 4", "seris: 4").replace("100 V", "100,5 V")
            uri = client.open(tmp_path / "plan.yaml", text)
            found = await actions(client, uri, text)
            assert edited(text, found["Write `series`"]) == text.replace("seris", "series")

    run(scenario())


async def inlaid(client: Editor, uri: str, text: str) -> dict[tuple[int, int], str]:
    params = lsp.InlayHintParams(lsp.TextDocumentIdentifier(uri), whole(text))
    found = await client.text_document_inlay_hint_async(params)
    return {(h.position.line, h.position.character): str(h.label) for h in found or ()}


def test_currents_stand_in_the_lines_and_may_be_turned_off() -> None:
    def behind(mark: str) -> tuple[int, int]:
        where = at(TEXT, mark, into=len(mark))
        return where.line, where.character

    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(SIX)
            found = await inlaid(client, uri, TEXT)
            assert found[behind("  home-run:")] == "25.8 A of 40 A"
            assert found[behind("  tracker:")] == "83 V of 100 V"
            assert found[behind("      fridge:")] == "4.83 A of 15 A"
            settings = lsp.DidChangeConfigurationParams({"wattproof": {"inlay": False}})
            client.workspace_did_change_configuration(settings)
            assert await inlaid(client, uri, TEXT) == {}

    run(scenario())
