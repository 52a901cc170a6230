"""What a part is that a plan tells in one text where keys belong: `12V 80Ah`, `2x 100 Ah`."""

from __future__ import annotations

import re
from typing import Final

from wattproof.plan.hints.shown import ALONE
from wattproof.plan.hints.values import sure_word
from wattproof.plan.shapes import ends_of
from wattproof.quantities import is_quantity
from wattproof.source import Text

_COUNT: Final = re.compile(r"(?<![^\s,(])([2-9]|[1-9][0-9]) ?(?:[x×*]|pcs\.?|pieces) ?(?=\S)", re.I)
_FIGURE: Final = re.compile(r"[-+]?[0-9][0-9.]*(?:/0)? ?(?:mm2|[A-Za-zµ°²%]+)")
_LIMITS: Final = re.compile(r"(?<![^\s])([1-9][0-9]{1,2})[|/]([1-9][0-9]{0,2})(?![^\s])")
"""Volts at the solar input and amperes of charge, as controllers are spoken of; common practice."""
_KINDS: Final = {
    "batteries": ("chemistry", ("lithium-iron-phosphate", "flooded", "agm", "gel")),
    "controllers": ("kind", ("mppt", "pwm", "vehicle-charger")),
}
"""The key under which a word beside the figures stands, and what it may be, by family."""


def told_alone(family: str, text: Text) -> tuple[str, str]:
    """The values of a part under their keys, each as written, and what else may be meant.

    family: where the part stands. A figure that fits no key, or a second one that fits the same,
    leaves all of them to the builder: both are empty then.
    """
    if family == "wires":
        return ends_of(text), ""
    if key := _key_of(family, str(text), text):
        return f"{{{key}: {text}}}", ""
    told: dict[str, str] = {}
    rest = str(text)
    count = _COUNT.search(rest) if family == "batteries" else None
    if count is not None:
        rest = rest.replace(count[0], " ", 1)
    limits = _LIMITS.search(rest) if family == "controllers" else None
    if limits is not None:
        rest = rest.replace(limits[0], " ", 1)
        told.update(max_input_voltage=f"{limits[1]} V", max_output_current=f"{limits[2]} A")
    for figure in _FIGURE.findall(rest):
        key = _key_of(family, figure, text)
        if not key or key in told:
            return "", ""
        told[key] = figure
    words = _FIGURE.sub(" ", rest).replace(",", " ").split()
    if not told or any(re.search("[0-9]", word) and not _kind(family, word) for word in words):
        return "", ""
    kinds = {kind for word in words if (kind := _kind(family, word))}
    if len(kinds) == 1:
        told = {_KINDS[family][0]: kinds.pop(), **told}
    more = ""
    if count is not None:
        told["arrangement"] = f"{count[1]}p"
        more = f", or `{count[1]}s` in the place of `{count[1]}p` where they are in series"
    return f"{{{', '.join(f'{key}: {value}' for key, value in told.items())}}}", more


def _kind(family: str, word: str) -> str:
    """The word of the plan language that a word beside the figures stands for; empty for none."""
    return sure_word(word, _KINDS[family][1]) if family in _KINDS else ""


def _key_of(family: str, figure: str, text: Text) -> str:
    """The key that a figure stands under by its unit; empty for none."""
    fitting = ALONE.get(family, ())
    return next((k for k, unit in fitting if is_quantity(Text.at(figure, text.place), unit)), "")
