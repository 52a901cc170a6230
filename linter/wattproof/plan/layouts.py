"""Short forms of an arrangement: 4s2p, 4p2s, 3s, 2p."""

from __future__ import annotations

import re
from typing import Annotated, Any, NamedTuple, TypeAlias

from wattproof.plan.fields import Reader
from wattproof.quantities import Mistake
from wattproof.source import Place, Text

_FORM = re.compile(r"([1-9]\d{0,2})([sp])(?:([1-9]\d{0,2})([sp]))?")
MAX_MEMBERS = 1000


class Layout(NamedTuple):
    """Alike members in series and parallel.

    inner: how many are joined first, and outer: how many such groups. series_first tells whether
    the inner ones are in series (4s2p) or in parallel (4p2s). tried: True for one of several that
    are compared, for which nothing was bought yet.
    """

    inner: int
    outer: int
    series_first: bool
    text: str
    place: Place | None
    tried: bool = False

    @property
    def in_series(self) -> int:
        """Number of members in series between the two terminals."""
        return self.inner if self.series_first else self.outer

    @property
    def in_parallel(self) -> int:
        """Number of members in parallel."""
        return self.outer if self.series_first else self.inner


LAYOUT_SCHEMA: dict[str, Any] = {
    "type": "string",
    "pattern": "^[1-9][0-9]{0,2}(s|p|s[1-9][0-9]{0,2}p|p[1-9][0-9]{0,2}s)$",
    "examples": ["4s2p", "4p2s", "2p"],
}


def read_layout(node: Any) -> Layout:
    """Read a short form. Raises Mistake."""
    if not isinstance(node, Text):
        raise Mistake("this is not an arrangement", "write for example `4s2p`")
    match = _FORM.fullmatch(node.lower().replace(" ", ""))
    if not match or match.group(2) == match.group(4):
        message = f"`{node}` is not an arrangement"
        meant = _in_words(node)
        examples = "write for example `4s2p`, `4p2s`, `3s` or `2p`"
        raise Mistake(message, f"write `{meant}`" if meant else examples, node.place)
    first, kind, second = int(match.group(1)), match.group(2), int(match.group(3) or 1)
    if first * second > MAX_MEMBERS:
        message = f"`{node}` has more than {MAX_MEMBERS} members"
        raise Mistake(message, "check the two numbers", node.place)
    return Layout(first, second, kind == "s", str(node), node.place)


def _in_words(text: str) -> str:
    """The short form of "2 in series" or "3 series 2 parallel"; empty where that is not clear."""
    short = re.fullmatch(r"(\d+) ?([sp])[-/x× +,]+(\d+) ?([sp])", text.lower())
    if short and short[2] != short[4]:
        return "".join(short.groups())
    found = re.findall(r"(\d+) ?(?:in )?(series|parallel)\b", text.lower())
    named = {word: number for number, word in found}
    if not found or len(named) < len(found) or len(re.findall(r"\d+", text)) > len(found):
        return ""
    return "".join(f"{named[word]}{word[0]}" for word in ("series", "parallel") if word in named)


Arrangement: TypeAlias = Annotated[Layout, Reader(read_layout, lambda: LAYOUT_SCHEMA, unknown=True)]
