"""One change of the text of a plan: a value, a key, an entry or an item, and nothing else.

Each function takes a text and gives the new one. What stands behind an anchor that is used
elsewhere is refused, since the change would reach there too.
"""

from __future__ import annotations

import re
from collections.abc import Sequence as Steps
from typing import Final, TypeAlias

from wattproof.amend.scalars import WIDTH, Data, entry, flow, scalar
from wattproof.amend.written import Alias, Document, Mapping, Scalar, Sequence, Spot, Written
from wattproof.words import enumerated

Step: TypeAlias = str | int
MERGE: Final = "<<"
_REMARK: Final = re.compile(r"[ \t\n]#[^\n]*\n")
_SPACES: Final = re.compile(r"[ \t]*")


class NotWritten(Exception):
    """A change cannot be written into a text: why, as an end of a sentence."""


def with_value(text: str, path: Steps[Step], value: Data, after: Steps[str] = ()) -> str:
    """The text with a value under a path of keys, which is added where it is not there.

    after: keys of the last mapping, behind the last one there of which a new key goes; else at its
    end. Raises NotWritten.
    """
    document = Document(text)
    held, steps = _reached(document, path)
    if not steps:
        return _replaced(document, held, value)
    for step in reversed(steps[1:]):
        value = {str(step): value}
    if isinstance(held, Alias) or not isinstance(held, Mapping) or isinstance(steps[0], int):
        raise NotWritten(f"line {document.line(held.start)} has no keys")
    return _added(document, held, str(steps[0]), value, after)


def without(text: str, path: Steps[Step], *, remarked: bool = False) -> str:
    """The text without a key of a mapping, or an item of a list. Raises NotWritten.

    remarked: whether comments inside a key may go with it; it is refused else.
    """
    document = Document(text)
    owner, steps = _reached(document, path[:-1])
    last = path[-1]
    if isinstance(owner, Mapping) and not steps:
        number = next((n for n, (k, _) in enumerate(owner.pairs) if _is(k, str(last))), None)
        if number is not None:
            return _without_pair(document, owner, number, remarked=remarked)
    if isinstance(owner, Sequence) and not steps and isinstance(last, int):
        return _without_item(document, owner, last)
    raise NotWritten(f"`{last}` is not written there")


def renamed(text: str, path: Steps[Step], key: str, value: str = "") -> str:
    """The text with another key in the place of one. Raises NotWritten.

    value: in the place of its own as well; that stays as it is where empty.
    """
    document = Document(text)
    owner, steps = _reached(document, path[:-1])
    pair = owner.pair(str(path[-1])) if isinstance(owner, Mapping) and not steps else None
    if pair is None or not isinstance(pair[0], Scalar):
        raise NotWritten(f"`{path[-1]}` is not written there")
    found, held = pair
    _refuse_shared(document, found)
    later = _replaced(document, held, value) if value else text
    return later[: found.body] + key + later[found.end :]


def with_item(text: str, path: Steps[Step], value: Data, *, first: bool = False) -> str:
    """The text with one more item in a list, which is added where it is not there."""
    document = Document(text)
    held, steps = _reached(document, path)
    if steps:
        return with_value(text, path, [value])
    if isinstance(held, Alias):
        raise NotWritten(f"line {document.line(held.start)} repeats a list from elsewhere")
    if isinstance(held, Scalar):  # one alone stands without brackets
        both = f"[{flow(value)}, " if first else "["
        tail = "]" if first else f", {flow(value)}]"
        return _put(_put(text, held.end, tail), held.body, both)
    if not isinstance(held, Sequence):
        raise NotWritten(f"line {document.line(held.start)} is no list")
    if held.flow:
        return _with_flow_item(document, held, value, first)
    return _with_line_item(document, held, value, first)


def _reached(document: Document, path: Steps[Step]) -> tuple[Written, list[Step]]:
    """What stands furthest along a path, and the steps that lead on from there."""
    held = document.root
    if held is None:
        raise NotWritten("the file is empty")
    left = list(path)
    while left:
        _refuse_shared(document, held)
        if isinstance(held, Alias):
            raise NotWritten(
                f"line {document.line(held.start)} repeats what stands at an anchor, which others "
                "use as well"
            )
        found = _step(held, left[0])
        if found is None:
            if isinstance(held, Mapping) and len(left) > 1 and _merges(held, str(left[0])):
                raise NotWritten(
                    f"`{left[0]}` is merged in on line {document.line(held.start)} from an anchor "
                    "that others use as well"
                )
            return held, left
        held = found
        left.pop(0)
    return held, []


def _step(held: Written, step: Step) -> Written | None:
    if isinstance(held, Sequence) and isinstance(step, int):
        return held.items[step] if 0 <= step < len(held.items) else None
    if isinstance(held, Mapping):
        pair = held.pair(str(step))
        return pair[1] if pair is not None else None
    return None


def _is(node: Written, key: str) -> bool:
    return isinstance(node, Scalar) and node.value == key


def _merges(held: Mapping, key: str) -> bool:
    """Whether a key comes into a mapping from others that are merged into it."""
    return any(_holds(value, key) for name, value in held.pairs if _is(name, MERGE))


def _holds(value: Written | None, key: str) -> bool:
    if isinstance(value, Alias):
        return _holds(value.target, key)
    if isinstance(value, Sequence):
        return any(_holds(each, key) for each in value.items)
    return isinstance(value, Mapping) and (value.pair(key) is not None or _merges(value, key))


def _refuse_shared(document: Document, node: Written) -> None:
    uses = document.uses.get(node.anchor, []) if node.anchor else []
    if uses:
        lines = sorted({document.line(use.start) for use in uses})
        where = enumerated(str(line) for line in lines[:3])
        others = f"line {where} uses" if len(lines) == 1 else f"lines {where} use"
        raise NotWritten(
            f"it stands behind the anchor `&{node.anchor}` of line "
            f"{document.line(node.start)}, which {others} as well"
        )


def _refuse_remarks(document: Document, start: int, end: int) -> None:
    """A comment inside what goes would go with it."""
    if _REMARK.search(document.text, start, end):
        raise NotWritten(f"a comment stands inside what begins on line {document.line(start)}")


def _put(text: str, offset: int, new: str) -> str:
    return text[:offset] + new + text[offset:]


def _replaced(document: Document, held: Written, value: Data) -> str:
    _refuse_shared(document, held)
    text = document.text
    if isinstance(held, Scalar) and held.style not in ("|", ">"):
        quote = held.style if isinstance(value, str) else ""
        new = scalar(value, quote) if isinstance(value, str) else flow(value)
        if held.end == held.body and text[held.body - 1 : held.body] == ":":
            new = " " + new
        return text[: held.body] + new + text[held.end :]
    if isinstance(held, Alias) or (isinstance(held, Mapping | Sequence) and held.flow):
        if isinstance(held, Mapping) and held.bare:
            raise NotWritten(f"line {document.line(held.start)} has no braces around it")
        return text[: held.body] + flow(value) + text[held.end :]
    if isinstance(held, Scalar):
        new = scalar(value) if isinstance(value, str) else flow(value)
        return text[: held.body] + new + text[held.end :]
    raise NotWritten(f"line {document.line(held.start)} holds several lines")


def _added(document: Document, held: Mapping, key: str, value: Data, after: Steps[str]) -> str:
    _refuse_shared(document, held)
    if held.flow:
        return _with_flow_pair(document, held, key, value)
    places = [n for n, (k, _) in enumerate(held.pairs) if any(_is(k, each) for each in after)]
    _, last = held.pairs[places[-1] if places else -1]
    first = held.pairs[0][0]
    indent = document.column(first.start)
    end = document.line_end(_end(last))
    gap = document.line_break if held is document.root and _is_spaced(document, held) else ""
    new = gap + document.line_break + entry(key, value, indent, document.line_break)
    return _put(document.text, end, new)


def _is_spaced(document: Document, held: Mapping) -> bool:
    """Whether an empty line stands before most of the keys."""
    starts = [document.line_start(key.start) for key, _ in held.pairs[1:]]
    lines = [document.text[document.line_start(start - 1) : start].strip() for start in starts]
    return 2 * lines.count("") > len(lines)


def _end(node: Spot) -> int:
    """The last character of what a node holds, so that the end of its line can be looked for."""
    return max(node.start, node.end)


def _with_flow_pair(document: Document, held: Mapping, key: str, value: Data) -> str:
    if held.bare:
        raise NotWritten(f"line {document.line(held.start)} has no braces around it")
    piece = f"{key}: {flow(value)}"
    if not held.pairs:
        return _put(document.text, held.body + 1, piece)
    at = held.pairs[-1][1].end
    piece = "," + _joint(document, held.pairs[0][0], at, piece)
    return _put(document.text, at, piece)


def _joint(document: Document, first: Spot, at: int, piece: str) -> str:
    """A piece after a comma: on the same line, or under the first where that is too long."""
    rest = document.line_end(at) - at
    if document.column(at) + len(piece) + 2 + rest <= WIDTH:
        return " " + piece
    return document.line_break + " " * document.column(first.start) + piece


def _with_flow_item(document: Document, held: Sequence, value: Data, first: bool) -> str:
    piece = flow(value)
    if not held.items:
        return _put(document.text, held.body + 1, piece)
    if first:
        return _put(document.text, held.items[0].start, f"{piece}, ")
    at = held.items[-1].end
    return _put(document.text, at, "," + _joint(document, held.items[0], at, piece))


def _with_line_item(document: Document, held: Sequence, value: Data, first: bool) -> str:
    dash = held.body if document.text[held.body : held.body + 1] == "-" else _dash(document, held)
    indent = document.column(dash)
    before = document.text[document.line_start(dash) : dash]
    if before.strip(" "):
        raise NotWritten(f"line {document.line(dash)} begins two lists")
    new = " " * indent + "- " + flow(value)
    if first:
        return _put(document.text, document.line_start(dash), new + document.line_break)
    at = document.line_end(_end(held.items[-1]))
    return _put(document.text, at, document.line_break + new)


def _dash(document: Document, held: Sequence) -> int:
    """Where the dash of the first item of a list in lines stands."""
    return document.text.rindex("-", 0, held.items[0].start)


def _without_pair(document: Document, held: Mapping, number: int, *, remarked: bool = False) -> str:
    key, value = held.pairs[number]
    _refuse_shared(document, held)
    for node in (key, value):
        _refuse_shared(document, node)
    if not remarked:
        _refuse_remarks(document, key.start, value.end)
    if held.flow:
        spots = [(k.start, max(k.end, v.end)) for k, v in held.pairs]
        if held.bare:
            raise NotWritten(f"line {document.line(held.start)} has no braces around it")
        return _without_piece(document, spots, number)
    if len(held.pairs) == 1:
        raise NotWritten(f"`{document.text[key.start : key.end]}` is the only key there")
    return _without_lines(document, key.start, max(key.end, value.end))


def _without_item(document: Document, held: Sequence, number: int) -> str:
    item = held.items[number]
    _refuse_shared(document, item)
    _refuse_remarks(document, item.start, item.end)
    if held.flow:
        return _without_piece(document, [(i.start, i.end) for i in held.items], number)
    if len(held.items) == 1:
        raise NotWritten(f"line {document.line(item.start)} holds the only one")
    return _without_lines(document, document.text.rindex("-", 0, item.start), item.end)


def _without_lines(document: Document, start: int, end: int) -> str:
    """The text without some lines; a comment after the last of them stays on a line of its own."""
    text = document.text
    line_start, line_end = document.line_start(start), document.line_end(end)
    if text[line_start:start].strip(" "):
        raise NotWritten(f"line {document.line(start)} begins a list and its first key")
    if text[end:line_end].strip():
        return text[:start] + text[end:].lstrip(" \t")
    rest = text[line_end:]
    if rest:
        step = 2 if rest.startswith("\r\n") else 1
        return text[:line_start] + rest[step:]
    return text[:line_start].removesuffix("\n").removesuffix("\r")


def _without_piece(document: Document, spots: list[tuple[int, int]], number: int) -> str:
    """The text without one of several pieces between commas, and without one of the commas."""
    text, (start, end) = document.text, spots[number]
    if number + 1 < len(spots):
        comma = _comma(text, end)
        spaces = _SPACES.match(text, comma + 1)
        rest = text[spaces.end() if spaces else comma + 1 :]
        head = text[:start]
        if rest[:1] in ("\r", "\n") and not text[end:comma].strip():
            return head.rstrip(" \t") + rest
        return head + text[end:comma] + rest
    if number == 0:
        return text[:start] + text[end:]
    before = spots[number - 1][1]
    comma = _comma(text, before)
    between = text[comma + 1 : start]
    if not between.strip():
        return text[:comma] + text[end:]
    return text[:comma] + between + text[end:]


def _comma(text: str, start: int) -> int:
    """The comma after a value, comments passed over."""
    at = start
    while at < len(text) and text[at] != ",":
        at = text.index("\n", at) if text[at] == "#" else at + 1
    if at >= len(text):
        raise NotWritten("no comma follows")
    return at
