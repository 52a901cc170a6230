"""YAML text to a tree of nodes that know their place; bounded, since a plan is untrusted input.

The tree is built from parse events, so that nothing is constructed by a tag, an alias keeps the
place where it is used, and depth and size are bounded while reading rather than after it.
"""

from __future__ import annotations

import os
import re
import stat
import sys
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from contextvars import ContextVar
from importlib.util import find_spec
from typing import TYPE_CHECKING, Any, Final, NamedTuple, Self, TypeAlias

if TYPE_CHECKING:
    from wattproof.unparsable import Change

MAX_BYTES = 1_000_000
MAX_DEPTH = 32
MAX_NODES = 50_000


class Kind(NamedTuple):
    """A kind of file, in the words of what is said about one.

    key, version: what its first line says. holds: what it declares many of. family: a key that
    they stand under. shorter: what to do about one that is too long.
    """

    word: str
    key: str
    version: int
    holds: str
    family: str
    shorter: str

    @property
    def first_line(self) -> str:
        """The line that says the kind and the version of the format."""
        return f"{self.key}: {self.version}"


PLAN = Kind(
    word="plan",
    key="wattproof",
    version=1,
    holds="components",
    family="strings",
    shorter="split it into several plans, or datasheets off into `parts` files",
)


class Place(NamedTuple):
    """A range of text in a file. Lines and columns count characters from 1; exclusive end."""

    file: str
    line: int
    column: int
    end_line: int
    end_column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


class Problem(NamedTuple):
    """Something that makes a plan unusable: where, what is wrong, and what to write instead.

    hazard: what threatens people where it is built as it is written; empty for what is a slip of
    the file, or does no worse than break something.
    """

    place: Place
    message: str
    instead: str = ""
    hazard: str = ""


class PlanUnusable(Exception):
    """A plan cannot be used. Carries every problem that was found in it."""

    def __init__(self, problems: list[Problem]) -> None:
        super().__init__("; ".join(f"{p.place}: {p.message}" for p in problems))
        self.problems = problems


class Text(str):
    """A scalar as written, with its place. All scalars are text: the plan's models parse them."""

    __slots__ = ("place",)
    place: Place

    @classmethod
    def at(cls, text: str, place: Place) -> Self:
        node = cls(text)
        node.place = place
        return node


class Missing(Text):
    """Stands where a key has no value, which is a problem that was told already."""

    __slots__ = ()


class Block(dict[Text, "Node"]):
    """A mapping with its place."""

    __slots__ = ("place",)
    place: Place


def without_comma(written: str) -> tuple[str, str, str]:
    """What to say of a number with a comma, what to write instead, and the value as it is meant.

    Where it holds a point as well, the last of the two marks the decimals.
    """
    found = re.match(r"([-+\u2212\u2013]?)([0-9.,']+)(.*)", written)
    assert found
    sign, number, rest = found.groups()
    whole, mark, part = re.fullmatch("(.*)([.,])([^.,]*)", number).groups()  # type: ignore[union-attr]
    plain = re.sub("[.,']", "", whole)
    if plain != whole:
        decimals = "" if len(part) == 3 and mark in whole else f".{part}"
        meant = f"{sign}{plain}{decimals or part}{rest}"
        return f"`{written}` has marks of thousands", f"write `{meant}`", meant
    is_gauge = not part.strip("0") and re.match(" ?(awg|ga)", rest.lower())
    meant = f"{sign}{whole}{rest}" if is_gauge else f"{sign}{whole}.{part}{rest}"
    instead = f"write `{meant}`"
    if len(part) == 3 and whole.strip("0"):
        thousands = f"{sign}{whole}{part}{rest}"
        instead = f"write `{thousands}` if the comma marks thousands, `{meant}` if decimals"
    return f"`{written}` has a decimal comma", instead, meant


class Items(list["Node"]):
    """A sequence with its place."""

    __slots__ = ("place",)
    place: Place


Node: TypeAlias = Text | Block | Items


_read: set[tuple[int, int]] = set()


def _note_read(descriptor: int) -> None:
    found = os.fstat(descriptor)
    if stat.S_ISREG(found.st_mode):
        _read.add((found.st_dev, found.st_ino))


def files_read() -> frozenset[tuple[int, int]]:
    """The files read here so far, by device and inode."""
    return frozenset(_read)


def note_files_read(files: Iterable[tuple[int, int]]) -> None:
    """Files that another process read for this one count as read here."""
    _read.update(files)


def was_read(path: str) -> bool:
    """Whether a file was read here, under any name: as a plan, its parts or its settings."""
    try:
        found = os.stat(path)
    except OSError:
        return False
    return (found.st_dev, found.st_ino) in _read


_NOTHING_OPEN: Mapping[str, str] = {}
_unsaved: ContextVar[Mapping[str, str]] = ContextVar("unsaved", default=_NOTHING_OPEN)


@contextmanager
def with_unsaved(texts: Mapping[str, str]) -> Iterator[None]:
    """Reads texts instead of the files that they are to be saved in, by their real paths."""
    token = _unsaved.set(texts)
    try:
        yield
    finally:
        _unsaved.reset(token)


def read_text(path: str, *, shown_as: str, kind: Kind = PLAN) -> str:
    """Read a file as UTF-8. Raises PlanUnusable where it cannot be read or is too large."""
    start = Place(shown_as, 1, 1, 1, 1)
    unsaved = _unsaved.get().get(os.path.realpath(path)) if _unsaved.get() else None
    if unsaved is not None:
        _refuse_large(len(unsaved.encode("utf-8", "replace")), start, kind)
        return unsaved
    try:
        if path == "-":
            if sys.stdin is None or sys.stdin.closed:
                message, instead = "standard input is closed", "name a file, or lead a plan into it"
                raise PlanUnusable([Problem(start, message, instead)])
            with suppress(OSError, ValueError):  # it may be no file at all
                _note_read(sys.stdin.fileno())
            data = sys.stdin.buffer.read(MAX_BYTES + 1)
        else:
            if not stat.S_ISREG(os.stat(path).st_mode):
                raise PlanUnusable([Problem(start, "this is not a regular file", "name a file")])
            with open(path, "rb") as file:
                _note_read(file.fileno())
                data = file.read(MAX_BYTES + 1)
    except OSError as error:
        raise PlanUnusable(
            [Problem(start, f"the file cannot be read: {error.strerror}", "check its name")]
        ) from None
    _refuse_large(len(data), start, kind)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        column = error.start - (data.rfind(b"\n", 0, error.start) + 1) + 1
        place = Place(shown_as, line, column, line, column + 1)
        message = f"the file is not UTF-8 text (byte 0x{data[error.start]:02x})"
        raise PlanUnusable([Problem(place, message, "save it as UTF-8")]) from None


def _refuse_large(size: int, start: Place, kind: Kind) -> None:
    if size > MAX_BYTES:
        message = f"the file is larger than {MAX_BYTES:,} bytes"
        raise PlanUnusable([Problem(start, message, kind.shorter)])


def parse(text: str, file: str, kind: Kind = PLAN) -> Block:
    """Parse YAML text whose top is a mapping. Raises PlanUnusable with all problems found."""
    root, problems = parse_on(text, file, kind)
    if problems:
        raise PlanUnusable(problems)
    return root


def parse_on(text: str, file: str, kind: Kind = PLAN) -> tuple[Block, list[Problem]]:
    """Parse YAML text past what does not hide the rest of it, and the problems that were passed.

    Raises PlanUnusable with all problems found where there is nothing to read on.
    """
    _refuse_characters(text, file, kind)
    builder = _TreeBuilder(file, kind)
    return builder.build(text), builder.problems


MOST_MENDED: Final = 40
_LARGEST_MENDED: Final = 100_000
"""Slips of one text that are read past, and characters up to which any is."""


def parse_past(text: str, file: str, kind: Kind = PLAN) -> tuple[Block, list[Problem]]:
    """As `parse_on`, and past slips that stop the parser where it is plain what was meant."""
    _refuse_characters(text, file, kind)
    passed = list(_odd_spaces(text, file))
    if passed:
        text = _ODD_INDENT.sub(lambda spaces: " " * len(spaces[0]), text)
    builder = _TreeBuilder(file, kind)
    while True:
        try:
            return builder.build(text), [*passed, *builder.problems]
        except PlanUnusable as unusable:
            if not builder.meant or len(passed) == MOST_MENDED or len(text) > _LARGEST_MENDED:
                of_tabs = any(change.text.isspace() and change.length for change in builder.changes)
                raise PlanUnusable([*passed, *([] if of_tabs else unusable.problems)]) from None
            passed.append(unusable.problems[-1])
        text = _changed(text, builder.meant)
        builder = _TreeBuilder(file, kind, [*builder.changes, *builder.meant])


_ODD_INDENT: Final = re.compile(
    "^[ \u00a0\u2007\u202f\u3000]*[\u00a0\u2007\u202f\u3000]", re.MULTILINE
)


def _odd_spaces(text: str, file: str) -> Iterator[Problem]:
    """The first line that is indented with spaces of a page, and how many more there are."""
    found = list(_ODD_INDENT.finditer(text))
    if not found:
        return
    line = text.count("\n", 0, found[0].start()) + 1
    message = "this line is indented with a space that YAML does not take for one"
    if len(found) > 1:
        message += f", and {len(found) - 1} more {'line is' if len(found) == 2 else 'lines are'}"
    place = Place(file, line, 1, line, len(found[0][0]) + 1)
    yield Problem(place, message, "delete it, and type ordinary spaces")


def _changed(text: str, changes: Iterable[Change]) -> str:
    lines = text.splitlines(keepends=True)
    for change in changes:
        line, start = lines[change.line - 1], change.column - 1
        lines[change.line - 1] = line[:start] + change.text + line[start + change.length :]
    return "".join(lines)


# Characters that YAML forbids or that its parsers disagree about (line separators of Unicode).
_REFUSED = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\x80-\x9f\u2028\u2029\ud800-\udfff\ufffe\uffff]"
)


def _refuse_characters(text: str, file: str, kind: Kind) -> None:
    problems = []
    for match in _REFUSED.finditer(text):
        line = text.count("\n", 0, match.start()) + 1
        column = match.start() - (text.rfind("\n", 0, match.start()) + 1) + 1
        place = Place(file, line, column, line, column + 1)
        message = f"the character U+{ord(match.group()):04X} is not allowed in a {kind.word}"
        problems.append(Problem(place, message, "delete it, or write a space"))
        if len(problems) == 10:
            break
    if problems:
        raise PlanUnusable(problems)


_NO_BREAK: Final = tuple("\u00a0\u2007\u202f\u3000")
"""Spaces that a page or a word processor leaves at the head of a line that is copied from it."""
_TIME_OF_DAY: Final = re.compile(r"(?<=[0-9]):(?=[0-9])")
_HELD: Final = "\ue03a"
"""A character of private use, in place of the colon in 12:40 while the parser in C reads.

That parser refuses it between brackets, where YAML allows it and people write times.
"""


def events(text: str) -> Iterator[Any]:
    """The parse events of YAML text, each with the marks of its start and end."""
    if find_spec("_ruamel_yaml") is None:
        from ruamel.yaml import YAML

        _refuse_directives(text)
        yield from YAML(typ="safe", pure=True).parse(text)
        return
    from _ruamel_yaml import CParser  # type: ignore[import-not-found]

    held = text if _HELD in text else _TIME_OF_DAY.sub(_HELD, text)
    parser, any_held = CParser(held), held != text
    while (event := parser.get_event()) is not None:
        if any_held and type(event).__name__ == "ScalarEvent":
            event.value = event.value.replace(_HELD, ":")
        yield event


_DIRECTIVE: Final = r"\A(?:[ \t]*(?:#.*)?\n|%.*\n)*?(%(?!(?:YAML|TAG)[ \t])\S*)"


def _refuse_directives(text: str) -> None:
    """Refuse directives that YAML does not know, as the parser in C does."""
    found = re.match(_DIRECTIVE, text)
    if found:
        from ruamel.yaml.error import StringMark
        from ruamel.yaml.scanner import ScannerError

        line, column = text.count("\n", 0, found.start(1)), found.end(1) - found.start(1)
        mark = StringMark("", found.end(1), line, column, text, found.end(1))
        raise ScannerError(None, None, "found unknown directive name", mark)


class _TreeBuilder:
    """Builds the node tree from the event stream; collects problems and goes on where it can."""

    def __init__(self, file: str, kind: Kind, changes: Iterable[Change] = ()) -> None:
        """changes: what was changed in the text that is read, so that places are of the file."""
        self.file = file
        self.kind = kind
        self.changes = tuple(changes)
        self.meant: tuple[Change, ...] = ()
        self.problems: list[Problem] = []
        self.anchors: dict[str, Node | None] = {}  # None while the anchored node is being built
        self.nodes = 0

    def build(self, text: str) -> Block:
        from ruamel.yaml.error import MarkedYAMLError, YAMLError

        self.last_line = text.count("\n") + 1
        self.text = text
        self.events = events(text)
        root: Node | None = None
        ends_well = False
        try:
            for event in self.events:
                kind = type(event).__name__
                if kind in ("StreamStartEvent", "StreamEndEvent", "DocumentEndEvent"):
                    continue
                if kind == "DocumentStartEvent":
                    if root is not None:
                        word = self.kind.word
                        message = f"a {word} is one YAML document, and a second one starts here"
                        self._stop(event, message, "keep one in a file and delete the `---`")
                    continue
                root = self._node(event, depth=0)
            ends_well = True
        except MarkedYAMLError as error:
            self.problems.append(self._broken_off(error))
        except YAMLError:
            place = Place(self.file, 1, 1, 1, 1)
            self.problems.append(Problem(place, "this is not YAML text", "start from an example"))
        if ends_well and not isinstance(root, Block):
            place = root.place if root is not None else Place(self.file, 1, 1, 1, 1)
            message = (
                f"a {self.kind.word} is a mapping of keys such as `{self.kind.first_line}` "
                f"and `{self.kind.family}:`"
            )
            instead = f"start the file with `{self.kind.first_line}`"
            self.problems.append(Problem(place, message, instead))
        if not ends_well or not isinstance(root, Block):
            raise PlanUnusable(self.problems)
        return root

    def _place(self, start: Any, end: Any) -> Place:
        first, last = (self._column(mark.line + 1, mark.column + 1) for mark in (start, end))
        return Place(self.file, start.line + 1, first, end.line + 1, last)

    def _column(self, line: int, column: int) -> int:
        """A column of the file, by the one in the text as it was changed."""
        for change in reversed(self.changes):
            if change.line == line and column > change.column:
                column = max(change.column, column - len(change.text) + change.length)
        return column

    def _problem(self, place: Place, message: str, instead: str) -> None:
        self.problems.append(Problem(place, message, instead))

    def _stop(self, event: Any, message: str, instead: str) -> None:
        self._problem(self._place(event.start_mark, event.start_mark), message, instead)
        raise PlanUnusable(self.problems)

    def _node(self, event: Any, depth: int) -> Node:
        self._count(event, 1)
        if depth > MAX_DEPTH:
            self._too_deep(event)
        kind = type(event).__name__
        if kind == "AliasEvent":
            return self._alias(event, depth)
        place = self._place(event.start_mark, event.end_mark)
        if event.tag is not None:
            instead = "delete the tag; plain text is enough"
            message = f"the tag `{event.tag}` is not part of the language of a {self.kind.word}"
            self._problem(place, message, instead)
        if event.anchor is not None:
            if event.anchor in self.anchors:
                message = f"the anchor `&{event.anchor}` is defined twice"
                self._problem(place, message, "give each anchor its own name")
            self.anchors[event.anchor] = None
        node: Node
        if kind == "ScalarEvent":
            if event.style == '"' and (sign := _REFUSED.search(event.value)):
                word = f"U+{ord(sign.group()):04X}"
                message = f"the character {word} is not allowed in a {self.kind.word}"
                self._problem(place, message, "delete its escape, or write a space")
                node = Missing.at("", place)
            else:
                node = Text.at(event.value, place)
        elif kind == "SequenceStartEvent":
            node = self._items(event, depth)
        else:
            node = self._block(event, depth)
        if event.anchor is not None:
            self.anchors[event.anchor] = node
        return node

    def _too_deep(self, event: Any) -> None:
        message = f"the {self.kind.word} nests deeper than {MAX_DEPTH} levels"
        self._stop(event, message, "make it flatter")

    def _count(self, event: Any, nodes: int) -> None:
        self.nodes += nodes
        if self.nodes > MAX_NODES:
            message = (
                f"the {self.kind.word} has more than {MAX_NODES:,} values, aliases counted as "
                "written out"
            )
            self._stop(event, message, self.kind.shorter)

    def _alias(self, event: Any, depth: int) -> Node:
        place = self._place(event.start_mark, event.end_mark)
        if event.anchor not in self.anchors:
            message = f"the alias `*{event.anchor}` has no anchor before it"
            self._problem(place, message, f"write `&{event.anchor}` at the value that it repeats")
            return Text.at("", place)
        target = self.anchors[event.anchor]
        if target is None:
            message = f"the alias `*{event.anchor}` stands inside the value that it names"
            self._stop(event, message, "write the value out")
        assert target is not None
        size, height = _measure(target)
        if depth + height > MAX_DEPTH:
            self._too_deep(event)
        self._count(event, size)
        return _moved(target, place)

    def _items(self, event: Any, depth: int) -> Items:
        items = Items()
        end = event.end_mark
        for child in self.events:
            if type(child).__name__ == "SequenceEndEvent":
                end = _flow_end(event, child) or end
                break
            items.append(self._node(child, depth + 1))
        items.place = self._extent(event, items, end)
        return items

    def _block(self, event: Any, depth: int) -> Block:
        block = Block()
        merged: list[Node] = []
        end = event.end_mark
        for child in self.events:
            if type(child).__name__ == "MappingEndEvent":
                end = _flow_end(event, child) or end
                break
            key = self._node(child, depth + 1)
            value_event = next(self.events)
            value = self._node(value_event, depth + 1)
            if not isinstance(key, Text):
                self._problem(key.place, "a key must be one plain word", "write `key: value`")
            elif key[:1] in _NO_BREAK:
                message = "this line is indented with a space that YAML does not take for one"
                self._problem(key.place, message, "delete it, and type ordinary spaces")
            elif key == "<<":
                merged.append(value)
            elif event.flow_style and _is_empty(value, value_event) and self._told(block, key):
                continue
            elif key in block:
                first = next(k for k in block if k == key)
                message = f"the key `{key}` stands twice; it is also on line {first.place.line}"
                self._problem(key.place, message, _of_two(depth, key, block, value))
            else:
                if _is_empty(value, value_event):
                    before = next(reversed(block.items()), None) if event.flow_style else None
                    self._problem(key.place, *self._without_value(key, before))
                    value = Missing.at("", value.place)
                block[key] = value
        for node in merged:
            self._merge(block, node)
        block.place = self._extent(event, list(block.values()), end)
        return block

    def _without_value(self, key: Text, before: tuple[Text, Node] | None) -> tuple[str, str]:
        """What to say of a key with nothing behind it, or with a comment that was meant as one.

        before: the key and the value before it between braces, of which it may be another value.
        """
        line = self.text.splitlines()[key.place.end_line - 1]
        hidden = re.match(r"\s*:\s+#(\w[^\s,}]*)", line[key.place.end_column - 1 :])
        if hidden:
            gauge = re.fullmatch(r"[0-9]{1,2}|[1-4]/0|0{2,4}", hidden[1])
            as_gauge = f"write `{hidden[1]} AWG`" if gauge else "write it without the `#`"
            message = f"`{key}` has no value: in YAML, what stands behind ` #` is a comment"
            return message, f'{as_gauge}, or in quotes, `"#{hidden[1]}"`'
        ended = re.match(r"\s*[,}]", line[key.place.end_column - 1 :])
        if ended and before is not None and isinstance(before[1], Text) and before[1]:
            several = f"`{before[0]}: [{before[1]}, {key}]`"
            instead = f"write `{key}: …`; or {several}, if that has both"
            return f"`{key}` stands behind a comma and has no value", instead
        example = "a space belongs after the colon" if ":" in key else "write a value"
        return f"`{key}` has no value", f"{example}, or delete it"

    def _broken_off(self, error: Any) -> Problem:
        """Why the parser can read no further."""
        from wattproof.unparsable import Stop, slip  # of what is wrong only

        mark = error.problem_mark or error.context_mark
        begun = error.context_mark or mark
        (line, column), (begun_line, begun_column) = (
            (m.line + 1, m.column + 1) if m else (self.last_line, 1) for m in (mark, begun)
        )
        lines = self.text.splitlines()
        stop = Stop(str(error.problem or ""), line, column, begun_line, begun_column, lines)
        found = slip(stop)
        self.meant = found.changes
        column = self._column(found.line, found.column)
        place = Place(self.file, found.line, column, found.line, column + 1)
        return Problem(place, found.message, found.instead)

    def _comma(self, block: Block, rest: Text) -> bool:
        """True where a comma that is meant as a decimal sign has cut a value in two.

        Between braces `{voc: 24,3 V}` is a value `24` and a key `3 V` without one.
        """
        key = next(reversed(block), None)
        before = block[key] if key is not None else None
        number = r"[-+\u2212\u2013]?[0-9]+([.][0-9]{3})*"
        if not isinstance(before, Text) or not re.fullmatch(number, before):
            return False
        cut = re.fullmatch("([0-9]+)([^0-9].*)?", rest)
        if key is None or cut is None:
            return False
        start, end = before.place, rest.place
        place = start._replace(end_line=end.end_line, end_column=end.end_column)
        written = f"{before},{rest}"
        message, instead, meant = without_comma(written)
        self._problem(place, message, instead)
        block[key] = Text.at(meant, place)
        return True

    def _told(self, block: Block, key: Text) -> bool:
        """True where a key without a value between braces is another slip, of which it was told."""
        return self._comma(block, key) or self._equals(block, key)

    def _equals(self, block: Block, written: Text) -> bool:
        """True where a key and its value are joined by `=` between braces; it is read on."""
        pair = re.fullmatch(r"([a-z_]{2,}) ?= ?(\S.*)", written)
        if pair is None or pair[1] in block:
            return False
        message = "a colon and a space stand between a key and its value"
        self._problem(written.place, message, f"write `{pair[1]}: {pair[2]}`")
        block[Text.at(pair[1], written.place)] = Text.at(pair[2], written.place)
        return True

    def _merge(self, block: Block, node: Node) -> None:
        if isinstance(node, Block):
            for key, value in node.items():
                block.setdefault(key, value)
        elif isinstance(node, Items) and all(isinstance(item, Block) for item in node):
            for item in node:
                self._merge(block, item)
        else:
            self._problem(node.place, "`<<` merges a mapping", "write `<<: *name` of a mapping")

    def _extent(self, event: Any, children: list[Node], end: Any) -> Place:
        """The place of a collection. The parser gives a block's end one token late."""
        place = self._place(event.start_mark, end)
        if children:
            last = max((c.place.end_line, c.place.end_column) for c in children)
            if last > (place.end_line, place.end_column):
                place = place._replace(end_line=last[0], end_column=last[1])
        return place


def _of_two(depth: int, key: Text, block: Block, second: Node) -> str:
    """What to do about a key that stands twice; what the second holds is read on where it can be.

    Two sections of a file are one, and two entries of a family are two, each under its name.
    """
    first = block[key]
    if not isinstance(first, Block) or not isinstance(second, Block):
        return "keep one of the two"
    if depth == 0:
        for each, held in second.items():
            first.setdefault(each, held)
        return f"move what stands here to the other `{key}`, and delete this line"
    name = f"{key}-2"
    if not any(isinstance(held, Block) for held in (*first.values(), *second.values())):
        block.setdefault(Text.at(name, key.place), second)
    return f"give one of the two another name, such as `{name}`, or keep one of them"


def _flow_end(start: Any, end: Any) -> Any:
    """The end mark of a collection in brackets; None for an indented one."""
    return end.end_mark if start.flow_style else None


def _is_empty(value: Node, event: Any) -> bool:
    """True where nothing stands after a key, not even quotes."""
    if not isinstance(value, Text) or value != "":
        return False
    return type(event).__name__ == "ScalarEvent" and bool(event.implicit[0])


def _measure(node: Node) -> tuple[int, int]:
    """Number of nodes below and including this one, and the levels below it."""
    if isinstance(node, Text):
        return 1, 0
    children = node.values() if isinstance(node, Block) else node
    sizes = [_measure(child) for child in children]
    return 1 + sum(size for size, _ in sizes), 1 + max((height for _, height in sizes), default=0)


def _moved(node: Node, place: Place) -> Node:
    """The node as used at another place; what it contains keeps the place of its definition."""
    if isinstance(node, Text):
        return Text.at(str(node), place)
    copy: Block | Items = Block(node) if isinstance(node, Block) else Items(node)
    copy.place = place
    return copy
