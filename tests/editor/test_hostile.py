"""Messages that no editor should send, texts that are none of ours, and wide characters."""

from __future__ import annotations

import asyncio
import json
import os
import subprocess
import sys
from concurrent.futures import Future
from pathlib import Path
from typing import Any

import pytest
from lsprotocol import types as lsp
from pygls.exceptions import JsonRpcException

from cli.calls import FAULTY, SOUND, SOURCES
from editor.clients import SECONDS, SIX, Editor, at, editor, run
from editor.test_names import applied as made_of
from editor.test_names import renamed
from wattproof.source import MAX_BYTES

TEXT = SIX.read_text(encoding="utf-8")
RULE = "cold-voltage-over-controller"
START: Any = {"processId": None, "rootUri": None, "capabilities": {}}
SERVER = [
    sys.executable,
    "-c",
    f"import sys; sys.path[:0] = {SOURCES.split(os.pathsep)!r}; "
    "from wattproof.cli.main import run; sys.exit(run(['language-server']))",
]
DROP = "voltage-drop-high"
LONG = SOUND.replace("length: 1 m", "length: 9 m")


def send(client: Editor, body: bytes) -> None:
    """A message as bytes, whatever they are."""
    writer: Any = client.protocol.writer
    writer.write(b"Content-Length: %d\r\n\r\n" % len(body) + body)


async def answers(client: Editor, uri: str) -> None:
    """The server still answers, and still tells what is found."""
    client.type(uri, SOUND)
    await client.until(lambda: RULE not in {d.code for d in client.last(uri)})
    client.type(uri, FAULTY)
    await client.found(uri, RULE)


def test_hostile_messages_end_nothing(tmp_path: Path) -> None:
    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(tmp_path / "plan.yaml", FAULTY)
            await client.found(uri, RULE)
            for body in (
                b"not json at all {{{",
                b"\xff\xfe\x00",
                b"[]",
                b"null",
                b"{}",
                b'{"jsonrpc": "2.0"}',
                b'{"jsonrpc": "2.0", "method": "no/such/thing", "params": {}}',
                b'{"jsonrpc": "2.0", "method": "textDocument/didChange", "params": {"a": 1}}',
                b'{"jsonrpc": "2.0", "method": "textDocument/didOpen", "params": null}',
                b'{"jsonrpc": "2.0", "method": "$/cancelRequest", "params": {"id": 4711}}',
                b'{"jsonrpc": "2.0", "id": 99, "result": "to nothing that was asked"}',
                b'{"jsonrpc": "2.0", "id": {"a": 1}, "method": "textDocument/hover"}',
                b"[" * 100_000,
            ):
                send(client, body)
            await answers(client, uri)

    run(scenario())


async def error_of(client: Editor, method: str, params: Any) -> int:
    """The code with which a request is refused."""
    answer: Future[Any] = Future()
    client.protocol._request_futures["by-hand"] = answer  # the library sends nothing malformed
    message = {"jsonrpc": "2.0", "id": "by-hand", "method": method, "params": params}
    send(client, json.dumps(message).encode())
    with pytest.raises(JsonRpcException) as raised:
        await asyncio.wait_for(asyncio.wrap_future(answer), SECONDS)
    assert raised.value.code is not None
    return int(raised.value.code)


def test_what_cannot_be_answered_is_answered_so(tmp_path: Path) -> None:
    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(tmp_path / "plan.yaml", FAULTY)
            assert await error_of(client, "no/suchRequest", {}) == -32601
            for params in ({}, {"textDocument": 5}, {"textDocument": {"uri": uri}, "position": -1}):
                assert await error_of(client, "textDocument/hover", params) == -32602
            wrong = {"textDocument": {"uri": uri}, "position": {"line": -5, "character": 0}}
            assert await error_of(client, "textDocument/definition", wrong) == -32602
            command = {"command": "wattproof.choose", "arguments": [1, 2, 3, 4]}
            assert await error_of(client, "workspace/executeCommand", command) == -32602
            await answers(client, uri)

    run(scenario())


def test_positions_beyond_the_end_and_texts_that_are_not_open_have_no_answer(
    tmp_path: Path,
) -> None:
    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(SIX)
            for document in (uri, (tmp_path / "never-opened.yaml").as_uri(), "untitled:1", ":", ""):
                item = lsp.TextDocumentIdentifier(document)
                for where in (lsp.Position(99_999, 99_999), lsp.Position(5, 2_000_000_000)):
                    assert not await client.text_document_hover_async(lsp.HoverParams(item, where))
                    params = lsp.DefinitionParams(item, where)
                    assert not await client.text_document_definition_async(params)
                    await client.text_document_completion_async(lsp.CompletionParams(item, where))

    run(scenario())


def test_a_text_without_a_file_is_checked() -> None:
    async def scenario() -> None:
        async with editor() as client:
            item = lsp.TextDocumentItem("untitled:Untitled-1", "yaml", 1, FAULTY)
            client.text_document_did_open(lsp.DidOpenTextDocumentParams(item))
            await client.found("untitled:Untitled-1", RULE)

    run(scenario())


def test_other_yaml_is_left_alone(tmp_path: Path) -> None:
    async def scenario() -> None:
        async with editor() as client:
            other = client.open(tmp_path / "compose.yaml", "services:\n  web: {image: [a}\n")
            plan = client.open(tmp_path / "plan.yaml", FAULTY)
            await client.found(plan, RULE)
            assert other not in client.told
            client.type(plan, "services:\n  web: {image: [a}\n")
            await client.until(lambda: not client.last(plan))

    run(scenario())


def test_several_plans_are_told_apart_and_closed_ones_forgotten(tmp_path: Path) -> None:
    async def scenario() -> None:
        async with editor() as client:
            one = client.open(tmp_path / "one.yaml", FAULTY)
            other = client.open(tmp_path / "other.yaml", SOUND)
            await client.found(one, RULE)
            await client.until(lambda: client.told.get(other))
            assert RULE not in {d.code for d in client.last(other)}
            client.type(other, FAULTY)
            await client.found(other, RULE)
            client.close(one)
            await client.until(lambda: not client.last(one))
            assert client.last(other)

    run(scenario())


def test_a_huge_text_is_told_to_be_one_and_holds_nothing_up(tmp_path: Path) -> None:
    huge = FAULTY + "# " + "x" * (MAX_BYTES + 10) + "\n"

    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(tmp_path / "plan.yaml", huge)
            [told] = await client.found(uri, "plan-unusable")
            assert "larger than" in told.message
            params = lsp.DocumentSymbolParams(lsp.TextDocumentIdentifier(uri))
            assert not await client.text_document_document_symbol_async(params)
            await answers(client, uri)

    run(scenario())


def test_a_text_that_nests_too_deep_is_refused(tmp_path: Path) -> None:
    async def scenario() -> None:
        async with editor() as client:
            deep = FAULTY + "site: " + "[" * 3000 + "]" * 3000 + "\n"
            uri = client.open(tmp_path / "plan.yaml", deep)
            await client.found(uri, "plan-unusable")
            where = at(deep, "site: [", into=2)
            params = lsp.HoverParams(lsp.TextDocumentIdentifier(uri), where)
            assert not await client.text_document_hover_async(params)
            await client.text_document_completion_async(
                lsp.CompletionParams(lsp.TextDocumentIdentifier(uri), lsp.Position(9999, 0))
            )
            await answers(client, uri)

    run(scenario())


@pytest.mark.parametrize("encoding", [None, "utf-8", "utf-32"])
def test_columns_are_counted_in_units_of_the_editor(tmp_path: Path, encoding: str | None) -> None:
    text = "wattproof: 1\nsetting: vehicle\nfuses: {'🚐太': 1, f-one: {rating: 40}}\n"
    before = "fuses: {'🚐太': 1, f-one: {"
    units = {None: "utf-16-le", "utf-8": "utf-8", "utf-32": "utf-32-le"}[encoding]
    size = {None: 2, "utf-8": 1, "utf-32": 4}[encoding]
    general = lsp.GeneralClientCapabilities(
        position_encodings=[lsp.PositionEncodingKind(encoding)] if encoding else None
    )

    async def scenario() -> None:
        async with editor(capabilities=lsp.ClientCapabilities(general=general)) as client:
            uri = client.open(tmp_path / "plan.yaml", text)
            told = await client.found(uri, "plan-unusable")
            column = len((before + "rating: ").encode(units)) // size
            assert (2, column) in [(d.range.start.line, d.range.start.character) for d in told]
            where = lsp.Position(2, len((before + "rat").encode(units)) // size)
            params = lsp.HoverParams(lsp.TextDocumentIdentifier(uri), where)
            found = await client.text_document_hover_async(params)
            assert found is not None
            assert "Rated current" in str(found.contents)

    run(scenario())


def test_a_name_behind_wide_characters_is_renamed_at_its_place(tmp_path: Path) -> None:
    text = SOUND.replace("wires:\n", "wires: # 🚐🚐 太陽\n")
    text = f"{text}accepted: [{{reason: '🚐 é', rule: voltage-drop-high, where: home-run}}]\n"

    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(tmp_path / "plan.yaml", text)
            edit = await renamed(client, uri, at(text, "home-run}"), "roof-run")
            assert made_of(text, edit.changes[uri]) == text.replace("home-run", "roof-run")

    run(scenario())


def test_lines_may_end_as_on_other_systems(tmp_path: Path) -> None:
    text = FAULTY.replace("\n", "\r\n")

    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(tmp_path / "plan.yaml", text)
            told = await client.found(uri, RULE)
            start = told[0].range.start
            assert (start.line, start.character) in [
                (n, line.index(":") - len(line.partition(":")[0].lstrip()))
                for n, line in enumerate(FAULTY.split("\n"))
                if ":" in line
            ]
            context = lsp.CodeActionContext(diagnostics=[])
            span = lsp.Range(lsp.Position(0, 0), lsp.Position(999, 0))
            params = lsp.CodeActionParams(lsp.TextDocumentIdentifier(uri), span, context)
            found = await client.text_document_code_action_async(params)
            assert found
            for each in found:
                assert isinstance(each, lsp.CodeAction)
                assert each.edit is not None
                assert each.edit.changes is not None
                new = made_of(text, each.edit.changes[uri])
                assert new.count("\n") == new.count("\r\n")

    run(scenario())


def test_parts_that_are_not_saved_are_what_a_plan_is_checked_with(tmp_path: Path) -> None:
    (tmp_path / "parts").mkdir()
    labels = tmp_path / "parts" / "heron-labels.yaml"
    text = (SIX.parent / "parts" / labels.name).read_text(encoding="utf-8")
    labels.write_text(text, encoding="utf-8")

    async def scenario() -> None:
        async with editor() as client:
            plan = client.open(tmp_path / "plan.yaml", TEXT)
            part = client.open(labels)
            await client.until(lambda: client.told.get(plan) and client.told.get(part))
            assert not [d for d in client.last(plan) if d.severity == 1]
            start = text.index("voc:", text.index("rigid-200:"))
            hot = text[:start] + text[start:].replace("24.6 V", "36 V", 1)
            assert hot != text
            client.type(part, hot)
            await client.found(plan, RULE)
            client.type(part, text[:start] + text[start:].replace("24.6 V", "ten volts", 1))
            told = await client.found(part, "plan-unusable")
            assert any("voc" in d.message for d in told)
            client.close(part)
            await client.until(lambda: not [d for d in client.last(plan) if d.severity == 1])
            await client.until(lambda: not client.last(part))

    run(scenario())


def test_settings_that_are_not_saved_hold(tmp_path: Path) -> None:
    path = tmp_path / "wattproof-settings.yaml"
    path.write_text("wattproof-settings: 1\n", encoding="utf-8")

    async def scenario() -> None:
        async with editor() as client:
            plan = client.open(tmp_path / "plan.yaml", LONG)
            await client.found(plan, DROP)
            off = f"wattproof-settings: 1\nrules: {{{DROP}: {{off: true, reason: a test}}}}\n"
            settings = client.open(path, off)
            await client.until(lambda: DROP not in {d.code for d in client.last(plan)})
            client.type(settings, "wattproof-settings: 1\nruls: {}\n")
            await client.found(settings, "plan-unusable")

    run(scenario())


def test_a_newer_text_makes_an_older_one_void(tmp_path: Path) -> None:
    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(tmp_path / "plan.yaml", SOUND)
            await client.until(lambda: client.told.get(uri))
            for number in range(30):
                client.type(uri, f"{FAULTY}# {number}\n")
            last = client.type(uri, SOUND)
            await client.until(lambda: client.told[uri][-1].version == last)
            versions = [told.version for told in client.told[uri]]
            assert len(set(versions)) <= 4
            assert RULE not in {d.code for d in client.last(uri)}

    run(scenario())


def test_the_message_of_a_call_without_the_extra_is_one_line() -> None:
    code = (
        "import importlib.util as u; f = u.find_spec; "
        "u.find_spec = lambda n, *a: None if n == 'pygls' else f(n, *a); "
        "from wattproof.cli.main import run; raise SystemExit(run(['language-server']))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        env={"PYTHONPATH": SOURCES},
        timeout=60,
        check=False,
    )
    assert done.returncode == 2
    assert done.stdout == b""
    [line] = done.stderr.decode().splitlines()
    assert "pip install 'wattproof[editor]'" in line


@pytest.mark.parametrize(("ask_first", "status"), [(True, 0), (False, 1)])
def test_it_ends_when_the_editor_says_so(ask_first: bool, status: int) -> None:
    messages = [{"jsonrpc": "2.0", "id": 1, "method": "initialize", "params": START}]
    messages += [{"jsonrpc": "2.0", "id": 2, "method": "shutdown"}] if ask_first else []
    messages += [{"jsonrpc": "2.0", "method": "exit"}]
    bodies = [json.dumps(each).encode() for each in messages]
    sent = b"".join(b"Content-Length: %d\r\n\r\n" % len(body) + body for body in bodies)
    done = subprocess.run(SERVER, input=sent, capture_output=True, timeout=60, check=False)
    assert done.returncode == status
    assert done.stdout.count(b"Content-Length") == 1 + ask_first


def test_it_ends_where_nobody_is_there_any_more() -> None:
    done = subprocess.run(SERVER, input=b"", capture_output=True, timeout=60, check=False)
    assert done.returncode == 1
    assert done.stdout == b""
