"""What stops the parser of YAML, in the words of whoever typed it, at the line of the slip.

The parser stumbles where it can read no further, which is often a line after the slip, or the end
of the file. Where the text shows what was meant, that is said, and where it stands.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Final, NamedTuple

_OUR_EXPECTED: Final = r"\bexpected .*\bbut (?:found|got)\b"
"""How the parser in Python says what the one in C calls something that it did not find."""
_MORE: Final = r"expected ',' or '([}\]])'"
_GLUED: Final = re.compile(r"([\w-]+):([^\s,}\]]+(?: [^\s,:}\]]+)*)")
_EQUALS: Final = re.compile(r"\s*([\w-]+) *= *(\S.*)")
_CLOSING: Final = {"}": "{", "]": "["}


class Stop(NamedTuple):
    """Where the parser stopped, and why.

    problem: in its words. line, column: where it stopped, from 1. begun_line, begun_column: where
    what it was reading begins. lines: all that it was given.
    """

    problem: str
    line: int
    column: int
    begun_line: int
    begun_column: int
    lines: list[str]

    @property
    def here(self) -> str:
        """The line in which it stopped."""
        return self.line_at(self.line)

    @property
    def begun(self) -> str:
        """The line in which it began."""
        return self.line_at(self.begun_line)

    @property
    def above(self) -> str:
        """The last line before it with something on it."""
        return next((line for line in self.lines[: self.line - 1][::-1] if line.strip()), "")

    @property
    def line_above(self) -> int:
        """The number of that line; 0 where there is none."""
        above = range(self.line - 1, 0, -1)
        return next((number for number in above if self.line_at(number).strip()), 0)

    def line_at(self, number: int) -> str:
        """A line by its number; empty behind the last one."""
        return self.lines[number - 1] if 0 < number <= len(self.lines) else ""


class Change(NamedTuple):
    """Characters of a line to replace: where they begin, from 1, how many, and by what."""

    line: int
    column: int
    length: int
    text: str


class Slip(NamedTuple):
    """A slip: where it is, what is wrong, and what to write instead.

    changes: what makes the text as it was meant, where that is plain, so that it can be read on.
    """

    line: int
    column: int
    message: str
    instead: str
    changes: tuple[Change, ...] = ()


def slip(stop: Stop) -> Slip:
    """What was meant, where the text shows it; else what the parser expected."""
    found = (each(stop) for each in _EACH)
    return next((s for s in found if s is not None), _by_the_parser(stop))


def _cut_by_a_comment(stop: Stop) -> Slip | None:
    """Where a ` #` between brackets has made a comment of the bracket that closes them."""
    for number, text in enumerate(stop.lines[: stop.line], start=1):
        cut = re.search(r"\s#(?=\S)", text)
        before, after = (text[: cut.start()], text[cut.end() :]) if cut else ("", "")
        opened = sum(map(before.count, "{[")) - sum(map(before.count, "}]"))
        if cut and opened > 0 and re.search(r"[}\]]", after):
            return Slip(
                number,
                cut.end(),
                "in YAML, ` #` begins a comment, and this one hides a bracket",
                "write the size of a wire as `… AWG`, and move a comment behind the bracket",
            )
    return None


def _open_quote(stop: Stop) -> Slip | None:
    if "end of stream" not in stop.problem:
        return None
    message = "the quote that opens here is never closed"
    instead = "close it at the end of the text, or write the text without quotes"
    return Slip(stop.begun_line, stop.begun_column, message, instead)


def _tab(stop: Stop) -> Slip | None:
    if "\t" not in re.match(r"\s*", stop.here)[0]:  # type: ignore[index]
        return None
    message, changes = "this line is indented with a tab", tuple(_without_tabs(stop.lines))
    if more := len({change.line for change in changes}) - 1:
        message += f", and {more} more {'line is' if more == 1 else 'lines are'}"
    return Slip(stop.line, stop.column, message, "indent with spaces", changes)


def _without_tabs(lines: list[str]) -> Iterator[Change]:
    """Two spaces for each tab before the first word of a line, the last of them first."""
    for number, line in enumerate(lines, start=1):
        for column in range(_depth(line), 0, -1):
            if line[column - 1] == "\t":
                yield Change(number, column, 1, "  ")


def _question_mark(stop: Stop) -> Slip | None:
    if not re.match(r"\?\s*([,}\]#]|$)", stop.here[stop.column - 1 :]):
        return None
    if guess := re.search(r":\s+([^:,{}\[\]]*[^\s:,{}\[\]])$", stop.here[: stop.column - 1]):
        message = f"`{guess[1]}?` is no certain value"
        instead = f"write `{guess[1]}` if it is measured or printed so, or `unknown`"
        return Slip(
            stop.line, stop.column, message, instead, (Change(stop.line, stop.column, 1, ""),)
        )
    message, instead = "`?` is no value", "write `unknown` where nobody knows it"
    change = Change(stop.line, stop.column, 1, "unknown")
    return Slip(stop.line, stop.column, message, instead, (change,))


def _no_space_behind_a_colon(stop: Stop) -> Slip | None:
    if "unexpected ':'" in stop.problem:  # between brackets it stops at the colon itself
        line, column = stop.line, stop.column
    elif "expected ':'" in stop.problem:  # else where the next key begins
        line, column = stop.begun_line, stop.begun_column
    else:
        return None
    glued = _GLUED.match(stop.begun[stop.begun_column - 1 :])
    if glued is None:
        return None
    instead = f"write `{glued[1]}: {glued[2]}`"
    behind = Change(stop.begun_line, stop.begun_column + len(glued[1]) + 1, 0, " ")
    return Slip(line, column, "a space is missing behind the colon", instead, (behind,))


def _equals_sign(stop: Stop) -> Slip | None:
    meant = _EQUALS.fullmatch(stop.begun) if "expected ':'" in stop.problem else None
    if meant is None:
        return None
    message = "a colon and a space stand between a key and its value"
    instead = f"write `{meant[1]}: {meant[2].strip()}`"
    start, end = meant.end(1), meant.start(2)
    change = Change(stop.begun_line, start + 1, end - start, ": ")
    return Slip(stop.begun_line, stop.begun_column, message, instead, (change,))


def _first_of_a_part(stop: Stop) -> Slip | None:
    """A key whose colon or space is wrong on the line above, with which the next was read on."""
    if "mapping values are not allowed" not in stop.problem:
        return None
    above = stop._replace(begun_line=stop.line_above, begun_column=_depth(stop.above) + 1)
    if _depth(stop.above) != _depth(stop.here):
        return None
    expected = above._replace(problem="expected ':'")
    return _no_space_behind_a_colon(expected) or _equals_sign(expected)


def _of_a_page(stop: Stop) -> Slip | None:
    """The fences that a page puts around a plan, and comments of other languages."""
    if stop.here.lstrip().startswith("```"):
        fences = [(n, t) for n, t in enumerate(stop.lines, start=1) if t.lstrip().startswith("```")]
        changes = tuple(Change(number, 1, len(text), "") for number, text in fences)
        return Slip(
            stop.line, 1, "this line belongs to a page, not to the plan", "delete it", changes
        )
    if (begun := stop.begun.lstrip()).startswith("//"):
        column = _depth(stop.begun) + 1
        change = Change(stop.begun_line, column, 2, "#")
        return Slip(
            stop.begun_line,
            column,
            "in YAML, a comment begins with `#`",
            f"write `#{begun[2:]}`",
            (change,),
        )
    return None


def _parentheses(stop: Stop) -> Slip | None:
    found = re.search(r":\s+([(])([^()]*:\s[^()]*)([)])\s*$", stop.here)
    if "mapping values are not allowed" not in stop.problem or found is None:
        return None
    changes = (
        Change(stop.line, found.start(3) + 1, 1, "}"),
        Change(stop.line, found.start(1) + 1, 1, "{"),
    )
    message = "the keys of one part stand between braces"
    return Slip(stop.line, found.start(1) + 1, message, f"write `{{{found[2]}}}`", changes)


def _colon_in_words(stop: Stop) -> Slip | None:
    """A title that holds a colon."""
    found = re.fullmatch(r"(\s*(?:title|note|reason|taken)): +([^'\"\s].*: .*?)\s*", stop.here)
    if "mapping values are not allowed" not in stop.problem or found is None or '"' in found[2]:
        return None
    changes = (
        Change(stop.line, found.end(2) + 1, 0, '"'),
        Change(stop.line, found.start(2) + 1, 0, '"'),
    )
    message = "a text that holds a colon and a space stands in quotes"
    instead = f'write `{found[1].strip()}: "{found[2]}"`'
    return Slip(stop.line, found.start(2) + 1, message, instead, changes)


def _closes_nothing(stop: Stop) -> Slip | None:
    sign = stop.here[stop.column - 1 : stop.column]
    opened = stop.here[: stop.column - 1]
    if sign not in _CLOSING or opened.count(sign) < opened.count(_CLOSING[sign]) or not opened:
        return None
    if "did not find expected" not in stop.problem and not re.search(_OUR_EXPECTED, stop.problem):
        return None
    change = Change(stop.line, stop.column, 1, "")
    return Slip(stop.line, stop.column, f"this `{sign}` closes nothing", "delete it", (change,))


def _no_colon(stop: Stop) -> Slip | None:
    """A key alone on its line, or with a figure, that lacks its colon."""
    found = re.fullmatch(r"(\s*)([a-z_]{2,})(?: +([-+.]?[0-9][^:]*)|\s*)", stop.begun)
    if "expected ':'" not in stop.problem or found is None:
        return None
    change = Change(stop.begun_line, found.end(2) + 1, 0, ":")
    instead = f"write `{found[2]}: {(found[3] or '').strip()}".rstrip() + "`"
    return Slip(stop.begun_line, found.start(2) + 1, "a key without a colon", instead, (change,))


def _open_bracket(stop: Stop) -> Slip | None:
    """A bracket that what comes next can no longer be in, since it is no deeper."""
    closing = re.search(_MORE, stop.problem)
    if closing is None or stop.line == stop.begun_line:
        return None
    if stop.here.strip() and _depth(stop.here) > _depth(stop.begun):
        return None
    opening = _CLOSING[closing[1]]
    message = f"the bracket `{opening}` that opens here is not closed"
    return Slip(stop.begun_line, stop.begun_column, message, f"close it with `{closing[1]}`")


def _missing_comma(stop: Stop) -> Slip | None:
    before = re.search(r"[^\s,{\[]+$", stop.here[: stop.column - 1])
    if not re.search(_MORE, stop.problem) or stop.here[stop.column - 1 :][:1] != ":" or not before:
        return None
    message = f"a comma is missing before `{before[0]}`"
    comma = Change(stop.line, before.start() + 1, 0, ", ")
    return Slip(stop.line, before.start() + 1, message, "write a comma between the two", (comma,))


def _list_among_names(stop: Stop) -> Slip | None:
    """An entry with the hyphen of a list, beside such that stand under names of their own."""
    if "'-' indicator" in stop.problem:
        line, text = stop.begun_line, stop.begun
    elif "expected key" in stop.problem or "block end" in stop.problem:
        line, text = stop.line, stop.here
    else:
        return None
    entry = re.match(r"(\s*)- +([^\s:]+):(\s*$| *[{])?", text)
    if entry is None:
        return None
    message = "the hyphen of a list stands here, and what is beside it stands under names"
    column = len(entry[1]) + 1
    if entry[3] is None:
        instead = "write a name and a colon in the place of the hyphen, and the rest below it"
        return Slip(line, column, message, instead)
    change = Change(line, column, 2, "")
    return Slip(line, column, message, f"leave it out: write `{entry[2]}:`", (change,))


def _odd_indentation(stop: Stop) -> Slip | None:
    """A line that is neither beside the one above, nor below what that one opens."""
    own, above = _depth(stop.here), _depth(stop.above)
    deeper = "values are not allowed" in stop.problem and own > above
    between = "expected key" in stop.problem or "block end" in stop.problem
    if not deeper and not (between and stop.column == own + 1 and 0 < own < above):
        return None
    if deeper and not re.search(r":\s+\S", stop.above):
        return None
    message = f"this line is indented by {own} spaces, and the one above it by {above}"
    instead = "indent all keys of one part alike"
    return Slip(stop.line, own + 1, message, instead)


def _depth(line: str) -> int:
    return len(line) - len(line.lstrip())


_EACH: Final[tuple[Callable[[Stop], Slip | None], ...]] = (
    _cut_by_a_comment,
    _open_quote,
    _tab,
    _question_mark,
    _no_space_behind_a_colon,
    _of_a_page,
    _equals_sign,
    _no_colon,
    _parentheses,
    _colon_in_words,
    _closes_nothing,
    _first_of_a_part,
    _open_bracket,
    _missing_comma,
    _list_among_names,
    _odd_indentation,
)


def _by_the_parser(stop: Stop) -> Slip:
    """Our own words for what the parser stumbled over."""
    line, column = stop.line, stop.column
    problem = stop.problem
    if "mapping values are not allowed" in problem:
        message = "a second `key: value` starts on this line"
        instead = "put it on a line of its own, or quote text that contains `: `"
    elif "cannot start any token" in problem:
        message, instead = "this character cannot start a value", "quote the text"
    elif "expected ':'" in problem:
        line, column = stop.begun_line, stop.begun_column
        message = "a key without a colon"
        instead = 'write `key: value`, and quote a text that holds a colon, as in `time: "12:40"`'
    elif "unexpected ':'" in problem:
        message = "this colon is read as one behind a key"
        instead = 'quote a text that holds a colon, as in `time: "12:40"`'
    elif "did not find expected" in problem or re.search(_OUR_EXPECTED, problem):
        message = "the structure breaks off here"
        instead = "check the indentation above, and that each bracket and quote is closed"
    else:
        message = "this is not valid YAML"
        instead = "check indentation, brackets, quotes and colons here and above"
    return Slip(line, column, message, instead)
