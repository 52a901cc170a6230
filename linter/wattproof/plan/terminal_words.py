"""What terminal is meant by a text that names none: by its letters, and by words of the trade."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final, TypeAlias

from wattproof.plan.fields import POLE_WORDS
from wattproof.plan.resemblance import nearest

Ports: TypeAlias = Mapping[str, tuple[str, ...]]
"""The ports of components, by their names."""

MOST_NAMES: Final = 100
"""Components up to which a misspelt name is looked for: it is compared with each."""
_POLES: Final = ("positive", "negative")
_TAKES: Final = ("in", "input", "vin", "source", "supply", "feed", "primary")
_GIVES: Final = ("out", "output", "vout", "secondary")
"""How people call the sides of what current passes."""
_SUN: Final = re.compile("(solar|array|panels?|modules?|strings?|pv)(in|input|side)?")
_BANK: Final = re.compile("(batt?|batteries|accu|akku|bank|charge)(out|output|side)?")
"""How they call the terminals of a controller."""
_MIDDLE: Final = ("c", "com", "centre", "center")
"""How they call the terminal of a selector that it leads from or to."""
_OF_ANY: Final = ("terminal", "terminals", "pole", "post", "clamp")
"""What any end of a wire may be called."""
_SIGN: Final = re.compile(r"(?<=[a-z0-9)])[\s._(/-]*([+]|-)(ve)?\)?$")


def terminal_meant(written: str, known: Ports) -> str:
    """The terminal that a text stands for, with its pole; empty where nobody can tell."""
    text, poles = written.strip().lower(), set[str]()
    if found := _SIGN.search(text):
        text = text[: found.start()]
        poles = {POLE_WORDS["+" if "+" in found[1] else "-"]}
    words = [word for word in re.findall("[a-z0-9]+", text) if word not in _OF_ANY] or [text]
    turned = "" if text.partition(".")[0] in known else text
    for is_near in (False, True) if turned and len(known) <= MOST_NAMES else (False,):
        for count in range(len(words), 0, -1):
            ways = [(words[:count], words[count:])]
            ways += [(words[-count:], words[:-count])] if turned else []
            for own, rest in ways:
                name = _name(own, known, near=is_near)
                terminal = _terminal(name, rest, poles, known[name]) if name else ""
                if terminal:
                    return terminal
    return ""


def _name(words: list[str], known: Ports, *, near: bool) -> str:
    """The component that words name, letter by letter or nearly so."""
    if near:
        name = nearest("-".join(words), list(known)) or ""
        more = words[name.count("-") + 1 :] if name else []
        is_told = any(_pole(word) for word in more) or (
            more and _port(more, known[name]) is not None
        )
        return "" if is_told else name
    named = [name for name in known if name.replace("-", "") == "".join(words)]
    return named[0] if len(named) == 1 else ""


def _terminal(name: str, words: list[str], poles: set[str], known: tuple[str, ...]) -> str:
    """A terminal of a component by the words beside its name; empty where they mean none."""
    told = {word: pole for word in words if (pole := _pole(word))}
    rest = [word for word in words if word not in told and word != name]
    port, every = _port(rest, known), {*told.values(), *poles}
    if port is None or len(every) > 1:
        return ""
    return ".".join(filter(None, (name, port, *every)))


def _pole(word: str) -> str:
    return word if word in _POLES else POLE_WORDS.get(word, "")


def _port(words: list[str], known: tuple[str, ...]) -> str | None:
    """The port that words mean; empty for a component as a whole, None for none."""
    if not words:
        return ""
    named = {port.replace("-", ""): port for port in known if port}
    written = "".join(words)
    if written in named:
        return named[written]
    if "common" in known:
        side = re.sub("[^0-9]", "", written)
        return "common" if written in _MIDDLE else side if side in known and side else None
    if "pv" in known and _SUN.fullmatch(written):
        return "pv"
    if "battery" in known and "alternator" not in known and _BANK.fullmatch(written):
        return "battery"
    if known[:1] == ("",) and written in _TAKES:
        return ""  # of a panel, whose ways are its other ports
    if written in (*_TAKES, *_GIVES):
        taking = next((port for port in ("input", "line") if port in known), None)
        giving = next((port for port in ("output",) if port in known), None)
        giving = "load" if known == ("line", "load") else giving
        return taking if written in _TAKES else giving
    return nearest("-".join(words), [port for port in known if port])
