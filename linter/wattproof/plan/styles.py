"""Styles of fuses and breakers, by the trade's name or by what people call them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from difflib import get_close_matches
from typing import Any, Final

from wattproof.codes import DeviceStyle, known_styles, style
from wattproof.plan.fields import Reader
from wattproof.plan.resemblance import nearest
from wattproof.quantities import Mistake
from wattproof.source import Text


def style_of(*kinds: str) -> Reader:
    """A field that holds a style of a fuse or breaker. Layman's words are answered with it."""
    known = {made.name: made for made in map(style, known_styles()) if made.kind in kinds}

    def read(node: Any) -> Text:
        if not isinstance(node, Text):
            raise Mistake("this is not a style", f"use one of {', '.join(known)}")
        if node in known:
            return node
        styles = _of_its_side(str(node), known.values())
        meant = _called(str(node), styles)
        if meant is not None:
            message = f"`{node}` is no style here; `{meant.name}` is what that is called"
            raise Mistake(message, f"write `{meant.name}`: {meant.title}", node.place)
        if _says_no_style(str(node)):
            message = f"`{node}` tells no style: there are several of that"
            instead = f"delete it, or use one of {_listed(styles)}"
            raise Mistake(message, instead, node.place)
        near = nearest(node, [made.name for made in styles])
        instead = (
            f"write `{near}`: {known[near].title}" if near else f"use one of {_listed(styles)}"
        )
        raise Mistake(f"`{node}` is no style that is known here", instead, node.place)

    return Reader(read, lambda: {"type": "string", "enum": list(known)}, unknown=True)


def described(kind: str) -> str:
    """What a style is, in the words of the field's description."""
    made = [each for each in map(style, known_styles()) if each.kind == kind]
    words = "; ".join(f"`{each.name}`: {each.known_as[0]}" for each in made)
    return f"Kind of {kind}. {words}."


def _of_its_side(text: str, styles: Iterable[DeviceStyle]) -> list[DeviceStyle]:
    """Those for the solar side where the words speak of it, and there are any; else all."""
    every = list(styles)
    solar = [made for made in every if made.pv_rated]
    return solar if solar and re.search("pv|solar|photovoltaic", text.lower()) else every


def _called(text: str, styles: list[DeviceStyle]) -> DeviceStyle | None:
    """The style that people call by these words, or by words much like them.

    What they leave out is that it is a fuse or breaker at all.
    """
    if _says_no_style(text):
        return None
    names = {_plain(words): made for made in styles for words in made.known_as}
    names.update({_plain(made.title): made for made in styles})
    if bare := {_bare(words): made for words, made in names.items()}.get(_bare(_plain(text))):
        return bare
    near = get_close_matches(_plain(text), list(names), n=1, cutoff=0.75)
    return names[near[0]] if near else None


_NO_STYLE: Final = re.compile(
    "(a|the|dc|ac|in|line|inline|fuse|fuses|fused|holder|link|circuit|breaker|breakers|cb|overcurrent"
    "|device|protection|slow|blow|fast|quick|acting|time|delay|delayed|lag|waterproof|any|normal"
    "|standard|thermal magnetic)( |$)"
)
"""Words that hold for fuses and breakers of many styles."""


def _says_no_style(text: str) -> bool:
    """True for words that leave open which style is meant."""
    return not _NO_STYLE.sub("", _plain(text))


def _bare(words: str) -> str:
    """The words without that it is a fuse or breaker."""
    return re.sub("(^| )(fuse|breaker)$", "", words)


def _plain(words: str) -> str:
    return words.lower().replace("-", " ").replace("_", " ").strip()


def _listed(styles: list[DeviceStyle]) -> str:
    return ", ".join(f"`{made.name}` ({made.known_as[0]})" for made in styles)
