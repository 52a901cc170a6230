"""Names in a plan: completed, found, renamed, outlined."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest
from lsprotocol import types as lsp
from pygls.exceptions import JsonRpcException

from editor.clients import ROOT, SIX, Editor, applied, at, editor, run

TEXT = SIX.read_text(encoding="utf-8")
LABELS = ROOT / "examples" / "parts" / "heron-labels.yaml"


def document(uri: str) -> lsp.TextDocumentIdentifier:
    return lsp.TextDocumentIdentifier(uri)


async def offered(client: Editor, uri: str, where: lsp.Position) -> dict[str, lsp.CompletionItem]:
    found = await client.text_document_completion_async(lsp.CompletionParams(document(uri), where))
    assert isinstance(found, lsp.CompletionList)
    return {item.label: item for item in found.items}


async def places(client: Editor, uri: str, where: lsp.Position) -> list[tuple[str, int]]:
    found = await client.text_document_definition_async(lsp.DefinitionParams(document(uri), where))
    assert isinstance(found, list)
    return [(Path(each.uri).name, each.range.start.line) for each in found]  # type: ignore[union-attr]


async def renamed(client: Editor, uri: str, where: lsp.Position, new: str) -> Any:
    params = lsp.RenameParams(document(uri), where, new)
    return await client.text_document_rename_async(params)


def line(text: str, mark: str) -> int:
    return text.count("\n", 0, text.index(mark))


def test_what_may_be_typed_is_known_while_a_plan_is_broken() -> None:
    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(SIX)
            await client.until(lambda: client.told.get(uri))

            async def typed(old: str, new: str) -> set[str]:
                text = TEXT.replace(old, new.replace("|", ""), 1)
                where = TEXT.index(old) + new.index("|")
                client.type(uri, text)
                return set(await offered(client, uri, at(text[:where] + "\0", "\0")))

            keys = await typed("mounting: roof-gap, place", "mo|, place")
            assert {"mounting", "tilt"} <= keys
            assert not {"module", "series"} & keys
            assert "roof-bonded" in await typed("mounting: roof-gap", "mounting: |")
            ends = await typed("to: tracker.pv", "to: tra|")
            assert {"tracker.pv", "tracker.battery", "house", "chassis"} <= ends
            assert "home-run" not in ends
            assert await typed("to: tracker.pv", "to: tracker.|") >= {"tracker.pv", "tracker.load"}
            assert {"pv-8", "pv-10"} <= await typed("cable: pv-8", "cable: |")
            assert {"rigid-100", "rigid-200"} <= await typed("module: rigid-200", "module: |")
            assert await typed("inline: [array-off]", "inline: [|") >= {"array-off", "bank-fuse"}
            assert {"roof", "cabin"} <= await typed("place: [roof, cabin]", "place: [roof, |")
            assert {"capacity", "bonds"} & await typed("    capacity: 200 Ah\n", "    |\n")
            assert "energy" in await typed("busbars:", "|\nbusbars:")
            assert {"true", "false"} <= await typed("dc: true", "dc: |")

    run(scenario())


def test_a_rule_that_is_accepted_is_completed(tmp_path: Path) -> None:
    async def scenario() -> None:
        async with editor() as client:
            text = TEXT + "accepted:\n  - rule: volt\n"
            uri = client.open(tmp_path / "plan.yaml", text)
            found = await offered(client, uri, at(text, "volt\n", into=4))
            assert "voltage-drop-high" in found

    run(scenario())


def test_definitions_and_references_are_found_also_in_files_of_parts() -> None:
    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(SIX)
            home = await places(client, uri, at(TEXT, "tracker.pv"))
            assert home == [("van-six-modules.yaml", line(TEXT, "  tracker:"))]
            way = await places(client, uri, at(TEXT, "panel.fridge", into=8))
            assert way == [("van-six-modules.yaml", line(TEXT, "fridge: {fuse"))]
            [(file, at_line)] = await places(client, uri, at(TEXT, "rigid-200"))
            assert (file, at_line) == (LABELS.name, line(LABELS.read_text("utf-8"), "rigid-200:"))
            assert await places(client, uri, at(TEXT, "parts/heron")) == [(LABELS.name, 0)]
            assert await places(client, uri, at(TEXT, "coldest")) == []
            context = lsp.ReferenceContext(include_declaration=True)
            params = lsp.ReferenceParams(context, document(uri), at(TEXT, "  tracker:", into=3))
            found = await client.text_document_references_async(params)
            assert found is not None
            assert len(found) == TEXT.count("tracker")

    run(scenario())


def test_a_component_is_renamed_wherever_it_stands(tmp_path: Path) -> None:
    text = TEXT.replace("parts/", str(ROOT / "examples" / "parts") + "/") + (
        "readings:\n  noon: {at: tracker.pv, voltage: 52.6 V}\n"
        "accepted:\n  - {rule: voltage-drop-high, where: tracker, reason: known}\n"
    )

    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(tmp_path / "plan.yaml", text)
            edit = await renamed(client, uri, at(text, "tracker.battery", into=2), "left-tracker")
            new = applied(text, edit.changes[uri])
            assert new == text.replace("tracker", "left-tracker")
            way = await renamed(client, uri, at(text, "panel.fridge", into=7), "cooler")
            made = applied(text, way.changes[uri])
            assert "      cooler: {fuse: 15 A" in made
            assert "from: panel.cooler, to: fridge" in made
            roof = await renamed(client, uri, at(text, "roof: {"), "deck")
            assert applied(text, roof.changes[uri]).count("place: deck") == text.count(
                "place: roof"
            )

    run(scenario())


@pytest.mark.parametrize(
    ("new", "why"),
    [
        ("house", "the name `house` is taken on line"),
        ("Left Tracker", "write `left-tracker`"),
        ("chassis", "means something else"),
        ("unknown", "means something else"),
        ("", "is not a name"),
    ],
)
def test_a_name_that_is_taken_or_unfit_is_refused(new: str, why: str) -> None:
    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(SIX)
            with pytest.raises(JsonRpcException, match=why):
                await renamed(client, uri, at(TEXT, "tracker.pv"), new)

    run(scenario())


def test_a_datasheet_is_renamed_in_its_file_and_in_every_open_plan(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "examples" / "parts", tmp_path / "parts")
    labels = tmp_path / "parts" / LABELS.name

    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(tmp_path / "plan.yaml", TEXT)
            part = client.open(labels)
            edit = await renamed(client, uri, at(TEXT, "rigid-200"), "flat-200")
            assert set(edit.changes) == {uri, part}
            assert applied(TEXT, edit.changes[uri]).count("flat-200") == TEXT.count("rigid-200")
            back = await renamed(
                client, part, at(labels.read_text("utf-8"), "rigid-200"), "flat-200"
            )
            assert back == edit

    run(scenario())


def test_the_outline_has_families_and_components() -> None:
    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(SIX)
            params = lsp.DocumentSymbolParams(document(uri))
            found = await client.text_document_document_symbol_async(params)
            assert found is not None
            top = {each.name: each for each in found if isinstance(each, lsp.DocumentSymbol)}
            assert {"site", "strings", "wires"} <= set(top)
            wires = {each.name: each for each in top["wires"].children or ()}
            assert wires["home-run"].detail == "roof-joint → tracker.pv"
            assert top["title"].children is None

    run(scenario())
