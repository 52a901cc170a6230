"""What is shown of the word under a cursor."""

from __future__ import annotations

from pathlib import Path

from lsprotocol import types as lsp

from editor.clients import SIX, Editor, at, editor, run

TEXT = SIX.read_text(encoding="utf-8")


async def shown(client: Editor, uri: str, where: lsp.Position) -> str:
    """What is shown at a position; empty where nothing is."""
    document = lsp.TextDocumentIdentifier(uri)
    found = await client.text_document_hover_async(lsp.HoverParams(document, where))
    if found is None:
        return ""
    assert isinstance(found.contents, lsp.MarkupContent)
    return found.contents.value


def test_a_key_has_its_words_its_units_and_where_it_is_printed() -> None:
    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(SIX)
            told = await shown(client, uri, at(TEXT, "capacity"))
            assert "Rated capacity of one battery" in told
            assert "Units: Ah." in told
            assert "Where to look: on its case, in Ah." in told
            mounting = await shown(client, uri, at(TEXT, "mounting", into=3))
            assert "One of `open-rack`, `roof-gap`" in mounting
            length = await shown(client, uri, at(TEXT, "length", after="wires:"))
            assert "measure along the wire" in length

    run(scenario())


def test_a_name_has_what_is_computed_of_it_with_its_basis() -> None:
    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(SIX)
            told = await shown(client, uri, at(TEXT, "home-run"))
            assert "`home-run` carries 25.8 A of 40 A." in told
            assert "NEC Table 310.16" in told
            referred = await shown(client, uri, at(TEXT, "tracker.pv", into=2))
            assert "`tracker` sees up to 83 V of 100 V." in referred
            way = await shown(client, uri, at(TEXT, "fridge: {fuse"))
            assert "`fridge` carries 4.83 A of 15 A." in way

    run(scenario())


def test_nothing_is_shown_between_words_in_what_is_no_plan_and_beyond_the_end(
    tmp_path: Path,
) -> None:
    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(SIX)
            empty = TEXT.split("\n").index("")
            assert not await shown(client, uri, lsp.Position(empty, 0))
            assert not await shown(client, uri, lsp.Position(9999, 9999))
            other = client.open(tmp_path / "other.yaml", "services: {web: {image: a}}\n")
            assert not await shown(client, other, lsp.Position(0, 2))

    run(scenario())


def test_figures_are_those_of_the_text_as_typed() -> None:
    async def scenario() -> None:
        async with editor() as client:
            uri = client.open(SIX)
            text = TEXT.replace("cable: pv-8", "cable: pv-10")
            client.type(uri, text)
            told = await shown(client, uri, at(text, "home-run"))
            assert "carries 25.8 A of 30 A" in told

    run(scenario())
